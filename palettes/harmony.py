"""How harmonious two colours look side by side; shown apart from contrast, for it rewards likeness.

Ou and Luo 2006, A colour harmony model for two-colour combinations, Color Research and Application
31(3), 191-204; the equations are written here from memory.
"""

import numpy as np
from numpy.typing import ArrayLike

from palettes.spaces import FloatArray, lab_to_lch


def harmony(lab_a: ArrayLike, lab_b: ArrayLike) -> FloatArray:
    """The model's score, from about -1.2 (clashing) to about 1.2 (harmonious).

    Args:
        lab_a: CIE L*a*b*, (..., 3).
        lab_b: the same, broadcast against it.

    Returns:
        The scores, shape of the broadcast without its last axis.
    """
    a, b = np.asarray(lab_a, dtype=np.float64), np.asarray(lab_b, dtype=np.float64)
    return _chromatic(a, b) + _lightness(a, b) + _hue(a) + _hue(b)


def mean_harmony(lab: ArrayLike) -> float:
    """The mean score over all pairs of (k, 3) colours; that of a colour with itself for one."""
    colours = np.asarray(lab, dtype=np.float64).reshape(-1, 3)
    first, second = np.triu_indices(len(colours), k=1 if len(colours) > 1 else 0)
    return float(harmony(colours[first], colours[second]).mean())


def _chromatic(a: FloatArray, b: FloatArray) -> FloatArray:
    difference = a - b
    chroma = np.hypot(a[..., 1], a[..., 2]) - np.hypot(b[..., 1], b[..., 2])
    # dH*^2 = da*^2 + db*^2 - dC*^2; rounding may leave it a hair below zero.
    hue_squared = np.maximum(difference[..., 1] ** 2 + difference[..., 2] ** 2 - chroma**2, 0.0)
    distance = np.sqrt(hue_squared + (chroma / 1.46) ** 2)
    return np.asarray(0.04 + 0.53 * np.tanh(0.8 - 0.045 * distance))


def _lightness(a: FloatArray, b: FloatArray) -> FloatArray:
    total = a[..., 0] + b[..., 0]
    apart = np.abs(a[..., 0] - b[..., 0])
    return np.asarray(
        0.28 + 0.54 * np.tanh(-3.88 + 0.029 * total) + 0.14 + 0.15 * np.tanh(-2.0 + 0.2 * apart)
    )


def _hue(lab: FloatArray) -> FloatArray:
    lightness, chroma, hue_deg = np.moveaxis(lab_to_lch(lab), -1, 0)
    hue = np.radians(hue_deg)
    colourful = 0.5 + 0.5 * np.tanh(-2.0 + 0.5 * chroma)
    liking = (
        -0.08 - 0.14 * np.sin(hue + np.radians(50.0)) - 0.07 * np.sin(2.0 * hue + np.radians(90.0))
    )
    around_yellow = (90.0 - hue_deg) / 10.0
    yellow = (0.22 * lightness - 12.8) / 10.0 * np.exp(around_yellow - np.exp(around_yellow))
    return np.asarray(colourful * (liking + yellow))
