"""A design that cannot be woven is refused, whoever makes it."""

from dataclasses import replace

import pytest

from explorer.design import (
    MOST_BASE_BEADS,
    MOST_DANGLE_BEADS,
    MOST_DIVIDER_BEADS,
    MOST_LINKS,
    Column,
    Design,
    build,
)
from palettes.beads import Bead
from palettes.charts import bead_kinds

PLAIN = build(
    beads=(
        Bead(name="ground", kind=bead_kinds()["cube 1.8"], hex="#eeeeee"),
        Bead(name="one", kind=bead_kinds()["round 11/0"], hex="#aa2222"),
    ),
    base=0,
    base_pitch_mm=1.95,
    profiles=((2, 3, 2),),
    order=(1, 1),
    divider_base_beads=1,
)
BARE = Column(base=0)


def hung(beads: int) -> Column:
    return Column(base=0, beads=(1,) * beads)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"motifs": ((), PLAIN.motifs[0])}, "every dangle a bead"),
        ({"motifs": ((hung(2), BARE), PLAIN.motifs[0])}, "every dangle a bead"),
        (
            {"dividers": (*PLAIN.dividers[:2], (hung(MOST_DIVIDER_BEADS + 1),))},
            f"at most {MOST_DIVIDER_BEADS} small beads",
        ),
        ({"end_margin": (hung(1),)}, "nothing hangs from a margin"),
        ({"start_links": (1,) * (MOST_LINKS + 1)}, f"at most {MOST_LINKS} link beads"),
        ({"start_margin": (BARE,) * MOST_BASE_BEADS}, f"at most {MOST_BASE_BEADS} base beads"),
        ({"end_links": (2,)}, "2"),
    ],
)
def test_what_cannot_be_woven_is_refused(changes: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        replace(PLAIN, **changes)  # type: ignore[arg-type]  # parametrised by name


def test_the_limits_themselves_are_woven() -> None:
    room = MOST_BASE_BEADS - PLAIN.base_beads
    full: Design = replace(
        PLAIN,
        start_margin=(BARE,) * room,
        start_links=(1,) * MOST_LINKS,
        dividers=(*PLAIN.dividers[:2], (hung(MOST_DIVIDER_BEADS),)),
    )
    assert full.base_beads == MOST_BASE_BEADS
    hung(MOST_DANGLE_BEADS)
    with pytest.raises(ValueError, match=f"at most {MOST_DANGLE_BEADS} beads"):
        hung(MOST_DANGLE_BEADS + 1)
