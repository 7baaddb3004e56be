"""Where a new piece of thread is woven in: through beads that are there, on the roomier side."""

from collections.abc import Iterator

import pytest

from explorer.design import Column, Design, Place, build
from explorer.needle_words import join_words, joined
from explorer.thread import thread_plan
from explorer.thread_pieces import _joining
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead
from palettes.charts import bead_kinds
from tests.explorer.columns import with_columns

DESIGN = build(
    beads=(Bead(name="chalk", kind=bead_kinds()["cube 3"], hex="#eeeeee"),),
    base=0,
    base_pitch_mm=3.0,
    profiles=((1,) * 9,),
    order=(0,),
    divider_base_beads=0,
)


@pytest.mark.parametrize(
    ("column", "laid", "old", "new"),
    [
        # In the midst: back toward the start.
        (5, 8, (4, 3, 2), (3, 4, 5)),
        # Near the start, more beads on the other side.
        (1, 8, (2, 3, 4), (3, 2, 1)),
        # A ladder of two or three beads has none on the other side yet.
        (1, 1, (0,), (0, 1)),
        (2, 2, (1, 0), (0, 1, 2)),
        (2, 3, (1, 0), (0, 1, 2)),
        (0, 0, (), (0,)),
    ],
)
def test_a_join_is_woven_where_beads_are(
    column: int, laid: int, old: tuple[int, ...], new: tuple[int, ...]
) -> None:
    assert _joining(column, laid, 3) == (old, new)


def test_a_longer_strip_is_walked_no_more_often(monkeypatch: pytest.MonkeyPatch) -> None:
    # Counted, not timed: every walk over all columns once more for each join grows with the square.
    walks = []
    columns = Design.columns

    def counted(design: Design) -> Iterator[tuple[Place, Column]]:
        walks.append(design.base_beads)
        return columns(design)

    monkeypatch.setattr(Design, "columns", counted)
    seen = []
    for length in (40, 160):
        strip = with_columns(DESIGN, motifs=DESIGN.motifs * length, dividers=((),) * (length + 1))
        walks.clear()
        plan = thread_plan(strip, ThreadSetup())
        facts = [join_words(plan, strip, 2 + at, one) for at, one in enumerate(joined(plan.legs))]
        seen.append((len(walks), len(facts)))
    assert seen[1][1] > 3 * seen[0][1] > 6
    assert seen[1][0] == seen[0][0]
