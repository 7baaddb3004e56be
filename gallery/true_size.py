"""Pictures at the size of life, and a bar that says how large anything is."""

import math
from dataclasses import replace

import numpy as np

from gallery.files import Pixels, Srgb8, text_size, to_png, with_text
from gallery.raster import draw
from gallery.scene import Scene

MM_PER_INCH = 25.4  # exactly: the international inch of 1959

# The product's ink, by eye; lengths of the bar chosen by us, because they are round figures.
_INK: Srgb8 = (42, 39, 35)
_BAR_ROOM_MM = 6.0  # chosen by us: room for the bar and its figure
_BAR_STEPS_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500)


def px_per_mm_at(dots_per_inch: float) -> float:
    """Pixels per mm at a printer's dots per inch.

    Raises:
        ValueError: not a number above 0.
    """
    if not (math.isfinite(dots_per_inch) and dots_per_inch > 0.0):
        raise ValueError(f"dots per inch are a number above 0; got {dots_per_inch!r}")
    return dots_per_inch / MM_PER_INCH


def true_size_png(
    scene: Scene, *, dots_per_inch: float = 300.0, seed: int | None = 0, bar: bool = True
) -> bytes:
    """A PNG that prints at the size of life, its scale in its pHYs chunk.

    Args:
        scene: what to show.
        dots_per_inch: the printer's.
        seed: as for ``draw``.
        bar: whether a scale bar stands below the scene, in a strip of its own.

    Raises:
        ValueError: the picture would be too large; the message says the largest scale.
    """
    scale = px_per_mm_at(dots_per_inch)
    if bar:
        scene = replace(scene, height_mm=scene.height_mm + _BAR_ROOM_MM)
    pixels = draw(scene, scale, seed=seed)
    if bar:
        pixels = with_scale_bar(pixels, scale)
    return to_png(pixels, scale)


def bar_length_mm(width_px: int, px_per_mm: float) -> int:
    """The longest round length that takes at most a third of the picture's width; at least 1 mm."""
    fitting = [step for step in _BAR_STEPS_MM if step * px_per_mm <= width_px / 3.0]
    return fitting[-1] if fitting else 1


def with_scale_bar(pixels: Pixels, px_per_mm: float, ink: Srgb8 = _INK) -> Pixels:
    """A copy of a picture with a scale bar in its lower left corner, its length written over it.

    Args:
        pixels: (h, w, 3) sRGB.
        px_per_mm: its scale.
        ink: the bar's colour.
    """
    height, width = pixels.shape[:2]
    length_mm = bar_length_mm(width, px_per_mm)
    length = round(length_mm * px_per_mm)
    thick = max(1, round(0.18 * px_per_mm))
    tick = max(3, round(0.9 * px_per_mm))
    margin = max(4, round(1.2 * px_per_mm))
    out: Pixels = np.array(pixels)
    bottom = height - margin
    left, right = margin, min(margin + length, width)
    out[bottom - thick : bottom, left:right] = ink
    for edge in (left, right - thick):
        out[max(0, bottom - tick) : bottom, edge : edge + thick] = ink
    text = f"{length_mm} mm"
    size = max(9, min(round(2.2 * px_per_mm), 40))
    text_h = text_size(text, size)[1]
    if bottom - tick - text_h < 0:
        return out
    return with_text(out, text, (left + thick, bottom - tick - text_h), size, ink)
