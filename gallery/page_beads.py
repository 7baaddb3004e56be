"""Beads on paper: their outlines as points, and a small picture of each look on clear ground."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from gallery.raster import Pixels, encode
from gallery.scene import PlacedBead, Point, Pose, Scene, Thread
from gallery.solids import Floats
from gallery.stamps import Frame, Stamps
from palettes.forms import Form

# Pixels per mm of a bead's picture: 600 dots per inch. Chosen by us, because printers
# for the home print no finer.
BEAD_PX_PER_MM = 600.0 / 25.4
_POINTS = 40  # of an outline; by eye
# How outlines round off, across and along the hole, as in ``gallery.shapes``; by eye.
_POWERS = {
    Form.ROUND: (2.1, 2.45),
    Form.CYLINDER: (4.0, 8.0),
    Form.CUBE: (4.8, 4.8),
    Form.DROP: (2.0, 2.0),
    Form.FACETED: (2.0, 2.0),
}


def outline_mm(bead: PlacedBead) -> tuple[Point, ...]:
    """The bead's rim where it lies, as points of a closed line."""
    ring = bead.pose is Pose.END and bead.form is not Form.CUBE
    across, along = _POWERS[Form.DROP if ring else bead.form]
    a = bead.across_mm / 2.0
    b = a if bead.pose is Pose.END else bead.along_mm / 2.0
    turn = math.radians(bead.turn_deg)
    sine, cosine = math.sin(turn), math.cos(turn)
    points = []
    for step in range(_POINTS):
        angle = math.tau * step / _POINTS
        u = math.copysign(abs(math.cos(angle)) ** (2.0 / across), math.cos(angle)) * a
        v = math.copysign(abs(math.sin(angle)) ** (2.0 / along), math.sin(angle)) * b
        if bead.form is Form.DROP and not ring:
            u *= 0.72 + 0.28 * v / b
        points.append((bead.x_mm + u * cosine - v * sine, bead.y_mm + u * sine + v * cosine))
    return tuple(points)


def bead_picture(bead: PlacedBead) -> tuple[Pixels, float]:
    """A bead's picture with clear ground, and the side that it takes on paper in mm.

    Args:
        bead: its place does not matter.

    Returns:
        (n, n, 4) sRGB with alpha, the bead in the middle; and n in millimetres.
    """
    scale = BEAD_PX_PER_MM
    reach = math.hypot(bead.across_mm, max(bead.along_mm, bead.across_mm))
    # Beads of several centimetres want no more pixels than a small one to look smooth.
    scale = min(scale, 400.0 / reach)
    size = 2 * math.ceil(reach * scale / 2.0) + 4
    canvas: Floats = np.zeros((size, size, 4), np.float32)
    side_mm = size / scale
    frame = Frame(
        left_mm=bead.x_mm - side_mm / 2.0,
        top_mm=bead.y_mm - side_mm / 2.0,
        px_per_mm=scale,
        width=size,
        height=size,
    )
    stamps = Stamps((bead,), frame, (1.0, 1.0, 1.0), None, casts_above=bead.layer)
    stamps.lay(canvas, [0], frame)
    alpha = np.clip(canvas[..., 3:], 0.0, 1.0)
    colour = encode(canvas[..., :3] / np.maximum(alpha, 1e-4))
    cover = np.rint(alpha * 255.0).astype(np.uint8)
    return np.concatenate([colour, cover], axis=-1), side_mm


class Across:
    """A wide scene, of which narrow parts are asked for one after the other.

    Args:
        scene: the whole.
    """

    def __init__(self, scene: Scene) -> None:
        self._scene = scene
        self._order = sorted(range(len(scene.beads)), key=lambda n: scene.beads[n].x_mm)
        self._x_mm = [scene.beads[n].x_mm for n in self._order]
        runs = enumerate(scene.threads)
        # By their places along the scene, so that a part looks only at what is near it.
        stretches = [
            (min(one[0], other[0]), max(one[0], other[0]), number, at)
            for number, thread in runs
            for at, (one, other) in enumerate(pairwise(thread.points_mm))
        ]
        self._stretches = sorted(stretches)
        self._lefts = [left for left, *_ in self._stretches]
        self._widest = max((right - left for left, right, *_ in stretches), default=0.0)

    def between(self, left_mm: float, right_mm: float) -> Scene:
        """The scene with only what of its beads and threads lies in that part, in their order."""
        first, last = bisect_left(self._x_mm, left_mm), bisect_left(self._x_mm, right_mm)
        beads = tuple(self._scene.beads[n] for n in sorted(self._order[first:last]))
        first = bisect_left(self._lefts, left_mm - self._widest)
        last = bisect_right(self._lefts, right_mm)
        near = sorted(
            (number, at) for _, right, number, at in self._stretches[first:last] if right >= left_mm
        )
        return replace(self._scene, beads=beads, threads=tuple(self._runs(near)))

    def _runs(self, near: list[tuple[int, int]]) -> Iterator[Thread]:
        """Threads of the stretches, those that follow one another joined again."""
        start = 0
        for end in range(1, len(near) + 1):
            number, at = near[end - 1]
            if end == len(near) or near[end] != (number, at + 1):
                thread, first = self._scene.threads[number], near[start][1]
                yield replace(thread, points_mm=thread.points_mm[first : at + 2])
                start = end


def beads_within(
    scene: Scene, left_mm: float, top_mm: float, width_mm: float, height_mm: float
) -> list[PlacedBead]:
    """The beads whose centres lie in a window, lower layers first, each in one window only."""
    right, bottom = left_mm + width_mm, top_mm + height_mm
    inside = [
        bead
        for bead in scene.beads
        if left_mm <= bead.x_mm < right and top_mm <= bead.y_mm < bottom
    ]
    return sorted(inside, key=lambda bead: bead.layer)


def threads_within(scene: Scene, left_mm: float, width_mm: float) -> Iterator[Thread]:
    """The runs of thread that cross a window's width, no longer than they need be."""
    right = left_mm + width_mm
    for thread in scene.threads:
        run: list[Point] = []
        for one, other in pairwise(thread.points_mm):
            if max(one[0], other[0]) >= left_mm and min(one[0], other[0]) <= right:
                run = run or [one]
                run.append(other)
            elif run:
                yield replace(thread, points_mm=tuple(run))
                run = []
        if run:
            yield replace(thread, points_mm=tuple(run))
