import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.names import plain_word, word_for
from palettes.spaces import hex_to_srgb1

PLAIN = {
    "pink", "red", "orange", "yellow", "green", "blue-green", "blue", "purple",
    "brown", "sand", "cream", "black", "grey", "white",
}  # fmt: skip
COLOURS = st.tuples(*[st.floats(0.0, 1.0)] * 3)


# Seen on a chart of each hue, and said by hand.
@pytest.mark.parametrize(
    ("hex_text", "word"),
    [
        ("#2fa79b", "blue-green"),
        ("#b0e0e6", "pale greenish blue"),
        ("#cd853f", "light brown"),
        ("#ff6347", "red"),
        ("#db7093", "reddish pink"),
        ("#000080", "dark blue"),
        ("#0000ff", "bright blue"),
        ("#ff0000", "bright red"),
        ("#ffffff", "white"),
        ("#808080", "grey"),
        ("#d3d3d3", "light grey"),
        ("#000000", "black"),
        ("#5c4033", "dark brown"),
        ("#f5deb3", "cream"),
    ],
)
def test_names_that_an_eye_would_give(hex_text: str, word: str) -> None:
    assert word_for(hex_to_srgb1(hex_text)) == word


@given(COLOURS)
def test_every_colour_has_a_name_of_plain_words(colour: tuple[float, float, float]) -> None:
    name = word_for(colour)
    plain = plain_word(colour)
    assert plain in PLAIN
    # The last word is the plain one; what stands before it tells more of the same.
    assert name == plain or name.endswith((f" {plain}", f"-{plain}"))
    assert len(name.split()) <= 3
    assert not {"light", "pale"} & set(name.split()) or not {"dark", "deep"} & set(name.split())


def test_a_hundred_names_and_more_tell_colours_apart() -> None:
    steps = np.linspace(0.0, 1.0, 12)
    names = {word_for(colour) for colour in itertools.product(steps, repeat=3)}
    assert 100 <= len(names) <= 200
    assert {name.split()[-1].split("-")[-1] for name in names} == PLAIN - {"blue-green"}


def test_what_is_no_colour() -> None:
    for named in (word_for, plain_word):
        with pytest.raises(ValueError, match="one colour"):
            named(np.zeros((2, 3)))
        with pytest.raises(ValueError, match="sRGB"):
            named([3.0, 0.0, 0.0])
