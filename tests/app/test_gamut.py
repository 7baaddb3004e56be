"""Colours by lightness, strength and hue, against independent figures."""

import pytest
from coloraide import Color
from hypothesis import assume, given
from hypothesis import strategies as st

from explorer.app.gamut import MOST_CHROMA, hex_of, lch_of, most_chroma, shown


@given(st.integers(0, 0xFFFFFF))
def test_a_colour_comes_back_nearly_as_it_was(number: int) -> None:
    hex_ = f"#{number:06x}"
    lightness, chroma, hue = lch_of(hex_)
    assume(bool(shown(lightness, hue)[chroma]))
    back = hex_of(lightness, chroma, hue)
    # Worked out: half a unit of lightness and of chroma, half a degree at chroma 134 (1.17), and
    # half a step of 255 in each channel (under 0.6): at most 2.0 together.
    assert Color(hex_).delta_e(Color(back), method="76") < 2.0


@given(st.integers(0, 100), st.integers(0, MOST_CHROMA), st.integers(0, 359))
def test_what_is_not_shown_is_weakened_and_never_strengthened(
    lightness: int, chroma: int, hue: int
) -> None:
    colour = Color(hex_of(lightness, chroma, hue)).convert("lch-d65")
    assert colour["chroma"] <= chroma + 1.0
    assert colour["lightness"] == pytest.approx(lightness, abs=1.0)


@pytest.mark.parametrize("hex_", ["#ff0000", "#00ff00", "#0000ff", "#ffff00", "#00ffff", "#ff00ff"])
def test_the_corners_of_srgb_are_its_strongest(hex_: str) -> None:
    # coloraide, LCh with D65 as its white, is the independent witness of the same corner.
    theirs = Color(hex_).convert("lch-d65")
    lightness, chroma, hue = lch_of(hex_)
    assert lightness == pytest.approx(theirs["lightness"], abs=0.75)
    assert chroma == pytest.approx(theirs["chroma"], abs=0.75)
    assert hue == pytest.approx(theirs["hue"], abs=0.75)
    assert most_chroma(lightness, hue) == pytest.approx(chroma, abs=8)
