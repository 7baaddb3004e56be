"""Whether needle and thread still pass a bead's hole: a model that warns and never forbids.

The needle and every strand take their share of the hole: sqrt(needle^2 + k t^2 / 0.6) against the
hole's diameter, k the strands inside already and the two that the needle draws, t the thread's
diameter, 0.6 the part of a hole that round strands can fill. Worked out by us and not calibrated:
it is stricter than one rule of thumb (nylon D goes through an 11/0 no more than three times:
Choosing Thread, renobeadshop.com/howto/choosing-thread) and laxer than another (small-holed beads
take about two passes with a size 12; common practice, no source).
"""

import math
from dataclasses import dataclass
from enum import StrEnum

from explorer.thread_path import Spot
from explorer.thread_setup import NEEDLES_MM, THREADS_MM, ThreadSetup
from palettes.beads import Bead

# The part of a hole that round strands can fill, worked out by us and not calibrated; a needle
# draws its thread double.
FILL = 0.6
_DRAWN = 2
# Chosen by us: beyond nine tenths of the hole a needle is felt.
_FREE = 0.9


class Passing(StrEnum):
    """How the last pass through a bead goes."""

    FREE = "free"
    TIGHT = "tight"
    DOUBTFUL = "doubtful"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoleFit:
    """How the last pass through a bead goes, with the numbers.

    Attributes:
        bead: its number in the design.
        spot: where the bead is that is passed most of its sort.
        passes: how often it is passed.
        needed_mm: the hole that the last pass needs.
        hole_mm: the hole that it has.
        passing: free up to 0.9 of the hole, tight up to the whole, doubtful beyond.
        words: the same as a sentence.
        remedy: what to do; empty where it is free.
    """

    bead: int
    spot: Spot
    passes: int
    needed_mm: float
    hole_mm: float
    passing: Passing
    words: str
    remedy: str

    @property
    def filled(self) -> float:
        """The hole needed as a part of the hole there is."""
        return self.needed_mm / self.hole_mm


def needed_hole_mm(passes: int, thread_mm: float, needle_mm: float) -> float:
    """The hole that the last of so many passes needs.

    Args:
        passes: passes through the bead, from 1.
        thread_mm: the thread's diameter.
        needle_mm: the needle's diameter.
    """
    strands = passes - 1 + _DRAWN
    return math.sqrt(needle_mm**2 + strands * thread_mm**2 / FILL)


def passes_within(hole_mm: float, thread_mm: float, needle_mm: float) -> int:
    """How often a bead can be passed before its hole is doubtful; 0 where never."""
    strands = (hole_mm**2 - needle_mm**2) * FILL / thread_mm**2
    return max(0, math.floor(strands + 1e-9) + 1 - _DRAWN)


def hole_fit(
    number: int, bead: Bead, spot: Spot, passes: int, base_beads: int, setup: ThreadSetup
) -> HoleFit:
    """How the last of so many passes through a bead goes.

    Args:
        number: the bead's number in the design.
        bead: the bead.
        spot: where it is.
        passes: how often it is passed.
        base_beads: base beads of the strip, which tell link beads at the end from base beads.
        setup: thread and needle.
    """
    hole = bead.kind.hole_mm
    needed = needed_hole_mm(passes, setup.thread_mm, setup.needle_mm)
    passing = _passing(needed / hole)
    words = (
        f"Pass {passes} through {spot_words(spot, base_beads)} ({bead.name}, {bead.kind.name}) "
        f"needs about {needed:.2f} mm of a {hole:.2f} mm hole: {passing.value}."
    )
    remedy = "" if passing is Passing.FREE else _remedy(hole, passes, setup)
    return HoleFit(
        bead=number,
        spot=spot,
        passes=passes,
        needed_mm=needed,
        hole_mm=hole,
        passing=passing,
        words=words,
        remedy=remedy,
    )


def _passing(filled: float) -> Passing:
    if filled <= _FREE:
        return Passing.FREE
    return Passing.TIGHT if filled <= 1.0 else Passing.DOUBTFUL


def spot_words(spot: Spot, base_beads: int) -> str:
    """A bead's place in words, counted from 1 as a maker counts."""
    column, row = spot
    if row:
        return f"bead {row} below base bead {column + 1}"
    if column < 0:
        return f"link bead {-column} at the start"
    if column >= base_beads:
        return f"link bead {column - base_beads + 1} at the end"
    return f"base bead {column + 1}"


def _remedy(hole_mm: float, passes: int, setup: ThreadSetup) -> str:
    """The mildest change that makes the pass free: needle, then thread, then order."""

    def free(thread_mm: float, needle_mm: float) -> bool:
        return _passing(needed_hole_mm(passes, thread_mm, needle_mm) / hole_mm) is Passing.FREE

    for size, needle_mm in NEEDLES_MM:
        if needle_mm < setup.needle_mm and free(setup.thread_mm, needle_mm):
            return f"Take a thinner needle: size {size}, about {needle_mm:g} mm."
    for name, thread_mm in reversed(THREADS_MM):
        if thread_mm < setup.thread_mm and free(thread_mm, setup.needle_mm):
            return f"Take a thinner thread: {name}, about {thread_mm:g} mm."
    within = passes_within(hole_mm, setup.thread_mm, setup.needle_mm)
    order = (
        f"an order with at most {within} of its passes here: closure first, fewer rounds, tails "
        "woven in elsewhere"
        if within
        else "a bead with a larger hole"
    )
    return f"Take needle and thread both thinner, or {order}."
