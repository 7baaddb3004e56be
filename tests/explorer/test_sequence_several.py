"""Several orders: different, good, and told as they are."""

from itertools import product

import numpy as np
import pytest
from numpy.typing import NDArray

from explorer.sequence import Arrangement, NoOrder, OrderBrief, best_order
from explorer.sequence_several import NEAR, canonical, differing_places, several_orders


def points(colours: int, seed: int) -> NDArray[np.float64]:
    spots = np.random.default_rng(seed).random((colours, 3)) * [100.0, 80.0, 80.0]
    return np.asarray(np.sqrt(((spots[:, None] - spots[None]) ** 2).sum(-1)))


@pytest.mark.parametrize("kind", list(Arrangement))
def test_orders_are_no_rotations_or_reflections_of_each_other(kind: Arrangement) -> None:
    matrix = points(6, 2)
    brief = OrderBrief(motifs=24, arrangement=kind)
    orders = several_orders(matrix, brief, 5)
    assert isinstance(orders, tuple)
    assert len(orders) == 5
    assert orders[0] == best_order(matrix, brief)
    names: set[tuple[int, ...]] = set()
    for order in orders:
        turned = [way[i:] + way[:i] for way in (order.order, order.order[::-1]) for i in range(24)]
        assert not names & set(turned)
        names.add(order.order)


def test_every_order_is_near_the_best_and_says_how_near() -> None:
    matrix = points(8, 3)
    orders = several_orders(matrix, OrderBrief(motifs=24, gap=2), 6)
    assert isinstance(orders, tuple)
    best = orders[0].weakest
    assert best is not None
    for order in orders:
        steps = [float(matrix[a, b]) for a, b in zip(order.order, order.order[1:], strict=False)]
        assert order.weakest == min(steps)
        assert NEAR * best <= order.weakest <= best
        assert order.proven == (order.weakest == best)
        assert order.distance is not None
        assert order.distance > 2
        assert all(n == 3 for n in order.counts)


def test_small_cases_give_all_there_are() -> None:
    matrix = 50.0 * (1.0 - np.eye(3))
    brief = OrderBrief(motifs=6, ring=True)
    every = {
        canonical(order)
        for order in product(range(3), repeat=6)
        if all(order.count(c) == 2 for c in range(3))
        and all(order[i] != order[i - 1] for i in range(6))
    }
    orders = several_orders(matrix, brief, 50)
    assert isinstance(orders, tuple)
    assert {canonical(order.order) for order in orders} == every


def test_what_cannot_be_is_told_as_for_one() -> None:
    answer = several_orders(np.array([[0.0, 9.0], [9.0, 0.0]]), OrderBrief(motifs=5, ring=True), 3)
    assert isinstance(answer, NoOrder)
    with pytest.raises(ValueError, match="at least 1"):
        several_orders(points(3, 1), OrderBrief(motifs=4), 0)


def test_turned_strips_count_as_the_same() -> None:
    assert differing_places((0, 1, 2, 0, 1, 2), (2, 1, 0, 2, 1, 0)) == 0
    assert differing_places((0, 1, 2, 0, 1, 2), (0, 1, 2, 0, 2, 1)) > 0
    assert canonical((2, 0, 1)) == canonical((1, 0, 2)) == (0, 1, 2)


def test_the_same_question_has_the_same_answers() -> None:
    matrix, brief = points(7, 5), OrderBrief(motifs=20)
    assert several_orders(matrix, brief, 4) == several_orders(matrix, brief, 4)
