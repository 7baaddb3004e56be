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
from gallery.strokes import Stretches, draw_ring, draw_threads
from palettes.spaces import linear1_to_srgb1

Pixels = NDArray[np.uint8]

# Chosen by us, because a picture of more pixels would take more memory than a small machine has.
MOST_PIXELS = 64_000_000
# Pixels drawn at a time, and how wide a tile is in a picture that is far wider, with how many rows
# at least. Chosen by us, so that a large picture needs little more memory than its own bytes.
_BAND_PIXELS = 1_200_000
_TILE_PX = 1024
_LEAST_ROWS = 64
# What a picture that is handed on band by band holds of itself. Chosen by us, because a strip of a
# thousand motifs keeps within 500 MB with it.
_HELD_BYTES = 128_000_000

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
    places = np.clip(linear, 0.0, 1.0)
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
    sums = np.zeros((count + width - 1, cover.shape[1]), np.float32)
    sums[before : before + count] = cover
    total = np.zeros_like(cover)
    done, size = 0, 1
    while size <= width:
        if width & size:
            total += sums[done : done + count]
            done += size
        sums = sums[:-size] + sums[size:]
        size *= 2
    total *= np.float32(1.0 / width)
    return total


def _blurred(cover: Floats, reach_px: float) -> Floats:
    """Three running means, which together come close to a Gaussian of that standard deviation."""
    width = max(1, round(reach_px * 2.0))
    for _ in range(2):
        for _ in range(3):
            cover = _running_mean(cover, width)
        cover = np.ascontiguousarray(cover.T)
    return cover


def _shadow(cover: Floats, scale: float) -> Floats:
    right, down = (round(offset * scale) for offset in _SHADOW_OFFSET_MM)
    moved = np.zeros_like(cover)
    height, width = cover.shape
    moved[down:, right:] = cover[: height - down, : width - right]
    soft = _blurred(moved, _SHADOW_BLUR_MM * scale)
    squared = soft * soft
    return np.float32(_SHADOW_DEPTH) * soft + np.float32(_CREVICE_DEPTH) * squared * squared


def _finished(canvas: Floats, shadow: Floats, scene: Scene, frame: Frame) -> Pixels:
    """The piece with its shadow on its ground."""
    lit = (1.0 - canvas[..., 3]) * (1.0 - shadow)
    behind = ground_light(scene, frame)
    if scene.limb is not None:
        behind = limb_over(behind, scene.limb, frame)
    out = np.empty((*shadow.shape, 3), np.uint8)
    # Whole channels at a time: numpy is slow at many short rows of three.
    for channel in range(3):
        light = lit * behind[..., channel]
        light += canvas[..., channel]
        out[..., channel] = encode(light)
    return out


def _finished_clear(canvas: Floats, shadow: Floats) -> Pixels:
    """The piece with its shadow and nothing behind it."""
    cover = canvas[..., 3]
    alpha = cover + (1.0 - cover) * shadow
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

    def bands(self) -> Iterator[Pixels]:
        """The whole picture from the top down, a few rows at a time."""
        bands = math.ceil(self.width * self.height * self.channels / _HELD_BYTES)
        rows = max(_LEAST_ROWS, math.ceil(self.height / bands))
        for top in range(0, self.height, rows):
            yield self.part(0, top, self.width, min(rows, self.height - top))

    def part(self, left: int, top: int, width: int, height: int) -> Pixels:
        """A part of the picture that lies wholly in it, in pixels from the upper left corner.

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
        shadow = _shadow(canvas[..., 3], frame.px_per_mm)
        # What lies round the tile only casts its shadow into it.
        right, down = left - start_x, top - start_y
        inner = slice(down, down + high), slice(right, right + wide)
        canvas, shadow = canvas[inner], shadow[inner]
        if self._clear:
            tile[:] = _finished_clear(canvas, shadow)
        else:
            frame = replace(frame, left=left, top=top, width=wide, height=high)
            tile[:] = _finished(canvas, shadow, self._scene, frame)

    def _canvas(self, frame: Frame) -> Floats:
        """The piece without its ground on a canvas of premultiplied linear light."""
        canvas = np.zeros((frame.height, frame.width, 4), np.float32)
        beads, threads = self._stamps.within(frame), self._threads.within(frame)
        rings = {ring.layer for ring in self._scene.rings}
        for layer in sorted(rings | threads.keys() | beads.keys()):
            draw_threads(canvas, threads.get(layer, []), frame)
            self._stamps.lay(canvas, beads.get(layer, []), frame)
            for ring in self._scene.rings:
                if ring.layer == layer:
                    draw_ring(canvas, ring, frame)
        return canvas


def draw(scene: Scene, px_per_mm: float, *, seed: int | None = 0, clear: bool = False) -> Pixels:
    """Draws a whole scene; see ``Drawing``.

    Returns:
        (height, width, 3) sRGB bytes, or (height, width, 4) when ``clear``.

    Raises:
        ValueError: the picture would be too large, or the scale is none.
    """
    drawing = Drawing(scene, px_per_mm, seed=seed, clear=clear)
    return drawing.part(0, 0, drawing.width, drawing.height)
