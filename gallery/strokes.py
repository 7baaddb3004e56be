"""Thread and wire: strokes with a round section, lit from the upper left."""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

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


def _section(side: Floats, across_x: float, across_y: float) -> Floats:
    """Light on a round strand: ``side`` runs -1 to 1 across it, (across_x, across_y) points +1."""
    lift = np.sqrt(np.maximum(1.0 - side * side, 0.0))
    facing = side * (across_x * _LIGHT[0] + across_y * _LIGHT[1]) * 0.75 + 0.66 * lift
    return 0.30 + 0.80 * np.maximum(facing, 0.0)


class Stretches:
    """The straight stretches of runs of thread, found by place.

    Args:
        threads: the runs.
    """

    def __init__(self, threads: Sequence[Thread]) -> None:
        self._all = [
            replace(thread, points_mm=ends)
            for thread in threads
            for ends in pairwise(thread.points_mm)
        ]
        ends = np.array([one.points_mm for one in self._all], np.float64).reshape(-1, 2, 2)
        half = np.array([one.width_mm / 2.0 for one in self._all], np.float64)[:, None]
        self._low, self._high = ends.min(axis=1) - half, ends.max(axis=1) + half
        # By their left ends, so that a part of a long picture looks at its own only.
        self._order = np.argsort(self._low[:, 0], kind="stable")
        self._left = self._low[self._order, 0]
        self._widest = float((self._high - self._low)[:, 0].max(initial=0.0))

    def within(self, frame: Frame) -> dict[int, list[Thread]]:
        """The stretches that may show on a canvas, in their order, by layer."""
        # A stroke's soft rim reaches further than its half width, by two pixels at most.
        edge = 2.0 / frame.px_per_mm
        left = frame.left_mm + frame.left / frame.px_per_mm - edge
        top = frame.top_mm + frame.top / frame.px_per_mm - edge
        right = left + frame.width / frame.px_per_mm + 2.0 * edge
        bottom = top + frame.height / frame.px_per_mm + 2.0 * edge
        first, last = np.searchsorted(self._left, (left - self._widest, right))
        near = np.sort(self._order[first:last])
        low, high = self._low[near], self._high[near]
        seen = (high[:, 0] >= left) & (high[:, 1] >= top) & (low[:, 1] <= bottom)
        by_layer: dict[int, list[Thread]] = {}
        for number in near[seen].tolist():
            by_layer.setdefault(self._all[number].layer, []).append(self._all[number])
        return by_layer


def draw_threads(canvas: Floats, threads: list[Thread], frame: Frame) -> None:
    """Draws runs of thread on a canvas of premultiplied linear light; hair-thin ones together."""
    scale = frame.px_per_mm
    hairs = [thread for thread in threads if thread.width_mm * scale < _HAIR_PX]
    for colour in dict.fromkeys(thread.srgb1 for thread in hairs):
        _draw_hairs(canvas, [t for t in hairs if t.srgb1 == colour], frame)
    for thread in threads:
        if thread.width_mm * scale >= _HAIR_PX:
            _draw_thread(canvas, thread, frame)


def _draw_hairs(canvas: Floats, threads: list[Thread], frame: Frame) -> None:
    """Threads thinner than a pixel: dots close together, each spread over its four pixels."""
    spans = [
        (*start, *end, thread.width_mm)
        for thread in threads
        for start, end in pairwise(thread.points_mm)
    ]
    x0, y0, x1, y1, width = np.array(spans, np.float64).T * frame.px_per_mm
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
    colour = np.append(_linear(threads[0].srgb1) * np.float32(_HAIR_LEVEL), np.float32(1.0))
    pixels = canvas.reshape(-1, 4)
    pixels[inked] = pixels[inked] * (1.0 - alpha) + colour * alpha


def _draw_thread(canvas: Floats, thread: Thread, frame: Frame) -> None:
    """Draws a run of thread, segment by segment."""
    scale = frame.px_per_mm
    half = max(thread.width_mm * scale, 0.8) / 2.0
    points = [
        ((x - frame.left_mm) * scale - frame.left, (y - frame.top_mm) * scale - frame.top)
        for x, y in thread.points_mm
    ]
    colour = _linear(thread.srgb1)
    fade = min(1.0, thread.width_mm * scale / 0.8)
    for (x0, y0), (x1, y1) in pairwise(points):
        pad = half + 1.0
        box = _window(
            canvas, min(x0, x1) - pad, min(y0, y1) - pad, max(x0, x1) + pad, max(y0, y1) + pad
        )
        length = math.hypot(x1 - x0, y1 - y0)
        if box is None or length < 1e-6:
            continue
        x, y = _grid(box)
        ux, uy = (x1 - x0) / length, (y1 - y0) / length
        along = (x - x0) * ux + (y - y0) * uy
        side = (y - y0) * ux - (x - x0) * uy
        past = np.maximum(np.maximum(-along, along - length), 0.0)
        alpha = np.clip(half + 0.5 - np.hypot(side, past), 0.0, 1.0) * np.float32(fade)
        level = _section(np.clip(side / half, -1.0, 1.0), -uy, ux)
        _over(canvas, box[0], box[1], level[..., None] * colour, alpha.astype(np.float32))


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
