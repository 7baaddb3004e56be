"""Every order there is, against the search: up to 5 colours over 9 motifs, enumerated once."""

import os
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from math import lcm

import numpy as np
import pytest
from numpy.typing import NDArray

from explorer.sequence import NoOrder, Order, OrderBrief, best_order

LONG = bool(os.environ.get("DANGLEWISE_LONG_CHECKS"))
CASES = 400 if LONG else 25
UNIT = lcm(*range(1, 10))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class All:
    """Every order without alike neighbours, with what does not depend on the differences."""

    orders: NDArray[np.int8]
    counts: NDArray[np.int8]
    pairs: NDArray[np.int64]
    distance: NDArray[np.int64]
    shortfall: NDArray[np.int64]


@cache
def every_order(colours: int, motifs: int, ring: bool) -> All:
    orders = np.indices((colours,) * motifs, dtype=np.int8).reshape(motifs, -1).T
    meet = [(i, i + 1) for i in range(motifs - 1)] + ([(motifs - 1, 0)] if ring else [])
    for i, j in meet:
        orders = orders[orders[:, i] != orders[:, j]]
    bit = np.zeros((colours, colours), dtype=np.int64)
    for number, (a, b) in enumerate(combinations(range(colours), 2)):
        bit[a, b] = bit[b, a] = 1 << number
    pairs = np.zeros(len(orders), dtype=np.int64)
    for i, j in meet:
        pairs |= bit[orders[:, i], orders[:, j]]
    counts = np.stack([(orders == c).sum(1) for c in range(colours)], axis=1).astype(np.int8)
    distance, shortfall = spread_of(orders, counts, ring)
    return All(orders=orders, counts=counts, pairs=pairs, distance=distance, shortfall=shortfall)


def spread_of(
    orders: NDArray[np.int8], counts: NDArray[np.int8], ring: bool
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The definition read word by word, for all orders at once; the sum in units of 1/UNIT^2."""
    rows, motifs = orders.shape
    distance = np.full(rows, 99, dtype=np.int64)
    shortfall = np.zeros(rows, dtype=np.int64)
    for place in range(motifs):
        open_row = np.ones(rows, dtype=bool)
        uses = counts[np.arange(rows), orders[:, place]].astype(np.int64)
        for gap in range(1, motifs):
            later = place + gap
            if later >= motifs and not ring:
                break
            hit = open_row & (orders[:, place] == orders[:, later % motifs])
            open_row &= ~hit
            distance[hit] = np.minimum(distance[hit], gap)
            short = np.maximum(0, motifs * UNIT // np.maximum(uses, 1) - gap * UNIT) ** 2
            shortfall[hit] += short[hit]
    return distance, shortfall


def brute(matrix: NDArray[np.float64], brief: OrderBrief) -> tuple[float, int, int] | None:
    """The best weakest, and at it the best distance and shortfall."""
    every = every_order(len(matrix), brief.motifs, brief.ring)
    good = (every.counts >= brief.least).all(1) & (every.counts <= brief.most).all(1)
    good &= every.distance > brief.gap
    for place, colour in brief.fixed:
        good &= every.orders[:, place] == colour
    if not good.any():
        return None
    values = [matrix[a, b] for a, b in combinations(range(len(matrix)), 2)]
    table = np.full(1 << len(values), np.inf)
    for number, value in enumerate(values):
        table[1 << number : 2 << number] = np.minimum(table[: 1 << number], value)
    weakest = table[every.pairs]
    best = float(weakest[good].max())
    good &= weakest == best
    distance = int(every.distance[good].max())
    good &= every.distance == distance
    return best, distance, int(every.shortfall[good].min())


def random_case(
    rng: np.random.Generator, colours: int, motifs: int
) -> tuple[NDArray[np.float64], OrderBrief]:
    matrix = rng.random((colours, colours)) * 60.0
    if rng.random() < 0.3:
        matrix = np.floor(matrix / 12.0)  # many equal differences, zero among them
    matrix = matrix + matrix.T
    np.fill_diagonal(matrix, 0.0)
    least: tuple[int, ...] = (motifs // colours,) * colours
    most: tuple[int, ...] = (-(-motifs // colours),) * colours
    if rng.random() < 0.6:
        least = tuple(int(x) for x in rng.integers(0, max(1, motifs // colours) + 1, colours))
        extra = rng.integers(0, motifs, colours)
        most = tuple(int(low + x) for low, x in zip(least, extra, strict=True))
    gap = int(rng.choice([0, 0, 1, 2, 3]))
    fixed: tuple[tuple[int, int], ...] = ()
    if rng.random() < 0.4:
        places = rng.choice(motifs, size=int(rng.integers(1, min(4, motifs))), replace=False)
        fixed = tuple((int(p), int(rng.integers(colours))) for p in places)
    brief = OrderBrief(
        motifs=motifs, ring=bool(rng.random() < 0.5), least=least, most=most, gap=gap, fixed=fixed
    )
    return matrix, brief


SHAPES = [(k, n) for k in (2, 3, 4, 5) for n in range(2, 10) if k**n <= 20_000] + [
    (k, n) for k, n in ((4, 8), (4, 9), (5, 7), (5, 8), (5, 9)) if LONG or (k, n) != (5, 9)
]


@pytest.mark.parametrize(("colours", "motifs"), SHAPES)
def test_the_search_is_as_good_as_looking_at_every_order(colours: int, motifs: int) -> None:
    rng = np.random.default_rng([colours, motifs])
    spreads = 0
    for _ in range(CASES):
        matrix, brief = random_case(rng, colours, motifs)
        if sum(1 for high in brief.most if high) < 2 or not matrix[np.ix_(*usable(brief))].any():
            continue  # alike by choice has its own test
        expected = brute(matrix, brief)
        answer = best_order(matrix, brief)
        if expected is None:
            assert isinstance(answer, NoOrder), (matrix, brief, answer)
            assert answer.proven, (matrix, brief, answer)
            continue
        assert isinstance(answer, Order), (matrix, brief, answer, expected)
        assert_keeps_to(brief, answer)
        assert answer.proven, (matrix, brief, answer)
        assert answer.weakest == expected[0], (matrix, brief, answer, expected)
        mine = (-(answer.distance or 99), round(answer.shortfall * UNIT**2))
        best = (-expected[1], expected[2])
        assert mine >= best, (matrix, brief, answer, expected)
        if answer.proven_spread:
            assert mine == best, (matrix, brief, answer, expected)
        spreads += answer.proven_spread
    assert spreads or (colours == 2 and motifs % 2)


def usable(brief: OrderBrief) -> tuple[list[int], list[int]]:
    colours = [c for c, high in enumerate(brief.most) if high]
    return colours, colours


def assert_keeps_to(brief: OrderBrief, answer: Order) -> None:
    order = answer.order
    assert len(order) == brief.motifs
    assert answer.counts == tuple(order.count(c) for c in range(len(brief.least)))
    assert all(
        low <= uses <= high
        for low, uses, high in zip(brief.least, answer.counts, brief.most, strict=True)
    )
    assert all(order[place] == colour for place, colour in brief.fixed)
    turns = order + order[: brief.gap] if brief.ring else order
    for i in range(len(turns)):
        for j in range(i + 1, min(len(turns), i + brief.gap + 1)):
            assert turns[i] != turns[j] or (j - i) % brief.motifs == 0
