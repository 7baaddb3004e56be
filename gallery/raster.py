"""From a scene in millimetres to pixels: beads, thread, metal and one soft shadow on the ground."""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from gallery.grounds import ground_light, ground_mean
from gallery.limb import limb_over
from gallery.scene import PlacedBead, Scene
from gallery.solids import Floats
from gallery.stamps import Frame, draw_beads
from gallery.strokes import draw_ring, draw_threads
from palettes.spaces import linear1_to_srgb1

Pixels = NDArray[np.uint8]

# Chosen by us, because a picture of more pixels would take more memory than a small machine has.
MOST_PIXELS = 64_000_000
# Pixels drawn at a time. Chosen by us, so that a large picture needs little more memory than its
# own bytes.
_BAND_PIXELS = 1_200_000

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
    if not (math.isfinite(px_per_mm) and px_per_mm > 0.0):
        raise ValueError(f"pixels per mm is a number above 0; got {px_per_mm!r}")
    width = max(1, round(scene.width_mm * px_per_mm))
    height = max(1, round(scene.height_mm * px_per_mm))
    if width * height > MOST_PIXELS:
        most = math.sqrt(MOST_PIXELS / (scene.width_mm * scene.height_mm))
        raise ValueError(
            f"{width} x {height} pixels are more than {MOST_PIXELS}: at most "
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


def _in_frame(scene: Scene, frame: Frame) -> dict[int, list[tuple[int, PlacedBead]]]:
    """The beads that may show in a frame, numbered as in the scene, by layer."""
    bottom_mm = frame.top_mm + frame.height / frame.px_per_mm
    by_layer: dict[int, list[tuple[int, PlacedBead]]] = {}
    for number, bead in enumerate(scene.beads):
        reach = bead.across_mm + bead.along_mm
        if frame.top_mm - reach < bead.y_mm < bottom_mm + reach:
            by_layer.setdefault(bead.layer, []).append((number, bead))
    return by_layer


def _band(scene: Scene, frame: Frame, seed: int | None) -> Floats:
    """The piece without its ground on a canvas of premultiplied linear light."""
    canvas = np.zeros((frame.height, frame.width, 4), np.float32)
    origin = (frame.left_mm, frame.top_mm)
    beads = _in_frame(scene, frame)
    lowest = min((bead.layer for bead in scene.beads), default=0)
    ground1 = ground_mean(scene)
    layers = {thread.layer for thread in scene.threads} | {ring.layer for ring in scene.rings}
    for layer in sorted(layers | beads.keys()):
        threads = [thread for thread in scene.threads if thread.layer == layer]
        draw_threads(canvas, threads, origin, frame.px_per_mm)
        here = beads.get(layer, [])
        draw_beads(canvas, here, frame, ground1, seed, casts=layer > lowest)
        for ring in scene.rings:
            if ring.layer == layer:
                draw_ring(canvas, ring, origin, frame.px_per_mm)
    return canvas


def _finished(canvas: Floats, scene: Scene, frame: Frame, *, clear: bool) -> Pixels:
    cover = canvas[..., 3]
    shadow = _shadow(cover, frame.px_per_mm)
    if clear:
        alpha = cover + (1.0 - cover) * shadow
        colour = canvas[..., :3] / np.maximum(alpha, 1e-4)[..., None]
        opacity = np.rint(np.clip(alpha, 0.0, 1.0) * 255.0).astype(np.uint8)
        return np.concatenate([encode(colour), opacity[..., None]], axis=-1)
    lit = (1.0 - cover) * (1.0 - shadow)
    behind = ground_light(scene, frame)
    if scene.limb is not None:
        behind = limb_over(behind, scene.limb, frame)
    out = np.empty((*cover.shape, 3), np.uint8)
    # Whole channels at a time: numpy is slow at many short rows of three.
    for channel in range(3):
        light = lit * behind[..., channel]
        light += canvas[..., channel]
        out[..., channel] = encode(light)
    return out


def draw(scene: Scene, px_per_mm: float, *, seed: int | None = 0, clear: bool = False) -> Pixels:
    """Draws a scene.

    Args:
        scene: what to show.
        px_per_mm: the scale.
        seed: which small irregularities the beads have; None draws every bead alike.
        clear: leave the ground out and give alpha.

    Returns:
        (height, width, 3) sRGB bytes, or (height, width, 4) when ``clear``.

    Raises:
        ValueError: the picture would be too large, or the scale is none.
    """
    width, height = size_px(scene, px_per_mm)
    out = np.empty((height, width, 4 if clear else 3), np.uint8)
    halo = math.ceil((3.0 * _SHADOW_BLUR_MM + _SHADOW_OFFSET_MM[1]) * px_per_mm) + 1
    rows = max(64, _BAND_PIXELS // width)
    for top in range(0, height, rows):
        end = min(top + rows, height)
        start, stop = max(0, top - halo), min(height, end + halo)
        frame = Frame(
            left_mm=scene.left_mm,
            top_mm=scene.top_mm + start / px_per_mm,
            px_per_mm=px_per_mm,
            width=width,
            height=stop - start,
        )
        canvas = _band(scene, frame, seed)
        pixels = _finished(canvas, scene, frame, clear=clear)
        out[top:end] = pixels[top - start : end - start]
    return out
