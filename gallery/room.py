"""The room that beads are looked at in: one window high on the left, a pale strip low on the right.

All values are radiance in linear light, 1 for white paper in the window's light.
"""

import math
from dataclasses import dataclass

import numpy as np

from gallery.shapes import Surface
from gallery.solids import Floats, smooth

# Chosen by us after trials: high enough on the left that the patch sits where painters put it.
_WINDOW = (-0.46, -0.60, 0.655)
_WINDOW_HALF = (0.33, 0.43)
_WINDOW_RADIANCE = 19.0
_STRIP = (0.70, 0.50, 0.51)
_STRIP_HALF = (0.10, 0.55)
_STRIP_RADIANCE = 2.6
# Glass of refractive index 1.5 mirrors 4 % of what meets it head on (Schlick 1994).
_HEAD_ON = 0.04


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lit:
    """What the room does to one surface, every map (k,) float32 as the surface has them.

    Attributes:
        facing: the cosine between surface and window light, -1 to 1.
        up: how far the surface faces the ceiling, -1 to 1.
        mirror_y: how far down a mirror at that place would look, -1 to 1.
        window, strip: 0-1, how much of the lamp it would see there.
        gloss: what clear glass mirrors there: window, strip, and a room that is lighter above.
    """

    facing: Floats
    up: Floats
    mirror_y: Floats
    window: Floats
    strip: Floats
    gloss: Floats


def _unit(x: float, y: float, z: float) -> tuple[float, float, float]:
    size = math.sqrt(x * x + y * y + z * z)
    return x / size, y / size, z / size


def _panel(
    x: Floats, y: Floats, z: Floats, at: tuple[float, float, float], half: tuple[float, float],
    edge: float,
) -> Floats:  # fmt: skip
    """How much of a flat panel in that direction a ray meets, its borders softened by ``edge``."""
    ax, ay, az = _unit(*at)
    side = math.hypot(ax, az)
    ahead = np.maximum(ax * x + ay * y + az * z, np.float32(1e-3))
    right = (az * x - ax * z) / side / ahead
    down = (-ax * ay * x + (ax * ax + az * az) * y - ay * az * z) / side / ahead
    inside_x = 1.0 - smooth(half[0] - edge, half[0] + edge, np.abs(right))
    inside_y = 1.0 - smooth(half[1] - edge, half[1] + edge, np.abs(down))
    return np.where(ahead > 0.05, inside_x * inside_y, np.float32(0.0))


def light(face: Surface) -> Lit:
    """The room's light on a surface."""
    nx, ny, nz = face.nx, face.ny, face.nz
    wx, wy, wz = _unit(*_WINDOW)
    mx, my, mz = 2.0 * nz * nx, 2.0 * nz * ny, 2.0 * nz * nz - 1.0
    window = _panel(mx, my, mz, _WINDOW, _WINDOW_HALF, 0.10)
    strip = _panel(mx, my, mz, _STRIP, _STRIP_HALF, 0.08)
    return Lit(
        facing=nx * wx + ny * wy + nz * wz,
        up=-ny,
        mirror_y=my,
        window=window,
        strip=strip,
        gloss=_gloss(face, my, window, strip),
    )


def diffuse(lit: Lit, face: Surface, wrap: float) -> Floats:
    """Light on a dull surface: the window wrapped round it, the ceiling, less where beads touch."""
    window = np.maximum((lit.facing + wrap) / (1.0 + wrap), 0.0)
    sky = 0.5 + 0.5 * lit.up
    bounce = 0.12 * np.maximum(-lit.up, 0.0)
    rim = 0.62 + 0.38 * smooth(0.0, 0.55, face.nz)
    level: Floats = (0.78 * window + 0.26 * sky + bounce) * rim * (1.0 - 0.55 * face.touch)
    return level


def _gloss(face: Surface, mirror_y: Floats, window: Floats, strip: Floats) -> Floats:
    fresnel = _HEAD_ON + (1.0 - _HEAD_ON) * (1.0 - np.clip(face.nz, 0.0, 1.0)) ** 5
    # Neighbours stand in the way of the room at the very rim.
    open_sky = smooth(0.0, 0.5, face.nz)
    room = (0.30 + 0.55 * smooth(-0.6, 0.9, -mirror_y)) * (0.35 + 0.65 * open_sky)
    mirrored = np.minimum(fresnel, 0.35) * room
    lamps = _HEAD_ON * (_WINDOW_RADIANCE * window + _STRIP_RADIANCE * strip)
    level: Floats = (mirrored + lamps) * (1.0 - 0.7 * face.touch)
    return level
