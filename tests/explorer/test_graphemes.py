"""Text is cut between signs; the examples are those of Unicode Standard Annex 29, section 3."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.graphemes import shortened


def test_short_text_stays_as_it_is() -> None:
    assert shortened("Harbour", 7) == "Harbour"
    assert shortened("", 1) == ""


@pytest.mark.parametrize(
    "sign",
    [
        "g\u0308",  # GB9: a letter and its mark
        "\u0ba8\u0bbf",  # GB9a: Tamil ni, a letter and a spacing mark
        "\uac01\u11a8",  # GB8: a Hangul syllable and a trailing letter
        "\u1100\u1161\u11a8",  # GB6 and GB7: a syllable of three letters
        "\U0001f1e9\U0001f1ea",  # GB12: a flag
        "\U0001f44d\U0001f3fd",  # GB9: an emoji and its modifier
        "\U0001f469\u200d\U0001f469\u200d\U0001f467",  # GB11: a family
        "\u2764\ufe0f",  # GB9: a variation selector
        "\r\n",  # GB3
    ],
)
@pytest.mark.parametrize("before", ["", "x", "\U0001f1eb\U0001f1f7"])
def test_no_sign_is_cut_in_its_midst(sign: str, before: str) -> None:
    text = before + sign * 4
    allowed = {before + sign * count for count in range(4)} | {""}
    for most in range(1, len(text)):
        cut = shortened(text, most)
        assert len(cut) <= most
        assert cut.endswith("…")
        assert cut[:-1] in {one.rstrip() for one in allowed}


def test_flags_are_cut_between_two() -> None:
    assert shortened("\U0001f1e9\U0001f1ea" * 3, 4) == "\U0001f1e9\U0001f1ea…"


@given(st.text(max_size=40), st.integers(1, 40))
def test_what_comes_back_fits_and_begins_alike(text: str, most: int) -> None:
    cut = shortened(text, most)
    assert len(cut) <= most
    assert cut == text or text.startswith(cut[:-1])
