import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.design import Design, build
from explorer.errors import BriefError
from explorer.thread import GUESSED_PACE_S, thread_plan, weaving_time_s
from explorer.thread_holes import Passing
from explorer.thread_path import FROM_TAILS, RING_MM, Step, path
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead
from palettes.charts import bead_kinds
from tests.explorer.columns import with_columns

PLAIN = ThreadSetup(slack_beads=0.0, allowance=0.0)


def fringe(base: str, hang: str, dangles: int, beads: int, **changes: Any) -> Design:
    kinds = bead_kinds()
    parts: dict[str, Any] = {
        "beads": (
            Bead(name="chalk", kind=kinds[base], hex="#eeeeee"),
            Bead(name="brick", kind=kinds[hang], hex="#aa2222"),
            Bead(name="drop", kind=kinds["drop 3.4"], hex="#2222aa"),
        ),
        "base": 0,
        "base_pitch_mm": kinds[base].pitch_mm,
        "profiles": ((beads,) * dangles,),
        "order": (1,),
        "divider_base_beads": 0,
    }
    return build(**(parts | changes))


@pytest.mark.parametrize(
    ("base", "dangles", "beads", "told_mm"),
    [("cube 1.8", 119, 8, 5250.0), ("cube 3", 72, 10, 4540.0)],
)
def test_two_pieces_against_a_path_summed_by_hand(
    base: str, dangles: int, beads: int, told_mm: float
) -> None:
    # our derivation. n base beads: a ladder of 3n - 2 passes and 3n - 3 crossings, a zigzag of
    # n - 1 and n - 1, dangles with 2n passes of the base and n - 1 crossings.
    plan = thread_plan(fringe(base, "round 11/0", dangles, beads), PLAIN)
    size = bead_kinds()[base].pitch_mm
    dangle = 2 * (beads - 1) * 1.45 + 1.45 + 2 * math.sqrt(1.05**2 + 0.725**2)
    n = dangles
    by_hand = (3 * n - 2 + 3 * n - 3 + 2 * (n - 1) + 2 * n + n - 1) * size + n * dangle
    parts = dict(plan.parts)
    woven = parts[Step.LADDER] + parts[Step.STRAIGHTENING] + parts[Step.DANGLES]
    assert woven == pytest.approx(by_hand)
    # The rough rule counts three passes and crossings for the end beads too: 11 sizes a column.
    assert n * (11 * size + dangle) == pytest.approx(told_mm, rel=1e-3)
    assert n * (11 * size + dangle) - woven == pytest.approx(8 * size)


def test_tails_are_woven_away_from_the_ends() -> None:
    # Seven base beads, three to weave through: the end's tail inward from its neighbour, the
    # start's likewise.
    legs = path(fringe("cube 3", "round 8/0", 7, 2), PLAIN)
    woven = [leg for leg in legs if leg.step is Step.WEAVING_IN]
    assert [leg.visits for leg in woven] == [((5, 0), (4, 0), (3, 0)), ((1, 0), (2, 0), (3, 0))]
    for leg in woven:
        assert leg.length_mm == pytest.approx(3 * 3.0 + 3 * 3.0)


def test_the_order_of_a_short_path() -> None:
    legs = path(fringe("cube 3", "round 8/0", 3, 2), PLAIN)
    assert [leg.visits for leg in legs if leg.step is Step.LADDER] == [
        ((0, 0),),
        ((1, 0), (0, 0), (1, 0)),
        ((2, 0), (1, 0), (2, 0)),
    ]
    assert [leg.visits for leg in legs if leg.step is Step.STRAIGHTENING] == [((1, 0),), ((0, 0),)]
    assert legs[5].visits == ((0, 0), (0, 1), (0, 2), (0, 1), (0, 0))
    steps = [step for step, _ in itertools.groupby(leg.step for leg in legs)]
    assert steps == [
        Step.LADDER,
        Step.STRAIGHTENING,
        Step.DANGLES,
        Step.END_CLOSURE,
        Step.WEAVING_IN,
        Step.START_CLOSURE,
        Step.WEAVING_IN,
    ]


