from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from palettes.difference import Verdict, delta_e_2000, delta_e_hyab, pairwise, verdict
from palettes.spaces import FloatArray

SHARMA = np.loadtxt(Path(__file__).parents[1] / "reference" / "sharma2005.csv", delimiter=",")
LABS = arrays(np.float64, (5, 3), elements=st.floats(-80.0, 80.0, allow_subnormal=False)).map(
    lambda a: np.abs(a) * [1, 0, 0] + a * [0, 1, 1]
)
RANDOM = np.random.default_rng(5).uniform([0, -90, -90], [100, 90, 90], (400, 2, 3))
# Where two hues are 180 degrees apart rounding may take either branch: pair 14 of the table.
OTHER_BRANCH_14 = 4.7461


def test_all_pairs_of_sharma_2005() -> None:
    assert SHARMA.shape == (34, 7)
    got = delta_e_2000(SHARMA[:, :3], SHARMA[:, 3:6])
    wanted = SHARMA[:, 6].copy()
    if abs(got[13] - OTHER_BRANCH_14) < 1e-4:
        wanted[13] = OTHER_BRANCH_14
    assert np.abs(got - wanted).max() < 1e-4


def test_the_table_tells_a_wrong_formula_apart() -> None:
    euclid = np.linalg.norm(SHARMA[:, :3] - SHARMA[:, 3:6], axis=1)
    assert np.abs(euclid - SHARMA[:, 6]).max() > 1.0


def test_ciede2000_agrees_with_colour_science(colour: ModuleType) -> None:
    theirs = colour.delta_E(RANDOM[:, 0], RANDOM[:, 1], method="CIE 2000")
    assert np.allclose(delta_e_2000(RANDOM[:, 0], RANDOM[:, 1]), theirs, atol=1e-9)


@pytest.mark.parametrize(("ours", "method"), [(delta_e_2000, "2000"), (delta_e_hyab, "hyab")])
def test_both_metrics_agree_with_coloraide(ours: object, method: str) -> None:
    assert callable(ours)
    for one, other in RANDOM[:60]:
        theirs = Color("lab-d65", list(one)).delta_e(
            Color("lab-d65", list(other)), method=method, space="lab-d65"
        )
        assert ours(one, other) == pytest.approx(theirs, abs=1e-6)


@given(LABS)
def test_pairwise_is_symmetric_with_nothing_on_the_diagonal(lab: FloatArray) -> None:
    matrix = pairwise(lab)
    assert (matrix == matrix.T).all()
    assert (np.diag(matrix) == 0.0).all()
    assert (matrix >= 0.0).all()


@given(LABS, st.permutations(range(5)))
def test_order_does_not_matter(lab: FloatArray, order: list[int]) -> None:
    # Swapped arguments may take the other branch at opposite hues; away from there nothing moves.
    one, other = pairwise(lab)[np.ix_(order, order)], pairwise(lab[order])
    hue = np.degrees(np.arctan2(lab[order][:, 2], lab[order][:, 1]))
    opposite = np.abs(np.abs(hue[:, None] - hue[None]) - 180.0) < 1e-6
    assert np.allclose(one[~opposite], other[~opposite], atol=1e-9)


@given(LABS)
def test_equal_colours_do_not_differ(lab: FloatArray) -> None:
    assert (delta_e_2000(lab, lab) == 0.0).all()
    assert (delta_e_hyab(lab, lab) == 0.0).all()


def test_one_colour_against_many() -> None:
    one, many = RANDOM[0, 0], RANDOM[:7, 1]
    singly = [float(delta_e_2000(one, other)) for other in many]
    assert delta_e_2000(one, many) == pytest.approx(singly)
    assert delta_e_2000(many, one) == pytest.approx(singly)


def test_sets_side_by_side() -> None:
    sets = RANDOM.reshape(-1, 4, 3)[:6]
    assert np.allclose(pairwise(sets)[2], pairwise(sets[2]))


@pytest.mark.parametrize(("count", "shape"), [(0, (0, 0)), (1, (1, 1))])
def test_nothing_and_one(count: int, shape: tuple[int, int]) -> None:
    assert pairwise(np.zeros((count, 3))).shape == shape


@pytest.mark.parametrize(
    ("value", "word"),
    [
        (0.0, Verdict.SAME),
        (1.99, Verdict.SAME),
        (2.0, Verdict.CLOSE),
        (9.99, Verdict.CLOSE),
        (10.0, Verdict.DISTINCT),
        (19.99, Verdict.DISTINCT),
        (20.0, Verdict.CLEARLY_APART),
        (99.0, Verdict.CLEARLY_APART),
    ],
)
def test_bands(value: float, word: Verdict) -> None:
    assert verdict(value) is word


@pytest.mark.parametrize("bad", [-0.1, float("nan")])
def test_no_verdict_on_nonsense(bad: float) -> None:
    with pytest.raises(ValueError, match="0 or more"):
        verdict(bad)


@pytest.mark.parametrize("bad", [[[1.0, 2.0]], [[np.nan, 0.0, 0.0]]])
def test_no_difference_of_nonsense(bad: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="colours"):
        pairwise(bad)
