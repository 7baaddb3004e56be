"""Orders with settled places, whole: one path through layers of windows, by integer program.

Each place is a layer; its nodes are the windows of the last g motifs that may end there, and an arc
moves the window on by one place. An order is one path from the first layer to the last; in a ring
it ends in the window that it began with. Settled places leave few windows in their layers.
"""

from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_places import Places
from explorer.sequence_program import table, whole_answer
from explorer.sequence_search import narrowed

Window = tuple[int, ...]

# Chosen by us: above this the program takes many seconds before its first node can be counted.
MOST_ARCS = 12_000

# Chosen by us: setting up so many arcs takes about as long as filling a place.
ARCS_A_STEP = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layers:
    """Windows that can be reached from both ends, and the arcs between them, layer by layer."""

    windows: list[list[Window]]
    arcs: list[list[tuple[int, int]]] = field(default_factory=list)


def order_through_layers(
    places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[int, ...] | Verdict:
    """An order with places settled, along one strip or ring; or the proof of none.

    Args:
        places: a puzzle whose neighbours run along the strip, each place one motif.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent; each node of the solver is a step.
    """
    gap = max(1, places.spacing - 1)
    if places.count <= 2 * gap:
        return Verdict.UNDECIDED
    turn = _best_turn(places) if places.ring else 0
    domains = narrowed(places, adjacent).domains
    turned = replace(places, domains=domains[turn:] + domains[:turn])
    layers = _layers(turned, adjacent, gap)
    if layers is None:
        return Verdict.UNDECIDED
    if not all(layers.windows):
        return Verdict.IMPOSSIBLE
    if not budget.spend(sum(map(len, layers.arcs)) // ARCS_A_STEP):
        return Verdict.UNDECIDED
    taken = _solve(layers, turned, gap, budget)
    if isinstance(taken, Verdict):
        return taken
    order = _colours(layers, taken, places.count)
    back = places.count - turn
    return order[back:] + order[:back]


def _best_turn(places: Places) -> int:
    """The place to begin a ring at: where the fewest colours are open."""
    return min(range(places.count), key=lambda p: (places.domains[p].bit_count(), p))


def _layers(places: Places, adjacent: tuple[int, ...], gap: int) -> _Layers | None:
    domains = places.domains + (places.domains[:gap] if places.ring else ())
    rows: list[Window] = [()]
    for place in range(gap):
        rows = [
            (*row, c)
            for row in rows
            for c in range(len(adjacent))
            if domains[place] >> c & 1 and c not in row and (not row or adjacent[row[-1]] >> c & 1)
        ]
    windows, moves = [rows], []
    for domain in domains[gap:]:
        step = [
            (row, (*row[1:], c))
            for row in windows[-1]
            for c in range(len(adjacent))
            if domain >> c & 1 and c not in row and adjacent[row[-1]] >> c & 1
        ]
        moves.append(step)
        windows.append(sorted({after for _, after in step}))
        if sum(map(len, moves)) > 4 * MOST_ARCS:
            return None
    return _trimmed(windows, moves, ring=places.ring)


def _trimmed(
    windows: list[list[Window]], moves: list[list[tuple[Window, Window]]], *, ring: bool
) -> _Layers | None:
    """Keep what leads to the last layer, and number the windows."""
    alive = set(windows[-1]) & set(windows[0]) if ring else set(windows[-1])
    kept = [sorted(alive)]
    arcs: list[list[tuple[Window, Window]]] = []
    for step in moves[::-1]:
        arcs.append([(a, b) for a, b in step if b in alive])
        alive = {a for a, _ in arcs[-1]}
        kept.append(sorted(alive))
    kept, arcs = kept[::-1], arcs[::-1]
    if sum(map(len, arcs)) > MOST_ARCS:
        return None
    number = [{window: i for i, window in enumerate(layer)} for layer in kept]
    return _Layers(
        windows=kept,
        arcs=[[(number[j][a], number[j + 1][b]) for a, b in step] for j, step in enumerate(arcs)],
    )


def _solve(
    layers: _Layers, places: Places, gap: int, budget: Budget
) -> list[NDArray[np.int64]] | Verdict:
    """For each step, how often each arc is taken: one of them once."""
    first = np.cumsum([0, *(len(step) for step in layers.arcs)])
    width = int(first[-1])
    cells, low, high = _rows(layers, places, gap, first)
    bounds = (np.zeros(width), np.ones(width))
    values = whole_answer(table(cells, len(low), width), (low, high), bounds, budget)
    if isinstance(values, Verdict):
        return values
    return [values[a:b] for a, b in pairwise(first)]


def _rows(
    layers: _Layers, places: Places, gap: int, first: NDArray[np.int64]
) -> tuple[list[tuple[int, int, float]], list[float], list[float]]:
    """The table's cells and the limits of its rows: one path, balanced, closed, uses kept."""
    start = int(first[1])
    cells = [(0, arc, 1.0) for arc in range(start)]
    low, high = [1.0], [1.0]
    for j in range(1, len(layers.arcs)):
        row, here = len(low), layers.arcs[j]
        into = enumerate(layers.arcs[j - 1])
        cells += [(row + after, int(first[j - 1]) + arc, 1.0) for arc, (_, after) in into]
        cells += [(row + before, int(first[j]) + arc, -1.0) for arc, (before, _) in enumerate(here)]
        low += [0.0] * len(layers.windows[j])
        high += [0.0] * len(layers.windows[j])
    if places.ring:
        closing, joints = _closing(layers, len(low), int(first[-2]))
        cells += closing
        low += [0.0] * joints
        high += [0.0] * joints
    row = len(low)
    for arc, (before, _) in enumerate(layers.arcs[0]):
        cells += [(row + c, arc, 1.0) for c in layers.windows[0][before]]
    for j in range(places.count - gap):
        ends = [layers.windows[j + 1][after][-1] for _, after in layers.arcs[j]]
        cells += [(row + c, int(first[j]) + arc, 1.0) for arc, c in enumerate(ends)]
    low += [float(x) for x in places.least]
    high += [float(x) for x in places.most]
    return cells, low, high


def _closing(layers: _Layers, row: int, last: int) -> tuple[list[tuple[int, int, float]], int]:
    """Rows that make a ring end in the window that it began with, and how many they are."""
    joints = sorted({*layers.windows[0], *layers.windows[-1]})
    where = {window: i for i, window in enumerate(joints)}
    begins = [where[layers.windows[0][before]] for before, _ in layers.arcs[0]]
    ends = [where[layers.windows[-1][after]] for _, after in layers.arcs[-1]]
    cells = [(row + joint, arc, 1.0) for arc, joint in enumerate(begins)]
    cells += [(row + joint, last + arc, -1.0) for arc, joint in enumerate(ends)]
    return cells, len(joints)


def _colours(layers: _Layers, taken: list[NDArray[np.int64]], count: int) -> tuple[int, ...]:
    begin = layers.arcs[0][int(taken[0].argmax())][0]
    order = list(layers.windows[0][begin])
    for j, values in enumerate(taken):
        after = layers.arcs[j][int(values.argmax())][1]
        order.append(layers.windows[j + 1][after][-1])
    return tuple(order[:count])
