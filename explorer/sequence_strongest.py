"""The strongest weakest neighbour that a puzzle of places allows, and an order that has it.

The weakest pair of any order is one of the differences in the matrix. So the search runs over those
levels: at each, colours may stand beside each other when they differ by that much or more, and the
question is only whether an order exists. What is impossible at a level is impossible above it.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_euler import meeting_counts
from explorer.sequence_hall import hall_table, whole_slack
from explorer.sequence_layers import order_through_layers
from explorer.sequence_meetings import even_limits
from explorer.sequence_places import Places, usable
from explorer.sequence_search import find_order
from explorer.sequence_shares import likely_shares
from explorer.sequence_walk import walk
from explorer.sequence_windows import order_through_windows

# Chosen by us: the branch search finds most orders within a few walks down the strip; where it does
# not, the integer program is the better tool. Each later round is allowed much more.
FIRST_STEPS_PER_PLACE = (6, 2)
LATER_ROUNDS_FACTOR = 8
LAST_STEPS_PER_PLACE = 20

# Chosen by us: so many ways to share out the uses are tried, those with most room first.
MOST_LIKELY = (6, 3)

# Chosen by us: the length from which the integer program is sooner done than a branch down the
# strip; and how much of the most even meetings is tried before taking what comes.
LONG_STRIP = 150
EVEN_SHARES = (1.0, 0.9, 0.5, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strongest:
    """What was found: an order at a level, and the best level that is not ruled out."""

    order: tuple[int, ...]
    level: float
    bound: float
    adjacent: tuple[int, ...]

    @property
    def proven(self) -> bool:
        """Whether no stronger level is left in doubt."""
        return self.bound <= self.level


def levels_of(matrix: NDArray[np.float64], used: int) -> list[float]:
    """The differences between usable colours, each once, the strongest first."""
    colours = [c for c in range(len(matrix)) if used >> c & 1]
    return sorted({float(matrix[a, b]) for a in colours for b in colours if a < b}, reverse=True)


def adjacency(matrix: NDArray[np.float64], level: float) -> tuple[int, ...]:
    """For each colour the others that differ from it by at least a level, as bits."""
    size = len(matrix)
    return tuple(
        sum(1 << b for b in range(size) if b != a and matrix[a, b] >= level) for a in range(size)
    )


def strongest(matrix: NDArray[np.float64], places: Places, budget: Budget) -> Strongest | Verdict:
    """Find the order whose weakest neighbours differ most, and how far that is proved.

    Args:
        matrix: differences between colours, (k, k), symmetric.
        places: the puzzle.
        budget: work that may be spent.

    Returns:
        The best found; or ``IMPOSSIBLE`` when no order exists at any level, ``UNDECIDED`` when none
        was found before the budget ended.
    """
    used = 0
    for domain in places.domains:
        used |= domain
    # Settled places may leave one colour only. Whether it may stand there is still to be asked: it
    # may where nothing meets, and then any level will do.
    levels = levels_of(matrix, used) or [0.0]
    if places.contradicts_itself:
        return Verdict.IMPOSSIBLE
    return _LevelSearch(matrix, places, levels, budget).run()


class _LevelSearch:
    """Closes in on the best level between one proved impossible and one with an order."""

    def __init__(
        self, matrix: NDArray[np.float64], places: Places, levels: list[float], budget: Budget
    ) -> None:
        self.matrix, self.places, self.levels, self.budget = matrix, places, levels, budget
        self.impossible = self._ruled_out()
        self.found = len(levels)
        self.order: tuple[int, ...] | None = None

    def run(self) -> Strongest | Verdict:
        allowed = FIRST_STEPS_PER_PLACE[self.budget.quick] * self.places.count
        while self.found - self.impossible > 1 and self.budget.left:
            self._round(allowed)
            allowed *= LATER_ROUNDS_FACTOR
        if self.order is None and self.impossible < len(self.levels) - 1:
            # An order at any level is better than none: one last walk, whatever has been spent.
            self.budget = Budget(limit=LAST_STEPS_PER_PLACE * self.places.count, quick=True)
            self._ask(len(self.levels) - 1, self.budget.limit)
        if self.order is None:
            done = self.impossible == len(self.levels) - 1
            return Verdict.IMPOSSIBLE if done else Verdict.UNDECIDED
        level = self.levels[self.found]
        return Strongest(
            order=self.order,
            level=level,
            bound=self.levels[self.impossible + 1],
            adjacent=adjacency(self.matrix, level),
        )

    def _round(self, allowed: int) -> None:
        """Ask every level still open once, with a limit; the likeliest first, then by halves."""
        low = self.impossible
        ask = low + 1
        while self.found - low > 1 and self.budget.left:
            verdict = self._ask(ask, allowed)
            if verdict is Verdict.IMPOSSIBLE:
                self.impossible = low = max(low, ask)
            elif verdict is Verdict.UNDECIDED:
                low = ask
            ask = (low + self.found) // 2

    def _ask(self, index: int, allowed: int) -> Verdict | None:
        answer = fill(self.places, adjacency(self.matrix, self.levels[index]), self.budget, allowed)
        if isinstance(answer, Verdict):
            return answer
        self.order = answer
        weakest = weakest_level(self.matrix, self.places, answer)
        self.found = next(i for i, level in enumerate(self.levels) if level <= weakest)
        return None

    def _ruled_out(self) -> int:
        """The weakest level that a count of partners proves impossible; -1 for none."""
        low, high = -1, len(self.levels)
        while high - low > 1:
            middle = (low + high) // 2
            if ruled_out(self.places, adjacency(self.matrix, self.levels[middle])):
                low = middle
            else:
                high = middle
        return low


def lowered(matrix: NDArray[np.float64], places: Places, best: Strongest, give: float) -> Strongest:
    """The same order at a level lowered by a share, so that more colours may meet."""
    if not give:
        return best
    floor = (1.0 - give) * best.level
    level = min(level for level in levels_of(matrix, usable(places.most)) if level >= floor)
    return replace(best, level=level, adjacent=adjacency(matrix, level))


def ruled_out(places: Places, adjacent: tuple[int, ...]) -> bool:
    """Whether counting partners alone proves that no order exists."""
    if not (places.even and places.is_path):
        return False
    likely = likely_shares(places, adjacent)
    if likely is not None:
        return not likely
    table = hall_table(adjacent, places.domains[0])
    if table is None or not places.open_to_all:
        return False
    least, most = np.array(places.least), np.minimum(places.most, places.count)
    return whole_slack(table, least, most, places.count, ring=places.ring) < 0


def fill(
    places: Places, adjacent: tuple[int, ...], budget: Budget, allowed: int
) -> tuple[int, ...] | Verdict:
    """An order at one level: by branches within a limit, then by integer program where it can.

    A long strip with no place settled goes to the program at once.
    """
    whole = places.is_strip
    if not (whole and places.open_to_all and places.count > LONG_STRIP):
        answer = _branch(places, adjacent, budget, allowed)
        if answer is not Verdict.UNDECIDED or not whole or budget.quick:
            return answer
    if not places.open_to_all:
        return order_through_layers(places, adjacent, budget)
    if places.spacing > 2:
        return order_through_windows(places, adjacent, budget)
    return order_through_meetings(places, adjacent, budget)


def _branch(
    places: Places, adjacent: tuple[int, ...], budget: Budget, allowed: int
) -> tuple[int, ...] | Verdict:
    """By branches: with the uses open, then shared out in the likeliest ways, then open again."""
    likely = None
    if places.is_strip and places.spacing <= 2 and places.least != places.most:
        likely = likely_shares(places, adjacent)
    if likely is None:
        return _try(places, adjacent, budget, allowed)
    # Where the level is loose the first walk down the strip succeeds, and its repeats are spread
    # best; where it is tight, known uses turn a wrong branch back much sooner.
    answer = _try(places, adjacent, budget, places.count + places.count // 2)
    verdicts = []
    for row in likely[: MOST_LIKELY[budget.quick]]:
        if answer is not Verdict.UNDECIDED:
            return answer
        shared = replace(places, least=row, most=row)
        answer = _try(shared, adjacent, budget, max(allowed // 2, 3 * places.count))
        if answer is Verdict.IMPOSSIBLE:
            verdicts.append(answer)
            answer = Verdict.UNDECIDED
    if len(verdicts) == len(likely):
        return Verdict.IMPOSSIBLE
    return answer if answer is not Verdict.UNDECIDED else _try(places, adjacent, budget, allowed)


def _try(
    places: Places, adjacent: tuple[int, ...], budget: Budget, allowed: int
) -> tuple[int, ...] | Verdict:
    part = budget.part(allowed)
    answer = find_order(places, adjacent, part)
    budget.take_back(part)
    return answer


def order_through_meetings(
    places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[int, ...] | Verdict:
    """An order walked from how often colours meet, as many different meetings as can be."""
    answer: tuple[int, ...] | Verdict = Verdict.UNDECIDED
    for share in EVEN_SHARES if places.count > LONG_STRIP else (0.0,):
        limits = even_limits(places, adjacent, share) if share else None
        meetings = meeting_counts(places, adjacent, budget, limits)
        if not isinstance(meetings, Verdict):
            return walk(meetings, places.count, ring=places.ring)
        answer = meetings
    return answer


def weakest_level(matrix: NDArray[np.float64], places: Places, order: tuple[int, ...]) -> float:
    """The smallest difference between neighbours of a filled puzzle."""
    values = [
        float(matrix[order[i], order[j]]) for j in range(places.count) for i in places.near[j]
    ]
    # Where nothing meets, nothing is weak: any order is at the strongest level.
    return min(values, default=float(matrix.max()))
