"""Whose eyes and which light: colours and their differences under several conditions at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from palettes.difference import pairwise
from palettes.lights import Light, under
from palettes.spaces import FloatArray, checked_srgb1, srgb1_to_lab
from palettes.vision import TYPICAL, Viewer, see


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """One way of looking at a piece.

    Attributes:
        viewer: whose eyes.
        light: the light; it acts before the eye does.
    """

    viewer: Viewer = TYPICAL
    light: Light = Light.DAYLIGHT

    def __str__(self) -> str:
        """Such as ``deutan in lamplight``, or ``typical`` alone in daylight."""
        if self.light is Light.DAYLIGHT:
            return str(self.viewer)
        words = {
            Light.LAMPLIGHT: "in lamplight",
            Light.FLUORESCENT: "in fluorescent light",
            Light.LED: "in LED light",
        }
        return f"{self.viewer} {words[self.light]}"


TYPICAL_DAYLIGHT = Condition()


def conditions(viewers: Sequence[Viewer], lights: Sequence[Light]) -> tuple[Condition, ...]:
    """Every viewer in every light, each combination once, lights running faster.

    Raises:
        ValueError: no viewer or no light.
    """
    if not viewers or not lights:
        raise ValueError("at least one viewer and one light are wanted")
    crossed = (Condition(viewer=viewer, light=light) for viewer in viewers for light in lights)
    return tuple(dict.fromkeys(crossed))


def srgb1_under(srgb1: ArrayLike, looks: Sequence[Condition]) -> FloatArray:
    """The colours as they look under each condition, for pictures and scores alike.

    Args:
        srgb1: the colours in daylight, (..., 3).
        looks: the conditions, m of them.

    Returns:
        sRGB in 0-1, (m, ..., 3).

    Raises:
        ValueError: no condition; colours outside sRGB or not finite.
    """
    if not looks:
        raise ValueError("at least one condition is wanted")
    lights = tuple(dict.fromkeys(look.light for look in looks))
    lit = under(checked_srgb1(srgb1), lights)
    # One simulation a viewer serves all lights: the calls cost more than the colours.
    seen = {viewer: see(lit, viewer) for viewer in dict.fromkeys(look.viewer for look in looks)}
    return np.stack([seen[look.viewer][lights.index(look.light)] for look in looks])


def lab_under(srgb1: ArrayLike, looks: Sequence[Condition]) -> FloatArray:
    """CIE L*a*b* of the colours as they look under each condition.

    Args:
        srgb1: the colours in daylight, (..., 3).
        looks: the conditions, m of them.

    Returns:
        (m, ..., 3).

    Raises:
        ValueError: as ``srgb1_under``.
    """
    return srgb1_to_lab(srgb1_under(srgb1, looks))


def worst_matrix(srgb1: ArrayLike, looks: Sequence[Condition]) -> FloatArray:
    """The smallest CIEDE2000 of each pair over the conditions.

    Args:
        srgb1: the colours in daylight, (k, 3).
        looks: the conditions.

    Returns:
        (k, k), symmetric, zero on the diagonal.

    Raises:
        ValueError: as ``srgb1_under``.
    """
    return np.asarray(pairwise(lab_under(srgb1, looks)).min(axis=0))