@given(st.integers(1, 12), st.integers(1, 9), st.integers(0, 3), st.integers(0, 2))
def test_neighbouring_passes_are_neighbouring_beads(
    dangles: int, beads: int, divider: int, margin: int
) -> None:
    design = fringe(
        "cube 3",
        "round 8/0",
        dangles,
        beads,
        order=(1, 2),
        divider_base_beads=divider,
        margins=(margin, margin),
    )
    legs = [leg for leg in path(design, PLAIN) if leg.step not in FROM_TAILS]
    for leg in legs:
        for (a, i), (b, k) in itertools.pairwise(leg.visits):
            assert abs(a - b) + abs(i - k) <= 1
    for earlier, later in itertools.pairwise(legs):
        assert abs(earlier.column - later.column) <= 1


def test_links_and_closures_by_hand() -> None:
    design = fringe("cube 3", "round 8/0", 5, 2, links=((1,), (1, 1)))
    parts = dict(thread_plan(design, replace(PLAIN, rounds=3)).parts)
    # a round: each link out and back, the end bead twice, to the link's level and back, the ring,
    # and round the ladder's thread
    plain = 2 * 3.0 + 2 * math.hypot(1.5, 1.5) + RING_MM + 3.0
    assert parts[Step.START_CLOSURE] == pytest.approx(3 * (plain + 2 * 2.05))
    assert parts[Step.END_CLOSURE] == pytest.approx(3 * (plain + 4 * 2.05))


def test_bare_base_beads_take_no_thread_but_to_cross_them() -> None:
    # Two motifs of two dangles, dividers of one bare bead: the first is where the thread is.
    design = fringe("cube 3", "round 8/0", 2, 2, order=(1, 1), divider_base_beads=1)
    parts = dict(thread_plan(design, PLAIN).parts)
    assert parts[Step.DIVIDERS] == pytest.approx(2 * 3.0)


def test_slack_and_a_tip_of_another_kind() -> None:
    design = fringe("cube 3", "round 8/0", 1, 3)
    tipped = with_columns(design, motifs=((replace(design.motifs[0][0], beads=(1, 1, 2)),),))
    found = dict(thread_plan(tipped, PLAIN).parts)[Step.DANGLES]
    assert found == pytest.approx(2 * (3.0 + 2 * 2.05) + 3.4 + 2 * math.hypot(1.7, 1.7))
    slack = dict(thread_plan(tipped, replace(PLAIN, slack_beads=0.5)).parts)[Step.DANGLES]
    assert slack - found == pytest.approx(2.05)


@given(st.floats(400.0, 3000.0), st.floats(0.0, 0.3), st.integers(1, 40), st.integers(1, 12))
def test_pieces_are_as_long_as_the_maker_works_with(
    working_mm: float, allowance: float, dangles: int, beads: int
) -> None:
    design = fringe("cube 1.8", "round 11/0", dangles, beads)
    setup = ThreadSetup(working_mm=working_mm, allowance=allowance, closure_tail_mm=150.0)
    plan = thread_plan(design, setup)
    assert all(piece <= working_mm + 1e-6 for piece in plan.pieces_mm)
    joins = sum(leg.step is Step.JOINS for leg in plan.legs)
    assert joins == 2 * plan.joins
    worked = sum(leg.length_mm for leg in plan.legs if leg.step not in FROM_TAILS)
    tails = 2 * 150.0 * len(plan.pieces_mm)
    assert plan.length_mm == pytest.approx(worked * (1 + allowance) + tails)
    assert plan.path_mm == pytest.approx(sum(leg.length_mm for leg in plan.legs))
    assert plan.path_mm <= plan.length_mm
    longest = max(leg.length_mm for leg in plan.legs) * (1 + allowance)
    # no piece is ended while the next stitch still fits
    assert all(piece > working_mm - longest - 1e-6 for piece in plan.pieces_mm[:-1])


