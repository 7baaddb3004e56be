"""The thread's way through a piece, leg by leg, as an ordered list.

Ladder stitch: base beads stand side by side, their holes upright. Every new bead is strung, the
thread goes back through the one before and through the new one again; a zigzag straightens the
ladder on the way back to the start; then, from the start, the thread goes down through each base
bead, through its dangle, sideways through the turning bead, and up again. Past a bare base bead it
runs under the ladder's own thread. Then the second closure is sewn with the working thread and the
first with the tail left at the start. Every length is our own derivation from the beads' sizes.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from explorer.design import Column, Design, Part
from explorer.thread_setup import ThreadSetup

Spot = tuple[int, int]
"""A bead's place: base column from 0, then 0 for the base bead and 1, 2, ... down its dangle.

Link beads lie in the row of base beads, outward: columns -1, -2, ... at the start, and from the
number of base beads upward at the end.
"""

# Round the wire of a ring or clasp: worked out by us as pi times a wire of about 0.9 mm (from
# memory).
RING_MM = 3.0


class Step(StrEnum):
    """What a leg of the path does."""

    LADDER = "ladder"
    STRAIGHTENING = "straightening"
    DANGLES = "dangles"
    DIVIDERS = "dividers"
    MARGINS = "plain margins"
    END_CLOSURE = "end closure"
    START_CLOSURE = "start closure"
    JOINS = "joins"
    WEAVING_IN = "weaving in"


# Sewn with tails, which are cut long enough for it, so not counted against the working length.
FROM_TAILS = frozenset({Step.START_CLOSURE, Step.JOINS, Step.WEAVING_IN})
_STEP_OF = {
    Part.MOTIF: Step.DANGLES,
    Part.DIVIDER: Step.DIVIDERS,
    Part.MARGIN: Step.MARGINS,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One stitch: the beads passed, in order, and the thread that it takes.

    Attributes:
        step: what it does.
        column: the base bead that it belongs to.
        visits: every pass through a bead, in order; a bead passed twice stands twice.
        through_mm: thread inside beads.
        outside_mm: thread between beads, round the turning bead, round a ring, and slack.
    """

    step: Step
    column: int
    visits: tuple[Spot, ...]
    through_mm: float
    outside_mm: float

    @property
    def length_mm(self) -> float:
        """All the thread of this leg."""
        return self.through_mm + self.outside_mm


