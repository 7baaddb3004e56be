"""The strip that fits a measurement."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.fit import (
    CATALOGUE_PITCH_SPREAD,
    MEASURED_PITCH_SPREAD,
    TOLERANCE_MM,
    Fit,
    NoFit,
    Repeat,
    curvature_mm,
    fit_strip,
    motifs_that_fit,
)

EIGHT = Repeat(dangles=7, divider=1)


def fitted(target_mm: float, pitch_mm: float, repeat: Repeat) -> Fit | NoFit:
    return fit_strip(
        snug_mm=target_mm,
        ease_mm=0.0,
        closure_mm=0.0,
        closure_counted=True,
        pitch_mm=pitch_mm,
        pitch_spread=0.05,
        repeat=repeat,
    )


def test_the_worked_case_of_the_trade() -> None:
    # common practice, no source: 6.0 in and 0.5 in ease, a repeat of 8 base beads takes 0.625 in;
    # 6.5 / 0.625 = 10.4, so 10 motifs and 8 * 10 + 1 = 81 base beads.
    fit = fitted(6.5 * 25.4, 0.625 * 25.4 / 8, EIGHT)
    assert isinstance(fit, Fit)
    assert (fit.motifs, fit.base_beads) == (10, 81)
    assert (fit.quick_rule.motifs, fit.quick_rule.base_beads) == (10, 81)
    assert fit.quick_rule.excess_mm == 0.0
    assert not fit.quick_rule_differs


def test_the_quick_rule_can_come_out_too_long() -> None:
    # Exactly ten repeats of 8: the end bead no longer fits.
    fit = fitted(160.0, 2.0, EIGHT)
    assert isinstance(fit, Fit)
    assert fit.motifs == 9
    assert (fit.quick_rule.motifs, fit.quick_rule.base_beads) == (10, 81)
    assert fit.quick_rule.excess_mm == pytest.approx(2.0)


@given(
    motifs=st.integers(1, 60),
    dangles=st.integers(1, 15),
    divider=st.integers(0, 3),
    hundredths=st.integers(100, 600),
)
def test_an_exact_fit_is_never_lost_to_rounding(
    motifs: int, dangles: int, divider: int, hundredths: int
) -> None:
    repeat = Repeat(dangles=dangles, divider=divider)
    exact = Fraction(hundredths, 100) * repeat.strip_base_beads(motifs)
    assert motifs_that_fit(float(exact), hundredths / 100, repeat) == motifs


@given(
    target=st.floats(20.0, 1200.0),
    pitch=st.floats(0.5, 20.0),
    dangles=st.integers(1, 31),
    divider=st.integers(0, 9),
    margins=st.integers(0, 6),
)
def test_the_most_motifs_that_fit_and_not_one_more(
    target: float, pitch: float, dangles: int, divider: int, margins: int
) -> None:
    repeat = Repeat(dangles=dangles, divider=divider, margins=margins)
    fit = fitted(target, pitch, repeat)
    if isinstance(fit, NoFit):
        assert fit.needs_mm > target
        assert isinstance(fitted(fit.snug_needs_mm, pitch, repeat), Fit)
        assert isinstance(fitted(fit.snug_needs_mm - 0.01, pitch, repeat), NoFit)
        return
    assert fit.strip_mm <= target + 1e-6
    assert repeat.strip_base_beads(fit.motifs + 1) * pitch > target
    assert fit.slack_mm == pytest.approx(max(0.0, target - fit.strip_mm))
    longer = fitted(target + fit.next_motif_needs_mm, pitch, repeat)
    assert isinstance(longer, Fit)
    assert longer.motifs == fit.motifs + 1


@given(st.floats(40.0, 600.0), st.floats(0.0, 50.0))
def test_a_longer_target_never_gives_fewer_motifs(target: float, more: float) -> None:
    assert motifs_that_fit(target + more, 3.1, EIGHT) >= motifs_that_fit(target, 3.1, EIGHT)


def test_the_closure_shortens_the_strip_only_where_the_ease_allows_for_it() -> None:
    counted, added = (
        fit_strip(
            snug_mm=200.0,
            ease_mm=25.0,
            closure_mm=16.0,
            closure_counted=counted,
            pitch_mm=3.1,
            pitch_spread=0.01,
            repeat=Repeat(dangles=4, divider=1),
        )
        for counted in (True, False)
    )
    assert isinstance(counted, Fit)
    assert isinstance(added, Fit)
    assert counted.target_mm == 209.0
    assert added.target_mm == 225.0
    assert counted.finished_ease_mm == pytest.approx(counted.strip_mm + 16.0 - 200.0)
    assert added.finished_mm == pytest.approx(added.strip_mm + 16.0)


def test_a_borderline_fit_says_which_way_it_could_go() -> None:
    # Nine motifs of 8 and a bead are 73 * 2 = 146 mm, ten are 162: 161 lacks one millimetre.
    fit = fitted(161.0, 2.0, EIGHT)
    assert isinstance(fit, Fit)
    assert fit.borderline
    assert fit.if_measured_off == (9, 10)
    assert fit.if_pitch_off == (9, 10)
    sure = fitted(154.0, 2.0, EIGHT)
    assert isinstance(sure, Fit)
    assert sure.if_measured_off == (9, 9)
    # A tape is read to 2 mm: 2.5 mm too short is short, however it is read.
    short = fitted(159.5, 2.0, EIGHT)
    assert isinstance(short, Fit)
    assert short.if_measured_off == (9, 9)


def test_a_sure_fit_is_not_called_borderline() -> None:
    # Two motifs of 8 and a bead are 34 mm, three are 50: neither 2 mm nor a twentieth matter at 40.
    fit = fitted(40.0, 2.0, EIGHT)
    assert isinstance(fit, Fit)
    assert (fit.if_measured_off, fit.if_pitch_off) == ((2, 2), (2, 2))
    assert not fit.borderline


def test_alternatives_are_other_fits_the_least_slack_first() -> None:
    fit = fitted(214.0, 3.1, Repeat(dangles=5, divider=1))
    assert isinstance(fit, Fit)
    slacks = [a.slack_mm for a in fit.alternatives]
    assert slacks == sorted(slacks)
    assert {(a.repeat.dangles, a.repeat.divider) for a in fit.alternatives} == {
        (dangles, divider) for dangles in range(3, 8) for divider in range(3)
    } - {(5, 1)}
    narrow = fitted(214.0, 3.1, Repeat(dangles=2, divider=1))
    assert isinstance(narrow, Fit)
    assert {a.repeat.dangles for a in narrow.alternatives} == {1, 2, 3, 4}
    for other in fit.alternatives:
        assert other.base_beads * 3.1 <= 214.0 + 1e-6
        assert other.repeat != fit.repeat


@pytest.mark.parametrize(("dangles", "divider", "margins"), [(0, 1, 0), (3, -1, 0), (3, 1, -2)])
def test_a_repeat_without_dangles_is_refused(dangles: int, divider: int, margins: int) -> None:
    with pytest.raises(ValueError, match="a repeat has"):
        Repeat(dangles=dangles, divider=divider, margins=margins)


def test_a_thick_base_lies_on_a_wider_circle() -> None:
    # our derivation: beads 3 mm thick on a limb of 200 mm lie pi * 3 = 9.425 mm farther out
    fit = fit_strip(
        snug_mm=200.0,
        ease_mm=25.0,
        closure_mm=16.0,
        closure_counted=True,
        pitch_mm=3.1,
        pitch_spread=0.01,
        repeat=Repeat(dangles=4, divider=1),
        curvature_mm=curvature_mm(3.0),
    )
    assert isinstance(fit, Fit)
    assert fit.target_mm == pytest.approx(200.0 + 25.0 + 9.42478 - 16.0)
    # 14 motifs of 5 and a bead: 71 * 3.1 = 220.1 would be too long; 13 take 66 beads
    assert (fit.motifs, fit.base_beads) == (13, 66)
    assert fit.finished_ease_mm == pytest.approx(66 * 3.1 + 16.0 - 200.0 - 9.42478)


@pytest.mark.parametrize(
    ("target_mm", "pitch_mm", "dangles", "divider", "motifs"),
    [
        # Found by search: the division comes out one motif short, its length does not.
        (256.519999, 5.83, 4, 2, 7),
        (533.399999, 2.1, 7, 2, 28),
        # And here one motif long.
        (2975.3999989999998, 5.8, 9, 0, 56),
        (94.799999, 2.37, 5, 0, 7),
    ],
)
def test_the_length_settles_what_a_division_rounds(
    target_mm: float, pitch_mm: float, dangles: int, divider: int, motifs: int
) -> None:
    repeat = Repeat(dangles=dangles, divider=divider)
    assert motifs_that_fit(target_mm, pitch_mm, repeat) == motifs
    for count, fits in ((motifs, True), (motifs + 1, False)):
        assert (repeat.strip_base_beads(count) * pitch_mm <= target_mm + TOLERANCE_MM) == fits


def test_a_measured_pitch_is_trusted_more_but_not_wholly() -> None:
    # Half a millimetre read wrong on 20 beads that measure 50 mm.
    assert pytest.approx(0.5 / 50.0) == MEASURED_PITCH_SPREAD
    # common practice, no source: plan for one part in twenty until a swatch is measured.
    assert pytest.approx(1.0 / 20.0) == CATALOGUE_PITCH_SPREAD
