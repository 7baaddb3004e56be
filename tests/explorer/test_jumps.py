"""What the jumps of CIEDE2000 can and cannot do to what is chosen.

The whole measurement is ``python -m tests.bench.measure_jumps``; this holds its key facts.
"""

import numpy as np
import pytest

from palettes.difference import (
    CLEARLY_APART_FROM,
    DISTINCT_FROM,
    delta_e_2000,
    delta_e_hyab,
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


@pytest.mark.parametrize(("orders", "least", "most"), [(True, 3, 6), (False, 15, 30)])
def test_what_is_chosen_keeps_its_verdict_across_a_jump(
    orders: bool, least: int, most: int
) -> None:
    across, beside, share = tallied(np.random.default_rng(7), 12, least, most, orders=orders)
    assert across.words == beside.words == 0
    # Few palettes lie a step from a jump at all.
    assert share < 0.2
