"""The colour of a bead from a photograph: a pile or a tube beside a white card or a chart.

Beads glint and have holes, so of the pixels around each tap only those in the middle tones count,
and of these the median. The light's colour is taken out in linear light by what a white card, or
the 24 patches of a chart, should look like.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from palettes.difference import delta_e_2000
from palettes.spaces import (
    FloatArray,
    linear1_to_lab,
    linear1_to_srgb1,
    linear1_to_xyz1,
    srgb1_to_hex,
    srgb1_to_lab,
    srgb1_to_linear1,
)

Pixels = NDArray[np.uint8]
Place = tuple[float, float]

# What of the light a white card sends back. Chosen by us: office paper and the white patch of the
# common 24-patch chart (L* 96) lie about there.
CARD_REFLECTANCE = 0.9
# Chosen by us, because between these percentiles of L* lie neither glints nor holes.
_MIDDLE_TONES = (50.0, 85.0)
# From this byte on a channel counts as full. Chosen by us, because cameras and JPEG round off the
# top.
_FULL = 250
_MOST_FULL = 0.02  # of the pixels; chosen by us: a glint may be so much
# Chosen by us, because a card darker than this in linear light is in shadow, or no card.
_LEAST_CARD = 0.08
# How far a card's pixels may lie from their median in CIEDE2000, on average, before it counts as
# uneven. Chosen by us: the step that two papers side by side show.
_EVEN = 2.0
# What is left of the error on average, in CIEDE2000, measured on simulated photographs by two
# cameras in lamplight, tubes and LED light (tests/palettes/test_measure.py). By a window the card
# leaves 2 to 3 only; the picture alone does not tell which light it was.
CARD_ERROR, CHART_ERROR = 7.0, 2.2
# How much of a pile's variety of colour (see ``_variety``) is left as error, in CIEDE2000. Chosen
# by us, because it fits simulated piles of one colour, of two, metallic and rainbow ones best: of
# mixed ones it tells the mean of what is seen, to a fifth (tests/palettes/test_measure.py).
_LEFT_OF_VARIETY = 1.6
# Above this variety a pile is of several colours. Chosen by us, because the error by card is then
# twice what the card itself leaves; simulated plain piles stay below 5 in any light and shade.
_MANY = 7.5


class Trust(StrEnum):
    """How far to trust a measured colour."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A measured colour.

    Attributes:
        hex: the colour, as it would look in daylight.
        spread: the mean CIEDE2000 of the pixels used from it; shading alone can make it wide.
        error: the error to expect on average, in CIEDE2000, from the method and from how much the
            pixels differ in colour when shading is taken out.
        trust: the same in a word.
        notes: what speaks against it, in sentences.
    """

    hex: str
    spread: float
    error: float
    trust: Trust
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class NoMeasure:
    """Why a photograph gives no colour, and what to do."""

    why: str
    remedy: str


def around(pixels: Pixels, place: Place, radius_px: float) -> Pixels:
    """The pixels in a disc around a tap, (n, 3).

    Args:
        pixels: (h, w, 3 or 4) sRGB bytes.
        place: x and y in pixels from the upper left.
        radius_px: the disc's radius.

    Raises:
        ValueError: the tap lies outside the picture, or the radius is no number above 0.
    """
    height, width = pixels.shape[:2]
    x, y = place
    if not (0.0 <= x < width and 0.0 <= y < height and radius_px > 0.0):
        raise ValueError(f"a tap lies on the picture, {width} x {height}; got {place}, {radius_px}")
    top, bottom = max(0, int(y - radius_px)), min(height, int(y + radius_px) + 1)
    left, right = max(0, int(x - radius_px)), min(width, int(x + radius_px) + 1)
    rows, columns = np.mgrid[top:bottom, left:right]
    disc = (rows + 0.5 - y) ** 2 + (columns + 0.5 - x) ** 2 <= max(radius_px, 1.0) ** 2
    return np.asarray(pixels[top:bottom, left:right, :3][disc])


def full_share(seen: Pixels) -> float:
    """The part of pixels (n, 3) with a channel so bright that its true value is lost."""
    return float((seen >= _FULL).any(axis=1).mean())


def bead_pixels(pixels: Pixels, places: Sequence[Place], radius_px: float) -> Pixels:
    """The pixels of beads around taps, without glints and holes, (n, 3)."""
    found = np.concatenate([around(pixels, place, radius_px) for place in places])
    lightness = srgb1_to_lab(found / 255.0)[:, 0]
    low, high = np.percentile(lightness, _MIDDLE_TONES)
    return np.asarray(found[(lightness >= low) & (lightness <= high)])


def measure_by_card(
    pixels: Pixels,
    card: Place,
    beads: Sequence[Place],
    *,
    radius_px: float,
    reflectance: float = CARD_REFLECTANCE,
) -> Measured | NoMeasure:
    """A bead's colour beside a white card.

    Args:
        pixels: (h, w, 3 or 4) sRGB bytes.
        card: a tap on the card, x and y in pixels.
        beads: taps on the beads, at least one.
        radius_px: how far around each tap to look.
        reflectance: of the card, 0-1.

    Raises:
        ValueError: a tap outside the picture, or no tap on beads.
    """
    if not beads:
        raise ValueError("at least one tap on the beads is needed")
    white = around(pixels, card, radius_px)
    if full_share(white) > _MOST_FULL:
        return NoMeasure(
            why="the card is so bright that its colour is lost",
            remedy="Photograph it again a little darker, without flash.",
        )
    middle = np.median(white, axis=0) / 255.0
    light = srgb1_to_linear1(middle)
    if light.min() < _LEAST_CARD:
        return NoMeasure(
            why="the card is dark", remedy="Tap the white card, and photograph in good light."
        )
    notes = []
    uneven = float(delta_e_2000(srgb1_to_lab(white / 255.0), srgb1_to_lab(middle)).mean())
    if uneven > _EVEN:
        notes.append("The card is unevenly lit, or the tap is near its edge.")
    seen = bead_pixels(pixels, beads, radius_px)
    corrected = srgb1_to_linear1(seen / 255.0) * (reflectance / light)
    return described(seen, corrected, CARD_ERROR, notes)


def described(seen: Pixels, linear1: FloatArray, method_error: float, notes: list[str]) -> Measured:
    """The measured colour of corrected pixels.

    Args:
        seen: the pixels before correction, (n, 3).
        linear1: after it, in linear light, (n, 3).
        method_error: what the correction leaves on average, in CIEDE2000.
        notes: what is known against it.
    """
    colour = np.median(linear1, axis=0)
    # Channels under the camera's noise may come out just below nothing.
    lab = linear1_to_lab(np.maximum(linear1, 0.0))
    spread = float(delta_e_2000(lab, linear1_to_lab(np.maximum(colour, 0.0))).mean())
    said = list(notes)
    if full_share(seen) > _MOST_FULL:
        said.append("The beads are so bright that some of their colour is lost.")
    if (colour > 1.02).any() or (colour < -0.02).any():
        said.append("The colour lies outside what screens show; the nearest is given.")
    variety = _variety(linear1, colour)
    if variety > _MANY:
        said.append("The beads show many colours: mixed, rainbow, or something else beside them.")
    error = float(np.hypot(method_error, _LEFT_OF_VARIETY * variety))
    return Measured(
        hex=srgb1_to_hex(np.clip(linear1_to_srgb1(colour), 0.0, 1.0)),
        spread=spread,
        error=error,
        trust=_trust(method_error, said),
        notes=tuple(said),
    )


def _variety(linear1: FloatArray, colour: FloatArray) -> float:
    """The mean CIEDE2000 of pixels from a colour, each made as light as that first.

    Light and shade on beads of one colour change all channels by one factor, so they do not count;
    another hue or chroma does.

    Args:
        linear1: the pixels in linear light, (n, 3).
        colour: the colour, (3,).
    """
    pixels, middle = np.maximum(linear1, 0.0), np.maximum(colour, 0.0)
    light = linear1_to_xyz1(pixels)[:, 1]
    # Middle tones have light; a pixel that has none cannot be made lighter.
    factor = linear1_to_xyz1(middle)[1] / np.maximum(light, 1e-6)
    level = linear1_to_lab(pixels * factor[:, None])
    return float(delta_e_2000(level, linear1_to_lab(middle)).mean())


def _trust(method_error: float, notes: list[str]) -> Trust:
    steps = [Trust.GOOD, Trust.FAIR, Trust.POOR]
    return steps[min(2, (method_error > CHART_ERROR) + len(notes))]
