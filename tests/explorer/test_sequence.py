"""The front door: what a maker may ask of an order, and what comes back."""

import itertools
import subprocess
import sys
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from explorer.sequence import QUICK_STEPS, NoOrder, Order, OrderBrief, balanced, best_order


def points(colours: int, seed: int) -> NDArray[np.float64]:
    """Distances between random points: differences as they are between real colours."""
    spots = np.random.default_rng(seed).random((colours, 3)) * [100.0, 80.0, 80.0]
    return np.asarray(np.sqrt(((spots[:, None] - spots[None]) ** 2).sum(-1)))


def found(matrix: NDArray[np.float64], brief: OrderBrief) -> Order:
    answer = best_order(matrix, brief)
    assert isinstance(answer, Order), answer
    return answer


def refused(matrix: NDArray[np.float64], brief: OrderBrief) -> NoOrder:
    answer = best_order(matrix, brief)
    assert isinstance(answer, NoOrder), answer
    return answer


def test_balanced_uses_give_or_take_one() -> None:
    assert balanced(5, 24) == ((4,) * 5, (5,) * 5)
    assert balanced(8, 40) == ((5,) * 8, (5,) * 8)
    assert balanced(3, 2) == ((0,) * 3, (1,) * 3)
    with pytest.raises(ValueError, match="at least 1 colour"):
        balanced(0, 4)


def test_one_motif_has_no_neighbour() -> None:
    order = found(points(4, 1), OrderBrief(motifs=1))
    assert (order.weakest, order.weakest_pair, order.closure, order.mean) == (None,) * 4
    assert order.proven
    assert len(order.order) == 1


@pytest.mark.parametrize("ring", [False, True])
@pytest.mark.parametrize("motifs", [1, 2, 3])
@pytest.mark.parametrize("colours", [2, 3])
def test_any_settled_places_are_granted_where_some_order_has_them(
    colours: int, motifs: int, ring: bool
) -> None:
    # Every way to settle places, against every order there is, looked at one by one.
    matrix = points(colours, 2)
    meet = [(i, i + 1) for i in range(motifs - 1)] + ([(motifs - 1, 0)] if ring else [])
    meet = [(i, j) for i, j in meet if i != j]
    for wishes in itertools.product((None, *range(colours)), repeat=motifs):
        fixed = tuple((i, c) for i, c in enumerate(wishes) if c is not None)
        brief = OrderBrief(
            motifs=motifs, ring=ring, fixed=fixed, least=(0,) * colours, most=(motifs,) * colours
        )
        best = max(
            (
                min((matrix[order[i], order[j]] for i, j in meet), default=np.inf)
                for order in itertools.product(range(colours), repeat=motifs)
                if all(order[place] == colour for place, colour in fixed)
                and all(order[i] != order[j] for i, j in meet)
            ),
            default=None,
        )
        answer = best_order(matrix, brief)
        if best is None:
            assert isinstance(answer, NoOrder), wishes
            continue
        assert isinstance(answer, Order), wishes
        assert answer.proven
        assert answer.weakest == (None if best == np.inf else best)
        assert all(answer.order[place] == colour for place, colour in fixed)


def test_one_colour_for_every_motif_is_a_valid_wish() -> None:
    for ring in (False, True):
        order = found(np.zeros((1, 1)), OrderBrief(motifs=5, ring=ring))
        assert order.order == (0,) * 5
        assert order.weakest == 0.0
        assert order.proven


def test_a_colour_given_twice_is_the_makers_choice() -> None:
    matrix = np.array([[0.0, 0.0], [0.0, 0.0]])
    order = found(matrix, OrderBrief(motifs=5, ring=True))
    assert order.weakest == 0.0
    assert sorted(order.counts) == [2, 3]


def test_two_colours_take_turns() -> None:
    matrix = np.array([[0.0, 30.0], [30.0, 0.0]])
    assert found(matrix, OrderBrief(motifs=6, ring=True)).weakest == 30.0
    assert found(matrix, OrderBrief(motifs=7)).weakest == 30.0


def test_two_colours_in_an_odd_ring_name_the_nearest_counts_that_work() -> None:
    matrix = np.array([[0.0, 30.0], [30.0, 0.0]])
    least, most = balanced(2, 7)
    for brief in (
        OrderBrief(motifs=7, ring=True),
        OrderBrief(motifs=7, ring=True, least=least, most=most),
    ):
        refusal = refused(matrix, brief)
        assert refusal.proven
        assert {c.to for c in refusal.changes if c.field == "motifs"} == {6, 8}
        assert "odd" in refusal.why


