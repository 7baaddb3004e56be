"""Orders with a gap, whole: an Eulerian walk over windows of colours, by integer program.

With a gap g a strip is read through a window of g motifs, all of different colours. Windows are the
nodes; moving the window on by one motif is an arc, which stands for g + 1 different colours in a
row. An order is then a walk that takes each arc some number of times, and it exists just where
integer arc counts balance at every window and hang together, as in ``sequence_euler``.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_places import Places
from explorer.sequence_program import table, whole_answer

Window = tuple[int, ...]

# Chosen by us: above this the program takes many seconds before its first node can be counted.
MOST_ARCS = 4000

# Chosen by us: setting up so many arcs takes about as long as filling a place.
ARCS_A_STEP = 8

# Chosen by us: each cut joins two parts of an answer; the limit only ends a loop.
MOST_CUTS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class _Graph:
    windows: list[Window]
    arcs: list[tuple[int, int]]
    """The window before and the window after, by number."""


def order_through_windows(
    places: Places, adjacent: tuple[int, ...], budget: Budget
) -> tuple[int, ...] | Verdict:
    """An order with a gap between repeats, with no place settled; or the proof of none.

    Args:
        places: a puzzle along one strip or ring whose only demands are neighbours, uses and a gap.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent; each node of the solver is a step.
    """
    gap = places.spacing - 1
    if places.count <= 2 * gap:
        return Verdict.UNDECIDED
    graph = _graph(places, adjacent, gap)
    if graph is None:
        return Verdict.UNDECIDED
    if not graph.arcs:
        return Verdict.IMPOSSIBLE
    if not budget.spend(len(graph.arcs) // ARCS_A_STEP):
        return Verdict.UNDECIDED
    program = _Program(graph, places, gap, len(adjacent))
    for _ in range(MOST_CUTS):
        answer = program.solve(budget)
        if isinstance(answer, Verdict):
            return answer
        starts, taken = answer
        outside = _walk(graph, starts, taken)
        if isinstance(outside, list):
            return _colours(graph, outside, places)
        program.cut(outside, starts, taken)
    return Verdict.UNDECIDED


def _graph(places: Places, adjacent: tuple[int, ...], gap: int) -> _Graph | None:
    rows: list[Window] = [(c,) for c in range(len(adjacent)) if places.domains[0] >> c & 1]
    windows: list[Window] = rows if gap == 1 else []
    for length in range(2, gap + 2):
        rows = [
            (*row, c)
            for row in rows
            for c in range(len(adjacent))
            if adjacent[row[-1]] >> c & 1 and places.domains[0] >> c & 1 and c not in row
        ]
        if len(rows) > MOST_ARCS:
            return None
        if length == gap:
            windows = rows
    number = {window: i for i, window in enumerate(windows)}
    arcs = [(number[row[:-1]], number[row[1:]]) for row in rows]
    return _Graph(windows=windows, arcs=arcs)


class _Program:
    """Columns: arc counts, then starts, then ends, then whether a window is used."""

    def __init__(self, graph: _Graph, places: Places, gap: int, colours: int) -> None:
        self.graph, self.places = graph, places
        self.arcs, self.nodes = len(graph.arcs), len(graph.windows)
        self.width = self.arcs + 3 * self.nodes
        self.rows: list[dict[int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []
        ends = 0.0 if places.ring else 1.0
        motifs = places.count if places.ring else places.count - gap
        self._add(dict.fromkeys(range(self.arcs), 1.0), motifs, motifs)
        for first in (self.arcs, self.arcs + self.nodes):
            self._add(dict.fromkeys(range(first, first + self.nodes), 1.0), ends, ends)
        self._balance()
        self._uses(colours)

    def _add(self, row: dict[int, float], low: float, high: float) -> None:
        self.rows.append(row)
        self.low.append(low)
        self.high.append(high)

    def _balance(self) -> None:
        rows: list[dict[int, float]] = [{} for _ in self.graph.windows]
        for arc, (before, after) in enumerate(self.graph.arcs):
            rows[after][arc] = rows[after].get(arc, 0.0) + 1.0
            rows[before][arc] = rows[before].get(arc, 0.0) - 1.0
        for v, row in enumerate(rows):
            row[self.arcs + v], row[self.arcs + self.nodes + v] = 1.0, -1.0
            self._add(row, 0.0, 0.0)

    def _uses(self, colours: int) -> None:
        for c in range(colours):
            row = {
                arc: 1.0
                for arc, (_, after) in enumerate(self.graph.arcs)
                if self.graph.windows[after][-1] == c
            }
            for v, window in enumerate(self.graph.windows):
                if c in window:
                    row[self.arcs + v] = 1.0
            self._add(row, float(self.places.least[c]), float(self.places.most[c]))

    def solve(self, budget: Budget) -> tuple[int, NDArray[np.int64]] | Verdict:
        """The window to start from, -1 in a ring, and how often each arc is taken."""
        cells = [(r, c, v) for r, row in enumerate(self.rows) for c, v in row.items()]
        upper = np.ones(self.width)
        upper[: self.arcs] = self.places.count
        values = whole_answer(
            table(cells, len(self.rows), self.width),
            (self.low, self.high),
            (np.zeros(self.width), upper),
            budget,
        )
        if isinstance(values, Verdict):
            return values
        starts = np.flatnonzero(values[self.arcs : self.arcs + self.nodes])
        return (int(starts[0]) if len(starts) else -1), values[: self.arcs]

    def cut(self, outside: set[int], start: int, taken: NDArray[np.int64]) -> None:
        """Ask that windows left out by the walk be entered, wherever one of them is used."""
        row: dict[int, float] = {}
        for arc, (before, after) in enumerate(self.graph.arcs):
            if before not in outside and after in outside:
                row[arc] = 1.0
        for v in outside:
            row[self.arcs + v] = 1.0
        inside = self._mark(min(outside))
        needed = 0.0
        row[inside] = -1.0
        if start < 0:
            used = {v for arc in np.flatnonzero(taken) for v in self.graph.arcs[arc]}
            row[self._mark(min(used - outside))] = -1.0
            needed = -1.0
        self._add(row, needed, np.inf)

    def _mark(self, window: int) -> int:
        """The column that is 1 where a window is used, tied to it the first time it is asked."""
        column = self.arcs + 2 * self.nodes + window
        tie = {arc: 1.0 for arc, (_, after) in enumerate(self.graph.arcs) if after == window}
        tie[column] = -float(self.places.count)
        if tie not in self.rows:
            self._add(tie, -np.inf, 0.0)
        return column


def _walk(graph: _Graph, start: int, taken: NDArray[np.int64]) -> list[int] | set[int]:
    """The walk over all arcs taken (Hierholzer 1873, from memory), or a part that it leaves out."""
    left: dict[int, list[int]] = {}
    for arc in np.flatnonzero(taken)[::-1]:
        before, after = graph.arcs[arc]
        left.setdefault(before, []).extend([after] * int(taken[arc]))
    begin = start if start >= 0 else min(left)
    stack, walk = [begin], []
    while stack:
        onward = left.get(stack[-1])
        if onward:
            stack.append(onward.pop())
        else:
            walk.append(stack.pop())
    rest = {v: row for v, row in left.items() if row}
    if not rest:
        return walk[::-1]
    part, todo = {min(rest)}, [min(rest)]
    while todo:
        for v in rest.get(todo.pop(), []):
            if v not in part:
                part.add(v)
                todo.append(v)
    return part


def _colours(graph: _Graph, walk: list[int], places: Places) -> tuple[int, ...]:
    if places.ring:
        return tuple(graph.windows[v][-1] for v in walk[1:])
    return graph.windows[walk[0]] + tuple(graph.windows[v][-1] for v in walk[1:])
