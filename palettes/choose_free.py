"""K colours out of all of sRGB, every two as far apart as can be: for lists to buy by.

There is no end of candidates to prove anything about, so many random palettes climb at once. Each
step moves every colour along the slope of a soft minimum of the differences - the worst counts
most, those close behind it some - which hardens as the climb goes on (simulated annealing's idea
without its chance). Step sizes follow Kingma and Ba 2015, Adam: A Method for Stochastic
Optimization (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from palettes.choose_metric import Single, delta_e_single, single_lab
from palettes.choose_watch import Sofar, Told
from palettes.spaces import FloatArray, checked_srgb1, hex_to_srgb1, srgb1_to_hex
from palettes.viewing import Condition, lab_under, worst_matrix

# Chosen by us, because no piece takes more colours.
MOST_FREE = 24
# How far a channel is moved to find the slope. Chosen by us: half a step of eight bits; where
# CIEDE2000 jumps, a smaller one would find no slope but a cliff.
_STEP = 0.002
# Slopes are cut off there. Chosen by us, because across a cliff they mean nothing.
_STEEPEST = 400.0
# How many of the smallest differences share in a palette's slope. Chosen by us by trial.
_WORST = 12
# The soft minimum's hardness at the start and at the end, per unit of CIEDE2000; by trial.
_SOFT, _HARD = 0.3, 5.0
# The first step's length in channels; by trial.
_FIRST_STEP = 0.06
# Adam's decay rates (Kingma and Ba 2015): the paper's 0.9, and by trial a second one quicker than
# its 0.999 for short climbs.
_KEEP_SLOPE, _KEEP_SQUARE = 0.9, 0.99


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How long to climb: palettes at once, and steps of each."""

    palettes: int
    steps: int


# Chosen by us by trial: eight colours end above 26.5 of 27.4 in a quarter of a second, and patient
# at the top in some ten.
QUICK = Effort(palettes=16, steps=150)
PATIENT = Effort(palettes=128, steps=500)

Places = NDArray[np.intp]


def choose_free(
    size: int,
    looks: Sequence[Condition],
    rng: np.random.Generator,
    *,
    must: Sequence[str] = (),
    effort: Effort = QUICK,
    told: Told | None = None,
) -> tuple[str, ...]:
    """Colours whose two most similar differ as much as could be found.

    Args:
        size: how many, must-haves among them, 1 to ``MOST_FREE``.
        looks: the ways of looking; for every pair the worst counts.
        rng: where the climbs start.
        must: hex colours that are among them; how far apart these are is given.
        effort: how long to climb.
        told: is told how the climb stands, and ends it where it answers False; the highest of all
            palettes so far is the answer then.

    Returns:
        Lowercase hex colours, the must-haves first, then from dark to light.

    Raises:
        ValueError: a size out of range, or more must-haves than colours.
    """
    if not 1 <= size <= MOST_FREE or len(must) > size:
        raise ValueError(f"1 to {MOST_FREE} colours, must-haves among them; got {size}, {must}")
    given = np.array([hex_to_srgb1(text) for text in must]).reshape(-1, 3)
    if len(given) == size:
        return tuple(srgb1_to_hex(colour) for colour in given)
    start = rng.random((effort.palettes, size, 3))
    start[:, : len(given)] = given
    if size == 1:
        return (srgb1_to_hex(start[0, 0]),)
    climbed = _climb(start, len(given), looks, effort.steps, told)
    best = _rounded(climbed, len(given), looks)
    return _in_order(best, len(given))


def _climb(
    start: FloatArray,
    given: int,
    looks: Sequence[Condition],
    steps: int,
    told: Told | None,
) -> FloatArray:
    """The palettes after climbing, best first, (n, k, 3)."""
    now, best = start, start.copy()
    height = np.full(len(start), -np.inf)
    slope_mean, square_mean = np.zeros_like(start), np.zeros_like(start)
    for step in range(steps):
        done = step / steps
        hardness = _SOFT * (_HARD / _SOFT) ** done
        weakest, slope = _slopes(now, given, looks, hardness)
        higher = weakest > height
        height[higher], best[higher] = weakest[higher], now[higher]
        if told is not None and not told(Sofar(part=done, reached=float(height.max()))):
            break
        slope_mean = _KEEP_SLOPE * slope_mean + (1.0 - _KEEP_SLOPE) * slope
        square_mean = _KEEP_SQUARE * square_mean + (1.0 - _KEEP_SQUARE) * slope**2
        mean = slope_mean / (1.0 - _KEEP_SLOPE ** (step + 1))
        size = np.sqrt(square_mean / (1.0 - _KEEP_SQUARE ** (step + 1)))
        # The little number keeps colours still that no slope has ever touched.
        now = np.clip(now + _FIRST_STEP * (1.0 - done) * mean / (size + 1e-3), 0.0, 1.0)
    return best[np.argsort(-height, kind="stable")]


