"""One bead as a small picture, kept by what it looks like.

Bounded stores keep what was worked out: a bead's surface and the light on it, which all finishes
share, its look without colour (both in ``placing``), and finished pictures per place within a
pixel. A picture is in linear light with premultiplied alpha.
"""

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from gallery.looks import SMALL_PX, Look, kept_by_size
from gallery.placing import Box, Offset, every_offset, layers_at
from gallery.scene import Pose, Srgb1
from gallery.shading import Layers
from gallery.solids import Floats, smooth
from palettes.finishes import Finish
from palettes.spaces import linear1_to_lab, srgb1_to_linear1

# How far a bead's mean may stray from its true colour (CIE76, before rounding to 8 bits), so that
# black beads may keep a highlight and white ones a shadow; chosen by us, because it is hardly
# visible.
MOST_SHIFT = 2.2
_LIGHTEST = 0.90  # by eye
_SEE_THROUGH = 0.55  # by eye
# A forward bead's shadow on those behind: how far right and down in diameters, how deep; by
# eye.
_CAST_OFFSET = (0.07, 0.10)
_CAST_DEPTH = 0.55
# No body is drawn brighter than this before its highlight, nor flatter than this share of its
# shading; a rainbow may add this much more of its own light. Chosen by us by eye.
_PEAK = 0.985
_LEAST_CONTRAST = 0.30
_RAINBOW_EASE = 3.0
_RAINBOW_PALE = 2.5
_ROUNDS = 16  # at most; by trial
# Means closer than this, in linear light, are as wanted, and shares that move less stand still:
# chosen by us, because both are far below what eight bits show.
_NEAR_ENOUGH, _STILL = 0.002, 0.0002
# How much of a body may stay uncoloured, and how bright dim glass and its lamp are; by eye.
_MOST_UNCOLOURED = 0.85
_DIM, _LAMP = 0.35, 0.5


class Sprite(NamedTuple):
    """A bead's picture, cut to what there is of it.

    Attributes:
        left, top: where its first pixel lies from the one that holds the bead's centre.
        ink: (h, w, 4) premultiplied linear light.
        rest: (h, w, 4), the share of what lies behind that is still seen.
    """

    left: int
    top: int
    ink: Floats
    rest: Floats


@lru_cache(maxsize=512)
def _aim(colour: Srgb1) -> tuple[tuple[float, ...], float]:
    """The mean to reach for a colour in linear light, and the most white light to add to it."""
    linear = np.clip(srgb1_to_linear1(colour), 0.0, 1.0)
    lab = linear1_to_lab(linear)
    aim = linear
    for dim in np.linspace(0.0, 0.2, 21):
        trial = linear * (1.0 - dim)
        if linear.max() * (1.0 - dim) < _LIGHTEST - 0.1:
            break
        if math.dist(linear1_to_lab(trial), lab) > MOST_SHIFT * 0.7:
            break
        aim = trial
    room = 0.0
    # CIEDE2000 counts a step near black less than CIE76 does.
    most = MOST_SHIFT * (0.8 if lab[0] > 15.0 else 1.0)
    for white in np.geomspace(1e-4, 0.3, 48):
        if math.dist(linear1_to_lab(np.maximum(linear, white)), lab) > most:
            break
        room = float(white)
    return tuple(float(v) for v in aim), max(room, 1e-4)


def _tinted(layers: Layers, colour: Floats) -> Floats:
    """The coloured part, (offsets, 3, k)."""
    parts = [
        (colour ** np.float32(power))[:, None] * layers.weights[:, None, at]
        for at, power in enumerate(layers.powers)
    ]
    total = parts[0]
    for part in parts[1:]:
        total += part
    return total


def _mean(maps: Floats, area: Floats) -> Floats:
    """The mean over each picture's glass, (offsets, channels), of maps (offsets, channels, k)."""
    mean: Floats = np.add.reduce(maps, axis=2) / area[:, None]
    return mean


