"""What is left of a picture from farther away, or through nearly closed eyes."""

import math

import numpy as np
from scipy.ndimage import gaussian_filter1d

from gallery.files import Pixels
from gallery.raster import encode
from palettes.spaces import srgb1_to_linear1

# Visus 1.0 resolves one minute of arc (ISO 8596); two points that far apart just merge when each
# is spread by half of it on either side.
_ARC_MINUTE_DEG = 1.0 / 60.0
_SPREAD = 0.5


def spread_mm(distance_mm: float, arc_minutes: float = 1.0) -> float:
    """The standard deviation in mm by which an eye at that distance spreads a point.

    Args:
        distance_mm: from eye to piece.
        arc_minutes: what the eye resolves; 1 is ordinary sight, more is a squint.
    """
    if not (math.isfinite(distance_mm) and distance_mm > 0.0 and arc_minutes > 0.0):
        raise ValueError(f"a distance is a number above 0; got {distance_mm!r} mm")
    return _SPREAD * distance_mm * math.tan(math.radians(_ARC_MINUTE_DEG * arc_minutes))


def squint(
    pixels: Pixels, px_per_mm: float, distance_mm: float, *, arc_minutes: float = 1.0
) -> Pixels:
    """The picture as blurred as an eye at that distance sees the piece, averaged in linear light.

    Args:
        pixels: (h, w, 3) sRGB.
        px_per_mm: its scale.
        distance_mm: from eye to piece.
        arc_minutes: what the eye resolves; 1 is ordinary sight, more is a squint.
    """
    sigma = spread_mm(distance_mm, arc_minutes) * px_per_mm
    linear = srgb1_to_linear1(pixels[..., :3] / 255.0).astype(np.float32)
    for axis in (0, 1):
        linear = gaussian_filter1d(linear, sigma, axis=axis, mode="nearest", truncate=3.0)
    return encode(linear)
