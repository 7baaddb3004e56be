"""Draws a limb behind a worn piece: soft skin on a round body, lit as the beads are."""

import numpy as np

from gallery.grounds import noise
from gallery.scene import Limb
from gallery.solids import Floats, smooth
from gallery.stamps import Frame
from palettes.spaces import srgb1_to_linear1

# Skin scatters light: the shade wraps far round and its border is redder than the skin. By eye.
_WRAP = 0.55
_SCATTER = (1.10, 0.95, 0.90)
_SIDE = -0.50


def limb_over(behind: Floats, limb: Limb, frame: Frame) -> Floats:
    """The ground with the limb on it, (h, w, 3) in linear light.

    Args:
        behind: the ground, (3,) or (h, w, 3) in linear light.
        limb: what to draw.
        frame: where the canvas lies.
    """
    # Asked for here, since few pictures have a limb and scipy takes long to load.
    from scipy.interpolate import PchipInterpolator

    rows = np.array(limb.outline_mm)
    y = frame.down_mm()
    # Held level beyond the outline's ends, monotone between its rows so that nothing bulges.
    held = np.clip(y, rows[0, 0], rows[-1, 0])
    left, right = (PchipInterpolator(rows[:, 0], rows[:, side])(held) for side in (1, 2))
    x = frame.across_mm()
    middle, half = (left + right)[:, None] / 2.0, (right - left)[:, None] / 2.0
    side = ((x[None, :] - middle) / half).astype(np.float32)
    edge_px = (1.0 - np.abs(side)) * half * frame.px_per_mm
    cover = np.clip(edge_px + 0.5, 0.0, 1.0).astype(np.float32)[..., None]
    # Fine grain keeps the wide soft shades from falling into bands of 8-bit steps.
    grain = 0.020 * noise(x[None, :], y[:, None], 0.45, 21) + 0.03 * noise(
        x[None, :], y[:, None], 9.0, 22
    )
    skin = _skin_light(np.clip(side, -1.0, 1.0), limb) * (1.0 + grain)[..., None]
    over: Floats = behind * (1.0 - cover) + skin * cover
    return over.astype(np.float32)


def _skin_light(side: Floats, limb: Limb) -> Floats:
    """Skin on a round section: ``side`` runs -1 to 1 from rim to rim."""
    lift = np.sqrt(np.maximum(1.0 - side * side, 0.0))
    facing = side * np.float32(_SIDE) + 0.80 * lift
    lit = np.maximum((facing + _WRAP) / (1.0 + _WRAP), 0.0)
    level = 0.22 + 0.86 * lit
    # Where light fades, red has gone farther through the skin than green and blue.
    fade = 1.0 - smooth(0.15, 0.75, lit)
    tint = [1.0 + (scatter - 1.0) * fade for scatter in _SCATTER]
    colour = srgb1_to_linear1(limb.srgb1)
    sheen = 0.018 * np.exp(-(((facing - 0.95) / 0.14) ** 2))
    parts = [colour[at] * level * tint[at] + sheen for at in range(3)]
    return np.stack(parts, axis=-1).astype(np.float32)
