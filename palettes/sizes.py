"""How far off two colours still read apart: small things need larger differences.

Stone, Szafir and Setlur 2014, An Engineering Model for Color Difference as a Function of Size,
Color and Imaging Conference 22: on each axis of CIE L*a*b* the difference that a share p of people
notice between marks s degrees wide is p * (A + B / s). Tested from 1/3 to 6 degrees. Constants and
range as others report them. Putting the axes together as a root of squares is ours.
"""

import math

import numpy as np
from numpy.typing import ArrayLike

from palettes.spaces import FloatArray

# Stone, Szafir and Setlur 2014, as public code repeats them; the paper itself was not read.
_A: FloatArray = np.array([10.16, 10.68, 10.70])
_B: FloatArray = np.array([1.50, 3.08, 5.74])
TESTED_DEG = (1.0 / 3.0, 6.0)

# Chosen by us, because a piece is looked at in the hand, over a table and across a room.
HAND_M = 0.4
TABLE_M = 1.0
ROOM_M = 2.5


def visual_angle_deg(width_mm: ArrayLike, distance_m: ArrayLike) -> FloatArray:
    """The angle that a width fills at a distance, in degrees: 2 atan(w / 2d).

    Raises:
        ValueError: a width or a distance that is no number above 0.
    """
    width = _positive("a width in mm", width_mm)
    distance = _positive("a distance in m", distance_m)
    return np.asarray(np.degrees(2.0 * np.arctan(width / (2000.0 * distance))))


def _positive(what: str, value: ArrayLike) -> FloatArray:
    array = np.asarray(value, dtype=np.float64)
    if not (np.isfinite(array).all() and (array > 0.0).all()):
        raise ValueError(f"{what} is a number above 0; got {value!r}")
    return array


def noticeable_lab(angle_deg: ArrayLike, share: float = 0.5) -> FloatArray:
    """The difference in L*, a*, b* that a share of people notice between marks of that size.

    Args:
        angle_deg: the marks' width in degrees, any shape.
        share: of people, above 0 and at most 1; one half by default.

    Returns:
        The angle's shape and one axis of three more.

    Raises:
        ValueError: an angle or a share that cannot be.
    """
    angle = _positive("an angle in degrees", angle_deg)
    if not 0.0 < share <= 1.0:
        raise ValueError(f"a share of people is above 0 and at most 1; got {share!r}")
    return share * (_A + _B / angle[..., None])


def noticeable_steps(lab_a: ArrayLike, lab_b: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """How many noticeable differences lie between two colours on marks of that size.

    Args:
        lab_a: CIE L*a*b*, (..., 3).
        lab_b: the same, broadcast against it.
        angle_deg: the marks' width in degrees, broadcast against the colours' leading axes.

    Returns:
        sqrt(sum((d / ND)^2)) over the three axes, without the last axis; 1 is just noticed by
        half the people. The sum over axes is ours.

    Raises:
        ValueError: an angle that cannot be.
    """
    step = np.asarray(lab_a, np.float64) - np.asarray(lab_b, np.float64)
    shares = step / noticeable_lab(angle_deg)
    return np.asarray(np.sqrt((shares**2).sum(axis=-1)), dtype=np.float64)


def distances_tested_m(width_mm: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """The nearest and the farthest distance at which the model was tested for marks of that width.

    Raises:
        ValueError: a width that is no number above 0.
    """
    width = _positive("a width in mm", width_mm)
    far, near = (width / (2000.0 * math.tan(math.radians(deg) / 2.0)) for deg in TESTED_DEG)
    return near, far


def reads_apart_to_m(lab_a: ArrayLike, lab_b: ArrayLike, width_mm: ArrayLike) -> FloatArray:
    """The distance up to which half the people notice that two marks differ in colour.

    Compare it with ``distances_tested_m``: outside them it is an extrapolation.

    Args:
        lab_a: CIE L*a*b*, (..., 3).
        lab_b: the same, broadcast against it.
        width_mm: the width of the narrower mark, broadcast against the colours' leading axes.

    Returns:
        Metres, without the last axis; 0 where no size is large enough.

    Raises:
        ValueError: a width that is no number above 0.
    """
    width = _positive("a width in mm", width_mm)
    step = np.abs(np.asarray(lab_a, np.float64) - np.asarray(lab_b, np.float64))
    per_deg = _just_noticed_per_deg(step)
    # Marks of 180 degrees and more do not exist: such a pair never reads apart.
    angle = np.radians(1.0 / np.maximum(per_deg, 1.0 / 179.0))
    distance = width / (2000.0 * np.tan(angle / 2.0))
    return np.asarray(np.where(per_deg < 1.0 / 179.0, 0.0, distance), dtype=np.float64)


def _just_noticed_per_deg(step: FloatArray) -> FloatArray:
    """1/angle at which each difference makes exactly one step, by halving; 0 where none does."""
    low = np.zeros(step.shape[:-1])
    # On every axis the difference is noticed up to 1/s = 2 d / B at most; so is their sum.
    high = 2.0 * np.sqrt(((step / _B) ** 2).sum(axis=-1))
    # Fifty halvings leave less than a millionth of a millionth of the range.
    for _ in range(50):
        middle = 0.5 * (low + high)
        shares = step / (0.5 * (_A + _B * middle[..., None]))
        noticed = (shares**2).sum(axis=-1) > 1.0
        low, high = np.where(noticed, middle, low), np.where(noticed, high, middle)
    return np.asarray(low, dtype=np.float64)
