"""Spread repeats more evenly by small changes to an order that keep every demand.

All turns of a stretch, exchanges of two places and moves of a stretch are judged at once as rows of
one array; the best is taken, until none is better.
"""

from functools import lru_cache
from itertools import combinations
from math import lcm

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget
from explorer.sequence_places import Places

# Chosen by us: the moves of a longer strip fill too much memory to be judged at once.
MOST_PLACES = 80

# Chosen by us: moved stretches are tried up to this long, on strips up to and above so many places;
# longer ones hardly ever help, and their number grows with the square of the strip.
LONGEST_STRETCH = (8, 3)
SHORT_STRIP = 24

# Chosen by us: judging all moves of a strip takes about as long as filling so many places.
STEPS_A_ROUND = 60

# Chosen by us, because it outweighs any sum of shortfalls: repeats that come too soon go first.
_TOO_SOON = 1 << 44


def spread_moves(
    order: tuple[int, ...], places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[int, ...]:
    """The order after every improving move, uses and weakest level kept.

    Args:
        order: a filling of the places.
        places: the puzzle.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent.
    """
    if not 3 <= places.count <= MOST_PLACES:
        return order
    judge = _Judge(order, places, adjacent)
    here = np.array(order)
    cost = int(judge.costs(here[None, :])[0])
    while cost and budget.spend(STEPS_A_ROUND):
        better = judge.best(here[_turns_and_exchanges(places.count)])
        if better is None or better[0] >= cost:
            better = judge.best(here[_shifts(places.count)])
        if better is None or better[0] >= cost:
            break
        cost, here = better
    return tuple(int(c) for c in here)


class _Judge:
    """Tells which rows keep the demands, and what their repeats cost."""

    def __init__(self, order: tuple[int, ...], places: Places, adjacent: tuple[int, ...]) -> None:
        colours = len(adjacent)
        self.places = places
        self.beside = np.array([[a >> b & 1 for b in range(colours)] for a in adjacent], bool)
        self.near = np.array(
            [(i, j) for j in range(places.count) for i in places.near[j]], dtype=np.intp
        ).reshape(-1, 2)
        self.settled = [
            (p, domain) for p, domain in enumerate(places.domains) if domain != _union(places)
        ]
        self.table = _cost_table(order, places, colours)

    def best(self, rows: NDArray[np.intp]) -> tuple[int, NDArray[np.intp]] | None:
        """The cheapest row that keeps the demands, the first at a tie, with its cost."""
        good = self.beside[rows[:, self.near[:, 0]], rows[:, self.near[:, 1]]].all(axis=1)
        for place, domain in self.settled:
            good &= (domain >> rows[:, place]) & 1 == 1
        if not self.places.even:
            good &= self._uses_kept(rows)
        rows = rows[good]
        if not len(rows):
            return None
        costs = self.costs(rows)
        first = int(costs.argmin())
        return int(costs[first]), rows[first]

    def costs(self, rows: NDArray[np.intp]) -> NDArray[np.int64]:
        """What the repeats in each row cost; integers, so that sums are exact."""
        count = rows.shape[1]
        reach = self.table.shape[1] - 1
        laps = np.hstack([rows, rows[:, :reach]]) if self.places.ring else rows
        total = np.zeros(len(rows), dtype=np.int64)
        waiting = np.ones(rows.shape, dtype=bool)
        for gap in range(1, min(reach, count if self.places.ring else count - 1) + 1):
            end = min(count, laps.shape[1] - gap)
            ahead = laps[:, gap : gap + end]
            hit = waiting[:, :end] & (ahead == rows[:, :end])
            total += np.where(hit, self.table[rows[:, :end], gap], 0).sum(axis=1)
            waiting[:, :end] &= ~hit
        return total

    def _uses_kept(self, rows: NDArray[np.intp]) -> NDArray[np.bool_]:
        weights = np.array(self.places.weights)
        kept = np.ones(len(rows), dtype=bool)
        for c in range(len(self.beside)):
            uses = ((rows == c) * weights).sum(axis=1)
            kept &= (uses >= self.places.least[c]) & (uses <= self.places.most[c])
        return kept


def _union(places: Places) -> int:
    bits = 0
    for domain in places.domains:
        bits |= domain
    return bits


def _cost_table(order: tuple[int, ...], places: Places, colours: int) -> NDArray[np.int64]:
    """Squared shortfall of a repeat, by colour and distance, in units that make it an integer."""
    uses = [order.count(c) for c in range(colours)]
    unit = lcm(*(m for m in uses if m))
    if places.count * unit > 1 << 18:
        unit = 1
    reach = max((-(-places.count // m) for m in uses if m > 1), default=1)
    reach = min(places.count, max(reach, places.spacing))
    table = np.zeros((colours, reach + 1), dtype=np.int64)
    for c, m in enumerate(uses):
        for gap in range(1, reach + 1):
            short = max(0, places.count - gap * m) * unit // max(1, m)
            table[c, gap] = short**2 + (_TOO_SOON if gap < places.spacing else 0)
    return table


@lru_cache(maxsize=32)
def _turns_and_exchanges(count: int) -> NDArray[np.intp]:
    rows = []
    plain = list(range(count))
    for i, j in combinations(range(count), 2):
        rows.append(plain[:i] + plain[i : j + 1][::-1] + plain[j + 1 :])
        if j - i > 2:
            row = list(plain)
            row[i], row[j] = j, i
            rows.append(row)
    return np.array(rows, dtype=np.intp)


@lru_cache(maxsize=32)
def _shifts(count: int) -> NDArray[np.intp]:
    rows = []
    plain = list(range(count))
    longest = LONGEST_STRETCH[count > SHORT_STRIP]
    for length in range(1, min(longest, count - 1) + 1):
        for i in range(count - length + 1):
            piece, rest = plain[i : i + length], plain[:i] + plain[i + length :]
            for at in range(len(rest) + 1):
                if at != i:
                    rows.append(rest[:at] + piece + rest[at:])
                    if length > 1:
                        rows.append(rest[:at] + piece[::-1] + rest[at:])
    return np.array(rows, dtype=np.intp)