def test_a_join_adds_passes_beside_it() -> None:
    design = fringe("cube 1.8", "round 11/0", 119, 8)
    plan = thread_plan(design)
    inner = {count for (column, row), count in plan.passes if row == 0 and 4 < column < 114}
    assert plan.joins == 4
    assert min(inner) == 6
    assert 8 <= max(inner) <= 10


def test_a_join_is_woven_away_from_the_start_and_back() -> None:
    design = fringe("cube 1.8", "round 11/0", 119, 8)
    plan = thread_plan(design)
    legs = plan.legs
    places = [i for i, leg in enumerate(legs) if leg.step is Step.JOINS][::2]
    assert len(places) == plan.joins
    for i in places:
        column = legs[i - 1].column
        assert legs[i].visits == tuple((column - k, 0) for k in (1, 2, 3))
        assert legs[i + 1].visits == tuple((column - k, 0) for k in (2, 1, 0))


def test_a_join_near_the_start_is_woven_the_other_way() -> None:
    # the ladder alone takes the first piece; the next one starts on the way back
    design = fringe("cube 1.8", "round 11/0", 6, 30)
    plan = thread_plan(design, replace(PLAIN, working_mm=480.0, closure_tail_mm=150.0))
    first = next(i for i, leg in enumerate(plan.legs) if leg.step is Step.JOINS)
    assert plan.legs[first - 1].column == 0
    assert plan.legs[first].visits == ((1, 0), (2, 0), (3, 0))
    assert plan.legs[first + 1].visits == ((2, 0), (1, 0), (0, 0))


def test_a_join_has_only_the_beads_there_are() -> None:
    design = fringe("cube 1.8", "round 11/0", 2, 30)
    plan = thread_plan(design, replace(PLAIN, working_mm=480.0, closure_tail_mm=150.0))
    joins = [leg.visits for leg in plan.legs if leg.step is Step.JOINS]
    assert set(joins) <= {((0, 0),), ((0, 0), (1, 0)), ((1, 0),), ((1, 0), (0, 0))}
    assert joins


def test_tails_grow_with_what_they_sew() -> None:
    design = fringe("cube 3", "round 8/0", 10, 2, links=((1, 1, 1), ()))
    short = replace(PLAIN, closure_tail_mm=0.0, tail_mm=0.0, rounds=4)
    plan = thread_plan(design, short)
    start = sum(leg.length_mm for leg in plan.legs if leg.step is Step.START_CLOSURE)
    # each tail is woven through three base beads and keeps 60 mm to hold
    longest = 3.4
    worked = sum(leg.length_mm for leg in plan.legs if leg.step not in FROM_TAILS)
    tails = (start + 3 * (3.0 + 3.0) + 60.0) + (3 * (longest + 3.0) + 60.0)
    assert plan.joins == 0
    assert plan.length_mm == pytest.approx(worked + tails)
    roomy = thread_plan(design, replace(short, closure_tail_mm=400.0, tail_mm=200.0))
    assert roomy.length_mm == pytest.approx(worked + 600.0)


def test_end_beads_take_what_the_trade_says() -> None:
    # worked out in the trade's terms: ladder 2, straightening 1, dangle 2, two a round
    plan = thread_plan(fringe("cube 1.8", "round 11/0", 20, 3))
    passes = dict(plan.passes)
    assert passes[0, 0] == 2 + 1 + 2 + 2 * 2
    assert passes[19, 0] == 2 + 2 + 2 * 2
    assert passes[10, 0] == 6
    # Of beads passed alike the first is named.
    assert {hole.bead: hole.spot for hole in plan.holes} == {0: (0, 0), 1: (0, 1)}


