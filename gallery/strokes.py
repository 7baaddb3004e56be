"""Thread and wire: strokes with a round section, lit from the upper left."""

import math
from collections.abc import Sequence
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from gallery.scene import MetalRing, Srgb1, Thread
from gallery.solids import Floats
from gallery.stamps import Frame
from palettes.spaces import srgb1_to_linear1

# From the window, above and to the left; chosen by us, so that it has length 1.
_LIGHT = (-0.60, -0.80)
# Below this width a thread's own roundness cannot be seen (by eye); its mean light then, worked out
# from _section.
_HAIR_PX = 1.2
_HAIR_LEVEL = 0.75
# Pixels round strands that are worked out at a time. Chosen by us, because so few stay near the
# processor through all that is done to them.
_AT_ONCE_PX = 16_384

Numbers = NDArray[np.int64]


def _over(canvas: Floats, top: int, left: int, colour: Floats, alpha: Floats) -> None:
    """Lays colour (h, w, 3) with alpha (h, w) on the canvas; it lies wholly inside."""
    under = canvas[top : top + alpha.shape[0], left : left + alpha.shape[1]]
    under *= (1.0 - alpha)[..., None]
    under[..., :3] += colour * alpha[..., None]
    under[..., 3] += alpha


def _window(
    canvas: Floats, x0: float, y0: float, x1: float, y1: float
) -> tuple[int, int, int, int] | None:
    """The pixels of a box that lie on the canvas as top, left, bottom, right; None if none do."""
    height, width = canvas.shape[:2]
    left, top = max(0, math.floor(x0)), max(0, math.floor(y0))
    right, bottom = min(width, math.ceil(x1)), min(height, math.ceil(y1))
    return (top, left, bottom, right) if left < right and top < bottom else None


def _grid(box: tuple[int, int, int, int]) -> tuple[Floats, Floats]:
    top, left, bottom, right = box
    return (
        np.arange(left, right, dtype=np.float32)[None, :] + np.float32(0.5),
        np.arange(top, bottom, dtype=np.float32)[:, None] + np.float32(0.5),
    )


def _linear(colour: Srgb1) -> Floats:
    return srgb1_to_linear1(colour).astype(np.float32)


def _section(side: Floats, facing: Floats) -> Floats:
    """Light on a round strand: ``side`` runs -1 to 1 across it, whose +1 faces the light so far."""
    lift = np.sqrt(np.maximum(1.0 - side * side, 0.0))
    level: Floats = 0.30 + 0.80 * np.maximum(side * facing * 0.75 + 0.66 * lift, 0.0)
    return level


class Stretches:
    """The straight stretches of runs of thread, found by place and drawn.

    Args:
        threads: the runs.
    """

    def __init__(self, threads: Sequence[Thread]) -> None:
        ends = [pair for thread in threads for pair in pairwise(thread.points_mm)]
        each = np.array([len(one.points_mm) - 1 for one in threads], np.int64)
        # One row a stretch: its two ends.
        self._ends = np.array(ends, np.float64).reshape(-1, 2, 2)
        self._width = np.repeat(np.array([one.width_mm for one in threads], np.float64), each)
        self._layer = np.repeat(np.array([one.layer for one in threads], np.int64), each)
        self._colours = list(dict.fromkeys(one.srgb1 for one in threads))
        colours = [self._colours.index(one.srgb1) for one in threads]
        self._colour = np.repeat(np.array(colours, np.int64), each)
        half = self._width[:, None] / 2.0
        self._low, self._high = self._ends.min(axis=1) - half, self._ends.max(axis=1) + half
        # By their left ends, so that a part of a long picture looks at its own only.
        self._order = np.argsort(self._low[:, 0], kind="stable")
        self._left = self._low[self._order, 0]
        self._widest = float((self._high - self._low)[:, 0].max(initial=0.0))

    def within(self, frame: Frame) -> dict[int, Numbers]:
        """The numbers of the stretches that may show on a canvas, in their order, by layer."""
        # A stroke's soft rim reaches further than its half width, by two pixels at most.
        edge = 2.0 / frame.px_per_mm
        left = frame.left_mm + frame.left / frame.px_per_mm - edge
        top = frame.top_mm + frame.top / frame.px_per_mm - edge
        right = left + frame.width / frame.px_per_mm + 2.0 * edge
        bottom = top + frame.height / frame.px_per_mm + 2.0 * edge
        first, last = np.searchsorted(self._left, (left - self._widest, right))
        near = np.sort(self._order[first:last])
        low, high = self._low[near], self._high[near]
        near = near[(high[:, 0] >= left) & (high[:, 1] >= top) & (low[:, 1] <= bottom)]
        layers = self._layer[near]
        return {layer: near[layers == layer] for layer in np.unique(layers).tolist()}

    def draw(self, canvas: Floats, numbers: Numbers, frame: Frame) -> None:
        """Draws stretches in their order on a canvas of premultiplied linear light.

        Hair-thin ones come first and together.

        Args:
            canvas: (h, w, 4), drawn on in place.
            numbers: which stretches.
            frame: where the canvas lies.
        """
        hair = self._width[numbers] * frame.px_per_mm < _HAIR_PX
        colours = self._colour[numbers]
        for colour in dict.fromkeys(colours[hair].tolist()):
            those = numbers[hair & (colours == colour)]
            _draw_hairs(canvas, self._ends[those], self._width[those], self._colours[colour], frame)
        rest = numbers[~hair].tolist()
        alike = groupby(rest, lambda one: (self._width[one], self._colour[one]))
        for (width_mm, colour), group in alike:
            ends_px = (self._ends[list(group)] - (frame.left_mm, frame.top_mm)) * frame.px_per_mm
            ends_px -= (frame.left, frame.top)
            width_px = float(width_mm) * frame.px_per_mm
            _draw_strands(canvas, ends_px, width_px, _linear(self._colours[colour]))