def test_more_colours_than_motifs_takes_those_that_differ_most() -> None:
    line = np.array([0.0, 1.0, 50.0, 100.0])
    matrix = np.abs(line[:, None] - line[None])
    order = found(matrix, OrderBrief(motifs=2))
    assert set(order.order) == {0, 3}
    assert order.weakest == 100.0


def test_a_ring_of_two_counts_its_one_pair() -> None:
    matrix = np.array([[0.0, 30.0], [30.0, 0.0]])
    order = found(matrix, OrderBrief(motifs=2, ring=True))
    assert (order.weakest, order.weakest_pair) == (30.0, (0, 1))


def test_the_weakest_pair_is_the_first_along_the_strip_and_is_what_it_says() -> None:
    matrix = points(6, 3)
    for ring in (False, True):
        order = found(matrix, OrderBrief(motifs=24, ring=ring))
        steps = list(zip(order.order, order.order[1:], strict=False))
        if ring:
            steps.append((order.order[-1], order.order[0]))
        values = [matrix[a, b] for a, b in steps]
        assert order.weakest == min(values)
        place = values.index(min(values))
        assert order.weakest_pair == (place, (place + 1) % 24)
        assert order.mean == pytest.approx(sum(values) / len(values), rel=1e-12)
        assert order.closure == matrix[order.order[-1], order.order[0]]


def test_two_parts_that_never_meet_do_not_make_one_strip() -> None:
    """Each pair keeps its uses apart well, but one strip cannot hold both pairs at that level."""
    matrix = np.full((4, 4), 10.0)
    matrix[0, 1] = matrix[1, 0] = matrix[2, 3] = matrix[3, 2] = 50.0
    both = found(matrix, OrderBrief(motifs=8, ring=True, least=(2,) * 4, most=(2,) * 4))
    assert both.weakest == 10.0
    either = found(matrix, OrderBrief(motifs=8, ring=True, least=(0,) * 4, most=(8,) * 4))
    assert either.weakest == 50.0
    forced = found(matrix, OrderBrief(motifs=8, ring=True, least=(0,) * 4, most=(3,) * 4))
    assert forced.weakest == 10.0


@pytest.mark.parametrize(("motifs", "ring"), [(1000, False), (1000, True), (10_000, False)])
def test_twelve_colours_over_a_very_long_strip_are_proved(motifs: int, ring: bool) -> None:
    order = found(points(12, 5), OrderBrief(motifs=motifs, ring=ring))
    assert order.proven
    assert order.bound == order.weakest
    least, most = balanced(12, motifs)
    assert all(a <= n <= b for a, n, b in zip(least, order.counts, most, strict=True))
    assert not order.proven_spread


