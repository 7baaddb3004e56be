"""Lengths from text and back."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.lengths import both, inches, millimetres, parse_mm


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # The international inch is 25.4 mm: international yard and pound agreement, 1959.
        ("1 in", 25.4),
        ("6 in", 152.4),
        ('6 1/2"', 165.1),
        ("6½ in", 165.1),
        ("6-1/2 inches", 165.1),
        ("9 3/8 inch", 238.125),
        ("1/2in", 12.7),
        ("15.2cm", 152.0),
        ("15,2 cm", 152.0),
        ("152 mm", 152.0),
        ("152", 152.0),
        (" 152MM ", 152.0),
        (".5 cm", 5.0),
        ("8.", 8.0),
        ("0.4 m", 400.0),
        ("+152", 152.0),
    ],
)
def test_reads_what_makers_type(text: str, mm: float) -> None:
    assert parse_mm(text, "snug") == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize(
    "text",
    ["", " ", "six", "nan", "inf", "1e3", "1/0 in", "6 ft", "6 1/2 1/2", "--3", "1,2,3", "6in in"],
)
def test_what_is_no_length_says_what_one_is(text: str) -> None:
    with pytest.raises(BriefError) as caught:
        parse_mm(text, "snug")
    assert caught.value.field == "snug"
    assert caught.value.got == text
    assert caught.value.remedy


@pytest.mark.parametrize("text", ["-3in", "-0.5", "\N{MINUS SIGN}3 in"])
def test_a_negative_length_is_told_apart(text: str) -> None:
    with pytest.raises(BriefError, match="minus sign"):
        parse_mm(text, "snug")


def test_an_absurd_length_names_the_range_in_both_units() -> None:
    with pytest.raises(BriefError) as caught:
        parse_mm("40 m", "snug", least_mm=40.0, most_mm=1000.0)
    assert caught.value.wanted == "40 mm (1 9/16 in) to 1000 mm (39 3/8 in)"


def test_a_bare_number_that_fits_in_another_unit_is_asked_about() -> None:
    for text, meant in (("17", "17 cm"), ("2", "2 in")):
        with pytest.raises(BriefError) as caught:
            parse_mm(text, "snug", least_mm=40.0, most_mm=300.0)
        assert f"Write {meant} if that was meant." == caught.value.remedy


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("8 7/8", "Write 8 7/8 in if that was meant."),
        ("9\N{VULGAR FRACTION ONE QUARTER}", "Write 9\N{VULGAR FRACTION ONE QUARTER} in if"),
        ("9.25", "Write 9.25 in if that was meant."),
        ("21.5", "Write 21.5 cm if that was meant."),
        ("21", "Write 21 cm if that was meant."),
        ("14", "Write 14 cm or 14 in, whichever was meant."),
    ],
)
def test_a_limbs_measurement_without_a_unit_is_asked_for_the_likely_one(
    text: str, remedy: str
) -> None:
    with pytest.raises(BriefError) as caught:
        parse_mm(text, "snug", least_mm=40.0, most_mm=1000.0)
    assert caught.value.got == text
    assert caught.value.remedy.startswith(remedy)


@pytest.mark.parametrize(
    ("text", "remedy"),
    [
        ("3/4", "Write 3/4 in if that was meant."),
        ("1 1/2", "Write 1 1/2 in if that was meant."),
        ("2 1/2", "Write 2 1/2 in if that was meant."),
        ("1/16", "Write 1/16 in if that was meant."),
        ("0.75", "Write 0.75 in if that was meant."),
        ("1.5", "Write 1.5 cm or 1.5 in, whichever was meant."),
    ],
)
def test_what_no_tape_reads_is_not_taken_for_millimetres(text: str, remedy: str) -> None:
    with pytest.raises(BriefError) as caught:
        parse_mm(text, "ease", most_mm=200.0, least_bare_mm=2.0)
    assert caught.value.remedy == remedy
    # With its unit it is the maker's word.
    assert parse_mm(f"{text} mm", "ease", most_mm=200.0, least_bare_mm=2.0) > 0.0


def test_without_a_range_no_unit_is_guessed() -> None:
    with pytest.raises(BriefError, match="mm, cm, m or in, such as 2 1/2 in"):
        parse_mm("2 1/2", "distance")
    assert parse_mm("0.15", "thread") == 0.15


def test_plain_millimetres_and_nothing_stay_what_they_are() -> None:
    for text, mm in (("0", 0.0), ("2", 2.0), ("12.7", 12.7), ("6,5", 6.5), ("1.5 mm", 1.5)):
        assert parse_mm(text, "ease", most_mm=200.0, least_bare_mm=2.0) == mm


@given(st.integers(0, 12), st.integers(1, 15), st.sampled_from([2, 4, 8, 16]))
def test_a_fraction_alone_is_never_a_length(whole: int, over: int, under: int) -> None:
    for text in (f"{whole} {over}/{under}", f"{over}/{under}"):
        for limits in ({}, {"least_mm": 0.5, "most_mm": 20.0}, {"most_mm": 200.0}):
            with pytest.raises(BriefError):
                parse_mm(text, "pitch", **limits)
        if " " in text and over >= under:
            # "8 9/8 in" is a slip of the pen.
            with pytest.raises(BriefError):
                parse_mm(f"{text} in", "pitch")
        else:
            assert parse_mm(f"{text} in", "pitch") > 0.0


@given(st.floats(min_value=0.001, max_value=1e5))
def test_millimetres_survive_reading_back(value: float) -> None:
    assert parse_mm(f"{value:.9f} mm", "snug") == pytest.approx(value, abs=1e-8)


@given(st.integers(min_value=1, max_value=16 * 400))
def test_sixteenths_survive_reading_back(sixteenths: int) -> None:
    value_mm = sixteenths * 25.4 / 16
    assert parse_mm(inches(value_mm), "snug") == pytest.approx(value_mm, abs=1e-9)


@given(st.text(max_size=20))
def test_no_text_gives_anything_but_a_length_or_our_error(text: str) -> None:
    try:
        value = parse_mm(text, "snug")
    except BriefError:
        return
    assert math.isfinite(value)
    assert value >= 0.0


def test_lengths_read_well() -> None:
    assert millimetres(218.5) == "218.5 mm"
    assert millimetres(218.04) == "218 mm"
    assert both(25.4) == "25.4 mm (1 in)"
    assert inches(-12.7) == "-1/2 in"
    assert inches(0.1) == "under 1/16 in"
    assert inches(0.0) == "0 in"
