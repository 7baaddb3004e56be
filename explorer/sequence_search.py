"""Branch and bound over places: fill them one by one, and turn back where proofs forbid to go on.

A branch ends when a colour cannot reach its least uses in the places left, when
:mod:`explorer.sequence_hall` proves that partners run out, or when the same remainder has failed
before. Work is counted in places filled, never in seconds.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_hall import HallTable, hall_table, known_slack, slack
from explorer.sequence_places import Places


def find_order(
    places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[int, ...] | Verdict:
    """The first filling found of the places, colours that are due coming first.

    Args:
        places: the puzzle.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent.

    Returns:
        The colour of each place; or ``IMPOSSIBLE`` when there is none, ``UNDECIDED`` when the
        budget ended first.
    """
    search = Search(places, adjacent)
    return next(search.orders(budget), Verdict.UNDECIDED)


class Search:
    """One depth-first search; its lists mirror the branch that is being looked at."""

    def __init__(
        self,
        places: Places,
        adjacent: tuple[int, ...],
        hopeless: Callable[["Search"], bool] | None = None,
    ) -> None:
        self.hopeless = hopeless
        self.places = places = narrowed(places, adjacent)
        self.adjacent = adjacent
        self.colours = len(adjacent)
        self.count = places.count
        self.least = list(places.least)
        self.most = list(places.most)
        self.order: list[int] = []
        self.last: list[list[int]] = [[] for _ in adjacent]
        self.weight_left = sum(places.weights)
        self.frontier = _frontier(places)
        self.failed: set[tuple[object, ...]] = set()
        used = 0
        for domain in places.domains:
            used |= domain
        if places.ring and places.is_strip and places.open_to_all:
            self.places = _turned(places)
        self.uses_known = places.least == places.most
        self.table: HallTable | None = None
        if places.even and places.is_path:
            self.table = hall_table(adjacent, used)
        self.period = [
            places.count / max(1, (low + min(high, places.count)) / 2)
            for low, high in zip(places.least, places.most, strict=True)
        ]
        self.check_from = [0] * (self.count + 1)
        self.promised = _promised(self.places, len(adjacent))

    def orders(self, budget: Budget) -> Iterator[tuple[int, ...] | Verdict]:
        """Orders one by one, then the verdict that there are no more.

        With a rule for hopeless branches every order comes that the rule lets through; without one
        the search remembers what has failed, and only the first order is sure to come.
        """
        choices = [self._choices()]
        while choices:
            row = choices[-1]
            if not row:
                choices.pop()
                if self.hopeless is None:
                    self.failed.add(self._key())
                if self.order:
                    self._take_off()
                continue
            if not budget.spend():
                yield Verdict.UNDECIDED
                return
            self._put(row.pop())
            if len(self.order) == self.count and max(self.least) <= 0:
                if self.hopeless is None or not self.hopeless(self):
                    yield tuple(self.order)
                choices.append([])
            else:
                choices.append([] if self._over() else self._choices())
        yield Verdict.IMPOSSIBLE

    def _over(self) -> bool:
        """Whether this branch need not be followed."""
        if len(self.order) == self.count:
            return True
        if self.hopeless is not None:
            return self.hopeless(self)
        return self._key() in self.failed

    def _put(self, colour: int) -> None:
        place = len(self.order)
        weight = self.places.weights[place]
        self.order.append(colour)
        self.last[colour].append(place)
        self.least[colour] -= weight
        self.most[colour] -= weight
        self.weight_left -= weight

    def _take_off(self) -> None:
        colour = self.order.pop()
        weight = self.places.weights[len(self.order)]
        self.last[colour].pop()
        self.least[colour] += weight
        self.most[colour] += weight
        self.weight_left += weight

    def _key(self) -> tuple[object, ...]:
        order = self.order
        return (*self.most, *(order[i] for i in self.frontier[len(order)]))

    def _choices(self) -> list[int]:
        """Colours to try at the next place, the best last."""
        place = len(self.order)
        mask = self._allowed(place)
        if not mask or not self._uses_fit(place) or not self._within_reach():
            return []
        if self._proved_impossible(place):
            return []
        needed = sum(low for low in self.least if low > 0)
        all_needed = needed > self.weight_left - self.places.weights[place]
        ranked = [
            c
            for c in range(self.colours)
            if mask >> c & 1 and not (all_needed and self.least[c] <= 0)
        ]
        return sorted(ranked, key=self._urgency, reverse=True)

    def _allowed(self, place: int) -> int:
        order, adjacent = self.order, self.adjacent
        mask = self.places.domains[place]
        for i in self.places.near[place]:
            mask &= adjacent[order[i]]
        for i in self.places.apart[place]:
            mask &= ~(1 << order[i])
        weight, promised = self.places.weights[place], self.promised[place]
        for c in range(self.colours):
            if self.most[c] < weight + promised[c]:
                mask &= ~(1 << c)
        return mask

    def _uses_fit(self, place: int) -> bool:
        left = self.weight_left
        needed = sum(low for low in self.least if low > 0)
        if needed > left or sum(self.most) < left:
            return False
        if self.places.spacing <= 2 or not self.places.even:
            return True
        return all(
            low <= 0 or self._room_for(c, low, place) >= 0 for c, low in enumerate(self.least)
        )

    def _room_for(self, colour: int, low: int, place: int) -> int:
        """Places to spare when a colour still needs ``low`` uses from ``place`` on."""
        spacing, uses = self.places.spacing, self.last[colour]
        first = max(place, uses[-1] + spacing) if uses else place
        end = self.count - 1
        if self.places.ring and uses:
            end = min(end, uses[0] + self.count - spacing)
        return end - first - (low - 1) * spacing

    def _within_reach(self) -> bool:
        """Whether every colour still needed can be walked to through colours still to be had."""
        if self.table is None or not self.order:
            return True
        open_ones = needed = 0
        for c in range(self.colours):
            if self.most[c] > 0:
                open_ones |= 1 << c
                if self.least[c] > 0:
                    needed |= 1 << c
        reached, fresh = 0, self.adjacent[self.order[-1]] & open_ones
        while fresh:
            reached |= fresh
            if not needed & ~reached:
                return True
            around = 0
            for c in range(self.colours):
                if fresh >> c & 1:
                    around |= self.adjacent[c]
            fresh = around & open_ones & ~reached
        return not needed & ~reached

    def _urgency(self, colour: int) -> tuple[bool, float, int, int]:
        uses = self.last[colour]
        due = uses[-1] + self.period[colour] if uses else 0.0
        optional = self.least[colour] <= 0
        return (optional, due, self.adjacent[colour].bit_count(), colour)

    def _proved_impossible(self, place: int) -> bool:
        table = self.table
        if table is None:
            return False
        if place < self.check_from[place]:
            self.check_from[place + 1] = self.check_from[place]
            return False
        most = np.array(self.most, dtype=np.int64)
        if self.uses_known:
            room = known_slack(table, most, self._ends(table))
        else:
            least = np.maximum(0, np.array(self.least, dtype=np.int64))
            room = slack(table, least, most, self.count - place, self._ends(table))
        # One place filled takes away at most two; until then the proof cannot succeed.
        self.check_from[place + 1] = place + 1 + max(0, room) // 2
        return room < 0

    def _ends(self, table: HallTable) -> NDArray[np.int64]:
        bits = table.partner_bits
        order = self.order
        begin = bits >> order[-1] & 1 if order else np.ones_like(bits)
        if not self.places.ring:
            return begin + 1
        if not order:
            return begin
        return begin + (bits >> order[0] & 1)


def _frontier(places: Places) -> list[tuple[int, ...]]:
    """For each number of places filled, those that places still to come look back at."""
    reach = [0] * places.count
    for j in range(places.count):
        for i in places.near[j] + places.apart[j]:
            reach[i] = max(reach[i], j)
    return [
        tuple(i for i in range(filled) if reach[i] >= filled) for filled in range(places.count + 1)
    ]


def _promised(places: Places, colours: int) -> list[list[int]]:
    """For each place, the uses of each colour that settled places after it will take."""
    rows = [[0] * colours for _ in range(places.count)]
    for place in range(places.count - 1, 0, -1):
        rows[place - 1] = list(rows[place])
        domain = places.domains[place]
        if domain.bit_count() == 1:
            rows[place - 1][domain.bit_length() - 1] += places.weights[place]
    return rows


def narrowed(places: Places, adjacent: tuple[int, ...]) -> Places:
    """The same puzzle without colours that a settled neighbour rules out at a place."""
    if len(set(places.domains)) == 1:
        return places
    domains = list(places.domains)
    links = [(i, j, True) for j in range(places.count) for i in places.near[j]]
    links += [(i, j, False) for j in range(places.count) for i in places.apart[j]]
    changed = True
    while changed:
        before = tuple(domains)
        for i, j, near in links:
            domains[j] &= _beside(domains[i], adjacent, near=near)
            domains[i] &= _beside(domains[j], adjacent, near=near)
        changed = before != tuple(domains)
    return replace(places, domains=tuple(domains))


def _beside(domain: int, adjacent: tuple[int, ...], *, near: bool) -> int:
    """Colours that some colour of a neighbouring domain lets stand."""
    if not near:
        return ~domain if domain.bit_count() == 1 else -1
    reach = 0
    for c, bits in enumerate(adjacent):
        if domain >> c & 1:
            reach |= bits
    return reach


def _turned(places: Places) -> Places:
    """A ring that starts at a colour it must hold, the rarest: every ring can be turned so."""
    must = [c for c, low in enumerate(places.least) if low > 0]
    if not must:
        return places
    first = min(must, key=lambda c: (places.most[c], c))
    return replace(places, domains=(1 << first, *places.domains[1:]))