@pytest.mark.parametrize("seed", range(6))
def test_eight_colours_over_forty_motifs_are_proved_with_gap_and_settled_places(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = rng.choice(40, 3, replace=False)
    brief = OrderBrief(
        motifs=40,
        ring=bool(seed % 2),
        least=(3,) * 8,
        most=(7,) * 8,
        gap=1 + seed % 3,
        fixed=tuple((int(p), int(rng.integers(8))) for p in places),
    )
    order = found(points(8, seed), brief)
    assert order.proven
    assert order.distance is not None
    assert order.distance > brief.gap


def test_the_same_question_has_the_same_answer_and_renaming_colours_changes_no_strength() -> None:
    matrix = points(7, 9)
    brief = OrderBrief(motifs=24)
    assert found(matrix, brief) == found(matrix.copy(), brief)
    turned = np.roll(np.roll(matrix, 3, 0), 3, 1)
    assert found(turned, brief).weakest == found(matrix, brief).weakest


def test_a_quick_answer_is_never_wrong_only_less_sure() -> None:
    for seed in range(12):
        matrix, ring = points(5 + seed % 4, seed), bool(seed % 2)
        best = found(matrix, OrderBrief(motifs=24, ring=ring))
        quick = found(matrix, OrderBrief(motifs=24, ring=ring, steps=QUICK_STEPS))
        assert best.weakest is not None
        assert quick.weakest is not None
        assert quick.bound is not None
        assert quick.weakest <= best.weakest <= quick.bound
        assert quick.proven == (quick.weakest == quick.bound)
        assert not quick.proven or quick.weakest == best.weakest


def test_giving_up_a_little_strength_spreads_repeats_and_is_told() -> None:
    matrix = points(8, 1)
    best = found(matrix, OrderBrief(motifs=24))
    eased = found(matrix, OrderBrief(motifs=24, give=0.2))
    assert best.weakest is not None
    assert eased.weakest is not None
    assert best.distance is not None
    assert eased.distance is not None
    assert eased.weakest >= 0.8 * best.weakest
    assert eased.distance > best.distance
    assert eased.bound == best.weakest
    assert eased.proven == (eased.weakest == best.weakest)


def test_a_search_can_be_cancelled_between_steps() -> None:
    asked: list[int] = []

    def stop(spent: int) -> bool:
        asked.append(spent)
        return False

    matrix = np.ones((8, 8)) + points(8, 2)
    brief = OrderBrief(motifs=40, ring=True, gap=4, least=(3,) * 8, most=(7,) * 8)
    answer = best_order(matrix, brief, stop)
    assert len(asked) <= 3
    if isinstance(answer, Order):
        assert len(answer.order) == 40
    else:
        assert not answer.proven


def test_a_search_reports_its_steps_as_they_grow() -> None:
    asked: list[int] = []

    def go_on(spent: int) -> bool:
        asked.append(spent)
        return True

    best_order(points(8, 2), OrderBrief(motifs=30, ring=True), go_on)
    assert asked


def test_no_steps_at_all_still_give_an_order_and_an_honest_bound() -> None:
    order = found(points(8, 4), OrderBrief(motifs=40, steps=0))
    assert len(order.order) == 40
    assert order.bound is not None
    assert order.weakest is not None
    best = found(points(8, 4), OrderBrief(motifs=40))
    assert best.weakest is not None
    assert order.weakest < best.weakest <= order.bound
    assert not order.proven


@pytest.mark.parametrize(
    ("matrix", "brief", "words"),
    [
        (np.zeros((2, 3)), OrderBrief(motifs=4), "square"),
        (np.zeros((0, 0)), OrderBrief(motifs=4), "square"),
        (np.array([[0.0, 1.0], [2.0, 0.0]]), OrderBrief(motifs=4), "both ways"),
        (np.array([[0.0, -1.0], [-1.0, 0.0]]), OrderBrief(motifs=4), "at least 0"),
        (np.array([[0.0, np.nan], [np.nan, 0.0]]), OrderBrief(motifs=4), "finite"),
        (np.ones((2, 2)), OrderBrief(motifs=4, least=(1,)), "2 uses"),
        (np.ones((2, 2)), OrderBrief(motifs=4, fixed=((0, 2),)), "from 0 to 1"),
        (np.ones((60, 60)), OrderBrief(motifs=4), "at most 48 colours"),
    ],
)
def test_a_wrong_question_is_named(
    matrix: NDArray[np.float64], brief: OrderBrief, words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        best_order(matrix, brief)


@pytest.mark.parametrize(
    ("field", "value"),
    [("motifs", 0), ("motifs", 10**6), ("gap", -1), ("steps", -1), ("fixed", ((9, 0),))],
)
def test_a_brief_is_checked_at_birth(field: str, value: object) -> None:
    values: dict[str, Any] = {"motifs": 4, field: value}
    with pytest.raises(ValueError, match="got"):
        OrderBrief(**values)


def test_strips_of_24_motifs_read_as_many_coloured_when_repeats_are_kept_apart() -> None:
    """With a gap of two no colour goes back and forth; the gap costs strength and no colours."""
    for colours in (5, 6, 7, 8):
        for seed in range(4):
            order = found(points(colours, seed), OrderBrief(motifs=24, gap=2))
            assert order.distance is not None
            assert order.distance >= 3
            for start in range(24 - 5):
                assert len(set(order.order[start : start + 6])) >= 4 - (colours == 5)


def test_importing_the_front_door_loads_no_heavy_library() -> None:
    code = (
        "import sys, explorer.sequence; "
        "print(sorted({'scipy', 'skimage', 'colour', 'streamlit', 'PIL'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
