"""What a piece lies on: paper, linen, slate or skin, as light that varies about one colour.

Textures are pure functions of the place in mm, so that a picture drawn in bands has no seams.
"""

from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gallery.scene import Ground, Scene, Srgb1
from gallery.solids import Floats
from gallery.stamps import Frame
from palettes.spaces import srgb1_to_linear1

# Chosen by us: each quiet enough to leave the beads the colour.
GROUND_SRGB1: dict[Ground, Srgb1] = {
    Ground.PLAIN: (0.980, 0.969, 0.945),
    Ground.PAPER: (0.965, 0.953, 0.929),
    Ground.LINEN: (0.855, 0.820, 0.757),
    Ground.SLATE: (0.255, 0.275, 0.290),
    Ground.SKIN: (0.816, 0.651, 0.545),
}


def on_ground(scene: Scene, ground: Ground | str, colour: Srgb1 | None = None) -> Scene:
    """The scene on another ground, in that ground's own colour unless one is given.

    Raises:
        ValueError: there is no such ground.
    """
    kind = Ground(ground)
    return replace(scene, ground=kind, ground_srgb1=colour or GROUND_SRGB1[kind])


def ground_mean(scene: Scene) -> Srgb1:
    """The ground's mean colour in linear light."""
    red, green, blue = (float(v) for v in srgb1_to_linear1(scene.ground_srgb1))
    return red, green, blue


def ground_light(scene: Scene, frame: Frame) -> Floats:
    """The ground in linear light, (3,) where it is even, else (h, w, 3)."""
    colour = np.array(ground_mean(scene), np.float32)
    if scene.ground is Ground.PLAIN:
        return colour
    level = _TEXTURES[scene.ground](frame.across_mm()[None, :], frame.down_mm()[:, None])
    # Whole channels at a time: numpy is slow at many short rows of three.
    light = np.empty((3, *level.shape), np.float32)
    for channel, mean in zip(light, colour, strict=True):
        channel[:] = mean * level
    return light.transpose(1, 2, 0)


Places = NDArray[np.floating[Any]]


def _scatter(column: NDArray[np.int64], row: NDArray[np.int64], salt: int) -> Places:
    """A number in 0-1 per lattice point: integer mixing, alike on every machine."""
    mixed = (column * 374761393 + row * 668265263 + salt * 1274126177) & 0xFFFFFFFF
    mixed = ((mixed ^ (mixed >> 13)) * 1103515245) & 0xFFFFFFFF
    return ((mixed ^ (mixed >> 16)) & 0xFFFF).astype(np.float64) / 65535.0


def noise(x: Places, y: Places, size_mm: float, salt: int) -> Places:
    """Smooth noise in -1 to 1 whose humps are about ``size_mm`` apart, at places in mm."""
    u, v = x / size_mm, y / size_mm
    column, row = np.floor(u).astype(np.int64), np.floor(v).astype(np.int64)
    s, t = u - column, v - row
    s, t = s * s * (3.0 - 2.0 * s), t * t * (3.0 - 2.0 * t)
    if len(x) == 1 and y.shape[1] == 1:
        # Level lines: each point of the lattice is worked out once for all places round it, and
        # each of its lines once for all rows between two lines.
        first, top = int(column.min()), int(row.min())
        columns = np.arange(first, int(column.max()) + 2)
        points = _scatter(columns, np.arange(top, int(row.max()) + 2)[:, None], salt)
        column, row = column[0] - first, row[:, 0] - top
        level = points[:, column] * (1.0 - s) + points[:, column + 1] * s
        upper, lower = level.take(row, axis=0), level.take(row + 1, axis=0)
    else:
        upper = _scatter(column, row, salt) * (1.0 - s) + _scatter(column + 1, row, salt) * s
        row = row + 1
        lower = _scatter(column, row, salt) * (1.0 - s) + _scatter(column + 1, row, salt) * s
    humps: Places = upper * (1.0 - t)
    lower *= t
    humps += lower
    humps *= 2.0
    humps -= 1.0
    return humps


def _paper(x: Places, y: Places) -> Places:
    fibres, clouds = noise(x, y, 0.35, 1), noise(x, y, 1.3, 2)
    fibres *= 0.012
    fibres += 1.0
    clouds *= 0.010
    fibres += clouds
    return fibres


def _linen(x: Places, y: Places) -> Places:
    """A plain weave: threads over and under in turn, each of its own thickness."""
    pitch = 0.46
    wobble_x = x + 0.06 * noise(x, y, 3.1, 3)
    wobble_y = y + 0.06 * noise(x, y, 2.7, 4)
    warp, weft = wobble_x / pitch, wobble_y / pitch
    over = (np.floor(warp) + np.floor(weft)) % 2.0
    round_x = np.sqrt(np.maximum(1.0 - (2.0 * (warp % 1.0) - 1.0) ** 2, 0.0))
    round_y = np.sqrt(np.maximum(1.0 - (2.0 * (weft % 1.0) - 1.0) ** 2, 0.0))
    # A thread on top bulges in the middle and dips under its neighbours at both ends.
    thread = np.where(over > 0.5, round_x * np.sqrt(round_y), round_y * np.sqrt(round_x))
    slub_x, slub_y = noise(x, y * 0.08, 0.46, 5), noise(x * 0.08, y, 0.46, 6)
    slub = 0.07 * np.where(over > 0.5, slub_x, slub_y)
    weave: Places = 0.84 + 0.24 * thread + slub
    return weave


def _slate(x: Places, y: Places) -> Places:
    """Cleft stone: layers that run slantwise, fine grain, a few pale flecks."""
    layers = 0.12 * noise(x * 0.35 + y * 0.2, y, 2.4, 7) + 0.09 * noise(x * 0.5, y, 0.9, 8)
    grain = 0.10 * noise(x, y, 0.22, 9)
    return 1.0 + layers + grain


def _skin(x: Places, y: Places) -> Places:
    """Skin close by: the large soft shade of a limb, and hardly any grain."""
    return 1.0 + 0.05 * noise(x, y, 14.0, 10) + 0.018 * noise(x, y, 0.7, 11)


_TEXTURES = {
    Ground.PAPER: _paper,
    Ground.LINEN: _linen,
    Ground.SLATE: _slate,
    Ground.SKIN: _skin,
}
