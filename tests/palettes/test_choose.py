"""The best k of N against brute force, and free colours against a published set."""

import itertools
import math
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from palettes.choose import MOST_COLOURS, choose, choose_by
from palettes.choose_free import Effort, choose_free, weakest_free
from palettes.choose_metric import delta_e_single, single_lab, worst_single
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.difference import FAR_APART_FROM, HYAB, delta_e_2000, delta_e_hyab
from palettes.lights import Light
from palettes.spaces import (
    FloatArray,
    hexes_to_srgb1,
    linear1_to_xyz1,
    srgb1_to_lab,
    srgb1_to_linear1,
)
from palettes.viewing import TYPICAL_DAYLIGHT, conditions, lab_under, worst_matrix
from palettes.vision import Sight, Viewer, machado_matrix

FOUR = conditions(
    [Viewer(sight=s) for s in (Sight.TYPICAL, Sight.PROTAN, Sight.DEUTAN, Sight.TRITAN)],
    [Light.DAYLIGHT],
)
SHARMA = np.loadtxt(Path(__file__).parents[1] / "reference" / "sharma2005.csv", delimiter=",")


def allowed(places: tuple[int, ...], wishes: Wishes) -> bool:
    """Whether a choice holds to the wishes, told straight from their meaning."""
    if not set(wishes.must) <= set(places) or set(wishes.never) & set(places):
        return False
    groups = [wishes.groups[p] for p in places] if wishes.groups else []
    if any(groups.count(g) > wishes.most_of[g] for g in groups):
        return False
    kinds = [wishes.never_both[p] for p in places] if wishes.never_both else []
    if len(set(kinds)) < len(kinds):
        return False
    if wishes.costs and sum(wishes.costs[p] for p in places) > wishes.most_cost:
        return False
    light = sorted(wishes.lightness[p] for p in places) if wishes.lightness else [0.0, math.inf]
    gap = min((b - a for a, b in itertools.pairwise(light)), default=math.inf)
    return gap >= wishes.least_gap and light[-1] - light[0] >= wishes.least_range


def brute(matrix: FloatArray, wishes: Wishes) -> float | None:
    """The best smallest difference, pairs of must-haves aside, over all choices there are."""
    best = None
    for places in itertools.combinations(range(len(matrix)), wishes.size):
        if allowed(places, wishes):
            pairs = itertools.combinations(places, 2)
            worst = min(
                (matrix[a, b] for a, b in pairs if not {a, b} <= set(wishes.must)),
                default=math.inf,
            )
            best = worst if best is None else max(best, worst)
    return best


def test_the_quick_metric_on_all_pairs_of_sharma_2005() -> None:
    got = delta_e_single(single_lab(SHARMA[:, :3]), single_lab(SHARMA[:, 3:6]))
    off = np.abs(got - SHARMA[:, 6])
    # Pair 14 has hues 180 degrees apart, where rounding may take either branch.
    assert np.delete(off, 13).max() < 5e-4
    assert min(off[13], abs(got[13] - 4.7461)) < 5e-4


def test_the_quick_metric_is_the_exact_one() -> None:
    rng = np.random.default_rng(0)
    a, b = rng.uniform([0, -90, -90], [100, 90, 90], (2, 20_000, 3))
    a[:100, 1:] = 0.0
    b[50:150, 1:] = 0.0
    exact = delta_e_2000(a, b)
    assert np.abs(delta_e_single(single_lab(a), single_lab(b)) - exact).max() < 1e-3


def test_the_worst_matrix_is_the_exact_one() -> None:
    srgb1 = np.random.default_rng(1).random((25, 3))
    assert worst_single(lab_under(srgb1, FOUR)) == pytest.approx(
        worst_matrix(srgb1, FOUR), abs=1e-3
    )


