"""Where the maker's pieces of thread end: joins, and the lengths to cut."""

import math

from explorer.design import Design
from explorer.errors import BriefError
from explorer.thread_path import FROM_TAILS, Leg, Step, ladder_of, weave
from explorer.thread_setup import ThreadSetup

# Chosen by us: the last of a tail that is too short to hold and to draw through a bead.
GRIP_MM = 60.0
# Chosen by us, so that an exact fit is not lost: in the maker's favour, and no ruler reads it.
_ROUNDING_MM = 1e-6


def tails_mm(legs: tuple[Leg, ...], design: Design, setup: ThreadSetup) -> tuple[float, float]:
    """The tail at the very start and the one at every other end, long enough for their sewing.

    Each is the maker's own length, or more where sewing and a grip of 60 mm need it.
    """
    at_start = [leg for leg in legs if leg.step is Step.START_CLOSURE] + [legs[-1]]
    sewn = sum(leg.length_mm for leg in at_start) + GRIP_MM
    return max(setup.closure_tail_mm, sewn), other_tail_mm(design, setup)


def other_tail_mm(design: Design, setup: ThreadSetup) -> float:
    """The tail at every end but the very start, long enough for its weaving in."""
    # A tail in the middle of the strip is woven through as many beads as one at its end.
    longest = max(bead.kind.pitch_mm for bead in design.beads)
    widest = max(unit.pitch_mm for unit in design.units)
    woven = setup.weave_beads * (longest + widest) + GRIP_MM
    return max(setup.tail_mm, woven)


def cut(
    legs: tuple[Leg, ...], design: Design, setup: ThreadSetup
) -> tuple[tuple[Leg, ...], tuple[float, ...]]:
    """Put joins where a piece of thread ends.

    A piece ends before the stitch that it can no longer make: the old tail is woven away from
    there, a new thread is woven in toward it.

    Args:
        legs: the path without joins.
        design: the piece.
        setup: working length, tails and allowance.

    Returns:
        The path with its joins, and the length of every piece to cut, tails included, in mm.

    Raises:
        BriefError: the working length does not reach for the longest stitch and its tails.
    """
    first_mm, tail_mm = tails_mm(legs, design, setup)
    needs_mm = [_worked_mm(leg, setup) for leg in legs]
    reach_mm = max(max(needs_mm) + 2.0 * tail_mm, needs_mm[0] + first_mm + tail_mm)
    used_mm, tails = 0.0, first_mm + tail_mm
    found: list[Leg] = []
    pieces: list[float] = []
    last, base = design.base_beads - 1, ladder_of(design)
    for leg, need_mm in zip(legs, needs_mm, strict=True):
        if used_mm + need_mm > setup.working_mm - tails + _ROUNDING_MM:
            _check_reach(reach_mm, setup)
            pieces.append(used_mm + tails)
            laid = found[-1].column if leg.step is Step.LADDER else last
            old, new = _joining(found[-1].column, laid, setup.weave_beads)
            found.append(weave(Step.JOINS, old, base))
            found.append(weave(Step.JOINS, new, base))
            used_mm, tails = 0.0, 2.0 * tail_mm
        used_mm += need_mm
        found.append(leg)
    return tuple(found), (*pieces, used_mm + tails)


def _worked_mm(leg: Leg, setup: ThreadSetup) -> float:
    """What a leg takes of the working length, the allowance included."""
    return 0.0 if leg.step in FROM_TAILS else leg.length_mm * (1.0 + setup.allowance)


def _check_reach(reach_mm: float, setup: ThreadSetup) -> None:
    if setup.working_mm < reach_mm - _ROUNDING_MM:
        raise BriefError(
            "working_length",
            f"{setup.working_mm:g} mm",
            f"at least {math.ceil(reach_mm)} mm, the longest stitch and two tails",
            "Take a longer piece of thread, shorter tails or shorter dangles.",
        )


def _joining(column: int, laid: int, beads: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """What the old tail is woven through away from a column, and the new one toward it."""
    # Back toward the start, unless that side is too short and the other one longer.
    side = -1 if column >= min(beads, laid - column) else 1
    old = (column + side * (1 + k) for k in range(beads))
    new = (column + side * k for k in reversed(range(beads)))
    return (
        tuple(i for i in old if 0 <= i <= laid),
        tuple(i for i in new if 0 <= i <= laid),
    )
