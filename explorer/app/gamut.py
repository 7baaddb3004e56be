"""Lightness, strength and hue of a colour, kept within what a screen shows."""

import numpy as np
from numpy.typing import NDArray

from palettes.spaces import (
    hex_to_srgb1,
    lab_to_lch,
    lab_to_srgb1,
    lch_to_lab,
    srgb1_to_hex,
    srgb1_to_lab,
)

# Worked out: sRGB's strongest colour, its pure blue, has a chroma of about 134; above it nothing is
# shown.
MOST_CHROMA = 134
# Worked out: a channel may leave 0-1 by so much and still round to a whole step of 255.
_SPILL = 0.5 / 255.0


def lch_of(hex_: str) -> tuple[int, int, int]:
    """Lightness 0-100, chroma and hue in degrees of a colour, to whole numbers."""
    lightness, chroma, hue = (float(v) for v in lab_to_lch(srgb1_to_lab(hex_to_srgb1(hex_))))
    return round(lightness), round(chroma), round(hue) % 360


def shown(lightness: float, hue: float) -> NDArray[np.bool_]:
    """Which whole chromas, from 0 on, a screen shows at a lightness and a hue.

    Beside the sharpest corners of sRGB (its yellow) a middle chroma may be missing while a stronger
    one is there.
    """
    chroma = np.arange(MOST_CHROMA + 1.0)
    lch = np.stack([np.full_like(chroma, lightness), chroma, np.full_like(chroma, hue)], axis=-1)
    srgb1 = lab_to_srgb1(lch_to_lab(lch))
    return np.asarray(((srgb1 >= -_SPILL) & (srgb1 <= 1.0 + _SPILL)).all(axis=-1))


def most_chroma(lightness: float, hue: float) -> int:
    """The strongest whole chroma that a screen shows at that lightness and hue."""
    return int(np.flatnonzero(shown(lightness, hue)).max(initial=0))


def hex_of(lightness: float, chroma: int, hue: float) -> str:
    """The colour, with its chroma lowered to one that a screen shows."""
    below = np.flatnonzero(shown(lightness, hue)[: chroma + 1])
    kept = int(below.max(initial=0))
    return srgb1_to_hex(lab_to_srgb1(lch_to_lab([lightness, kept, hue])))
