"""Pictures at the size of life, and a bar that says how large anything is."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from gallery.files import Pixels, Srgb8, text_size, to_png, with_text
from gallery.png_stream import png_stream
from gallery.raster import Drawing
from gallery.scene import Scene
from gallery.steps import Progress, Steps

MM_PER_INCH = 25.4  # exactly: the international inch of 1959
# Chosen by us, because printers of photographs and papers are asked for so many.
TRUE_SIZE_DPI = 300.0

# The product's ink, by eye; lengths of the bar chosen by us, because they are round figures.
_INK: Srgb8 = (42, 39, 35)
_BAR_ROOM_MM = 6.0  # chosen by us: room for the bar and its figure
_BAR_STEPS_MM = (1, 2, 5, 10, 20, 50, 100, 200, 500)
# Up to this many pixels a picture is packed whole, as tightly as any other; a larger one is drawn
# and packed band by band. Chosen by us: the strip of a bracelet or an anklet lies below it.
_WHOLE_PIXELS = 8_000_000
# Twice 89 478 485. Chosen by us, because Pillow and what uses it open no larger picture
# (``PIL.Image.MAX_IMAGE_PIXELS`` and its DecompressionBombError).
_MOST_PIXELS = 178_956_970


def px_per_mm_at(dots_per_inch: float) -> float:
    """Pixels per mm at a printer's dots per inch.

    Raises:
        ValueError: not a number above 0.
    """
    if not (math.isfinite(dots_per_inch) and dots_per_inch > 0.0):
        raise ValueError(f"dots per inch are a number above 0; got {dots_per_inch!r}")
    return dots_per_inch / MM_PER_INCH


def true_size_png(
    scene: Scene,
    *,
    dots_per_inch: float = TRUE_SIZE_DPI,
    seed: int | None = 0,
    bar: bool = True,
    progress: Progress | None = None,
) -> bytes:
    """A PNG that prints at the size of life, its scale in its pHYs chunk.

    Args:
        scene: what to show.
        dots_per_inch: the printer's.
        seed: as for ``draw``.
        bar: whether a scale bar stands below the scene, in a strip of its own.
        progress: told how many pixels are drawn and packed, of how many.

    Raises:
        ValueError: the picture would be too large; the message says the largest scale.
    """
    scale = px_per_mm_at(dots_per_inch)
    if bar:
        scene = replace(scene, height_mm=scene.height_mm + _BAR_ROOM_MM)
    drawing = Drawing(scene, scale, seed=seed, most_pixels=_MOST_PIXELS)
    total = drawing.width * drawing.height
    if total <= _WHOLE_PIXELS:
        steps = Steps(progress, total)
        pixels = drawing.part(0, 0, drawing.width, drawing.height, steps)
        return to_png(with_scale_bar(pixels, scale) if bar else pixels, scale)
    # Each pixel is drawn, and then packed.
    steps = Steps(progress, 2 * total)
    bands = drawing.bands(steps)
    if bar:
        bands = _barred(bands, drawing, scale)
    size = drawing.width, drawing.height, drawing.channels
    return b"".join(png_stream(bands, *size, scale, steps))


def _barred(bands: Iterator[Pixels], drawing: Drawing, px_per_mm: float) -> Iterator[Pixels]:
    """The drawing band by band, the scale bar laid over its lower left corner."""
    bar = _bar_of(drawing.width, px_per_mm)
    wide = min(drawing.width, bar.right_px)
    high = min(drawing.height, bar.high_px)
    first = drawing.height - high
    corner = _with_bar(drawing.part(0, first, wide, high), bar, _INK)
    top = 0
    for band in bands:
        start = max(first, top)
        if start < top + len(band):
            band[start - top :, :wide] = corner[start - first : top + len(band) - first]
        top += len(band)
        yield band
        # The next band is drawn while this one is let go.
        del band


def bar_length_mm(width_px: int, px_per_mm: float) -> int:
    """The longest round length that takes at most a third of the picture's width; at least 1 mm."""
    fitting = [step for step in _BAR_STEPS_MM if step * px_per_mm <= width_px / 3.0]
    return fitting[-1] if fitting else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    """A scale bar in pixels: its length and strokes, its text, and the corner that it takes."""

    length_px: int
    thick_px: int
    tick_px: int
    margin_px: int
    text: str
    text_px: int

    @property
    def right_px(self) -> int:
        """How far bar and text reach from the left, and a pixel of the text's soft rim more."""
        wide = max(self.length_px, text_size(self.text, self.text_px)[0] + self.text_px)
        return self.margin_px + wide + 1

    @property
    def high_px(self) -> int:
        """How far they reach from below."""
        return self.margin_px + self.tick_px + text_size(self.text, self.text_px)[1]


def _bar_of(width_px: int, px_per_mm: float) -> _Bar:
    length_mm = bar_length_mm(width_px, px_per_mm)
    return _Bar(
        length_px=round(length_mm * px_per_mm),
        thick_px=max(1, round(0.18 * px_per_mm)),
        tick_px=max(3, round(0.9 * px_per_mm)),
        margin_px=max(4, round(1.2 * px_per_mm)),
        text=f"{length_mm} mm",
        text_px=max(9, min(round(2.2 * px_per_mm), 40)),
    )


def with_scale_bar(pixels: Pixels, px_per_mm: float, ink: Srgb8 = _INK) -> Pixels:
    """A copy of a picture with a scale bar in its lower left corner, its length written over it.

    Args:
        pixels: (h, w, 3) sRGB.
        px_per_mm: its scale.
        ink: the bar's colour.
    """
    return _with_bar(pixels, _bar_of(pixels.shape[1], px_per_mm), ink)


def _with_bar(pixels: Pixels, bar: _Bar, ink: Srgb8) -> Pixels:
    height, width = pixels.shape[:2]
    out: Pixels = np.array(pixels)
    bottom = height - bar.margin_px
    left, right = bar.margin_px, min(bar.margin_px + bar.length_px, width)
    out[bottom - bar.thick_px : bottom, left:right] = ink
    for edge in (left, right - bar.thick_px):
        out[max(0, bottom - bar.tick_px) : bottom, edge : edge + bar.thick_px] = ink
    top = height - bar.high_px
    if top < 0:
        return out
    return with_text(out, bar.text, (left + bar.thick_px, top), bar.text_px, ink)