def _area(layers: Layers) -> Floats:
    """Each picture's glass in pixels; a speck between all samples has none, so never quite 0."""
    area: Floats = np.maximum(np.add.reduce(layers.glass, axis=1), np.float32(1e-6))
    return area


def _levelled(body: Floats, layers: Layers, area: Floats, white: Floats, aim: Floats) -> Floats:
    """The coloured part brought to the mean that is wanted, shadows softened before it clips."""
    glass = layers.glass
    aim3 = aim[:, None]
    body = body * (aim / np.maximum(_mean(body, area), 1e-6))[..., None]
    limit = glass[:, None]
    peak, bright = _peak(body, glass), float(aim.max())
    if peak > _PEAK:
        contrast = max(_LEAST_CONTRAST, (_PEAK - bright) / max(peak - bright, 1e-6))
        body = aim3 * limit + min(contrast, 1.0) * (body - aim3 * limit)
    share = np.ones((len(body), 3), np.float32)
    whole = np.maximum(aim, np.float32(1e-6))
    shown = np.empty_like(body)
    for _ in range(_ROUNDS):
        np.multiply(body, share[..., None], out=shown)
        shown += white
        np.minimum(shown, limit, out=shown)
        missing = aim - _mean(shown, area)
        if float(np.abs(missing).max()) < _NEAR_ENOUGH:
            break
        better = np.maximum(share + missing / whole, np.float32(0.0))
        # Where white light alone is more than the colour has, nothing more can be taken away.
        if float(np.abs(better - share).max()) < _STILL:
            break
        share = better
    body *= share[..., None]
    return body


def _peak(body: Floats, glass: Floats) -> float:
    """A brightness that few places within the glass go beyond; 0 where none can be too bright."""
    if float(np.maximum.reduce(body, axis=None)) < 0.5 * _PEAK:
        return 0.0
    # Beside the glass, where nothing is wanted, a brightness below all others.
    within = glass > 0.5
    level = np.where(within[:, None], body / np.maximum(glass, 0.5)[:, None], np.float32(-1.0))
    inside = 3 * int(np.count_nonzero(within))
    at = level.size - inside + int(0.93 * inside)
    return float(np.partition(level, at, axis=None)[at]) if inside else 0.0


def _uncoloured(
    look: Look, layers: Layers, area: Floats, aim: Floats, room: float, behind: Floats
) -> Floats:
    """The white light (offsets, 1 or 3, k), no more of it than the colour leaves room for.

    Args:
        look: the bead's look.
        layers: its layers.
        area: each picture's glass in pixels.
        aim: the mean to reach.
        room: the most white light.
        behind: (offsets, 3), the mean of the ground's light that shows through.
    """
    # A rainbow's colours are its own, so its white light may go further from the body colour.
    ease = _RAINBOW_EASE if look.finish is Finish.RAINBOW else 1.0
    spare = float((_MOST_UNCOLOURED * aim - behind).min())
    left = max(room - float(behind.max()), spare, 0.0)
    white = layers.white
    if look.finish is Finish.RAINBOW:
        # On a pale body a film takes light away as much as it adds.
        white = white * np.float32(1.0 + _RAINBOW_PALE * float(aim.min()))
    level = _mean(white, area)
    if ease * left < _DIM * float(level.mean()):
        # Little light may be added: spend it on the lamp, not on the room around it.
        white = white * np.minimum(np.maximum(white / np.float32(_LAMP), 0.0), 1.0)
        level = _mean(white, area)
    each = np.add.reduce(level, axis=1) / np.float32(level.shape[1])
    keep = np.minimum(np.float32(ease * left) / np.maximum(each, np.float32(1e-6)), 1.0)
    scaled: Floats = white * keep[:, None, None]
    return scaled


