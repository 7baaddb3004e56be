"""Whether k colours exist of which every two are far enough apart: a clique search with bounds.

Colours are the vertices of a graph, pairs that are far enough apart its edges. Sets of vertices are
whole numbers, one bit a vertex. A set that falls into fewer than r groups without an inner edge
holds no r vertices that are all joined; greedy colouring finds such groups, and only vertices left
over after r - 1 of them need to be tried (Tomita and Seki 2003, An efficient branch-and-bound
algorithm for finding a maximum clique, DMTCS; from memory).
"""

import math
from bisect import bisect_right
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from palettes.choose_types import Wishes
from palettes.choose_watch import Watch

Mask = NDArray[np.bool_]

# Below so many bits the length of a row hardly matters beside the rest of a step. By trial.
_ROW_BITS = 500


def bits_of(mask: Mask) -> int:
    """A mask (n,) as a whole number, bit i for place i."""
    return int.from_bytes(np.packbits(mask, bitorder="little").tobytes(), "little")


def rows_of(mask: Mask) -> list[int]:
    """The rows of a mask (n, n), each as ``bits_of`` gives it."""
    packed = np.packbits(mask, axis=1, bitorder="little")
    return [int.from_bytes(row.tobytes(), "little") for row in packed]


@dataclass(slots=True)
class Purse:
    """How much work a search may still do; counted, so that the same question ends alike.

    Attributes:
        left: what it holds.
        watch: is told of all that is taken from it, and may end the search.
    """

    left: int
    watch: Watch | None = None

    def pay(self, work: int) -> None:
        """Take from it; ``SpentError`` where it does not hold as much."""
        self.left -= work
        if self.left < 0:
            raise SpentError
        if self.watch is not None:
            self.watch.spend(work)


class SpentError(Exception):
    """The purse is empty before the question is settled."""


class Search:
    """Searches one graph for cliques that hold to the wishes.

    Args:
        joined: which colours are far enough apart, (n, n), nothing on the diagonal.
        allowed: which may be chosen besides the must-haves, (n,).
        wishes: the demands.
        purse: pays for each look at a vertex, as much as its row is long in units of
            ``_ROW_BITS`` bits.
    """

    def __init__(self, joined: Mask, allowed: Mask, wishes: Wishes, purse: Purse) -> None:
        self._rows = rows_of(joined)
        self._allowed = allowed.copy()
        self._wishes = wishes
        self._purse = purse
        self._look = 1 + len(self._rows) // _ROW_BITS
        self._demands = Demands(wishes, len(self._rows))

    def find(self) -> tuple[int, ...] | None:
        """The places of a choice, or None where it is proved that there is none.

        Raises:
            SpentError: the purse ran empty before that.
        """
        candidates = bits_of(self._allowed)
        for place in self._wishes.must:
            candidates &= self._rows[place]
        chosen = list(self._wishes.must)
        need = self._wishes.size - len(chosen)
        candidates = self._thinned(candidates, need)
        found = self._grow(chosen, candidates, need)
        return None if found is None else tuple(sorted(found))

    def _thinned(self, candidates: int, need: int) -> int:
        """Candidates with fewer than need - 1 joined candidates are in no choice, again and again.

        What goes costs others their neighbours, so it is done until nothing goes.
        """
        before = -1
        while candidates != before:
            before, rest = candidates, candidates
            while rest:
                low = rest & -rest
                rest ^= low
                if (self._rows[low.bit_length() - 1] & candidates).bit_count() < need - 1:
                    candidates ^= low
        return candidates

    def _grow(self, chosen: list[int], candidates: int, need: int) -> list[int] | None:
        if need == 0:
            return chosen if self._demands.met(chosen) else None
        candidates = self._demands.open(chosen, candidates, need)
        branch = self._left_over(candidates, need)
        while branch:
            low = branch & -branch
            place = low.bit_length() - 1
            found = self._grow([*chosen, place], candidates & self._rows[place], need - 1)
            if found is not None:
                return found
            branch ^= low
            # Every choice with this one has been looked at.
            candidates ^= low
        return None

    def _left_over(self, candidates: int, need: int) -> int:
        """What remains after need - 1 groups without an inner edge have been taken away."""
        rest = candidates
        looks = 0
        for _ in range(need - 1):
            group = rest
            while group:
                low = group & -group
                rest ^= low
                group &= ~(self._rows[low.bit_length() - 1] | low)
                looks += 1
            if not rest:
                break
        self._purse.pay((looks + 1) * self._look)
        return rest


class Demands:
    """The wishes that are no matter of single pairs."""

    def __init__(self, wishes: Wishes, count: int) -> None:
        self._wishes = wishes
        groups = np.array(wishes.groups, dtype=np.intp)
        self._members = [bits_of(groups == group) for group in range(len(wishes.most_of))]
        self._by_cost = _Ladder(wishes.costs) if math.isfinite(wishes.most_cost) else None
        self._by_light = _Ladder(wishes.lightness) if wishes.least_range > 0.0 else None
        self._all = (1 << count) - 1

    def open(self, chosen: list[int], candidates: int, need: int) -> int:
        """The candidates that some choice could still take."""
        wishes = self._wishes
        for group, most in enumerate(wishes.most_of):
            if sum(wishes.groups[place] == group for place in chosen) >= most:
                candidates &= ~self._members[group]
        if self._by_cost is not None and candidates:
            # The others cost at least as much as the cheapest candidate each.
            spent = sum(wishes.costs[place] for place in chosen)
            cheapest = self._by_cost.least(candidates)
            candidates &= self._by_cost.upto(wishes.most_cost - spent - (need - 1) * cheapest)
        if self._by_light is not None and chosen and need == 1:
            own = [wishes.lightness[place] for place in chosen]
            if max(own) - min(own) < wishes.least_range:
                deep = self._by_light.upto(max(own) - wishes.least_range)
                # A hair of tolerance, so that exactly the wanted range counts as met on both sides.
                light = self._all ^ self._by_light.upto(min(own) + wishes.least_range - 1e-9)
                candidates &= deep | light
        return candidates

    def met(self, chosen: list[int]) -> bool:
        """Whether a whole choice holds to them; in question only where all were must-haves."""
        wishes = self._wishes
        if any(
            sum(wishes.groups[place] == group for place in chosen) > most
            for group, most in enumerate(wishes.most_of)
        ):
            return False
        if wishes.costs and sum(wishes.costs[place] for place in chosen) > wishes.most_cost + 1e-9:
            return False
        own = [wishes.lightness[place] for place in chosen] if wishes.lightness else [0.0]
        return max(own) - min(own) >= wishes.least_range - 1e-9 or wishes.least_range <= 0.0


class _Ladder:
    """Places by a value: quick answers to which of them lie up to some height."""

    def __init__(self, values: tuple[float, ...]) -> None:
        order = sorted(range(len(values)), key=values.__getitem__)
        self._values = [values[place] for place in order]
        self._upto = [0]
        for place in order:
            self._upto.append(self._upto[-1] | 1 << place)

    def upto(self, height: float) -> int:
        """The places whose value is at most the height, give or take a billionth."""
        return self._upto[bisect_right(self._values, height + 1e-9)]

    def least(self, candidates: int) -> float:
        """The smallest value among candidates, of which there is one at least."""
        low, high = 1, len(self._values)
        while low < high:
            middle = (low + high) // 2
            if self._upto[middle] & candidates:
                high = middle
            else:
                low = middle + 1
        return self._values[low - 1]
