"""A picture to show around: square or upright, the piece large, one line or two under it."""

from dataclasses import replace
from enum import StrEnum

import numpy as np

from gallery.files import Pixels, shortened, text_size, with_text
from gallery.framing import framed
from gallery.raster import draw
from gallery.scene import Scene
from gallery.solids import Floats
from gallery.steps import Progress
from palettes.spaces import linear1_to_lab, srgb1_to_linear1


class Format(StrEnum):
    """The shape of a picture for showing around."""

    SQUARE = "square"
    UPRIGHT = "upright"


# Widths and heights that phones show without cutting (common practice, no source).
FORMAT_PX = {Format.SQUARE: (1080, 1080), Format.UPRIGHT: (1080, 1350)}
_TEXT_PX = 40  # by eye
_LINES = 2  # by eye


def social(
    scene: Scene,
    fmt: Format | str = Format.SQUARE,
    *,
    caption: str = "",
    seed: int | None = 0,
    progress: Progress | None = None,
) -> Pixels:
    """The scene in the middle of a square or upright picture, with a caption of up to two lines.

    Args:
        scene: what to show; a loop fills a square best.
        fmt: square or upright.
        caption: plain text; lines beyond the second are left out, long ones cut.
        seed: as for ``draw``.
        progress: likewise.

    Raises:
        ValueError: no such format.
    """
    width, height = FORMAT_PX[Format(fmt)]
    lines = [line for line in caption.splitlines() if line.strip()][:_LINES]
    below = round(_TEXT_PX * (1.4 * len(lines) + 1.0)) if lines else 0
    fitted, scale = framed(scene, width, height - below)
    # The ground runs on under the caption, so that no edge shows.
    taller = replace(fitted, height_mm=height / scale)
    pixels = draw(taller, scale, seed=seed, progress=progress)
    ink = _ink_on(pixels[height - below :]) if lines else (0, 0, 0)
    y = height - below
    for number, line in enumerate(lines):
        size = _TEXT_PX if number == 0 else round(_TEXT_PX * 0.72)
        text = shortened(line.strip(), size, width - 2 * _TEXT_PX)
        left = (width - text_size(text, size)[0]) // 2
        pixels = with_text(pixels, text, (left, y), size, ink)
        y += round(_TEXT_PX * 1.4)
    return pixels


def _ink_on(ground: Pixels) -> tuple[int, int, int]:
    """Dark ink on a light ground, light ink on a dark one."""
    linear: Floats = srgb1_to_linear1(ground.reshape(-1, 3).mean(axis=0) / 255.0)
    lightness = float(linear1_to_lab(np.asarray(linear))[0])
    return (42, 39, 35) if lightness > 55.0 else (250, 247, 241)
