"""How a bead's colour moves under another light than daylight.

From the colour alone nobody can know; so a likely reflectance is recovered from it, lit, and the
eye's adaptation undone. What is kept is the shift from daylight, on a grid over sRGB that comes
with the program; ``recovered_shift`` computes it anew, and is the only user of colour-science.
"""

import warnings
from collections.abc import Sequence
from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from palettes.charts import number_table
from palettes.spaces import (
    FloatArray,
    checked_srgb1,
    lab_to_srgb1,
    linear1_to_xyz1,
    srgb1_to_lab,
    srgb1_to_linear1,
)


class Light(StrEnum):
    """A light to look at beads in."""

    DAYLIGHT = "daylight"
    LAMPLIGHT = "lamplight"
    FLUORESCENT = "fluorescent"
    LED = "led"


# Names in CIE 15:2018: D65 for noon daylight, A for a filament lamp, FL2 for a cool white tube,
# LED-B2 for a phosphor-converted blue LED of about 3000 K, the colour sold for living rooms.
ILLUMINANTS = MappingProxyType(
    {
        Light.DAYLIGHT: "D65",
        Light.LAMPLIGHT: "A",
        Light.FLUORESCENT: "FL2",
        Light.LED: "LED-B2",
    }
)
# In CIEDE2000: under a light nine in ten pairs' differences lie nearer to the predicted than this;
# the others do not, and 9 was seen. Measured on two sets of reflectances of a 24-patch chart
# (``tests/bench/measure_lights.py``); a change below it counts as none.
UNCERTAINTY = 2.0
# Nodes of the stored grid, a side. Chosen by us, because between them it stays within 0.5 of the
# recovery on average.
NODES = 17
_TABLE = "light_shifts"
_SHIFTED = (Light.LAMPLIGHT, Light.FLUORESCENT, Light.LED)


def parse_light(text: str) -> Light:
    """A light by its name; ``ValueError`` names those that there are."""
    name = text.strip().lower()
    if name not in {light.value for light in Light}:
        known = ", ".join(light.value for light in Light)
        raise ValueError(f"{text!r} is no light: write one of {known}")
    return Light(name)


# The eight corners of a grid cell, by definition.
_CORNERS = np.array(list(np.ndindex(2, 2, 2)))


def _shifts(colours: FloatArray) -> FloatArray:
    """The nine stored numbers at each colour, (..., 9), by trilinear interpolation."""
    place = colours * (NODES - 1)
    low = np.minimum(place.astype(np.intp), NODES - 2)
    part = (place - low)[..., None, :]
    weight = np.where(_CORNERS, part, 1.0 - part).prod(axis=-1)
    node = low[..., None, :] + _CORNERS
    row = (node[..., 0] * NODES + node[..., 1]) * NODES + node[..., 2]
    return np.asarray((weight[..., None] * number_table(_TABLE)[row]).sum(axis=-2))


def shift_lab(srgb1: ArrayLike, light: Light) -> FloatArray:
    """What a light adds to a bead's L*a*b*, by trilinear interpolation on the stored grid.

    The eye is taken as adapted to the light, so white stays white.

    Args:
        srgb1: the colours in daylight, (..., 3).
        light: the light.

    Returns:
        Differences in L*, a*, b*, (..., 3); zero in daylight.

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    colours = checked_srgb1(srgb1)
    if light is Light.DAYLIGHT:
        return np.zeros_like(colours)
    first = 3 * _SHIFTED.index(light)
    return _shifts(colours)[..., first : first + 3]


def under(srgb1: ArrayLike, lights: Sequence[Light]) -> FloatArray:
    """The colours as they look under lights to an eye adapted to each, clipped to sRGB.

    Args:
        srgb1: the colours in daylight, (..., 3).
        lights: the lights.

    Returns:
        (len(lights), ..., 3).

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    colours = checked_srgb1(srgb1)
    moved = np.empty((len(lights), *colours.shape))
    if set(lights) == {Light.DAYLIGHT}:
        moved[...] = colours
        return moved
    lab, shifts = srgb1_to_lab(colours), _shifts(colours)
    for slot, light in enumerate(lights):
        first = 3 * _SHIFTED.index(light) if light in _SHIFTED else None
        moved[slot] = lab if first is None else lab + shifts[..., first : first + 3]
    lit = np.clip(lab_to_srgb1(moved), 0.0, 1.0)
    # Daylight is the colour itself, free of the round trip's rounding.
    lit[[light is Light.DAYLIGHT for light in lights]] = colours
    return lit


