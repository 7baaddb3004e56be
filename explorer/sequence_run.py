"""A run: from one colour to another in steps that are visible and as gentle as can be.

No colour comes twice; each is held for about as many motifs as the others. First the greatest step
is made as small as possible, then the sum of squared steps, so that steps are alike.
"""

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_types import OrderBrief

# Chosen by us: a CIEDE2000 difference that beads side by side show at arm's length without doubt;
# the eye's threshold in good light is near 1 (from memory).
VISIBLE_STEP = 4.0


def gentlest_run(
    matrix: NDArray[np.float64], begin: int, end: int, most_colours: int, allowed: int
) -> tuple[int, ...] | None:
    """The colours of a run, each once; None where no steps lead from one end to the other.

    Args:
        matrix: difference of every two colours, (k, k), symmetric.
        begin: the first colour.
        end: the last colour.
        most_colours: how many colours the run may have.
        allowed: the colours that may be used, as bits.
    """
    size = len(matrix)
    colours = np.array([allowed >> c & 1 == 1 for c in range(size)])
    steps = np.where(np.outer(colours, colours) & (matrix >= VISIBLE_STEP), matrix, np.inf)
    np.fill_diagonal(steps, np.inf)
    levels = np.unique(steps[np.isfinite(steps)])
    low, high = -1, len(levels)
    best: tuple[int, ...] | None = None
    while high - low > 1:
        middle = (low + high) // 2
        path = _evenest(np.where(steps <= levels[middle], steps, np.inf), begin, end, most_colours)
        if path is None:
            low = middle
        else:
            high, best = middle, path
    return best


def _evenest(
    steps: NDArray[np.float64], begin: int, end: int, most_colours: int
) -> tuple[int, ...] | None:
    """The path of least squared steps (Bellman 1958, from memory); the first at a tie."""
    squared = steps**2
    cost = np.full(len(steps), np.inf)
    cost[begin] = 0.0
    rows: list[NDArray[np.intp]] = []
    best_cost, best_length = cost[end], 0
    for length in range(1, most_colours):
        reached = cost[:, None] + squared
        rows.append(reached.argmin(axis=0))
        cost = reached.min(axis=0)
        if cost[end] < best_cost:
            best_cost, best_length = cost[end], length
    if not np.isfinite(best_cost):
        return None
    path = [end]
    for row in rows[:best_length][::-1]:
        path.append(int(row[path[-1]]))
    return tuple(path[::-1])


def held(
    path: tuple[int, ...], motifs: int, least: tuple[int, ...], most: tuple[int, ...]
) -> tuple[int, ...] | None:
    """Each colour of a run held for as many motifs as the others, within the uses asked.

    Returns:
        The colour of each motif; None where the uses do not allow it.
    """
    sizes = [max(1, least[c]) for c in path]
    while sum(sizes) < motifs:
        open_ones = [i for i, c in enumerate(path) if sizes[i] < most[c]]
        if not open_ones:
            return None
        shortest = min(open_ones, key=lambda i: (sizes[i], i))
        sizes[shortest] += 1
    if sum(sizes) > motifs or any(sizes[i] > most[c] for i, c in enumerate(path)):
        return None
    return tuple(c for c, size in zip(path, sizes, strict=True) for _ in range(size))


def ends_of(matrix: NDArray[np.float64], brief: OrderBrief, allowed: int) -> tuple[int, int]:
    """The colours to begin and end with: as settled, as asked, or the two that differ most."""
    size = len(matrix)
    open_ones = [c for c in range(size) if allowed >> c & 1]
    pairs = [(a, b) for a in open_ones for b in open_ones if a != b]
    begin, end = brief.ends or max(pairs, key=lambda p: (matrix[p], -p[0], -p[1]))
    for place, colour in brief.fixed:
        if place == 0:
            begin = colour
        if place == brief.motifs - 1:
            end = colour
    return begin, end
