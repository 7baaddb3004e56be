"""Skin as a backing: a published scale of tones, and the angle that orders skin."""

import numpy as np
from numpy.typing import ArrayLike

from palettes.spaces import FloatArray

# Chardon, Cretois and Hourseau 1991, Skin colour typology and suntanning pathways, International
# Journal of Cosmetic Science 13 (from memory): lower bounds in degrees.
_GROUPS = (
    (55.0, "very light"),
    (41.0, "light"),
    (28.0, "intermediate"),
    (10.0, "tan"),
    (-30.0, "brown"),
)


def typology_angle_deg(lab: ArrayLike) -> FloatArray:
    """The individual typology angle, atan((L* - 50) / b*) in degrees; large is light.

    Chardon, Cretois and Hourseau 1991.

    Args:
        lab: CIE L*a*b*, (..., 3).

    Returns:
        Degrees, without the last axis.
    """
    array = np.asarray(lab, dtype=np.float64)
    return np.asarray(np.degrees(np.arctan2(array[..., 0] - 50.0, array[..., 2])))


def typology_group(angle_deg: float) -> str:
    """The group of an angle in words, from ``very light`` to ``dark``."""
    return next((word for bound, word in _GROUPS if angle_deg > bound), "dark")
