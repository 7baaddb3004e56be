import numpy as np
import pytest
from PIL import ImageColor

from palettes.names import word_for
from palettes.spaces import hex_to_srgb1


@pytest.mark.parametrize("name", [name for name in ImageColor.colormap if "gray" not in name])
def test_every_css_colour_has_its_own_name(name: str) -> None:
    # CSS Color Module Level 4; two pairs of names share a colour.
    own = {"aqua": "cyan", "fuchsia": "magenta"}.get(name, name)
    srgb1 = np.array(ImageColor.getrgb(name)[:3]) / 255.0
    assert word_for(srgb1).replace(" ", "") == own


@pytest.mark.parametrize(
    ("hex_text", "word"),
    [
        ("#2fa79b", "light sea green"),
        ("#fafad2", "light goldenrod yellow"),
        ("#808080", "grey"),
        ("#db7093", "pale violet red"),
        ("#6495ed", "cornflower blue"),
    ],
)
def test_names_in_separate_words(hex_text: str, word: str) -> None:
    assert word_for(hex_to_srgb1(hex_text)) == word


def test_what_is_no_colour() -> None:
    with pytest.raises(ValueError, match="one colour"):
        word_for(np.zeros((2, 3)))
    with pytest.raises(ValueError, match="sRGB"):
        word_for([3.0, 0.0, 0.0])