def test_the_tightest_bead_is_named_with_pass_and_remedy() -> None:
    setup = ThreadSetup(needle_mm=0.46, thread_mm=0.2)
    plan = thread_plan(fringe("cube 1.8", "round 11/0", 20, 3), setup)
    worst = plan.tightest
    assert worst.spot == (0, 0)
    assert worst.passing is Passing.DOUBTFUL
    assert worst.needed_mm == pytest.approx(math.sqrt(0.46**2 + 10 * 0.2**2 / 0.6))
    assert "Pass 9 through base bead 1 (chalk, cube 1.8)" in worst.words
    assert "0.94 mm of a 0.80 mm hole: doubtful" in worst.words
    assert worst.remedy == "Take a thinner thread: braided 4 lb, about 0.13 mm."
    # neither change alone helps the thickest of both: strands left are (0.64 - 0.2116) 0.6 / 0.09
    thick = replace(setup, thread_mm=0.3, rounds=5)
    worst = thread_plan(fringe("cube 1.8", "round 11/0", 20, 3), thick).tightest
    assert worst.remedy.startswith(
        "Take needle and thread both thinner, or an order with at most 1"
    )
    awl = replace(setup, needle_mm=0.9, thread_mm=0.3)
    worst = thread_plan(fringe("cube 1.8", "round 11/0", 20, 3), awl).tightest
    assert worst.remedy.endswith("or a bead with a larger hole.")


def test_the_mildest_remedy_comes_first_and_helps() -> None:
    design = fringe("cube 1.8", "round 11/0", 20, 3)
    thin = thread_plan(design, ThreadSetup(needle_mm=0.41, thread_mm=0.15)).tightest
    assert thin.passing is Passing.TIGHT
    assert thin.remedy == "Take a thinner needle: size 12, about 0.36 mm."
    assert thread_plan(design, ThreadSetup(needle_mm=0.36)).tightest.passing is Passing.FREE
    thick = thread_plan(design, ThreadSetup(needle_mm=0.275, thread_mm=0.18)).tightest
    assert thick.remedy == "Take a thinner thread: braided 6 lb, about 0.15 mm."
    easier = ThreadSetup(needle_mm=0.275, thread_mm=0.15)
    assert thread_plan(design, easier).tightest.remedy == ""


def test_a_thread_too_short_for_one_stitch_says_how_long_it_must_be() -> None:
    design = fringe("cube 3", "round 8/0", 3, 60)
    with pytest.raises(BriefError) as caught:
        thread_plan(design, ThreadSetup(working_mm=450.0))
    assert caught.value.field == "working_length"
    needed = float(caught.value.wanted.split()[2])
    assert thread_plan(design, ThreadSetup(working_mm=needed)).joins > 0
    with pytest.raises(BriefError):
        thread_plan(design, ThreadSetup(working_mm=300.0))


@pytest.mark.parametrize("closure_tail_mm", [0.0, 1000.0])
def test_the_shortest_thread_told_is_the_shortest(closure_tail_mm: float) -> None:
    design = fringe("cube 3", "round 8/0", 6, 40)
    setup = ThreadSetup(working_mm=300.0, tail_mm=0.0, closure_tail_mm=closure_tail_mm)
    with pytest.raises(BriefError) as caught:
        thread_plan(design, setup)
    needed = float(caught.value.wanted.split()[2])
    if closure_tail_mm:
        # By hand: the first bead with a tenth more, its tail, and one woven through three beads.
        assert needed == math.ceil(3.0 * 1.1 + 1000.0 + 3 * (3.4 + 3.0) + 60.0)
    assert thread_plan(design, replace(setup, working_mm=needed)).joins > 0
    with pytest.raises(BriefError, match=f"{needed:g} mm"):
        thread_plan(design, replace(setup, working_mm=needed - 1.0))


def test_time_goes_by_the_makers_own_pace() -> None:
    assert weaving_time_s(281, 12.0) == 3372.0
    assert weaving_time_s(4) == 4 * GUESSED_PACE_S
    assert (weaving_time_s(10, 0.5), weaving_time_s(10, 3600.0)) == (5.0, 36_000.0)
    for bad in (0.0, 0.49, -3.0, math.nan, 3600.1, 1e6):
        with pytest.raises(BriefError) as caught:
            weaving_time_s(281, bad)
        assert caught.value.field == "pace"
