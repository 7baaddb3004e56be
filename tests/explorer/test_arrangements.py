"""Arrangements against every filling there is, and the words that name them."""

from collections.abc import Iterator
from itertools import pairwise, permutations, product

import numpy as np
import pytest
from numpy.typing import NDArray

from explorer.sequence import Arrangement, NoOrder, Order, OrderBrief, best_order
from explorer.sequence_run import VISIBLE_STEP


def random_matrix(rng: np.random.Generator, colours: int) -> NDArray[np.float64]:
    matrix = np.triu(rng.random((colours, colours)) * 60.0 + 1.0, 1)
    return matrix + matrix.T


def found(matrix: NDArray[np.float64], brief: OrderBrief) -> Order:
    answer = best_order(matrix, brief)
    assert isinstance(answer, Order), answer
    return answer


def within_uses(order: tuple[int, ...], brief: OrderBrief) -> bool:
    return all(
        low <= order.count(c) <= high
        for c, (low, high) in enumerate(zip(brief.least, brief.most, strict=True))
    )


def units(brief: OrderBrief, colours: int) -> Iterator[tuple[int, ...]]:
    for unit in product(range(colours), repeat=brief.length):
        order = tuple(unit[i % brief.length] for i in range(brief.motifs))
        steps = list(pairwise(order))
        steps += [(order[-1], order[0])] if brief.ring else []
        if all(a != b for a, b in steps):
            yield order


