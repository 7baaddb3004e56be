"""Fit, counts and thread beside the plain second workings of ``plainly``, on random pieces."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer.counts import Spares, counts
from explorer.design import Design, build
from explorer.fit import Fit, NoFit, Repeat, fit_strip, with_plain_ends
from explorer.thread import thread_plan
from explorer.thread_path import Step, path
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead
from palettes.charts import bead_kinds
from tests.explorer import plainly

HUNDREDTHS = {
    "snug": st.integers(8_000, 35_000),
    "ease": st.integers(0, 6_000),
    "closure": st.integers(0, 4_000),
    "counted": st.booleans(),
    "pitch": st.integers(100, 600),
    "dangles": st.integers(1, 15),
    "divider": st.integers(0, 3),
}


@settings(max_examples=400)
@given(**HUNDREDTHS)
def test_fit(
    snug: int, ease: int, closure: int, counted: bool, pitch: int, dangles: int, divider: int
) -> None:
    target = snug + ease - (closure if counted else 0)
    ours = fit_strip(
        snug_mm=snug / 100,
        ease_mm=ease / 100,
        closure_mm=closure / 100,
        closure_counted=counted,
        pitch_mm=pitch / 100,
        pitch_spread=0.05,
        repeat=Repeat(dangles=dangles, divider=divider),
    )
    plain = plainly.lay_down(target, pitch, dangles, divider)
    if plain is None:
        assert isinstance(ours, NoFit)
        assert ours.needs_mm == pytest.approx((dangles + 2 * divider) * pitch / 100)
        assert ours.snug_needs_mm - snug / 100 == pytest.approx(ours.needs_mm - target / 100)
        return
    assert isinstance(ours, Fit)
    assert (ours.motifs, ours.base_beads) == (plain.motifs, plain.beads)
    assert ours.slack_mm == pytest.approx(plain.left_over / 100, abs=1e-6)
    assert ours.finished_mm == pytest.approx((plain.beads * pitch + closure) / 100)
    assert ours.finished_ease_mm == pytest.approx((plain.beads * pitch + closure - snug) / 100)
    quick = ours.quick_rule
    assert (quick.motifs, quick.base_beads) == plainly.quickly(target, pitch, dangles, divider)
    assert ours.quick_rule_differs == (quick.base_beads != plain.beads)
    for other in ours.alternatives:
        margins, divider = other.repeat.margins, other.repeat.divider
        inside = plainly.lay_down(target - margins * pitch, pitch, other.repeat.dangles, divider)
        assert inside is not None
        assert (other.motifs, other.base_beads) == (inside.motifs, inside.beads + margins)


@settings(max_examples=400)
@given(**HUNDREDTHS)
def test_plain_ends_leave_less_than_two_base_beads(
    snug: int, ease: int, closure: int, counted: bool, pitch: int, dangles: int, divider: int
) -> None:
    target = snug + ease - (closure if counted else 0)
    plain = plainly.lay_down(target, pitch, dangles, divider)
    if plain is None:
        return
    bare = fit_strip(
        snug_mm=snug / 100,
        ease_mm=ease / 100,
        closure_mm=closure / 100,
        closure_counted=counted,
        pitch_mm=pitch / 100,
        pitch_spread=0.05,
        repeat=Repeat(dangles=dangles, divider=divider),
    )
    assert isinstance(bare, Fit)
    assert bare.plain_ends == plain.plain_each_end
    ours = with_plain_ends(bare, bare.plain_ends)
    beads = plain.beads + 2 * plain.plain_each_end
    assert (ours.motifs, ours.base_beads, ours.repeat_base_beads) == (
        plain.motifs,
        beads,
        plain.beads,
    )
    left_over = target - beads * pitch
    assert 0 <= left_over < 2 * pitch
    assert ours.slack_mm == pytest.approx(left_over / 100, abs=1e-6)
    assert ours.finished_ease_mm == pytest.approx((beads * pitch + closure - snug) / 100)
    assert ours.short_mm == pytest.approx(max(0, snug - beads * pitch - closure) / 100, abs=1e-5)
    back = with_plain_ends(ours, 0)
    assert (back.repeat, back.base_beads) == (bare.repeat, bare.base_beads)
    assert back.slack_mm == pytest.approx(bare.slack_mm, abs=1e-6)


def test_counts(designs: st.SearchStrategy[Design]) -> None:
    @given(designs, st.integers(0, 100), st.integers(0, 30))
    def holds(design: Design, percent: int, least: int) -> None:
        ours = counts(design, Spares(percent=float(percent), least=least))
        plain = plainly.tick_off(design)
        for bead in ours.by_bead:
            parts = (bead.base, bead.dangles, bead.dividers, bead.links)
            assert parts == (
                plain.base[bead.bead],
                plain.dangles[bead.bead],
                plain.dividers[bead.bead],
                plain.links[bead.bead],
            )
            assert bead.spares == plainly.spares(sum(parts), percent, least)
        assert ours.total == sum(
            sum(part.values()) for part in (plain.base, plain.dangles, plain.dividers, plain.links)
        )
        assert ours.base_beads == len(plainly.in_a_row(design)) == design.base_beads

    holds()


@pytest.mark.parametrize(
    ("base", "dangles", "beads", "woven_mm", "all_mm"),
    [("cube 1.8", 119, 8, 5234.0, 5299.0), ("cube 3", 72, 10, 4519.0, 4620.0)],
)
def test_the_two_pieces_that_the_guide_tells(
    base: str, dangles: int, beads: int, woven_mm: float, all_mm: float
) -> None:
    kinds = bead_kinds()
    design = build(
        beads=(
            Bead(name="chalk", kind=kinds[base], hex="#eeeeee"),
            Bead(name="brick", kind=kinds["round 11/0"], hex="#aa2222"),
        ),
        base=0,
        base_pitch_mm=kinds[base].pitch_mm,
        profiles=((beads,) * dangles,),
        order=(1,),
        divider_base_beads=0,
    )
    needle, setup = plainly.Needle(design), ThreadSetup(slack_beads=0.0)
    plainly.ladder(needle)
    plainly.straighten(needle)
    for column in range(dangles):
        plainly.hang(needle, column, 0.0)
    assert needle.drawn_mm == pytest.approx(woven_mm, abs=0.5)
    for at_end in (True, False):
        for _ in range(setup.rounds):
            plainly.sew_closure(needle, at_end=at_end)
        plainly.weave_in(needle, setup.weave_beads, at_end=at_end)
    assert needle.drawn_mm == pytest.approx(all_mm, abs=0.5)
    path_mm = math.fsum(leg.length_mm for leg in path(design, setup))
    assert path_mm == pytest.approx(all_mm, abs=0.5)


def test_thread(designs: st.SearchStrategy[Design]) -> None:
    @given(designs, st.sampled_from([0.0, 0.5, 1.0]), st.integers(1, 3), st.integers(1, 5))
    def holds(design: Design, slack: float, rounds: int, weave: int) -> None:
        # A thread so long that no join is needed: joins are held by test_thread.
        setup = ThreadSetup(
            slack_beads=slack, rounds=rounds, weave_beads=weave, working_mm=20_000.0
        )
        ours = thread_plan(design, setup)
        assert ours.joins == 0
        parts = dict(ours.parts)
        needle = plainly.Needle(design)
        plainly.ladder(needle)
        assert parts[Step.LADDER] == pytest.approx(needle.took())
        plainly.straighten(needle)
        assert parts[Step.STRAIGHTENING] == pytest.approx(needle.took())
        for column in range(len(needle.row)):
            plainly.hang(needle, column, slack)
        hung = parts[Step.DANGLES] + parts[Step.DIVIDERS] + parts[Step.MARGINS]
        assert hung == pytest.approx(needle.took())
        for step, at_end in ((Step.END_CLOSURE, True), (Step.START_CLOSURE, False)):
            for _ in range(rounds):
                plainly.sew_closure(needle, at_end=at_end)
            assert parts[step] == pytest.approx(needle.took())
        for at_end in (True, False):
            plainly.weave_in(needle, weave, at_end=at_end)
        assert parts[Step.WEAVING_IN] == pytest.approx(needle.took())
        assert dict(ours.passes) == dict(needle.passed)
        assert ours.path_mm == pytest.approx(math.fsum(parts.values()))

    holds()