def path(design: Design, setup: ThreadSetup) -> tuple[Leg, ...]:
    """The whole way of the thread, without joins.

    Args:
        design: the piece.
        setup: slack, rounds through the closures and beads woven through; the rest is not used.
    """
    base = ladder_of(design)
    return (
        *_ladder(base),
        *_straightening(base),
        *_hanging(design, base, setup.slack_beads),
        *(_closure(design, base, Step.END_CLOSURE),) * setup.rounds,
        weave(Step.WEAVING_IN, _inward(len(base.holes_mm), setup.weave_beads, -1), base),
        *(_closure(design, base, Step.START_CLOSURE),) * setup.rounds,
        weave(Step.WEAVING_IN, _inward(len(base.holes_mm), setup.weave_beads, 1), base),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """The base as its thread meets it, in strip order.

    Attributes:
        holes_mm: how long the hole of every base bead is.
        pitches_mm: the strip's length that each takes.
    """

    holes_mm: tuple[float, ...]
    pitches_mm: tuple[float, ...]

    def crossing_mm(self, column: int) -> float:
        """From the hole of the base bead before to this one's; 0 for the first."""
        if column == 0:
            return 0.0
        return (self.pitches_mm[column - 1] + self.pitches_mm[column]) / 2.0


def ladder_of(design: Design) -> Ladder:
    """The base of a piece."""
    return Ladder(
        holes_mm=tuple(design.beads[unit.beads[0]].kind.pitch_mm for unit in design.units),
        pitches_mm=tuple(unit.pitch_mm for unit in design.units),
    )


def weave(step: Step, columns: tuple[int, ...], base: Ladder) -> Leg:
    """A tail woven through base beads, one after the other."""
    return Leg(
        step=step,
        column=columns[0] if columns else 0,
        visits=tuple((i, 0) for i in columns),
        through_mm=math.fsum(base.holes_mm[i] for i in columns),
        outside_mm=math.fsum(base.pitches_mm[i] for i in columns),
    )


def beads_by_spot(design: Design) -> dict[Spot, int]:
    """The bead number of every bead in the piece."""
    found: dict[Spot, int] = {(i, 0): unit.beads[0] for i, unit in enumerate(design.units)}
    for strand in design.strands:
        i = strand.starts.bead
        found.update({(i, row): bead for row, bead in enumerate(strand.beads, start=1)})
    found.update({(-1 - k, 0): bead for k, bead in enumerate(design.start_links)})
    end = design.base_beads
    found.update({(end + k, 0): bead for k, bead in enumerate(design.end_links)})
    return found


def _ladder(base: Ladder) -> Iterator[Leg]:
    yield _base_leg(Step.LADDER, (0,), base.holes_mm, 0.0)
    for new in range(1, len(base.holes_mm)):
        crossing_mm = base.crossing_mm(new)
        yield _base_leg(Step.LADDER, (new, new - 1, new), base.holes_mm, 3.0 * crossing_mm)


def _straightening(base: Ladder) -> Iterator[Leg]:
    # The last bead of the ladder is where the thread comes out: the zigzag starts beside it.
    for column in range(len(base.holes_mm) - 2, -1, -1):
        crossing_mm = base.crossing_mm(column + 1)
        yield _base_leg(Step.STRAIGHTENING, (column,), base.holes_mm, crossing_mm)


def _base_leg(
    step: Step, passed: tuple[int, ...], holes_mm: tuple[float, ...], outside_mm: float
) -> Leg:
    return Leg(
        step=step,
        column=passed[0],
        visits=tuple((i, 0) for i in passed),
        through_mm=math.fsum(holes_mm[i] for i in passed),
        outside_mm=outside_mm,
    )


def _hanging(design: Design, base: Ladder, slack_beads: float) -> Iterator[Leg]:
    """Along the base, through each strand where it starts, and back."""
    known: dict[Column, tuple[float, float]] = {}
    for i, (place, column) in enumerate(design.columns()):
        if column not in known:
            known[column] = _dangle_mm(design, column, slack_beads)
        through, outside = known[column]
        rows = range(len(column.beads) + 1) if column.beads else range(0)
        down = tuple((i, row) for row in rows)
        crossing = base.crossing_mm(i)
        if down or crossing:
            yield Leg(
                step=_STEP_OF[place.part],
                column=i,
                visits=down + down[-2::-1],
                through_mm=through,
                outside_mm=outside + crossing,
            )


def _dangle_mm(design: Design, column: Column, slack_beads: float) -> tuple[float, float]:
    """Thread inside the beads and outside them, for one base bead and its dangle, out and back."""
    if not column.beads:
        return 0.0, 0.0
    kinds = [design.beads[bead].kind for bead in column.beads]
    tip = kinds[-1]
    twice = design.beads[column.base].kind.pitch_mm + math.fsum(k.pitch_mm for k in kinds[:-1])
    # From the hole above to either end of the turning bead's hole, which lies level.
    round_tip = 2.0 * math.hypot(tip.diameter_mm / 2.0, tip.pitch_mm / 2.0)
    slack = 2.0 * slack_beads * kinds[0].pitch_mm
    return 2.0 * twice + tip.pitch_mm, round_tip + slack


def _closure(design: Design, base: Ladder, step: Step) -> Leg:
    """One round: out through the links, round the ring, back, and twice through the end bead.

    The second pass of the end bead goes round the ladder's thread, which holds the first.
    """
    at_end = step is Step.END_CLOSURE
    end = len(base.holes_mm) - 1 if at_end else 0
    outward = 1 if at_end else -1
    links = design.end_links if at_end else design.start_links
    out = tuple((end + outward * (1 + k), 0) for k in range(len(links)))
    hole, pitch = base.holes_mm[end], base.pitches_mm[end]
    return Leg(
        step=step,
        column=end,
        visits=(*out, *out[::-1], (end, 0), (end, 0)),
        through_mm=2.0 * (math.fsum(design.beads[b].kind.pitch_mm for b in links) + hole),
        outside_mm=2.0 * math.hypot(pitch / 2.0, hole / 2.0) + RING_MM + pitch,
    )


def _inward(columns: int, beads: int, direction: int) -> tuple[int, ...]:
    """The columns that a tail at an end is woven through: those next to the end bead."""
    start = 0 if direction > 0 else columns - 1
    found = (start + direction * (1 + k) for k in range(beads))
    return tuple(i for i in found if 0 <= i < columns)
