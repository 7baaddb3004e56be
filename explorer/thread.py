"""The thread of a piece: its path, how much of it, where it is joined, and how tight it gets."""

import math
from collections import Counter
from dataclasses import dataclass

from explorer.design import Design
from explorer.errors import BriefError
from explorer.thread_holes import HoleFit, hole_fit
from explorer.thread_path import Leg, Spot, Step, beads_by_spot, path
from explorer.thread_pieces import cut
from explorer.thread_setup import ThreadSetup

# Chosen by us until a maker times a swatch of their own: stringing, passing and drawing up.
GUESSED_PACE_S = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadPlan:
    """All that is known of a piece's thread.

    Attributes:
        setup: the figures it was worked out with.
        legs: the path in order, joins and weaving in included.
        parts: thread in the piece by step, in mm, in the order of the steps.
        pieces_mm: the pieces to cut, tails and allowance included.
        passes: how often every bead is passed.
        holes: for every bead of the design in use, its most passed one, tightest first.
    """

    setup: ThreadSetup
    legs: tuple[Leg, ...]
    parts: tuple[tuple[Step, float], ...]
    pieces_mm: tuple[float, ...]
    passes: tuple[tuple[Spot, int], ...]
    holes: tuple[HoleFit, ...]

    @property
    def path_mm(self) -> float:
        """The thread in the finished piece, nothing added."""
        return math.fsum(length for _, length in self.parts)

    @property
    def length_mm(self) -> float:
        """The thread to cut in all, with tails and allowance."""
        return math.fsum(self.pieces_mm)

    @property
    def joins(self) -> int:
        """How often a new piece of thread is started."""
        return len(self.pieces_mm) - 1

    @property
    def most_passes(self) -> int:
        """The passes through the bead that is passed most."""
        return max(count for _, count in self.passes)

    @property
    def tightest(self) -> HoleFit:
        """The bead whose hole gets fullest."""
        return self.holes[0]


def thread_plan(design: Design, setup: ThreadSetup | None = None) -> ThreadPlan:
    """Follow the thread through a piece.

    Args:
        design: the piece.
        setup: thread, needle and habits; none given is the defaults of ``ThreadSetup``.

    Raises:
        BriefError: the working length does not reach for the longest stitch and its tails.
    """
    known = setup or ThreadSetup()
    legs, pieces_mm = cut(path(design, known), design, known)
    passes: Counter[Spot] = Counter()
    lengths = dict.fromkeys(Step, 0.0)
    for leg in legs:
        passes.update(leg.visits)
        lengths[leg.step] += leg.length_mm
    return ThreadPlan(
        setup=known,
        legs=legs,
        parts=tuple(lengths.items()),
        pieces_mm=pieces_mm,
        passes=tuple(passes.items()),
        holes=_holes(design, passes, known),
    )


def _holes(design: Design, passes: Counter[Spot], setup: ThreadSetup) -> tuple[HoleFit, ...]:
    most: dict[int, Spot] = {}
    for spot, bead in beads_by_spot(design).items():
        if bead not in most or passes[spot] > passes[most[bead]]:
            most[bead] = spot
    base_beads = design.base_beads
    fits = [
        hole_fit(number, design.beads[number], spot, passes[spot], base_beads, setup)
        for number, spot in most.items()
    ]
    return tuple(sorted(fits, key=lambda fit: (-fit.filled, fit.bead)))


def weaving_time_s(beads: int, pace_s: float = GUESSED_PACE_S) -> float:
    """The time to weave so many beads, in seconds.

    Args:
        beads: beads in the piece.
        pace_s: the maker's own time per bead, as timed over a swatch with all its passes.

    Raises:
        BriefError: the pace is no time a bead can take.
    """
    if not (math.isfinite(pace_s) and 0.5 <= pace_s <= 3600.0):
        raise BriefError(
            "pace",
            pace_s,
            "0.5 to 3600 seconds a bead",
            "Time twenty beads and divide by twenty.",
        )
    return beads * pace_s