def _draw_hairs(
    canvas: Floats, ends_mm: Floats, width_mm: Floats, srgb1: Srgb1, frame: Frame
) -> None:
    """Threads thinner than a pixel: dots close together, each spread over its four pixels."""
    x0, y0, x1, y1 = ends_mm.reshape(-1, 4).T * frame.px_per_mm
    width = width_mm * frame.px_per_mm
    length = np.hypot(x1 - x0, y1 - y0)
    dots = np.maximum(np.ceil(length * 2.0), 1.0).astype(np.int64)
    which = np.repeat(np.arange(len(dots)), dots)
    part = (np.arange(len(which)) - np.repeat(np.cumsum(dots) - dots, dots) + 0.5) / dots[which]
    x = x0[which] + (x1 - x0)[which] * part - frame.left_mm * frame.px_per_mm - 0.5 - frame.left
    y = y0[which] + (y1 - y0)[which] * part - frame.top_mm * frame.px_per_mm - 0.5 - frame.top
    ink = (width * length / dots)[which]
    height, breadth = canvas.shape[:2]
    left, top = np.floor(x).astype(np.int64), np.floor(y).astype(np.int64)
    columns = np.concatenate([left, left + 1, left, left + 1])
    rows = np.concatenate([top, top, top + 1, top + 1])
    part_x, part_y = x - left, y - top
    upper, lower = ink * (1.0 - part_y), ink * part_y
    weights = np.concatenate(
        [upper * (1.0 - part_x), upper * part_x, lower * (1.0 - part_x), lower * part_x]
    )
    seen = (columns >= 0) & (columns < breadth) & (rows >= 0) & (rows < height)
    places = (rows * breadth + columns)[seen]
    cover = np.bincount(places, weights=weights[seen], minlength=height * breadth)
    inked = np.flatnonzero(cover > 0.0)
    alpha = np.minimum(cover[inked], 1.0).astype(np.float32)[:, None]
    colour = np.append(_linear(srgb1) * np.float32(_HAIR_LEVEL), np.float32(1.0))
    pixels = canvas.reshape(-1, 4)
    pixels[inked] = pixels[inked] * (1.0 - alpha) + colour * alpha


def _draw_strands(canvas: Floats, ends_px: Floats, width_px: float, colour: Floats) -> None:
    """Strands of one width and colour: their pixels are worked out many at a time.

    Args:
        canvas: drawn on in place.
        ends_px: (strands, 2, 2), both ends of each as x and y on the canvas.
        width_px: how wide they are.
        colour: in linear light.
    """
    half = max(width_px, 0.8) / 2.0
    pad = half + 1.0
    low = np.maximum(np.floor(ends_px.min(axis=1) - pad), 0.0).astype(np.int64)
    size = np.array(canvas.shape[1::-1])
    high = np.minimum(np.ceil(ends_px.max(axis=1) + pad), size).astype(np.int64)
    # Python's own measure, which is exact to the last place.
    length = np.array([math.dist(*pair) for pair in ends_px.tolist()])
    seen = (low < high).all(axis=1) & (length >= 1e-6)
    ends_px, low, high, length = ends_px[seen], low[seen], high[seen], length[seen]
    fade = min(1.0, width_px / 0.8)
    pixels = (high - low).prod(axis=1)
    # A strand that lies aslant has many pixels round it; so few at once take little memory.
    batch = (np.cumsum(pixels) - pixels) // _AT_ONCE_PX
    for some in np.split(np.arange(len(batch)), np.flatnonzero(np.diff(batch)) + 1):
        ink, rest = _inked(
            ends_px[some],
            length[some],
            low[some],
            high[some],
            half,
            fade,
            colour,
        )
        start = 0
        for (left, top), (right, bottom) in zip(
            low[some].tolist(), high[some].tolist(), strict=True
        ):
            under = canvas[top:bottom, left:right]
            end = start + (bottom - top) * (right - left)
            under *= rest[start:end].reshape(under.shape)
            under += ink[start:end].reshape(under.shape)
            start = end


