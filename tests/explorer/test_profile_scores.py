import itertools
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.profile_scores import drop_mm, score_table, scores, silhouette_difference
from palettes.beads import BeadKind
from palettes.forms import Form

ROUND_11 = BeadKind(
    name="round 11/0",
    form=Form.ROUND,
    diameter_mm=2.1,
    pitch_mm=1.45,
    hole_mm=0.8,
    beads_per_gram=110.0,
    ladder_pitch_mm=2.25,
)
ROUND_8 = BeadKind(
    name="round 8/0",
    form=Form.ROUND,
    diameter_mm=3.0,
    pitch_mm=2.05,
    hole_mm=1.0,
    beads_per_gram=37.0,
    ladder_pitch_mm=3.1,
)

profiles = st.lists(st.integers(1, 40), min_size=1, max_size=31).map(tuple)


def test_a_drop_is_summed_by_hand() -> None:
    # our derivation: six 11/0 hang five pitches of 1.45 and one bead of 2.1 lying sideways
    assert drop_mm(6, ROUND_11) == pytest.approx(9.35)
    assert drop_mm(6, ROUND_11, ROUND_8) == pytest.approx(10.25)
    assert drop_mm(1, ROUND_11) == pytest.approx(2.1)


def test_the_worked_peak() -> None:
    found = scores((1, 2, 4, 6, 4, 2, 1), ROUND_11)
    assert found.drop_mm == pytest.approx(9.35)
    assert found.beads == 20
    assert found.lean == 0.0
    # steps 1 2 2 -2 -2 -1, so bends 1 0 -4 0 1: mean 6/5
    assert found.smoothness == pytest.approx(1 / (1 + 6 / 5))


@given(profiles)
def test_scores_against_plain_python(profile: tuple[int, ...]) -> None:
    found = scores(profile, ROUND_11, ROUND_8)
    steps = [b - a for a, b in itertools.pairwise(profile)]
    bends = [abs(b - a) for a, b in itertools.pairwise(steps)]
    bend = Fraction(sum(bends), len(bends)) if bends else Fraction(0)
    middle = Fraction(len(profile) - 1, 2)
    moment = sum((place - middle) * length for place, length in enumerate(profile))
    lean = moment / (middle * sum(profile)) if middle else Fraction(0)
    assert found.beads == sum(profile)
    assert found.drop_mm == pytest.approx((max(profile) - 1) * 1.45 + 3.0)
    assert found.smoothness == pytest.approx(float(1 / (1 + bend)))
    assert found.lean == pytest.approx(float(lean))
    assert -1.0 <= found.lean <= 1.0


@given(profiles)
def test_lean_turns_with_the_mirror(profile: tuple[int, ...]) -> None:
    assert scores(profile, ROUND_11).lean == -scores(profile[::-1], ROUND_11).lean


def test_straight_edges_are_the_smoothest() -> None:
    for straight in ((4, 4, 4, 4), (1, 3, 5, 7), (9,), (2, 8)):
        assert scores(straight, ROUND_11).smoothness == 1.0


def test_the_table_refuses_what_is_no_table() -> None:
    for bad in (np.ones(3), np.ones((2, 0)), np.ones((2, 2, 2))):
        with pytest.raises(ValueError, match="profiles come as"):
            score_table(bad, ROUND_11)


@given(profiles, profiles)
def test_the_silhouette_difference_is_between_0_and_1(
    a: tuple[int, ...], b: tuple[int, ...]
) -> None:
    apart = silhouette_difference(a, b)
    assert 0.0 <= apart < 1.0
    assert apart == silhouette_difference(b, a)
    assert silhouette_difference(a, a) == 0.0


@given(profiles, st.integers(2, 5))
def test_a_stretched_profile_is_the_same_silhouette(profile: tuple[int, ...], by: int) -> None:
    wide = tuple(length for length in profile for _ in range(by))
    assert silhouette_difference(profile, wide) == 0.0


@given(profiles, profiles, profiles)
def test_the_silhouette_difference_keeps_the_triangle(
    a: tuple[int, ...], b: tuple[int, ...], c: tuple[int, ...]
) -> None:
    direct = silhouette_difference(a, c)
    assert direct <= silhouette_difference(a, b) + silhouette_difference(b, c) + 1e-12


def test_silhouettes_measured_by_hand() -> None:
    assert silhouette_difference((6, 6), (3,)) == 0.5
    # widths 2 and 3 on six places: 2 2 2 4 4 4 over 3 3 3 3 3 3: both 15, either 21
    assert silhouette_difference((2, 4), (3, 3, 3)) == pytest.approx(6 / 21)
    with pytest.raises(ValueError, match="at least one dangle"):
        silhouette_difference((), (1,))
