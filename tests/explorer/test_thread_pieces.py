"""Where a new piece of thread is woven in: through beads that are there, on the roomier side."""

import pytest

from explorer.design import build
from explorer.thread_pieces import _join
from palettes.beads import Bead
from palettes.charts import bead_kinds

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
    away, toward = _join(column, laid, DESIGN, 3)
    assert away.visits == tuple((i, 0) for i in old)
    assert toward.visits == tuple((i, 0) for i in new)
