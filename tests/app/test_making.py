"""The page that follows the needle agrees with the thread's path and with the counts."""

import re
from dataclasses import replace

import pytest

from explorer.app import steps
from explorer.app.demo import demo, tray_of
from explorer.app.drawings import near, ring_round
from explorer.app.making import stitches
from explorer.app.parts.walk import read_wanted
from explorer.app.state import Work
from explorer.counts import counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.layout import strip_scene
from explorer.thread import thread_plan
from explorer.thread_setup import ThreadSetup

WORK = demo()
WORKS = [
    WORK,
    steps.with_tray(WORK, tray_of("hush")),
    steps.resized(WORK, replace(WORK.sizing, dangles=7, divider=0, snug="170 mm")),
    steps.resized(WORK, replace(WORK.sizing, divider=3)),
]


def _picked_up(design: Design) -> dict[str, int]:
    """What the steps tell to pick up, by colour name."""
    tally: dict[str, int] = {}
    for stitch in stitches(design, ThreadSetup()):
        for count, name in re.findall(r"(\d+) ([^,:]+)", stitch.what.partition(": ")[2]):
            tally[name] = tally.get(name, 0) + int(count)
    return tally


@pytest.mark.parametrize("work", WORKS, ids=range(len(WORKS)))
def test_what_is_picked_up_is_what_is_counted_out(work: Work) -> None:
    design = work.piece.design
    wanted: dict[str, int] = {}
    for entry in counts(design).by_bead:
        name = design.beads[entry.bead].name
        wanted[name] = wanted.get(name, 0) + entry.used
    assert _picked_up(design) == {name: count for name, count in wanted.items() if count}


@pytest.mark.parametrize("work", WORKS, ids=range(len(WORKS)))
def test_every_lit_bead_is_in_the_picture_and_every_bead_is_lit_once_at_least(work: Work) -> None:
    design = work.piece.design
    drawn = {bead.tag for bead in strip_scene(design).beads}
    lit = {tag for stitch in stitches(design, ThreadSetup()) for tag in stitch.tags}
    assert lit == drawn


@pytest.mark.parametrize("work", WORKS, ids=range(len(WORKS)))
def test_the_beads_in_question_are_ringed_in_a_picture_that_shows_all_of_them(work: Work) -> None:
    design = work.piece.design
    for stitch in stitches(design, ThreadSetup()):
        assert stitch.motif is not None
        scene, _ = near(design, stitch.motif)
        shown = {bead.tag: bead for bead in scene.beads}
        ring = ring_round(scene, stitch.tags)
        assert ring is not None
        left, top, wide, high = ring
        assert min(left, top) > 0.0
        assert max(left + wide, top + high) < 1.0
        if stitch.stage != "The fringe" or "hook" in stitch.what:
            continue
        # Just the beads of one dangle lie in the ring, by their middles.
        inside = {
            tag
            for tag, bead in shown.items()
            if 0.0 < (bead.x_mm - scene.left_mm) / scene.width_mm - left < wide
            and 0.0 < (bead.y_mm - scene.top_mm) / scene.height_mm - top < high
        }
        assert inside == set(stitch.tags)


def test_a_ring_round_no_bead_of_the_picture_is_none() -> None:
    scene, _ = near(WORK.piece.design, 0)
    assert ring_round(scene, ("m5.c0.base",)) is None


def test_the_words_of_one_dangle() -> None:
    found = next(
        s for s in stitches(WORK.piece.design, ThreadSetup()) if s.what.startswith("Base bead 4: 7")
    )
    assert found.what == "Base bead 4: 7 Starfish Coral"
    assert (
        "The last one (Starfish Coral) is the turning bead: pass through it once only" in found.how
    )
    assert "back up through the other 6 and the base bead" in found.how
    assert found.motif == 0
    assert len(found.tags) == 8


def test_the_way_follows_the_makers_own_thread() -> None:
    design = WORK.piece.design
    own = ThreadSetup(rounds=3, slack_beads=1.0, weave_beads=5, working_mm=900.0)
    for setup in (ThreadSetup(), own):
        found = stitches(design, setup)
        # As many new pieces and rounds as the thread's plan of the Counting page has.
        plan = thread_plan(design, setup)
        assert sum(s.stage == "A new thread" for s in found) == plan.joins
        assert sum(s.stage == "The closure at the end" for s in found) == setup.rounds
        dangles = [s.how for s in found if "string them" in s.how]
        assert all(setup.slack_words in how for how in dangles)
    assert thread_plan(design, own).joins > thread_plan(design, ThreadSetup()).joins > 0
    assert own.slack_words == "one bead of slack"
    last = stitches(design, own)[-1]
    assert last.how.startswith("Weave the thread through base beads 2, 3, 4, 5, 6,")


def test_a_thread_that_is_too_short_still_leads_through_the_piece() -> None:
    design = WORK.piece.design
    short = ThreadSetup(working_mm=300.0, tail_mm=300.0)
    with pytest.raises(BriefError):
        thread_plan(design, short)
    found = stitches(design, short)
    assert {tag for s in found for tag in s.tags} == {b.tag for b in strip_scene(design).beads}


@pytest.mark.parametrize(
    ("sent", "heard"),
    [
        ({"n": 3, "epoch": "e", "place": 7}, (3, 7)),
        ({"n": 2, "epoch": "e", "place": 7}, None),
        ({"n": 3, "epoch": "old", "place": 7}, None),
        ({"n": 3, "epoch": "e", "place": -1}, None),
        ({"n": True, "epoch": "e", "place": 7}, None),
        ({"n": 3, "epoch": "e", "place": "7"}, None),
        ({"n": 3, "epoch": "e"}, None),
        (None, None),
        ([3, 7], None),
    ],
)
def test_only_a_new_place_that_makes_sense_is_heard(
    sent: object, heard: tuple[int, int] | None
) -> None:
    assert read_wanted(sent, epoch="e", done=2) == heard
