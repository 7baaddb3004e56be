"""Watching a search: how far it is, how good the best so far is, and an end before its own."""

import math
from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Sofar:
    """How a search stands.

    Attributes:
        part: how much of it is done at least, 0 to 1.
        reached: the smallest difference in the best choice so far (CIEDE2000); None before there
            is one, infinite where there is no pair to compare.
    """

    part: float
    reached: float | None


# Takes how a search stands; whether it is to go on.
Told = Callable[[Sofar], bool]
# Work between two looks at whoever watches. Chosen by us: about a hundredth of a second.
_EACH = 20_000


class StoppedError(Exception):
    """The search is to end; the best so far is its answer."""


class Watch:
    """Counts a search's work, tells how it stands and ends it.

    Args:
        told: is told how it stands, and says whether to go on.
        most: work that may be done after the first answer; None for no limit.
    """

    def __init__(self, told: Told | None = None, most: int | None = None) -> None:
        self._told = told
        self._left = math.inf if most is None else most
        self._planned = math.inf
        self._done = self._untold = 0
        self.best: tuple[int, ...] = ()
        self.reached: float | None = None
        self.bound = math.inf

    def told_as(self, sofar: Sofar) -> "Watch":
        """A watch over what follows, within what is left to do; it tells that all the while."""
        told = self._told
        after = Watch(None if told is None else lambda _: told(sofar))
        after._left = self._left
        return after

    def plan(self, work: float) -> None:
        """So much work is still ahead, more or less."""
        self._planned = self._done + min(work, max(0.0, self._left))

    def settle(self, done: int) -> None:
        """So much of the planned work is behind, though less of it may have been needed."""
        self._done = max(self._done, done)

    @property
    def done(self) -> int:
        """The work that is behind."""
        return self._done

    def spend(self, work: int) -> None:
        """So much work is done.

        Raises:
            StoppedError: there was no more to spend, or whoever watches ends it. The limit counts
                from the first answer on, so that it never costs the answer itself.
        """
        self._done += work
        self._untold += work
        if self.best:
            self._left -= work
            if self._left < 0:
                raise StoppedError
        if self._untold >= _EACH:
            self._tell()

    def better(self, places: tuple[int, ...], reached: float) -> None:
        """A choice is found; it is told where it is better than the best so far.

        Raises:
            StoppedError: whoever watches ends it.
        """
        if self.reached is None or reached > self.reached:
            self.best, self.reached = places, reached
            self._tell()

    def _tell(self) -> None:
        self._untold = 0
        # Not all of it before the end, whatever was planned.
        part = min(0.99, self._done / self._planned) if self._planned > 0.0 else 0.99
        if self._told is not None and not self._told(Sofar(part=part, reached=self.reached)):
            raise StoppedError