def mirrors(brief: OrderBrief, colours: int) -> Iterator[tuple[int, ...]]:
    half = -(-brief.motifs // 2)
    for row in product(range(colours), repeat=half):
        if all(a != b for a, b in pairwise(row)):
            yield row + (row[: brief.motifs - half])[::-1]


def weakest_judged(order: tuple[int, ...], matrix: NDArray[np.float64], brief: OrderBrief) -> float:
    steps = list(pairwise(order))
    if brief.arrangement is Arrangement.UNIT and brief.ring:
        steps.append((order[-1], order[0]))
    return min(float(matrix[a, b]) for a, b in steps if a != b)


@pytest.mark.parametrize("seed", range(60))
@pytest.mark.parametrize("kind", [Arrangement.UNIT, Arrangement.MIRROR])
def test_the_best_of_all_fillings_is_found(kind: Arrangement, seed: int) -> None:
    rng = np.random.default_rng([seed, len(kind)])
    colours, motifs = int(rng.integers(2, 5)), int(rng.integers(4, 10))
    brief = OrderBrief(
        motifs=motifs,
        ring=bool(rng.random() < 0.5),
        least=tuple(int(x) for x in rng.integers(0, 1 + motifs // colours, colours)),
        most=tuple(int(x) for x in rng.integers(motifs // colours, motifs + 1, colours)),
        arrangement=kind,
        length=int(rng.integers(2, motifs + 1)),
    )
    matrix = random_matrix(rng, colours)
    every = (units if kind is Arrangement.UNIT else mirrors)(brief, colours)
    values = [weakest_judged(o, matrix, brief) for o in every if within_uses(o, brief)]
    answer = best_order(matrix, brief)
    if sum(1 for high in brief.most if high) < 2:
        return
    if not values:
        assert isinstance(answer, NoOrder), answer
        assert answer.proven
        return
    assert isinstance(answer, Order), answer
    assert answer.proven
    assert answer.weakest == max(values)
    assert answer.order in set((units if kind is Arrangement.UNIT else mirrors)(brief, colours))
    assert within_uses(answer.order, brief)


def test_a_unit_of_its_own_length_holds_every_colour_once() -> None:
    order = found(
        random_matrix(np.random.default_rng(1), 6),
        OrderBrief(motifs=22, arrangement=Arrangement.UNIT),
    ).order
    assert sorted(order[:6]) == list(range(6))
    assert all(order[i] == order[i % 6] for i in range(22))


@pytest.mark.parametrize(("motifs", "meant"), [(9, {(8, 0)}), (10, {(4, 5), (9, 0)})])
def test_a_mirrored_strip_is_judged_open_and_names_what_it_means(
    motifs: int, meant: set[tuple[int, int]]
) -> None:
    matrix = random_matrix(np.random.default_rng(2), 4)
    brief = OrderBrief(motifs=motifs, ring=True, arrangement=Arrangement.MIRROR)
    order = found(matrix, brief)
    assert order.order == order.order[::-1]
    assert set(order.meant) == meant
    assert order.closure == 0.0
    assert order.weakest is not None
    assert order.weakest > 0.0


@pytest.mark.parametrize("seed", range(20))
def test_blocks_are_whole_even_and_as_strong_as_any(seed: int) -> None:
    rng = np.random.default_rng(seed)
    matrix, motifs = random_matrix(rng, 5), int(rng.integers(5, 26))
    brief = OrderBrief(motifs=motifs, ring=bool(seed % 2), arrangement=Arrangement.BLOCKS)
    order = found(matrix, brief)
    runs = [order.order[i] for i in range(motifs) if not i or order.order[i] != order.order[i - 1]]
    assert sorted(runs) == list(range(5))
    assert max(order.counts) - min(order.counts) <= 1
    best = max(
        min(matrix[a, b] for a, b in zip(row, row[1:] + row[: brief.ring], strict=False))
        for row in permutations(range(5))
    )
    assert order.weakest == best
    assert all(order.order[i] == order.order[j] for i, j in order.meant)


def test_blocks_of_two_come_round_again() -> None:
    order = found(
        random_matrix(np.random.default_rng(3), 3),
        OrderBrief(motifs=12, arrangement=Arrangement.BLOCKS, length=2),
    ).order
    assert all(order[i] == order[i + 1] for i in range(0, 12, 2))
    assert all(order[i] != order[i + 1] for i in range(1, 11, 2))


@pytest.mark.parametrize("seed", range(60))
def test_a_run_takes_the_gentlest_visible_steps_of_all(seed: int) -> None:
    rng = np.random.default_rng(seed)
    matrix, motifs = random_matrix(rng, 5), int(rng.integers(2, 8))
    brief = OrderBrief(motifs=motifs, arrangement=Arrangement.RUN, ends=(0, 4))
    best: list[tuple[float, float]] = []
    for between in range(min(motifs, 5) - 1):
        for middle in permutations((1, 2, 3), between):
            path = (0, *middle, 4)
            steps = [float(matrix[a, b]) for a, b in pairwise(path)]
            if min(steps) >= VISIBLE_STEP:
                best.append((max(steps), sum(step * step for step in steps)))
    answer = best_order(matrix, brief)
    if not best:
        assert isinstance(answer, NoOrder)
        assert "ends" in answer.demands
        return
    assert isinstance(answer, Order)
    order = answer.order
    assert (order[0], order[-1]) == (0, 4)
    path = tuple(c for i, c in enumerate(order) if not i or c != order[i - 1])
    assert len(set(path)) == len(path)
    steps = [float(matrix[a, b]) for a, b in pairwise(path)]
    greatest, squares = min(best)
    assert answer.strongest == max(steps) == greatest
    assert sum(step * step for step in steps) == pytest.approx(squares, rel=1e-12)
    assert answer.weakest == min(steps)
    held = [order.count(c) for c in path]
    assert max(held) - min(held) <= 1


def test_a_run_through_greys_goes_one_by_one() -> None:
    tones = np.array([0.0, 30.0, 10.0, 40.0, 20.0])
    matrix = np.abs(tones[:, None] - tones[None])
    order = found(matrix, OrderBrief(motifs=10, ring=True, arrangement=Arrangement.RUN))
    path = order.order[::2]
    assert path in {(0, 2, 4, 1, 3), (3, 1, 4, 2, 0)}
    assert (9, 0) in order.meant
    assert order.strongest == order.weakest == 10.0


@pytest.mark.parametrize(
    ("brief", "demand"),
    [
        (OrderBrief(motifs=1, arrangement=Arrangement.RUN), "ends"),
        (OrderBrief(motifs=8, arrangement=Arrangement.RUN, ends=(2, 2)), "ends"),
        (OrderBrief(motifs=9, arrangement=Arrangement.RUN, gap=1), "gap"),
        (OrderBrief(motifs=9, arrangement=Arrangement.RUN, fixed=((4, 1),)), "fixed"),
        (
            OrderBrief(
                motifs=9,
                arrangement=Arrangement.RUN,
                least=(3, 3, 3),
                most=(3, 3, 3),
                ends=(0, 1),
            ),
            "least",
        ),
    ],
)
def test_a_run_that_cannot_be_says_what_stands_against_it(brief: OrderBrief, demand: str) -> None:
    line = np.array([0.0, 20.0, 90.0])
    answer = best_order(np.abs(line[:, None] - line[None]), brief)
    assert isinstance(answer, NoOrder)
    assert demand in answer.demands
    assert isinstance(best_order(np.abs(line[:, None] - line[None]), OrderBrief(motifs=9)), Order)


@pytest.mark.parametrize("kind", list(Arrangement))
@pytest.mark.parametrize("motifs", [1, 2, 3, 8])
def test_every_arrangement_takes_every_small_strip(kind: Arrangement, motifs: int) -> None:
    for colours in (1, 2, 5):
        matrix = random_matrix(np.random.default_rng(colours), colours)
        answer = best_order(matrix, OrderBrief(motifs=motifs, arrangement=kind))
        if kind is Arrangement.RUN and motifs == 1 and colours > 1:
            assert isinstance(answer, NoOrder)
        else:
            assert isinstance(answer, Order), answer
            assert len(answer.order) == motifs


def test_settled_places_hold_in_every_arrangement() -> None:
    matrix = random_matrix(np.random.default_rng(8), 5)
    for kind in Arrangement:
        order = found(matrix, OrderBrief(motifs=20, arrangement=kind, fixed=((0, 3),))).order
        assert order[0] == 3
