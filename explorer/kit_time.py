"""A plan of time for a class: what is done when, for the quickest and the slowest, in sessions."""

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.kit import LearnerKit
from explorer.thread import GUESSED_PACE_S

# Chosen by us until a teacher times a class: hello and safety; counting a bead out; sewing the
# closure and finishing.
_START_MIN, _COUNT_S, _FINISH_MIN = 10.0, 2.0, 20.0
# A child stays with it for one and a half to two hours at most (makers' own experience, from
# memory).
SESSION_MIN = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A part of the work.

    Attributes:
        name: what is done.
        quickest_min, slowest_min: for the piece with the least and the most to do.
        session: in which session the slowest ends it, from 1.
    """

    name: str
    quickest_min: float
    slowest_min: float
    session: int


def time_plan(
    kits: Sequence[LearnerKit], pace_s: float = GUESSED_PACE_S, session_min: float = SESSION_MIN
) -> tuple[Stage, ...]:
    """The stages of a class in order.

    Args:
        kits: the class, at least one.
        pace_s: seconds a bead.
        session_min: how long a session is.
    """
    base = [kit.counts.base_beads * pace_s / 60.0 for kit in kits]
    hanging = [(kit.counts.total - kit.counts.base_beads) * pace_s / 60.0 for kit in kits]
    counting = [(kit.counts.total + kit.counts.spares) * _COUNT_S / 60.0 for kit in kits]
    named = (
        ("hello, needles counted out, what to take care of", [_START_MIN]),
        ("beads counted out, thread cut", counting),
        ("the row of base beads", base),
        ("the dangles", hanging),
        ("closing and finishing, needles counted in", [_FINISH_MIN]),
    )
    stages, passed = [], 0.0
    for name, minutes in named:
        passed += max(minutes)
        session = 1 + int((passed - 1e-9) // session_min)
        stages.append(
            Stage(name=name, quickest_min=min(minutes), slowest_min=max(minutes), session=session)
        )
    return tuple(stages)
