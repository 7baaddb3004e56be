"""From a scene in millimetres to pixels: beads, thread, metal and one soft shadow on the ground."""

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from gallery.grounds import ground_light, ground_mean
from gallery.limb import limb_over
from gallery.scene import Scene
from gallery.solids import Floats
from gallery.stamps import Frame, Stamps
from gallery.steps import Progress, Steps
from gallery.strokes import Stretches, draw_ring
from palettes.spaces import linear1_to_srgb1

Pixels = NDArray[np.uint8]

# Chosen by us, because a picture of more pixels would take more memory than a small machine has.
MOST_PIXELS = 64_000_000
# Pixels drawn at a time, and how wide a tile is in a picture that is far wider, with how many rows
# at least. Chosen by us, so that a large picture needs little more memory than its own bytes.
_BAND_PIXELS = 1_200_000
_TILE_PX = 1024
_LEAST_ROWS = 64
# Pixels blurred and finished at a time. Chosen by us, because so few stay near the processor
# through all that is done to them.
_BLOCK_PIXELS = 32_768
# What a picture that is handed on band by band holds of itself. Chosen by us, because a strip of a
# thousand motifs is one band then, none of it drawn twice, and keeps within 500 MB.
_HELD_BYTES = 230_000_000

# One soft shadow, down and right of the piece, as from the window; by eye.
_SHADOW_OFFSET_MM = (0.30, 0.42)
_SHADOW_BLUR_MM = 0.55
_SHADOW_DEPTH = 0.50
# In the crevices between beads hardly any light arrives; by eye.
_CREVICE_DEPTH = 0.40


def size_px(scene: Scene, px_per_mm: float) -> tuple[int, int]:
    """Width and height of a scene's picture in pixels.

    Raises:
        ValueError: the scale is no number above 0, or the picture is too large to draw; the
            message says the largest scale that can be drawn.
    """
    return _size_px(scene, px_per_mm, MOST_PIXELS)


def _size_px(scene: Scene, px_per_mm: float, most_pixels: int) -> tuple[int, int]:
    if not (math.isfinite(px_per_mm) and px_per_mm > 0.0):
        raise ValueError(f"pixels per mm is a number above 0; got {px_per_mm!r}")
    width = max(1, round(scene.width_mm * px_per_mm))
    height = max(1, round(scene.height_mm * px_per_mm))
    if width * height > most_pixels:
        most = math.sqrt(most_pixels / (scene.width_mm * scene.height_mm))
        raise ValueError(
            f"{width} x {height} pixels are more than {most_pixels}: at most "
            f"{math.floor(most * 100) / 100} pixels per mm fit this scene; got {px_per_mm}"
        )
    return width, height


@lru_cache(maxsize=1)
def _encoding() -> Pixels:
    levels = np.repeat(np.linspace(0.0, 1.0, 16384)[:, None], 3, axis=1)
    return np.rint(linear1_to_srgb1(levels)[:, 0] * 255.0).astype(np.uint8)


def encode(linear: Floats) -> Pixels:
    """Linear light in 0-1 to sRGB in 0-255; what lies outside is clipped."""
    places = np.maximum(linear, np.float32(0.0))
    np.minimum(places, np.float32(1.0), out=places)
    places *= np.float32(16383.0)
    places += np.float32(0.5)
    encoded: Pixels = _encoding().take(places.astype(np.uint16))
    return encoded