def grid_srgb1() -> FloatArray:
    """The nodes of the stored grid in the order of its rows, (NODES ** 3, 3), blue fastest."""
    axis = np.linspace(0.0, 1.0, NODES)
    return np.stack(np.meshgrid(axis, axis, axis, indexing="ij"), axis=-1).reshape(-1, 3)


def reflectance_lab(reflectance: ArrayLike, light: Light) -> FloatArray:
    """L*a*b* of reflectances under a light, adapted to daylight by CAT02 (CIE 159:2004).

    Args:
        reflectance: 0-1 at 380, 390 ... 730 nm, (n, 36).
        light: the light.

    Returns:
        (n, 3), against the white of D65 by the CIE 1931 observer at 5 nm steps.
    """
    import colour

    shape = colour.SpectralShape(380, 730, 5)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape).values
    coarse, fine = np.arange(380.0, 731.0, 10.0), np.arange(380.0, 731.0, 5.0)
    rows = np.asarray(reflectance, dtype=np.float64)
    surface = np.stack([np.interp(fine, coarse, row) for row in rows])

    def xyz_of(name: str, reflected: FloatArray) -> FloatArray:
        power = colour.SDS_ILLUMINANTS[name].copy().align(shape).values
        weights = observer * power[:, None]
        return np.asarray(reflected @ weights / weights[:, 1].sum(), dtype=np.float64)

    white = np.ones((1, fine.size))
    daylight_white = xyz_of(ILLUMINANTS[Light.DAYLIGHT], white)[0]
    light_white = xyz_of(ILLUMINANTS[light], white)[0]
    cat02 = np.asarray(colour.adaptation.CAT_CAT02, dtype=np.float64)
    gain = (cat02 @ daylight_white) / (cat02 @ light_white)
    adapted = (xyz_of(ILLUMINANTS[light], surface) @ cat02.T * gain) @ np.linalg.inv(cat02).T
    chromaticity = colour.XYZ_to_xy(daylight_white)
    return np.asarray(colour.XYZ_to_Lab(adapted, chromaticity), dtype=np.float64)


# Below this share of full light in the brightest channel a colour is recovered from its brighter
# twin of equal chromaticity and scaled down: the recovery adds a fixed mean spectrum, which would
# tint near-blacks. Chosen by us, because the error on a 24-patch
# chart is flat about it (dimmed to a sixth: 0.7 on average in CIEDE2000 where 0.05 leaves 1.5).
_DARK_LINEAR1 = 0.4


def recovered_reflectance(srgb1: ArrayLike) -> FloatArray:
    """A likely reflectance of each colour, 380 to 730 nm in steps of 10, (n, 36), clipped to 0-1.

    Otsu, Yamamoto and Hachisuka 2018, Reproducing Spectral Reflectances From Tristimulus Colours,
    Computer Graphics Forum 37(6), by colour-science; about 1.4 ms a colour.
    """
    import colour

    linear1 = srgb1_to_linear1(checked_srgb1(srgb1).reshape(-1, 3))
    brightest = linear1.max(axis=-1, keepdims=True)
    scale = np.minimum(brightest / _DARK_LINEAR1, 1.0)
    # Black has no chromaticity; any will do, since its reflectance is scaled to nothing.
    lifted = np.where(scale > 0.0, linear1 / np.where(scale > 0.0, scale, 1.0), _DARK_LINEAR1)
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    observer = observer.copy().align(colour.recovery.SPECTRAL_SHAPE_OTSU2018)
    daylight = colour.SDS_ILLUMINANTS["D65"].copy().align(observer.shape)
    with warnings.catch_warnings():
        # The library warns that its own data do not reach as far as its own observer.
        warnings.simplefilter("ignore", colour.utilities.ColourRuntimeWarning)
        rows = [
            colour.recovery.XYZ_to_sd_Otsu2018(xyz, observer, daylight).values
            for xyz in linear1_to_xyz1(lifted)
        ]
    clipped: FloatArray = np.clip(np.asarray(rows, dtype=np.float64), 0.0, 1.0)
    return np.asarray(scale * clipped, dtype=np.float64)


def recovered_shift(srgb1: ArrayLike) -> FloatArray:
    """The shifts that the stored grid holds, computed anew with colour-science.

    Args:
        srgb1: the colours in daylight, (n, 3).

    Returns:
        (n, 9): differences in L*, a*, b* under lamplight, fluorescent and LED light.

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    reflectance = recovered_reflectance(srgb1)
    daylight = reflectance_lab(reflectance, Light.DAYLIGHT)
    return np.hstack([reflectance_lab(reflectance, light) - daylight for light in _SHIFTED])
