"""Counted work shared by all parts of one search, and how a search ends that finds nothing."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

KeepGoing = Callable[[int], bool]

# Chosen by us: often enough that a press on cancel feels immediate, rare enough to cost nothing.
STEPS_BETWEEN_ASKING = 256


@dataclass(slots=True)
class Budget:
    """Counted work, shared by all parts of one search, and the caller's wish to go on.

    Attributes:
        limit: steps that may be spent.
        keep_going: asked now and then with the steps spent; False ends the search.
        quick: leave out proofs by integer program for strips that branches can fill.
        spent: steps spent.
        cancelled: the caller has ended the search.
    """

    limit: int
    keep_going: KeepGoing | None = None
    quick: bool = False
    spent: int = 0
    cancelled: bool = False

    def spend(self, steps: int = 1) -> bool:
        """Count some work; False when none is left or the caller wants to stop."""
        before = self.spent
        self.spent += steps
        asked = before // STEPS_BETWEEN_ASKING != self.spent // STEPS_BETWEEN_ASKING
        if asked and self.keep_going is not None and not self.keep_going(self.spent):
            self.cancelled = True
        return not self.cancelled and self.spent <= self.limit

    @property
    def left(self) -> int:
        """Steps that may still be spent."""
        return 0 if self.cancelled else max(0, self.limit - self.spent)

    def part(self, steps: int) -> "Budget":
        """A smaller budget for one attempt; give it back with :meth:`take_back`."""
        return Budget(limit=min(steps, self.left), keep_going=self.keep_going, quick=self.quick)

    def take_back(self, part: "Budget") -> None:
        """Count what an attempt has spent."""
        self.spent += min(part.spent, part.limit)
        self.cancelled |= part.cancelled


class Verdict(Enum):
    """How a search for a filling ended when it found none."""

    IMPOSSIBLE = "impossible"
    UNDECIDED = "undecided"
