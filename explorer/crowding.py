"""How closely dangles hang side by side: the width of their beads against the room there is."""

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from explorer.design import Design
from explorer.errors import BriefError
from palettes.beads import BeadKind
from palettes.charts import bead_kinds

# Width of a dangle bead over the base's pitch (common practice, no source; the two limits are a
# judgement from memory, not measured on woven pieces).
FREE_UP_TO, TOUCHING_UP_TO = 0.9, 1.1
# The round sizes that shops have in most colours, the smallest first: common practice, no source.
_USUAL_ROUNDS = ("round 15/0", "round 11/0", "round 8/0", "round 6/0")
# Chosen by us, so that heights equal but for rounding count as equal: far below a bead's size.
_ROUNDING = 1e-9


class Touch(StrEnum):
    """How neighbouring dangles stand to each other."""

    FREE = "free"
    TOUCHING = "touching"
    RUFFLES = "ruffles"


@dataclass(frozen=True, slots=True, kw_only=True)
class Crowding:
    """How closely the dangles hang.

    Attributes:
        ratio: width of the beads that come closest over the room that they have; 0 where no two
            dangles come side by side.
        touch: free up to 0.9, touching up to 1.1, ruffles beyond.
        columns: the two base beads (from 0) where it is closest; none where there are no two.
    """

    ratio: float
    touch: Touch
    columns: tuple[int, int] | None


def touch_of(ratio: float) -> Touch:
    """The word for a bead's width over the room it has."""
    # A step in the maker's favour, so that an exact 1.1 still touches.
    if ratio <= FREE_UP_TO + _ROUNDING:
        return Touch.FREE
    return Touch.TOUCHING if ratio <= TOUCHING_UP_TO + _ROUNDING else Touch.RUFFLES


def fits_beside_itself(hang: BeadKind, base: BeadKind) -> bool:
    """Whether dangles of a kind hang free or touching on a base, at its usual ladder pitch."""
    return touch_of(hang.diameter_mm / base.ladder_pitch_mm) is not Touch.RUFFLES


def usual_hanging(base: BeadKind) -> BeadKind:
    """The kind of dangle bead to begin with on a base: the one default there is for it.

    The largest usual round that hangs free or touching, as a fringe then looks full and its threads
    are hidden; the smallest where none does. Larger beads ruffle, smaller ones leave gaps and take
    more work. Chosen by us, at the kind's usual pitch, so that a swatch does not change the beads.
    """
    rounds = [bead_kinds()[name] for name in _USUAL_ROUNDS]
    return next((r for r in reversed(rounds) if fits_beside_itself(r, base)), rounds[0])


def crowding(design: Design) -> Crowding:
    """The closest that any two dangles come, at heights where both have a bead.

    Neighbours and next neighbours are looked at: past a short dangle, two long ones with large tips
    may still touch.
    """
    columns = [column for _, column in design.columns()]
    apart_mm = [(one.pitch_mm + next_.pitch_mm) / 2.0 for one, next_ in pairwise(design.units)]
    known: dict[tuple[tuple[int, ...], tuple[int, ...]], float] = {}
    worst, where = 0.0, None
    for gap in (1, 2):
        for i in range(len(columns) - gap):
            pair = (columns[i].beads, columns[i + gap].beads)
            if pair not in known:
                known[pair] = _widest_mm(design, *pair)
            ratio = known[pair] / sum(apart_mm[i : i + gap])
            if ratio > worst:
                worst, where = ratio, (i, i + gap)
    return Crowding(ratio=worst, touch=touch_of(worst), columns=where)


def check_width(kind: BeadKind, strip_mm: float) -> None:
    """Refuse a bead that is wider than the whole strip.

    Raises:
        BriefError: it is.
    """
    if not kind.diameter_mm <= strip_mm:
        raise BriefError(
            "hanging",
            f"{kind.name}, {kind.diameter_mm:g} mm wide",
            f"a bead no wider than the strip of {strip_mm:g} mm",
            "Choose a smaller bead, or check the unit of the measurement.",
        )


def stacked(design: Design, beads: tuple[int, ...]) -> list[tuple[float, float, float]]:
    """Top, bottom and width of every bead of a dangle, in mm, measured down from the base.

    A turning bead lies on its side, its hole facing outward: it is as high as it is wide.
    """
    found, top = [], 0.0
    for place, number in enumerate(beads):
        kind = design.beads[number].kind
        high = kind.diameter_mm if place == len(beads) - 1 else kind.pitch_mm
        found.append((top, top + high, kind.diameter_mm))
        top += high
    return found


def _widest_mm(design: Design, first: tuple[int, ...], second: tuple[int, ...]) -> float:
    """The greatest room that two dangles want side by side, where they have beads at one height."""
    left, right = stacked(design, first), stacked(design, second)
    widest, i, k = 0.0, 0, 0
    while i < len(left) and k < len(right):
        widest = max(widest, (left[i][2] + right[k][2]) / 2.0)
        apart = left[i][1] - right[k][1]
        i += apart <= _ROUNDING
        k += apart >= -_ROUNDING
    return widest
