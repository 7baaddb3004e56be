"""Fits a scene into a picture of a given size in pixels."""

import math
from dataclasses import replace

from gallery.scene import Scene

# Scales are rounded down to this many pixels per mm, so that pictures of like pieces share the
# same small pictures of beads; chosen by us, because it is hardly a hundredth of a
# picture's width.
_SCALE_STEP = 0.05
# A picture in a page is never larger; chosen by us, because it is twice a wide screen of small
# pixels.
PAGE_PX = 16_000_000
# A bead in a page is drawn no wider; chosen by us, since the work grows with the square of it and
# more can no longer be seen.
BEAD_PX = 160


def scale_to_fit(scene: Scene, width_px: int, height_px: int) -> float:
    """The largest scale in pixels per mm, in steps, at which the scene fits the picture.

    Raises:
        ValueError: the picture has no size.
    """
    if width_px < 1 or height_px < 1:
        raise ValueError(f"a picture is at least 1 x 1 pixels; got {width_px!r} x {height_px!r}")
    exact = min(width_px / scene.width_mm, height_px / scene.height_mm)
    stepped = math.floor(exact / _SCALE_STEP + 1e-9) * _SCALE_STEP
    return round(stepped, 2) if stepped > 0.0 else exact


def drawable(scene: Scene, px_per_mm: float) -> float:
    """The scale, or the largest at which neither the picture nor a bead in it is needlessly large.

    Args:
        scene: what to show.
        px_per_mm: the scale that is wished for.
    """
    widest_mm = max((max(bead.across_mm, bead.along_mm) for bead in scene.beads), default=0.0)
    page = math.sqrt(PAGE_PX / (scene.width_mm * scene.height_mm))
    return min(px_per_mm, page, BEAD_PX / widest_mm if widest_mm else page)


def framed(scene: Scene, width_px: int, height_px: int) -> tuple[Scene, float]:
    """The scene with its frame widened about its middle to fill a picture exactly, and the scale.

    Args:
        scene: what to show.
        width_px: the picture's width.
        height_px: its height.

    Returns:
        The scene and the pixels per mm at which ``draw`` makes a picture of just that size.
    """
    scale = scale_to_fit(scene, width_px, height_px)
    width, height = width_px / scale, height_px / scale
    fitted = replace(
        scene,
        left_mm=scene.left_mm - (width - scene.width_mm) / 2.0,
        top_mm=scene.top_mm - (height - scene.height_mm) / 2.0,
        width_mm=width,
        height_mm=height,
    )
    return fitted, scale