def _slopes(
    srgb1: FloatArray, given: int, looks: Sequence[Condition], hardness: float
) -> tuple[Single, FloatArray]:
    """Each palette's smallest difference (n,), and the slope of its soft minimum (n, k, 3)."""
    # Moved toward the middle of the channel, so that no colour leaves sRGB.
    moves = np.where(srgb1 > 0.5, -_STEP, _STEP)
    variants = np.repeat(srgb1[:, :, None, :], 4, axis=2)
    for channel in range(3):
        variants[:, :, channel + 1, channel] += moves[:, :, channel]
    # (4, palettes, views, colours, variants), the unmoved variant first.
    seen = np.moveaxis(single_lab(lab_under(variants, looks)), 1, 2)
    first, second = np.triu_indices(srgb1.shape[1], 1)
    own = seen[..., 0]
    apart = delta_e_single(own[..., first], own[..., second]).reshape(len(srgb1), -1)
    weakest = apart.min(axis=1)
    count = min(_WORST, apart.shape[1])
    worst = np.argpartition(apart, count - 1, axis=1)[:, :count]
    near = np.take_along_axis(apart, worst, axis=1)
    weight = np.exp(-hardness * (near - weakest[:, None]))
    weight /= weight.sum(axis=1, keepdims=True)
    view, pair = np.divmod(worst, len(first))
    row = np.arange(len(srgb1))[:, None]
    i, j = first[pair], second[pair]
    one, other = seen[:, row, view, i], seen[:, row, view, j]
    slope = np.zeros_like(srgb1)
    for end, moved, still in ((i, one, other), (j, other, one)):
        change = delta_e_single(moved[..., 1:], still[..., :1]) - near[..., None]
        np.add.at(slope, (row, end), weight[..., None] * change)
    slope = np.asarray(np.clip(slope / moves, -_STEEPEST, _STEEPEST), dtype=np.float64)
    slope[:, :given] = 0.0
    return weakest, slope


# Climbed palettes whose rounding is looked at; chosen by us, since rounding costs about 0.2.
_ROUNDED = 4
_MOST_STEPS = 60


def _rounded(climbed: FloatArray, given: int, looks: Sequence[Condition]) -> FloatArray:
    """The best palette in whole steps of eight bits, (k, 3), by the exact formula."""
    best, height = climbed[0], -1.0
    for palette in climbed[:_ROUNDED]:
        stepped, reached = _by_single_steps(np.rint(palette * 255.0), given, looks)
        if reached > height:
            best, height = stepped, reached
    return np.asarray(best / 255.0, dtype=np.float64)


def _by_single_steps(
    srgb8: FloatArray, given: int, looks: Sequence[Condition]
) -> tuple[FloatArray, float]:
    """The palette after small steps of single channels, as long as one helps."""
    height, pair = weakest_free(srgb8 / 255.0, given, looks)
    for _ in range(_MOST_STEPS):
        moved = []
        for place in (place for place in pair if place >= given):
            for channel, step in product(range(3), (-2.0, -1.0, 1.0, 2.0)):
                other = srgb8.copy()
                other[place, channel] = np.clip(other[place, channel] + step, 0.0, 255.0)
                moved.append(other)
        best = moved[int(_heights(np.array(moved) / 255.0, given, looks).argmax())]
        reached, its_pair = weakest_free(best / 255.0, given, looks)
        if reached <= height + 1e-9:
            break
        srgb8, height, pair = best, reached, its_pair
    return srgb8, height


def _heights(palettes: FloatArray, given: int, looks: Sequence[Condition]) -> Single:
    """Each palette's smallest difference that is not between two must-haves, (n,)."""
    seen = single_lab(lab_under(palettes, looks))
    first, second = np.triu_indices(palettes.shape[1], 1)
    free = second >= given
    apart = delta_e_single(seen[..., first[free]], seen[..., second[free]])
    return np.asarray(apart.min(axis=(0, 2)), dtype=np.float32)


def weakest_free(
    srgb1: FloatArray, given: int, looks: Sequence[Condition]
) -> tuple[float, tuple[int, ...]]:
    """The smallest difference that is not between two must-haves, and its pair.

    Args:
        srgb1: the palette, (k, 3), must-haves first.
        given: how many must-haves.
        looks: the ways of looking.
    """
    matrix = worst_matrix(checked_srgb1(srgb1), looks)
    matrix[np.tril_indices(len(matrix))] = np.inf
    matrix[:given, :given] = np.inf
    i, j = divmod(int(matrix.argmin()), len(matrix))
    return float(matrix[i, j]), (i, j)


def _in_order(srgb1: FloatArray, given: int) -> tuple[str, ...]:
    light = np.argsort(srgb1[given:] @ np.array([0.2126, 0.7152, 0.0722]), kind="stable") + given
    return tuple(srgb1_to_hex(srgb1[place]) for place in (*range(given), *light.tolist()))
