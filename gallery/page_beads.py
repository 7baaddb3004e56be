"""Beads on paper: their outlines as points, and a small picture of each look on clear ground."""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from gallery.raster import Pixels, encode
from gallery.scene import PlacedBead, Point, Pose, Scene, Thread
from gallery.solids import Floats
from gallery.stamps import Frame, Stamps
from palettes.forms import Form

# Pixels per mm of a bead's picture: 600 dots per inch, as fine as printers for the home print.
BEAD_PX_PER_MM = 600.0 / 25.4
_POINTS = 40
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
