"""Colour harmony of two colours."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.harmony import harmony, mean_harmony
from palettes.spaces import srgb1_to_lab

channel = st.floats(0.0, 1.0)
colour = st.tuples(channel, channel, channel)


@given(colour, colour)
def test_harmony_is_symmetric_and_bounded(a: tuple[float, ...], b: tuple[float, ...]) -> None:
    lab_a, lab_b = srgb1_to_lab(a), srgb1_to_lab(b)
    forward = float(harmony(lab_a, lab_b))
    assert forward == pytest.approx(float(harmony(lab_b, lab_a)))
    assert -2.0 < forward < 2.0


def test_two_equal_greys_give_the_constants_worked_by_hand() -> None:
    # Worked out by us from the paper's equations for L* = 50, no chroma, no difference:
    # 0.04 + 0.53 tanh(0.8) + 0.28 + 0.54 tanh(-0.98) + 0.14 + 0.15 tanh(-2) + 2 * E_C * H_hue.
    grey = np.array([50.0, 0.0, 0.0])
    colourful = 0.5 + 0.5 * np.tanh(-2.0)
    hue = -0.08 - 0.14 * np.sin(np.radians(50.0)) - 0.07
    yellow = (0.22 * 50.0 - 12.8) / 10.0 * np.exp(9.0 - np.exp(9.0))
    expected = (
        0.04 + 0.53 * np.tanh(0.8) + 0.28 + 0.54 * np.tanh(-0.98) + 0.14 + 0.15 * np.tanh(-2.0)
        + 2 * colourful * (hue + yellow)
    )  # fmt: skip
    assert float(harmony(grey, grey)) == pytest.approx(expected)


def test_likeness_is_rewarded() -> None:
    blue, near_blue, red = (
        srgb1_to_lab(c) for c in ((0.2, 0.3, 0.7), (0.3, 0.4, 0.75), (0.8, 0.2, 0.1))
    )
    assert harmony(blue, near_blue) > harmony(blue, red)


def test_the_mean_covers_every_pair_once() -> None:
    lab = srgb1_to_lab([(0.2, 0.3, 0.7), (0.9, 0.8, 0.2), (0.8, 0.2, 0.1)])
    pairs = [harmony(lab[i], lab[j]) for i, j in ((0, 1), (0, 2), (1, 2))]
    assert mean_harmony(lab) == pytest.approx(float(np.mean(pairs)))
    assert mean_harmony(lab[:1]) == pytest.approx(float(harmony(lab[0], lab[0])))
