"""The needle's way in words: the same on screen and paper, and true to the thread's path."""

import re
from itertools import cycle, groupby

import pytest

from explorer.app.making import Stitch, stitches
from explorer.design import Column, Design, of_columns
from explorer.lengths import both
from explorer.needle_words import DANGLE_CAPTION, joined
from explorer.piece import piece_of
from explorer.sheet import making_sheet
from explorer.sheet_diagrams import figures
from explorer.sheet_facts import SheetOptions
from explorer.thread import thread_plan
from explorer.thread_path import FROM_TAILS, Leg, Step, path
from explorer.thread_pieces import tails_mm
from explorer.thread_setup import ThreadSetup
from gallery.page import Figures, Steps, Table, Text
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
BEADS = (
    Bead(name="ground", kind=KINDS["cube 1.8"], hex="#eeeeee"),
    Bead(name="one", kind=KINDS["round 11/0"], hex="#aa2222"),
    Bead(name="big", kind=KINDS["round 8/0"], hex="#2222aa"),
    Bead(name="drop", kind=KINDS["drop 2.8"], hex="#22aa22"),
)
BARE = Column(base=0)
# In one piece, so that no join parts the path.
LONG = ThreadSetup(working_mm=20_000.0)


def strip(*dangles: tuple[int, ...], bare_start: bool = False) -> Design:
    motif = tuple(Column(base=0, beads=beads) for beads in dangles)
    return of_columns(
        beads=BEADS,
        base_pitch_mm=1.95,
        motifs=(motif,),
        dividers=((), ()),
        start_margin=(BARE,) * bare_start,
    )


TIPS = {
    "plain": strip((1, 1, 1), (1, 1)),
    "larger": strip((1, 1, 2), (1, 2)),
    "drop": strip((1, 1, 3), (1, 3)),
    "plain and drop": strip((1, 1, 1), (1, 1, 1, 3)),
    "single": strip((1,), (3,), (1, 1)),
}


def on_paper(design: Design, setup: ThreadSetup = LONG) -> str:
    found: list[str] = []
    for block in making_sheet(piece_of(design=design), SheetOptions(setup=setup)).blocks:
        if isinstance(block, Text):
            found.append(block.text)
        elif isinstance(block, Steps):
            found += block.texts
        elif isinstance(block, Table):
            found += [cell for row in block.rows for cell in row if isinstance(cell, str)]
    return "\n".join(found)


def fringe(design: Design) -> list[tuple[Leg, Stitch]]:
    legs = [leg for leg in path(design, LONG) if leg.step is Step.DANGLES]
    told = [stitch for stitch in stitches(design, LONG) if stitch.stage == "The fringe"]
    # The first of them hooks the thread and strings nothing.
    return list(zip(legs, told[1:], strict=True))


@pytest.mark.parametrize("design", TIPS.values(), ids=TIPS)
def test_the_end_of_a_dangle_is_told_as_the_path_passes_it(design: Design) -> None:
    for leg, stitch in fringe(design):
        passes = {spot: leg.visits.count(spot) for spot in leg.visits}
        tip = max(row for _, row in passes)
        once = [row for (_, row), count in passes.items() if count == 1]
        # The one bead that is passed once is the one that is said to be.
        assert once == [tip]
        assert re.search(
            r"The last one \(\w+\) is .*turning bead: pass through .* once only", stitch.how
        )
        assert {count for (_, row), count in passes.items() if row != tip} == {2}
        others = sum(count == 2 for (_, row), count in passes.items() if row)
        said = {0: "the base bead", 1: "the other one and the base bead"}
        back = said.get(others, f"the other {others} and the base bead")
        assert f"then go back up through {back}." in stitch.how
        hangs = "(drop)" in stitch.how
        assert ("hangs with its narrow end up" in stitch.how) == hangs
        assert ("lies sideways" in stitch.how) != hangs


@pytest.mark.parametrize("design", TIPS.values(), ids=TIPS)
def test_screen_and_paper_tell_the_end_of_a_dangle_in_the_same_words(design: Design) -> None:
    paper = on_paper(design)
    for _, stitch in fringe(design):
        (turn,) = re.findall(r"The last one .*? once only", stitch.how)
        (lies,) = re.findall(r"Drawn up, [^.]*\.", stitch.how)
        turn = re.sub(r" \(\w+\)", "", turn)
        assert turn[1:] in paper
        assert lies in paper
    assert "skip" not in paper + " ".join(stitch.how for _, stitch in fringe(design))


def test_drops_are_spoken_of_only_where_there_are_some() -> None:
    assert "drop" not in on_paper(TIPS["plain"])
    assert "lies sideways" not in on_paper(TIPS["drop"])


def test_the_drawings_caption_tells_it_too() -> None:
    assert "once through its turning bead" in DANGLE_CAPTION
    shown = [figure.caption for figure in figures()]
    assert f"{DANGLE_CAPTION}, right-handed" in shown
    drawn = [
        b for b in making_sheet(piece_of(design=TIPS["plain"])).blocks if isinstance(b, Figures)
    ]
    assert any(figure in block.figures for block in drawn for figure in figures())