# Two choices as strong by CIEDE2000, of which HyAB prefers one.
@given(seed=st.integers(0, 10_000), size=st.integers(1, 5), plain=st.booleans())
@example(seed=5094, size=3, plain=True)
def test_brute_force(seed: int, size: int, plain: bool) -> None:
    rng = np.random.default_rng(seed)
    count = int(rng.integers(5, 12))
    srgb1 = rng.random((count, 3))
    places = rng.permutation(count).tolist()
    must = tuple(places[: int(rng.integers(0, min(3, size + 1)))])
    wishes = Wishes(size=size)
    if not plain:
        wishes = Wishes(
            size=size,
            must=must,
            never=tuple(places[3 : 3 + int(rng.integers(0, 2))]),
            groups=tuple(rng.integers(0, 3, count).tolist()),
            most_of=(1, 2, 3),
            never_both=tuple(rng.integers(0, 7, count).tolist()),
            lightness=tuple(srgb1_to_lab(srgb1)[:, 0].tolist()),
            least_gap=float(rng.choice([0.0, 4.0])),
            least_range=float(rng.choice([0.0, 30.0, 60.0])),
            costs=tuple(rng.random(count).tolist()),
            most_cost=float(rng.choice([1.0, 2.0, 9.0])),
        )
    best = brute(worst_matrix(srgb1, FOUR), wishes)
    found = choose(srgb1, FOUR, wishes)
    if best is None:
        assert isinstance(found, NoChoice)
        assert found.certain
        return
    assert isinstance(found, Choice)
    assert allowed(found.places, wishes)
    strongest = found.reached if found.strongest is None else found.strongest
    assert strongest == pytest.approx(best, abs=1e-3)
    assert found.bound == pytest.approx(best, abs=1e-3)
    assert found.proven == (not found.gave_up_for)
    assert found.gave_up_for in ("", HYAB)
    if FAR_APART_FROM + 1e-3 < best < math.inf:
        # By HyAB no other that is far apart does better, and of its equals none is stronger.
        far = worst_matrix(srgb1, FOUR)
        lab = lab_under(srgb1, FOUR)
        hyab = delta_e_hyab(lab[:, :, None], lab[:, None]).min(axis=0)
        top = brute(np.where(far >= FAR_APART_FROM, hyab, 0.0), wishes)
        assert top is not None
        own = [
            hyab[pair]
            for pair in itertools.combinations(found.places, 2)
            if not set(pair) <= set(wishes.must)
        ]
        assert min(own) == pytest.approx(top, abs=1e-3)
        assert found.reached == pytest.approx(
            brute(np.where((far >= FAR_APART_FROM) & (hyab >= top - 1e-3), far, 0.0), wishes),
            abs=1e-3,
        )
    else:
        assert found.proven
        assert found.gap == 0.0


@pytest.mark.parametrize("steps", [10, 300, 3000])
def test_a_search_that_ends_early_bounds_the_best(steps: int) -> None:
    srgb1 = np.random.default_rng(3).random((60, 3))
    matrix = worst_single(lab_under(srgb1, FOUR))
    best = choose_by(matrix, Wishes(size=8))
    short = choose_by(matrix, Wishes(size=8), steps=steps)
    assert isinstance(best, Choice)
    assert best.proven
    if isinstance(short, NoChoice):
        assert not short.certain
        return
    assert short.reached <= best.reached <= short.bound
    assert short.proven == (short.gap == 0.0)


def test_an_early_end_is_met() -> None:
    srgb1 = np.random.default_rng(3).random((60, 3))
    short = choose_by(worst_single(lab_under(srgb1, FOUR)), Wishes(size=8), steps=300)
    assert isinstance(short, Choice)
    assert not short.proven
    assert short.bound > short.reached


def test_three_hundred_beads_are_proved() -> None:
    srgb1 = np.random.default_rng(0).random((300, 3))
    found = choose(srgb1, FOUR, Wishes(size=6))
    assert isinstance(found, Choice)
    assert found.proven
    matrix = worst_matrix(srgb1[list(found.places)], FOUR)
    upper = matrix[np.triu_indices(6, 1)]
    assert found.weakest == pytest.approx(upper.min())
    assert found.weakest_pair is not None
    i, j = (found.places.index(place) for place in found.weakest_pair)
    assert matrix[i, j] == pytest.approx(found.weakest)


def test_two_must_haves_that_are_twins_do_not_stop_the_search() -> None:
    srgb1 = np.vstack([[[0.5, 0.5, 0.5]] * 2, np.random.default_rng(2).random((12, 3))])
    wishes = Wishes(size=4, must=(0, 1))
    found = choose(srgb1, FOUR, wishes)
    assert isinstance(found, Choice)
    assert (found.weakest, found.weakest_pair) == (0.0, (0, 1))
    assert found.reached == pytest.approx(brute(worst_matrix(srgb1, FOUR), wishes), abs=1e-3)


def test_only_must_haves() -> None:
    srgb1 = np.random.default_rng(2).random((5, 3))
    found = choose(srgb1, FOUR, Wishes(size=2, must=(4, 1)))
    assert isinstance(found, Choice)
    assert (found.places, found.proven) == ((1, 4), True)
    one = choose(srgb1, FOUR, Wishes(size=1))
    assert isinstance(one, Choice)
    assert (one.weakest, one.weakest_pair) == (math.inf, None)


