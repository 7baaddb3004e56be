"""What is counted, what is drawn and what the thread visits are the same beads, in any design."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.counts import counts
from explorer.design import Design, Part
from explorer.layout import loop_scene, strip_scene
from explorer.layout_tags import Spot as TagSpot
from explorer.layout_tags import parse_tag
from explorer.thread import thread_plan
from explorer.thread_path import Spot, beads_by_spot
from explorer.thread_setup import ThreadSetup
from gallery.scene import Scene
from palettes.spaces import hex_to_srgb1

# Where pieces of thread end is another test's matter, so one piece does for all.
LONG = ThreadSetup(working_mm=20_000.0)


def counted(design: Design) -> Counter[int]:
    return Counter({entry.bead: entry.used for entry in counts(design).by_bead if entry.used})


def spots(design: Design, scene: Scene) -> dict[Spot, tuple[float, float, float]]:
    """The colour of every drawn bead, by the thread's name for its place."""
    starts: dict[tuple[str, int], int] = {}
    for number, (place, _) in enumerate(design.columns()):
        letter = {Part.MOTIF: "m", Part.DIVIDER: "d", Part.MARGIN: "s"}[place.part]
        starts.setdefault((letter, place.index), number)
    found: dict[Spot, tuple[float, float, float]] = {}
    for bead in scene.beads:
        tag = parse_tag(bead.tag)
        if tag.spot is TagSpot.LINK:
            at_end = design.base_beads + tag.column
            spot = (at_end if tag.index else -1 - tag.column, 0)
        else:
            column = starts[str(tag.spot), tag.index] + tag.column
            spot = (column, 0 if tag.bead is None else tag.bead + 1)
        assert spot not in found, "a bead is drawn once"
        found[spot] = bead.srgb1
    return found


@given(data=st.data())
def test_counted_drawn_and_threaded_are_the_same_beads(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    design = data.draw(designs)
    threaded = {spot for leg in thread_plan(design, LONG).legs for spot in leg.visits}
    by_spot = beads_by_spot(design)
    for scene in (strip_scene(design), loop_scene(design)):
        drawn = spots(design, scene)
        assert set(drawn) == threaded
        assert Counter(by_spot[spot] for spot in drawn) == counted(design)
        for spot, srgb1 in drawn.items():
            hex_ = design.beads[by_spot[spot]].hex
            assert srgb1 == pytest.approx(hex_to_srgb1(hex_), abs=1e-6)


@given(data=st.data())
def test_every_hanging_bead_is_passed_out_and_back_but_the_turning_bead_once(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    design = data.draw(designs)
    passes = dict(thread_plan(design, LONG).passes)
    for column, (_, beads) in enumerate(design.columns()):
        rows = [passes[column, row] for row in range(1, len(beads.beads) + 1)]
        assert rows == [2] * (len(rows) - 1) + [1] * bool(rows)
