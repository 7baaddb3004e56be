"""The most even spread of repeats, proved: branch and bound over orders at one level.

For each way to share out the uses, orders are filled from the start; a branch ends when what its
repeats fall short already, and what the uses to come must fall short at the least, reach the best
order known.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import lcm

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_moves import spread_moves
from explorer.sequence_places import Places, usable, with_gap
from explorer.sequence_search import Search
from explorer.sequence_shares import shares
from explorer.sequence_spread import least_distance, least_shortfall, most_distance, shortfall
from explorer.sequence_strongest import LONG_STRIP, fill

# Chosen by us: steps for a proof of the spread, by the most places that they are for; over many
# places such a proof hardly ever ends, and is tried only briefly.
PROOF_STEPS = ((12, 3000), (30, 800), (LONG_STRIP, 100))
QUICK_PROOF_STEPS = 60

# Chosen by us: walks down the strip to look for a larger least distance, at leisure and in haste,
# and nodes of the integer program to decide it where they do not.
WALKS_FOR_DISTANCE = (8, 3)
NODES_FOR_DISTANCE = 40


def spread_evenly(
    places: Places, order: tuple[int, ...], adjacent: tuple[int, ...], budget: Budget
) -> tuple[tuple[int, ...], bool]:
    """Spread repeats at one level: the least distance first, then the shortfalls.

    Args:
        places: the puzzle.
        order: a filling of it.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent.

    Returns:
        The order with the best spread found, and whether that is proved to be the best.
    """
    ring = places.ring
    if places.count > LONG_STRIP:
        return order, False
    roof = most_distance(
        places.least if places.even else (),
        places.count,
        usable(places.most).bit_count(),
        ring=ring,
    )
    widest = True
    while (distance := least_distance(order, ring=ring)) is not None and distance < roof:
        walks = WALKS_FOR_DISTANCE[budget.quick] * places.count
        part = budget.part(walks + NODES_FOR_DISTANCE)
        answer = fill(with_gap(places, distance), adjacent, part, walks)
        budget.take_back(part)
        if isinstance(answer, Verdict):
            widest = answer is Verdict.IMPOSSIBLE
            break
        order = answer
    spaced = with_gap(places, (distance or places.count) - 1)
    order = spread_moves(order, spaced, adjacent, budget)
    proof = next(steps for most, steps in PROOF_STEPS if places.count <= most)
    proof = QUICK_PROOF_STEPS if budget.quick else proof
    part = budget.part(proof)
    order, even = most_even(order, spaced, adjacent, part)
    budget.take_back(part)
    return order, widest and even


def most_even(
    order: tuple[int, ...], places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[tuple[int, ...], bool]:
    """The order of least shortfall, and whether that is proved.

    Args:
        order: a filling of the places, the best known.
        places: the puzzle, its spacing the least distance that repeats must keep.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent.
    """
    ring = places.ring
    best = shortfall(order, ring=ring)
    if not best or not places.even:
        return order, not best
    if places.count > places.spacing >= usable(places.most).bit_count():
        # Every window holds every colour, so the strip repeats one unit: all such spread alike.
        return order, True
    promising = _by_promise(places)
    if promising is None:
        return order, False
    for floor, share in promising:
        if floor >= best:
            break
        better = _best_of_share(share, best, places, adjacent, budget)
        if better is Verdict.UNDECIDED:
            return order, False
        if not isinstance(better, Verdict):
            order, best = better, shortfall(better, ring=ring)
    return order, True


def _by_promise(places: Places) -> list[tuple[Fraction, tuple[int, ...]]] | None:
    """All ways to share out the uses, those that promise least shortfall first."""
    rows = shares(places.least, places.most, places.count)
    if rows is None:
        return None
    floors = [
        sum((least_shortfall(m, places.count, ring=places.ring) for m in row), Fraction(0))
        for row in rows
    ]
    return sorted(zip(floors, rows, strict=True))


def _best_of_share(
    share: tuple[int, ...],
    best: Fraction,
    places: Places,
    adjacent: tuple[int, ...],
    budget: Budget,
) -> tuple[int, ...] | Verdict:
    """The best order with these uses, if it beats the best known."""
    bound = _Bound(share, places, best)
    answer: tuple[int, ...] | Verdict = Verdict.IMPOSSIBLE
    for order in _orders(share, places, adjacent, budget, bound):
        if order is Verdict.UNDECIDED:
            return Verdict.UNDECIDED
        if not isinstance(order, Verdict):
            answer = order
            bound.limit = bound.exact(shortfall(order, ring=places.ring))
    return answer


def _orders(
    share: tuple[int, ...],
    places: Places,
    adjacent: tuple[int, ...],
    budget: Budget,
    bound: "_Bound",
) -> Iterator[tuple[int, ...] | Verdict]:
    search = Search(replace(places, least=share, most=share), adjacent, hopeless=bound.hopeless)
    return search.orders(budget)


class _Bound:
    """What an unfinished order falls short already, and must still fall short."""

    def __init__(self, share: tuple[int, ...], places: Places, best: Fraction) -> None:
        self.share, self.count, self.ring = share, places.count, places.ring
        self.unit = lcm(*(m for m in share if m))
        self.limit = self.exact(best)
        self.known: dict[tuple[int, int, int, int], int] = {}
        self.paid = [0] * (places.count + 1)

    def exact(self, value: Fraction) -> int:
        """A sum of shortfalls in units that make it an integer, rounded up."""
        return -(-(value.numerator * self.unit**2) // value.denominator)

    def hopeless(self, search: Search) -> bool:
        """Whether no completion can beat the best known."""
        place = len(search.order)
        colour = search.order[-1]
        uses = search.last[colour]
        repeat = self._short(self.share[colour], uses[-1] - uses[-2]) if len(uses) > 1 else 0
        self.paid[place] = total = self.paid[place - 1] + repeat
        for c, m in enumerate(self.share):
            if m > 1 and total < self.limit:
                total += self._to_come(m, search.last[c], place)
        return total >= self.limit

    def _to_come(self, m: int, uses: list[int], place: int) -> int:
        """The least that the repeats of one colour still to come fall short."""
        left = m - len(uses)
        if not uses:
            gaps, span = (m, self.count) if self.ring else (m - 1, self.count - 1 - place)
            return self._rest(m, gaps, span, 0)
        end = uses[0] + self.count if self.ring else self.count - 1
        gaps = left + 1 if self.ring else left
        return self._rest(m, gaps, end - uses[-1], place - uses[-1] if left else 0)

    def _rest(self, m: int, gaps: int, span: int, soonest: int) -> int:
        """The least cost of some gaps within a span, the first of them not before its time."""
        key = (m, gaps, span, soonest)
        if key not in self.known:
            cost = 0
            if gaps and soonest * gaps > span:
                cost, gaps, span = self._short(m, soonest), gaps - 1, span - soonest
            if gaps:
                each, longer = divmod(max(0, span), gaps)
                cost += (gaps - longer) * self._short(m, each) + longer * self._short(m, each + 1)
            self.known[key] = cost
        return self.known[key]

    def _short(self, m: int, gap: int) -> int:
        short: int = max(0, self.count - gap * m) * (self.unit // m)
        return short * short