def _running_mean(cover: Floats, width: int) -> Floats:
    """The mean of ``width`` values down each column, 0 beyond the borders.

    Sums of 1, 2, 4, ... values are made from each other, and those that make up the width added:
    a few whole-array sums, some ten times quicker than a running sum of each column.
    """
    before, count = width // 2, len(cover)
    sums = np.zeros_like(cover, shape=(count + width - 1, cover.shape[1]))
    sums[before : before + count] = cover
    parts, done = [], 0
    for power in range(width.bit_length()):
        size = 1 << power
        if power:
            sums = sums[: -size // 2] + sums[size // 2 :]
        if width & size:
            parts.append(sums[done : done + count])
            done += size
    total = parts[0]
    for part in parts[1:]:
        total = total + part
    return np.multiply(total, np.float32(1.0 / width))


def _blurred(cover: Floats, reach_px: float) -> Floats:
    """Three running means, which together come close to a Gaussian of that standard deviation."""
    width = max(1, round(reach_px * 2.0))
    for _ in range(2):
        blurred = np.empty_like(cover)
        lines = max(1, _BLOCK_PIXELS // len(cover))
        for left in range(0, cover.shape[1], lines):
            part = cover[:, left : left + lines]
            for _ in range(3):
                part = _running_mean(part, width)
            blurred[:, left : left + lines] = part
        # The same numbers with rows for columns; nothing is moved.
        cover = blurred.T
    return cover


def _shadow(cover: Floats, scale: float) -> Floats:
    """How much the piece stands in the window's light, softly, before ``_depth``."""
    right, down = (round(offset * scale) for offset in _SHADOW_OFFSET_MM)
    moved = np.zeros(cover.shape, np.float32)
    height, width = cover.shape
    moved[down:, right:] = cover[: height - down, : width - right]
    return _blurred(moved, _SHADOW_BLUR_MM * scale)


def _depth(soft: Floats) -> Floats:
    """The share of light that a soft shadow takes away."""
    squared = soft * soft
    return np.float32(_SHADOW_DEPTH) * soft + np.float32(_CREVICE_DEPTH) * squared * squared


def _finished(canvas: Floats, soft: Floats, scene: Scene, frame: Frame) -> Pixels:
    """The piece with its shadow on its ground."""
    lit = (1.0 - canvas[..., 3]) * (1.0 - _depth(soft))
    behind = ground_light(scene, frame)
    if scene.limb is not None:
        behind = limb_over(behind, scene.limb, frame)
    out = np.empty((*lit.shape, 3), np.uint8)
    # Whole channels at a time: numpy is slow at many short rows of three.
    for channel in range(3):
        light = lit * behind[..., channel]
        light += canvas[..., channel]
        out[..., channel] = encode(light)
    return out


def _finished_clear(canvas: Floats, soft: Floats) -> Pixels:
    """The piece with its shadow and nothing behind it."""
    cover = canvas[..., 3]
    alpha = cover + (1.0 - cover) * _depth(soft)
    colour = canvas[..., :3] / np.maximum(alpha, 1e-4)[..., None]
    opacity = np.rint(np.clip(alpha, 0.0, 1.0) * 255.0).astype(np.uint8)
    return np.concatenate([encode(colour), opacity[..., None]], axis=-1)


class Drawing:
    """A scene at a scale, ready to be drawn part by part; the parts fit without a seam.

    Args:
        scene: what to show.
        px_per_mm: the scale.
        seed: which small irregularities the beads have; None draws every bead alike.
        clear: leave the ground out and give alpha.
        most_pixels: a picture of more is refused.

    Raises:
        ValueError: the picture would be too large, or the scale is none.
    """

    def __init__(
        self,
        scene: Scene,
        px_per_mm: float,
        *,
        seed: int | None = 0,
        clear: bool = False,
        most_pixels: int = MOST_PIXELS,
    ) -> None:
        self._scene, self._clear = scene, clear
        self.width, self.height = _size_px(scene, px_per_mm, most_pixels)
        self.channels = 4 if clear else 3
        self._whole = Frame(
            left_mm=scene.left_mm,
            top_mm=scene.top_mm,
            px_per_mm=px_per_mm,
            width=self.width,
            height=self.height,
        )
        lowest = min((bead.layer for bead in scene.beads), default=0)
        self._stamps = Stamps(
            scene.beads, self._whole, ground_mean(scene), seed, casts_above=lowest
        )
        self._threads = Stretches(scene.threads)
        # How far a shadow reaches from what casts it.
        self._halo = math.ceil((3.0 * _SHADOW_BLUR_MM + _SHADOW_OFFSET_MM[1]) * px_per_mm) + 1

    def bands(self, steps: Steps | None = None) -> Iterator[Pixels]:
        """The whole picture from the top down, a few rows at a time; ``steps`` as for ``part``."""
        bands = math.ceil(self.width * self.height * self.channels / _HELD_BYTES)
        rows = max(_LEAST_ROWS, math.ceil(self.height / bands))
        for top in range(0, self.height, rows):
            yield self.part(0, top, self.width, min(rows, self.height - top), steps)

    def part(
        self, left: int, top: int, width: int, height: int, steps: Steps | None = None
    ) -> Pixels:
        """A part of the picture that lies wholly in it, in pixels from the upper left corner.

        Args:
            left: where the part begins.
            top: likewise.
            width: how large it is.
            height: likewise.
            steps: counts the pixels that are drawn.

        Returns:
            (height, width, 3) sRGB bytes, or (height, width, 4) where the ground is left out.
        """
        out = np.empty((height, width, self.channels), np.uint8)
        # Narrow pictures are drawn in whole rows; tiles are wide against what they share.
        wide = max(_TILE_PX, 8 * self._halo)
        wide = width if width <= 2 * wide else wide
        rows = max(_LEAST_ROWS, _BAND_PIXELS // wide)
        for down in range(0, height, rows):
            for across in range(0, width, wide):
                tile = out[down : down + rows, across : across + wide]
                self._draw(tile, left + across, top + down)
                if steps is not None:
                    steps(tile.shape[0] * tile.shape[1])
        return out

    def _draw(self, tile: Pixels, left: int, top: int) -> None:
        high, wide = tile.shape[:2]
        start_x, start_y = max(0, left - self._halo), max(0, top - self._halo)
        frame = replace(
            self._whole,
            left=start_x,
            top=start_y,
            width=min(self.width, left + wide + self._halo) - start_x,
            height=min(self.height, top + high + self._halo) - start_y,
        )
        canvas = self._canvas(frame)
        soft = _shadow(canvas[..., 3], frame.px_per_mm)
        # What lies round the tile only casts its shadow into it.
        right, down = left - start_x, top - start_y
        inner = slice(down, down + high), slice(right, right + wide)
        canvas, soft = canvas[inner], soft[inner]
        lines = max(1, _BLOCK_PIXELS // wide)
        for first in range(0, high, lines):
            rows = slice(first, min(first + lines, high))
            if self._clear:
                tile[rows] = _finished_clear(canvas[rows], soft[rows])
            else:
                frame = replace(
                    self._whole, left=left, top=top + first, width=wide, height=rows.stop - first
                )
                tile[rows] = _finished(canvas[rows], soft[rows], self._scene, frame)

    def _canvas(self, frame: Frame) -> Floats:
        """The piece without its ground on a canvas of premultiplied linear light."""
        canvas = np.zeros((frame.height, frame.width, 4), np.float32)
        beads, threads = self._stamps.within(frame), self._threads.within(frame)
        rings = {ring.layer for ring in self._scene.rings}
        for layer in sorted(rings | threads.keys() | beads.keys()):
            if layer in threads:
                self._threads.draw(canvas, threads[layer], frame)
            self._stamps.lay(canvas, beads.get(layer, []), frame)
            for ring in self._scene.rings:
                if ring.layer == layer:
                    draw_ring(canvas, ring, frame)
        return canvas


def draw(
    scene: Scene,
    px_per_mm: float,
    *,
    seed: int | None = 0,
    clear: bool = False,
    progress: Progress | None = None,
) -> Pixels:
    """Draws a whole scene; see ``Drawing``. ``progress`` is told how many pixels are drawn.

    Returns:
        (height, width, 3) sRGB bytes, or (height, width, 4) when ``clear``.

    Raises:
        ValueError: the picture would be too large, or the scale is none.
    """
    drawing = Drawing(scene, px_per_mm, seed=seed, clear=clear)
    steps = Steps(progress, drawing.width * drawing.height)
    return drawing.part(0, 0, drawing.width, drawing.height, steps)
