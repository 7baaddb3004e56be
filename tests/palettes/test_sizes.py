import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.sizes import (
    HAND_M,
    ROOM_M,
    TABLE_M,
    distances_tested_m,
    noticeable_lab,
    noticeable_steps,
    reads_apart_to_m,
    visual_angle_deg,
)

LAB = st.tuples(st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80))


def test_half_the_people_by_the_lines_that_public_code_takes_from_the_paper() -> None:
    # Stone, Szafir and Setlur 2014 by way of public code that has the lines for half the people,
    # L* 5.079 + 0.751/s, a* 5.339 + 1.541/s, b* 5.349 + 2.871/s, where ours has the general form.
    # The paper itself was not read, and no published worked value was found.
    for size in (1 / 3, 1.0, 6.0):
        told = [5.079 + 0.751 / size, 5.339 + 1.541 / size, 5.349 + 2.871 / size]
        assert noticeable_lab(size) == pytest.approx(told, abs=0.005)


def test_a_share_of_the_people_notices_in_proportion() -> None:
    # The form of the model: a difference is p times that of all people.
    assert noticeable_lab(1.0, 0.8) == pytest.approx(1.6 * noticeable_lab(1.0))


def test_angles_of_a_motif() -> None:
    # Plain trigonometry: 2 atan(16 mm / 2 d).
    got = visual_angle_deg(16.0, [HAND_M, TABLE_M, ROOM_M, 3.0])
    assert got == pytest.approx([2.29, 0.917, 0.367, 0.306], abs=0.005)


def test_tested_range_of_a_motif() -> None:
    near, far = distances_tested_m(16.0)
    assert visual_angle_deg(16.0, [near, far]) == pytest.approx([6.0, 1 / 3])


@given(LAB, LAB, st.floats(1.0, 60.0))
def test_at_the_reach_the_difference_is_just_noticed(
    one: tuple[float, ...], other: tuple[float, ...], width_mm: float
) -> None:
    reach = float(reads_apart_to_m(one, other, width_mm))
    if 1e-3 < reach < 1e4:
        there = noticeable_steps(one, other, visual_angle_deg(width_mm, reach))
        assert float(there) == pytest.approx(1.0, rel=1e-6)
    elif reach == 0.0:
        assert float(noticeable_steps(one, other, 170.0)) < 1.01


@given(LAB, LAB)
def test_wider_reads_farther_and_order_does_not_matter(
    one: tuple[float, ...], other: tuple[float, ...]
) -> None:
    narrow, wide = reads_apart_to_m(one, other, [5.0, 10.0])
    assert wide == pytest.approx(2.0 * narrow)
    assert float(reads_apart_to_m(other, one, 5.0)) == narrow


def test_equal_colours_never_read_apart() -> None:
    assert float(reads_apart_to_m([40, 5, 5], [40, 5, 5], 16.0)) == 0.0
    # Below A/2 on one axis no size helps.
    assert float(reads_apart_to_m([40, 0, 0], [45, 0, 0], 16.0)) == 0.0
    assert float(reads_apart_to_m([40, 0, 0], [45.2, 0, 0], 16.0)) > 0.0


def test_many_pairs_at_once() -> None:
    lab = np.random.default_rng(4).uniform([0, -60, -60], [100, 60, 60], (2, 4, 5, 3))
    widths = np.linspace(2.0, 20.0, 5)
    together = reads_apart_to_m(lab[0], lab[1], widths)
    singly = [
        [float(reads_apart_to_m(lab[0, i, j], lab[1, i, j], widths[j])) for j in range(5)]
        for i in range(4)
    ]
    assert np.allclose(together, singly)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_sizes_that_cannot_be(bad: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        visual_angle_deg(bad, 1.0)
    with pytest.raises(ValueError, match="above 0"):
        visual_angle_deg(16.0, bad)
    with pytest.raises(ValueError, match="above 0"):
        reads_apart_to_m([0, 0, 0], [9, 9, 9], bad)
    with pytest.raises(ValueError, match="share"):
        noticeable_lab(1.0, 0.0)