@pytest.mark.parametrize("dangles", [2, 3, 4, 7])
def test_up_and_down_are_told_as_the_thread_runs(dangles: int) -> None:
    design = strip(*((1, 1),) * dangles)
    # Up through the first bead, and out of one bead's end into the same end of the next.
    way = cycle(("up", "down"))
    true = {
        step: [(next(way), column + 1) for leg in group for column, _ in leg.visits]
        for step, group in groupby(path(design, LONG), key=lambda leg: leg.step)
        if step in {Step.LADDER, Step.STRAIGHTENING}
    }
    band = [s.how for s in stitches(design, LONG) if s.stage == "The band, bead by bead"]
    assert "from below upward" in band[0]
    for at, how in enumerate(band[1:]):
        new, old, again = true[Step.LADDER][1 + 3 * at : 4 + 3 * at]
        assert f"Pass {new[0]} through it, {old[0]} through base bead {old[1]} " in how
        assert f"and {again[0]} through the new one again" in how
    (zigzag,) = [s.how for s in stitches(design, LONG) if s.stage == "Straighten the band"]
    said = re.findall(r"(up|down) through base bead (\d+)", zigzag)
    zig = true[Step.STRAIGHTENING]
    assert [(turn, int(number)) for turn, number in said] == zig[: len(said)]
    assert len(said) == min(2, len(zig))
    # The thread comes out on top only if the last pass, through base bead 1, goes up.
    assert zig[-1] == ("up", 1)
    assert "comes out at the top of base bead 1" in zigzag
    assert zigzag in on_paper(design)


@pytest.mark.parametrize("bare", [False, True])
def test_screen_and_paper_begin_the_fringe_alike(bare: bool) -> None:
    design = strip((1, 1), (1, 1, 1), bare_start=bare)
    hook, first, *_ = (s for s in stitches(design, LONG) if s.stage == "The fringe")
    # The straightening ends at base bead 1; a bare one has no stitch of its own in the path, which
    # goes past it to the second.
    legs = path(design, LONG)
    at = next(at for at, leg in enumerate(legs) if leg.step in {Step.DANGLES, Step.MARGINS})
    assert legs[at - 1].visits[-1] == (0, 0)
    assert legs[at].column == bare
    assert hook.what == "Base bead 1: hook the thread"
    assert first.what.startswith("Base bead 2:" if bare else "Base bead 1:")
    assert "hook it under the ladder's own thread" in hook.how
    assert ("where nothing hangs" in hook.how) == bare
    assert hook.how in on_paper(design)


def test_every_piece_of_thread_is_told_with_its_length_and_its_tail() -> None:
    design = strip(*((1,) * 8,) * 60)
    setup = ThreadSetup(working_mm=900.0, weave_beads=5)
    plan = thread_plan(design, setup)
    assert {leg.step for leg in plan.legs} >= {Step.JOINS, Step.LADDER}
    assert plan.joins >= 3
    first_mm, tail_mm = tails_mm(plan.legs, design, setup)
    told = stitches(design, setup)
    begin = [told[0], *(s for s in told if s.stage == "A new thread")]
    assert len(begin) == len(plan.pieces_mm)
    paper = on_paper(design, setup)
    for number, (stitch, length) in enumerate(zip(begin, plan.pieces_mm, strict=True), 1):
        cut = f"thread piece {number} of {len(begin)}, cut to {both(round(length))}"
        assert cut in stitch.how
        assert stitch.how in paper
    assert f"a tail of {both(round(first_mm))}" in begin[0].how
    for stitch, (_, new) in zip(begin[1:], joined(plan.legs), strict=True):
        # The thread of the weaving in comes off the tail that is hanging.
        assert f"a tail of {both(round(tail_mm - new.length_mm))}" in stitch.how


def test_thread_and_tails_that_are_told_reach_for_the_work() -> None:
    """Each piece, less the tail hanging at its beginning, makes its stitches and ends in a tail."""
    design = strip(*((1,) * 8,) * 60)
    setup = ThreadSetup(working_mm=900.0, weave_beads=9, tail_mm=0.0, allowance=0.0)
    plan = thread_plan(design, setup)
    made: list[list[Leg]] = [[]]
    for step, group in groupby(plan.legs, key=lambda leg: leg.step):
        if step is Step.JOINS:
            made.append([])
        made[-1] += group
    hanging = [
        int(re.findall(r"a tail of (\d+) mm", stitch.how)[0])
        for stitch in stitches(design, setup)
        if "a tail of" in stitch.how
    ]
    for at, (length, tail, legs) in enumerate(zip(plan.pieces_mm, hanging, made, strict=True)):
        worked = sum(leg.length_mm for leg in legs if leg.step not in FROM_TAILS)
        woven = joined(plan.legs)[at - 1][1].length_mm if at else 0.0
        end = joined(plan.legs)[at][0].length_mm if at < plan.joins else 0.0
        # Told in whole millimetres.
        assert length - tail - worked - woven >= end - 1.0