@kept_by_size(small=1500, middle=320, large=24)
def _coloured(
    look: Look, colour: Srgb1, ground: Srgb1, offsets: tuple[Offset, ...]
) -> tuple[Sprite, ...]:
    box, layers = layers_at(look, offsets)
    aim_values, room = _aim(colour)
    aim = np.array(aim_values, np.float32)
    alpha, clear = layers.alpha, layers.clear
    behind: Floats = np.zeros((len(offsets), 3, 1), np.float32)
    if clear is not None:
        behind1 = np.array(ground, np.float32)
        # Never more of the ground than the bead's own colour leaves room for.
        pale = min(1.0, float((aim / np.maximum(behind1, 1e-3)).min()))
        through = clear * np.float32(_SEE_THROUGH * pale)
        behind = behind1[:, None] * through[:, None]
        alpha = alpha - through
    area = _area(layers)
    white = _uncoloured(look, layers, area, aim, room, _mean(behind, area))
    base = _tinted(layers, np.maximum(aim, np.float32(1e-3)))
    body = _levelled(base, layers, area, white if clear is None else white + behind, aim)
    light_out = np.maximum(body + white, 0.0)
    if layers.fixed is not None:
        light_out += layers.fixed
    ink = np.empty((*alpha.shape, 4), np.float32)
    ink[..., :3] = light_out.transpose(0, 2, 1)
    ink[..., 3] = alpha
    ink = ink.reshape(len(offsets), box.height, box.width, 4)
    if look.casts:
        whole = np.zeros((len(offsets), look.cells, look.cells, 4), np.float32)
        whole[:, box.top : box.top + box.height, box.left : box.left + box.width] = ink
        ink, box = whole, Box(0, 0, look.cells, look.cells)
    rest = np.empty_like(ink)
    np.subtract(np.float32(1.0), ink[..., 3:], out=rest)
    if look.casts:
        # Light is taken from what lies behind, cover is not, so that the ground stays as it is.
        rest[..., :3] *= _cast(look, offsets)[..., None]
    left, top = box.left - look.cells // 2, box.top - look.cells // 2
    return tuple(Sprite(left, top, one, other) for one, other in zip(ink, rest, strict=True))


def _cast(look: Look, offsets: tuple[Offset, ...]) -> Floats:
    """The light (offsets, h, w) that is left in the soft shadow of a bead on those behind it."""
    cells = look.cells
    line = np.arange(cells, dtype=np.float32) + np.float32(0.5 - cells / 2)
    size = look.across_px
    right = np.array([offset[0] for offset in offsets], np.float32) / look.fine
    down = np.array([offset[1] for offset in offsets], np.float32) / look.fine
    x = line[None, None, :] - right[:, None, None] - np.float32(_CAST_OFFSET[0] * size)
    y = line[None, :, None] - down[:, None, None] - np.float32(_CAST_OFFSET[1] * size)
    turn = math.radians(look.turn_deg)
    u, v = x * math.cos(turn) + y * math.sin(turn), y * math.cos(turn) - x * math.sin(turn)
    along = look.across_px if look.pose is Pose.END else look.along_px
    far = np.hypot(2.0 * u / look.across_px, 2.0 * v / along)
    left: Floats = 1.0 - np.float32(_CAST_DEPTH) * (1.0 - smooth(0.70, 1.34, far))
    return left.astype(np.float32)


def sprite(look: Look, colour: Srgb1, ground: Srgb1, offset: Offset) -> Sprite:
    """A bead's picture.

    Args:
        look: what it looks like but for its colour.
        colour: sRGB in 0-1.
        ground: the ground's colour in linear light, which shows through clear glass.
        offset: how far its centre lies right of and below a pixel's corner, in samples of which
            there are ``look.fine`` to a pixel.
    """
    fine = look.fine
    if not (0 <= offset[0] < fine and 0 <= offset[1] < fine):
        raise ValueError(f"a place within a pixel is 0 to {fine - 1} samples; got {offset!r}")
    if look.across_px <= SMALL_PX:
        return _coloured(look, colour, ground, every_offset(fine))[offset[1] * fine + offset[0]]
    return _coloured(look, colour, ground, (offset,))[0]
