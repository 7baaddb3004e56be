"""What the jumps of CIEDE2000 can and cannot do to what is chosen.

The whole measurement is ``python -m tests.bench.measure_jumps``; this holds its key facts.
"""

import itertools

import numpy as np
import pytest

from explorer.order_choice import Found, choose_order, differences
from explorer.sequence import Order, OrderBrief, best_order
from palettes.difference import (
    CLEARLY_APART_FROM,
    DISTINCT_FROM,
    FAR_APART_FROM,
    HYAB,
    delta_e_2000,
    delta_e_hyab,
    pairwise,
    verdict,
)
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab
from tests.bench.measure_jumps import jumps, lab8, tallied


def both(hexes: list[str]) -> tuple[float, float]:
    """CIEDE2000 and HyAB of two colours."""
    one, other = srgb1_to_lab(hexes_to_srgb1(hexes))
    return float(delta_e_2000(one, other)), float(delta_e_hyab(one, other))


@pytest.mark.parametrize(
    ("fixed", "before", "after", "sides"),
    [
        # Far colours: one step of blue, and the difference falls by 43.
        ("00fe6e", "e900f9", "e900fa", (107.7, 64.6)),
        # A grey with a tinge beside a rose as light as itself: the lowest that was found.
        ("d42d6e", "6e7573", "6e7574", (33.3, 14.0)),
    ],
)
def test_a_step_of_one_channel_makes_it_jump_and_hyab_not(
    fixed: str, before: str, after: str, sides: tuple[float, float]
) -> None:
    first, second = both([fixed, before]), both([fixed, after])
    assert (first[0], second[0]) == pytest.approx(sides, abs=0.05)
    assert abs(first[1] - second[1]) < 0.5


@pytest.fixture(scope="module")
def met() -> tuple[FloatArray, FloatArray]:
    """Jumps among half a million random pairs, and the pairs' L*a*b*."""
    sides, colours = jumps(np.random.default_rng(1), 500_000)
    return sides, lab8(colours)


def test_how_far_it_jumps(met: tuple[FloatArray, FloatArray]) -> None:
    of = np.diff(met[0], axis=1)
    assert len(of) > 3000
    assert 36.0 < of.max() < 44.0


def test_no_jump_makes_like_colours_differ(met: tuple[FloatArray, FloatArray]) -> None:
    # Where it jumps by more than a little, both sides lie above "distinct".
    sides, _ = met
    far = np.diff(sides, axis=1)[:, 0] > 1.0
    assert sides[far].min() > DISTINCT_FROM + 2.0


def test_only_a_near_grey_beside_a_strong_colour_has_two_verdicts(
    met: tuple[FloatArray, FloatArray],
) -> None:
    sides, lab = met
    two = np.array([verdict(float(a)) is not verdict(float(b)) for a, b in sides])
    assert two.mean() < 0.005
    leaps = two & (np.diff(sides, axis=1)[:, 0] > 5.0)
    chroma = np.hypot(lab[leaps][..., 1], lab[leaps][..., 2])
    assert (chroma.min(axis=1) < 12.0).all()
    assert (sides[leaps, 0] < CLEARLY_APART_FROM).all()
    # By HyAB such a pair is far apart: the lower side is the one that misleads.
    assert (delta_e_hyab(lab[leaps, 0], lab[leaps, 1]) > CLEARLY_APART_FROM).all()


@pytest.mark.parametrize(
    ("orders", "least", "most", "cases"), [(True, 3, 6, 12), (False, 12, 20, 6)]
)
def test_no_choice_hangs_on_a_jump(orders: bool, least: int, most: int, cases: int) -> None:
    across, beside, share = tallied(np.random.default_rng(7), cases, least, most, orders=orders)
    # A step may tip two choices that were as good, or one that was just far apart; across a jump
    # it costs next to nothing by HyAB, as across none.
    assert min(across.hyab) > -0.1
    assert np.mean(across.hyab) > -0.005
    assert across.changed <= beside.changed + 1
    assert across.words == beside.words == 0
    # Few palettes lie a step from a jump at all.
    assert share < 0.2


def test_it_would_hang_on_one_if_ciede2000_alone_chose() -> None:
    alone, _, _ = tallied(np.random.default_rng(7), 12, 3, 6, orders=True, strongest=True)
    assert min(alone.hyab) < -0.2


def test_the_largest_jump_leaves_an_order_as_it_is() -> None:
    # The strongest order by CIEDE2000 keeps the two apart on one side, and not on the other.
    others = ["2233cc", "ffcc00"]
    orders, weakest = [], []
    for hex_ in ("e900f9", "e900fa"):
        lab = srgb1_to_lab(hexes_to_srgb1(["00fe6e", hex_, *others]))
        found = choose_order(differences(lab), OrderBrief(motifs=9))
        assert isinstance(found, Found)
        assert found.gave_up_for == HYAB
        orders.append(found.order.order)
        best = best_order(pairwise(lab), OrderBrief(motifs=9))
        assert isinstance(best, Order)
        assert best.weakest == found.strongest
        weakest.append(best.order)
    assert orders[0] == orders[1]
    assert weakest[0] != weakest[1]


def _every(motifs: int, colours: int) -> list[tuple[int, ...]]:
    least, most = motifs // colours, -(-motifs // colours)
    return [
        order
        for order in itertools.product(range(colours), repeat=motifs)
        if all(least <= order.count(c) <= most for c in range(colours))
    ]


@pytest.mark.parametrize("seed", range(40))
def test_an_order_is_the_best_there_is(seed: int) -> None:
    # By brute force: the strongest where it is not far apart; else the best by HyAB of all orders
    # that are far apart, and of those the strongest.
    rng = np.random.default_rng(seed)
    lab = srgb1_to_lab(rng.random((int(rng.integers(2, 5)), 3)))
    motifs = int(rng.integers(len(lab), 7))
    found = choose_order(differences(lab), OrderBrief(motifs=motifs))
    assert isinstance(found, Found)
    told = {}
    for order in _every(motifs, len(lab)):
        one, other = lab[list(order[:-1])], lab[list(order[1:])]
        apart = delta_e_2000(one, other), delta_e_hyab(one, other)
        told[order] = float(apart[0].min()), float(apart[1].min())
    strongest = max(value for value, _ in told.values())
    assert found.strongest == pytest.approx(strongest)
    assert found.proven
    best = strongest
    if strongest >= FAR_APART_FROM:
        far = [pair for pair in told.values() if pair[0] >= FAR_APART_FROM]
        top = max(hyab for _, hyab in far)
        assert told[found.order.order][1] == pytest.approx(top)
        best = max(value for value, hyab in far if hyab >= top - 1e-9)
    assert found.order.weakest == pytest.approx(best)
    assert found.order.proven == (best >= strongest - 1e-9)
    assert found.gave_up_for == ("" if best >= strongest - 1e-6 else HYAB)
