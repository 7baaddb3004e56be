from types import ModuleType

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from palettes import spaces

UNIT = arrays(np.float64, (4, 3), elements=st.floats(0.0, 1.0))
RANDOM = np.random.default_rng(20).random((500, 3))


def test_white_and_black_are_exact() -> None:
    assert spaces.srgb1_to_lab([1.0, 1.0, 1.0]) == pytest.approx([100.0, 0.0, 0.0], abs=1e-9)
    assert spaces.srgb1_to_lab([0.0, 0.0, 0.0]) == pytest.approx([0.0, 0.0, 0.0], abs=1e-9)


@pytest.mark.parametrize(
    ("srgb1", "xyz1"),
    [
        # IEC 61966-2-1:1999, clause 5.2: the columns of the matrix.
        ([1.0, 0.0, 0.0], [0.4124, 0.2126, 0.0193]),
        ([0.0, 1.0, 0.0], [0.3576, 0.7152, 0.1192]),
        ([0.0, 0.0, 1.0], [0.1805, 0.0722, 0.9505]),
        # Its white point, D65.
        ([1.0, 1.0, 1.0], [0.9505, 1.0000, 1.0890]),
    ],
)
def test_primaries_as_the_standard_has_them(srgb1: list[float], xyz1: list[float]) -> None:
    got = spaces.linear1_to_xyz1(spaces.srgb1_to_linear1(srgb1))
    assert got == pytest.approx(xyz1, abs=1e-9)


def test_transfer_curve_meets_at_its_knee() -> None:
    # IEC 61966-2-1:1999 gives 0.04045 and 0.0031308 for the same point, to four digits.
    assert spaces.srgb1_to_linear1([0.04045] * 3) == pytest.approx([0.0031308] * 3, abs=1e-7)


def test_lab_agrees_with_colour_science(colour: ModuleType) -> None:
    theirs = colour.XYZ_to_Lab(
        colour.sRGB_to_XYZ(RANDOM),
        colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"],
    )
    # The white points differ in the fourth decimal: up to 0.02 in a* and b*.
    assert np.abs(spaces.srgb1_to_lab(RANDOM) - theirs).max() < 0.03


def test_lab_agrees_with_coloraide() -> None:
    theirs = [Color("srgb", list(row)).convert("lab-d65").coords() for row in RANDOM[:100]]
    assert np.abs(spaces.srgb1_to_lab(RANDOM[:100]) - np.array(theirs)).max() < 0.03


@given(UNIT)
def test_round_trips(srgb1: spaces.FloatArray) -> None:
    assert np.allclose(spaces.linear1_to_srgb1(spaces.srgb1_to_linear1(srgb1)), srgb1, atol=2e-7)
    assert np.allclose(spaces.lab_to_srgb1(spaces.srgb1_to_lab(srgb1)), srgb1, atol=2e-6)
    lab = spaces.srgb1_to_lab(srgb1)
    assert np.allclose(spaces.lch_to_lab(spaces.lab_to_lch(lab)), lab, atol=1e-9)


@given(st.integers(0, 0xFFFFFF))
def test_hex_round_trip(number: int) -> None:
    text = f"#{number:06x}"
    assert spaces.srgb1_to_hex(spaces.hex_to_srgb1(text)) == text
    assert spaces.parse_hex(text.upper().removeprefix("#")) == text


@pytest.mark.parametrize(
    "text", ["", "#", "12345", "#12345g", "#1234567", "red", "#\uff11\uff12\uff13"]
)
def test_what_is_no_hex_is_refused_by_name(text: str) -> None:
    with pytest.raises(ValueError, match="no hex colour"):
        spaces.parse_hex(text)


def test_three_digits_stand_for_six() -> None:
    assert spaces.parse_hex(" #1aF ") == "#11aaff"


@pytest.mark.parametrize(
    "bad", [[0.5, 0.5], [np.nan, 0, 0], [1.1, 0, 0], [-0.1, 0, 0], [np.inf] * 3]
)
def test_what_is_no_srgb_is_refused(bad: list[float]) -> None:
    with pytest.raises(ValueError, match=r"colours|sRGB"):
        spaces.checked_srgb1(bad)


def test_no_colours_are_an_empty_array() -> None:
    assert spaces.hexes_to_srgb1([]).shape == (0, 3)
    assert spaces.srgb1_to_lab(spaces.checked_srgb1(np.empty((0, 3)))).shape == (0, 3)