def test_what_cannot_be_is_told() -> None:
    srgb1 = np.random.default_rng(2).random((5, 3))
    assert isinstance(choose(srgb1, FOUR, Wishes(size=6)), NoChoice)
    assert isinstance(choose(np.zeros((0, 3)), FOUR, Wishes(size=1)), NoChoice)
    wrongs: tuple[dict[str, Any], ...] = (
        {"size": 0},
        {"size": 2, "must": (1, 1)},
        {"size": 1, "must": (1,), "never": (1,)},
    )
    for wrong in wrongs:
        with pytest.raises(ValueError, match=r"got|are chosen|must be"):
            Wishes(**wrong)
    with pytest.raises(ValueError, match="from 0 to 4"):
        choose(srgb1, FOUR, Wishes(size=2, must=(5,)))
    with pytest.raises(ValueError, match="5 entries"):
        choose(srgb1, FOUR, Wishes(size=2, costs=(1.0,)))
    with pytest.raises(ValueError, match="at most"):
        choose(np.zeros((MOST_COLOURS + 1, 3)), FOUR, Wishes(size=2))


def test_eight_free_colours_for_all_eyes() -> None:
    for seed in (1, 2):
        hexes = choose_free(8, FOUR, np.random.default_rng(seed))
        assert len(set(hexes)) == 8
        upper = worst_matrix(hexes_to_srgb1(hexes), FOUR)[np.triu_indices(8, 1)]
        assert upper.min() >= 25.0


def test_free_colours_repeat_and_vary() -> None:
    short = Effort(palettes=4, steps=20)

    def found(seed: int) -> tuple[str, ...]:
        return choose_free(5, FOUR, np.random.default_rng(seed), effort=short)

    assert found(1) == found(1)
    assert found(1) != found(2)


def test_free_must_haves_stay() -> None:
    hexes = choose_free(5, FOUR, np.random.default_rng(1), must=("#808080", "#818181"))
    assert hexes[:2] == ("#808080", "#818181")
    # The two given twins do not keep the others from standing apart.
    assert weakest_free(hexes_to_srgb1(hexes), 2, FOUR)[0] > 20.0
    assert choose_free(1, FOUR, np.random.default_rng(1), must=("#123456",)) == ("#123456",)
    assert len(choose_free(1, FOUR, np.random.default_rng(1))) == 1
    for size, must in ((0, ()), (25, ()), (1, ("#000000", "#ffffff"))):
        with pytest.raises(ValueError, match="1 to"):
            choose_free(size, FOUR, np.random.default_rng(1), must=must)


# Petroff 2021, Accessible Color Sequences for Data Visualization, arXiv:2107.02270: his eight
# colours, as matplotlib 3.11 has them.
PETROFF = ["1845fb", "ff5e02", "c91f16", "c849a9", "adad7d", "86c8dd", "578dff", "656364"]


def cam02_ucs_floors(colour: ModuleType, hexes: list[str]) -> list[float]:
    """The least distance in CAM02-UCS for typical, protan, deutan and tritan eyes, as Petroff's.

    As he does it: Machado 2009 for all three, without clipping.
    """
    linear1 = srgb1_to_linear1(hexes_to_srgb1(hexes))
    tritan = np.asarray(colour.blindness.CVD_MATRICES_MACHADO2010["Tritanomaly"][1.0])
    matrices = [
        np.eye(3),
        machado_matrix(Sight.PROTAN, 1.0),
        machado_matrix(Sight.DEUTAN, 1.0),
        tritan,
    ]
    floors = []
    for matrix in matrices:
        seen = colour.XYZ_to_CAM02UCS(linear1_to_xyz1(linear1 @ matrix.T))
        pairs = itertools.combinations(range(len(hexes)), 2)
        floors.append(min(float(np.linalg.norm(seen[i] - seen[j])) for i, j in pairs))
    return floors


def test_petroff_2021_in_his_own_measure(colour: ModuleType) -> None:
    theirs = cam02_ucs_floors(colour, PETROFF)
    # As he states them, and as colorspacious gives them; viewing conditions differ a little here.
    assert theirs == pytest.approx([20.0, 18.5, 18.1, 18.1], abs=0.5)
    ours = cam02_ucs_floors(colour, list(choose_free(8, FOUR, np.random.default_rng(1))))
    # Ours are chosen by another measure, without his wish for colours that look good on lines.
    assert all(own > other for own, other in zip(ours, theirs, strict=True))


def test_one_view_is_enough() -> None:
    hexes = choose_free(3, [TYPICAL_DAYLIGHT], np.random.default_rng(1))
    upper = worst_matrix(hexes_to_srgb1(hexes), [TYPICAL_DAYLIGHT])[np.triu_indices(3, 1)]
    assert upper.min() > 80.0