def _inked(
    ends_px: Floats,
    length_px: Floats,
    low: Numbers,
    high: Numbers,
    half_px: float,
    fade: float,
    colour: Floats,
) -> tuple[Floats, Floats]:
    """Strands in the boxes round them, one after the other as rows of pixels.

    Returns:
        Ink and rest, (pixels, 4) each, as a bead's picture has them.
    """
    # What is the same in a row of a box is worked out by row.
    wide, rows = (high - low).T
    strand = np.repeat(np.arange(len(rows)), rows)
    wide = wide[strand]
    row = np.repeat(np.arange(len(wide)), wide)
    column = np.arange(len(row)) - (np.cumsum(wide) - wide - low[strand, 0])[row]
    down = np.arange(len(wide)) - (np.cumsum(rows) - rows - low[:, 1])[strand]
    way = (ends_px[:, 1] - ends_px[:, 0]) / length_px[:, None]
    facing = -way[:, 1] * _LIGHT[0] + way[:, 0] * _LIGHT[1]
    by_strand = np.stack([*ends_px[:, 0].T, *way.T, length_px, facing]).astype(np.float32)
    x0, y0, ux, uy, length, facing = by_strand[:, strand]
    y = down.astype(np.float32) + np.float32(0.5) - y0
    x = column.astype(np.float32) + np.float32(0.5) - x0[row]
    along = x * ux[row] + (y * uy)[row]
    side = (y * ux)[row] - x * uy[row]
    past = np.maximum(np.maximum(-along, along - length[row]), 0.0)
    alpha = np.clip(half_px + 0.5 - np.hypot(side, past), 0.0, 1.0) * np.float32(fade)
    level = _section(np.clip(side / half_px, -1.0, 1.0), facing[row])
    ink = np.empty((len(row), 4), np.float32)
    for channel in range(3):
        ink[:, channel] = level * colour[channel] * alpha
    ink[:, 3] = alpha
    return ink, np.repeat(1.0 - alpha, 4).reshape(-1, 4)


def draw_ring(canvas: Floats, ring: MetalRing, frame: Frame) -> None:
    """Draws an ellipse of polished wire on a canvas of premultiplied linear light."""
    scale = frame.px_per_mm
    cx = (ring.x_mm - frame.left_mm) * scale - frame.left
    cy = (ring.y_mm - frame.top_mm) * scale - frame.top
    half = max(ring.wire_mm * scale, 1.0) / 2.0
    a = max(ring.width_mm * scale / 2.0 - half, 0.5)
    b = max(ring.height_mm * scale / 2.0 - half, 0.5)
    reach = max(a, b) + half + 1.0
    box = _window(canvas, cx - reach, cy - reach, cx + reach, cy + reach)
    if box is None:
        return
    x, y = _grid(box)
    turn = math.radians(ring.turn_deg)
    sine, cosine = math.sin(turn), math.cos(turn)
    u, v = (x - cx) * cosine + (y - cy) * sine, (y - cy) * cosine - (x - cx) * sine
    # Distance to an ellipse to first order: its implicit value over the gradient's size.
    value = np.hypot(u / a, v / b)
    gu, gv = u / (a * a), v / (b * b)
    gradient = np.hypot(gu, gv) / np.maximum(value, 1e-4)
    side = (value - 1.0) / np.maximum(gradient, 1e-6)
    alpha = np.clip(half + 0.5 - np.abs(side), 0.0, 1.0)
    norm = np.maximum(np.hypot(gu, gv), 1e-9)
    out_x, out_y = (gu * cosine - gv * sine) / norm, (gu * sine + gv * cosine) / norm
    section = np.clip(side / half, -1.0, 1.0)
    level = _metal(section, section * (out_x * _LIGHT[0] + out_y * _LIGHT[1]))
    colour = level[..., None] * _linear(ring.srgb1)
    _over(canvas, box[0], box[1], colour.astype(np.float32), alpha.astype(np.float32))


def _metal(side: Floats, facing: Floats) -> Floats:
    """Polished wire mirrors a bright upper room and a dark horizon, with one narrow flash."""
    lift = np.sqrt(np.maximum(1.0 - side * side, 0.0))
    mirror = 0.16 + 1.05 / (1.0 + np.exp(-(facing + 0.12 * lift) * 9.0))
    flash = 0.9 * np.exp(-(((facing - 0.45) / 0.13) ** 2))
    level: Floats = mirror * (0.55 + 0.45 * lift) + flash
    return level
