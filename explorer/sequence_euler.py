"""A whole strip as an Eulerian circuit: how often each pair of colours meets, by integer program.

Colours are nodes; how often two of them stand side by side is the multiplicity of their edge. A
ring of n motifs is an Eulerian circuit, in which a colour used m times has 2m edge ends; an open
strip is one as well, once a dummy node stands between its last motif and its first. So an order
exists just where integer multiplicities with those degrees make one connected graph. Connectivity
is asked for only where an answer lacks it, as in the subtour cuts of Dantzig, Fulkerson and
Johnson (1954, from memory).
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_places import Places
from explorer.sequence_program import whole_answer

# Chosen by us: each cut joins two parts, so that few are ever needed; the limit only ends a loop.
MOST_CUTS = 200


@dataclass(slots=True)
class _Program:
    """The rows of the integer program; columns are edges, end marks, uses and whether used."""

    edges: list[tuple[int, int]]
    colours: list[int]
    lower: NDArray[np.float64]
    upper: NDArray[np.float64]
    rows: list[NDArray[np.float64]] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)

    def add(self, row: NDArray[np.float64], lower: float, upper: float) -> None:
        self.rows.append(row)
        self.row_lower.append(lower)
        self.row_upper.append(upper)

    @property
    def width(self) -> int:
        return len(self.edges) + 3 * len(self.colours)

    def end(self, index: int) -> int:
        return len(self.edges) + index

    def uses(self, index: int) -> int:
        return len(self.edges) + len(self.colours) + index

    def used(self, index: int) -> int:
        return len(self.edges) + 2 * len(self.colours) + index


def meeting_counts(
    places: Places,
    adjacent: tuple[int, ...],
    budget: Budget,
    limits: dict[tuple[int, int], int] | None = None,
) -> dict[tuple[int, int], int] | Verdict:
    """How often each two colours meet in some order of a plain puzzle.

    Args:
        places: a plain puzzle: only neighbours and uses matter.
        adjacent: for each colour the colours that may stand beside it, as bits.
        budget: work that may be spent; each node of the solver is a step.
        limits: how often pairs ``(a, b)`` with a < b are to meet at the least.

    Returns:
        Multiplicities of pairs ``(a, b)`` with a < b, connected; in an open strip the pairs
        ``(-1, c)`` are its two ends. Or the verdict that there are none.
    """
    program = _program(places, adjacent)
    for i, edge in enumerate(program.edges):
        program.lower[i] = (limits or {}).get(edge, 0)
    for _ in range(MOST_CUTS):
        answer = whole_answer(
            np.array(program.rows),
            (program.row_lower, program.row_upper),
            (program.lower, program.upper),
            budget,
        )
        if isinstance(answer, Verdict):
            return answer
        meetings = _meetings(program, answer)
        parts = components(meetings)
        if len(parts) == 1:
            return meetings
        for part in parts:
            if -1 not in part:
                _cut(program, part, [c for other in parts if other is not part for c in other])
    return Verdict.UNDECIDED


def components(meetings: dict[tuple[int, int], int]) -> list[set[int]]:
    """The connected parts of a graph given by its edges."""
    parts: list[set[int]] = []
    for a, b in meetings:
        joined = {a, b}
        rest = []
        for part in parts:
            if part & joined:
                joined |= part
            else:
                rest.append(part)
        parts = [*rest, joined]
    return parts


def _program(places: Places, adjacent: tuple[int, ...]) -> _Program:
    colours = [c for c in range(len(adjacent)) if places.domains[0] >> c & 1]
    edges = [(a, b) for a in colours for b in colours if a < b and adjacent[a] >> b & 1]
    count = len(colours)
    low = np.array([places.least[c] for c in colours], dtype=float)
    high = np.array([min(places.most[c], places.count) for c in colours], dtype=float)
    end = np.zeros(count) if places.ring else np.full(count, 2.0)
    program = _Program(
        edges=edges,
        colours=colours,
        lower=np.concatenate([np.zeros(len(edges) + count), low, (low > 0).astype(float)]),
        upper=np.concatenate([np.full(len(edges), float(places.count)), end, high, np.ones(count)]),
    )
    _degree_rows(program, places, high)
    return program


def _degree_rows(program: _Program, places: Places, high: NDArray[np.float64]) -> None:
    total, ends = np.zeros(program.width), np.zeros(program.width)
    for index, c in enumerate(program.colours):
        row = np.zeros(program.width)
        row[[i for i, edge in enumerate(program.edges) if c in edge]] = 1.0
        row[program.end(index)] = 1.0
        row[program.uses(index)] = -2.0
        program.add(row, 0.0, 0.0)
        total[program.uses(index)] = 1.0
        ends[program.end(index)] = 1.0
        if program.lower[program.used(index)] < 1.0:
            link = np.zeros(program.width)
            link[program.uses(index)], link[program.used(index)] = 1.0, -high[index]
            program.add(link, -np.inf, 0.0)
    program.add(total, float(places.count), float(places.count))
    if not places.ring:
        program.add(ends, 2.0, 2.0)


def _cut(program: _Program, part: set[int], outside: list[int]) -> None:
    """Ask that a part be left, wherever it and something outside it are used."""
    row = np.zeros(program.width)
    for i, (a, b) in enumerate(program.edges):
        row[i] = float((a in part) != (b in part))
    for index, c in enumerate(program.colours):
        row[program.end(index)] = float(c in part)
    inside = _surest(program, sorted(part))
    row[program.used(inside)] -= 2.0
    needed = 0.0
    if -1 not in outside:
        row[program.used(_surest(program, sorted(outside)))] -= 2.0
        needed = -2.0
    program.add(row, needed, np.inf)


def _surest(program: _Program, colours: list[int]) -> int:
    """Of these colours, the first that must be used, or else the first."""
    indices = [program.colours.index(c) for c in colours]
    return max(indices, key=lambda i: (program.lower[program.used(i)], -i))


def _meetings(program: _Program, answer: NDArray[np.int64]) -> dict[tuple[int, int], int]:
    meetings = {edge: int(answer[i]) for i, edge in enumerate(program.edges) if answer[i]}
    for index, c in enumerate(program.colours):
        if answer[program.end(index)]:
            meetings[(-1, c)] = int(answer[program.end(index)])
    return meetings
