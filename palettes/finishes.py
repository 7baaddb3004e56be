"""What a bead's finish does to the colour that the eye meets.

A bead's hex is the colour of its glass as picked in daylight. Over a backing - thread, skin, any
colour - translucent finishes let it through, frosted ones add a haze, and metallic and rainbow
ones show a range. All of this is a model of ours, indicative, not measured on beads.
"""

from enum import StrEnum
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from palettes.spaces import (
    FloatArray,
    checked_srgb1,
    lab_to_lch,
    lab_to_srgb1,
    lch_to_lab,
    linear1_to_srgb1,
    srgb1_to_lab,
    srgb1_to_linear1,
)


class Finish(StrEnum):
    """The finish of a bead, in the trade's words (common practice, no source)."""

    OPAQUE = "opaque"
    MATTE = "matte"
    TRANSPARENT = "transparent"
    SILVER_LINED = "silver-lined"
    COLOUR_LINED = "colour-lined"
    METALLIC = "metallic"
    GALVANISED = "galvanised"
    RAINBOW = "rainbow"
    LUSTRE = "lustre"
    PEARL = "pearl"
    DYED = "dyed"


# The share of light that goes through rather than back. Chosen by us, so that a transparent bead
# takes on its backing plainly and still keeps its hue; what is not named lets nothing through.
# A colour-lined bead hides its backing behind the lining, which its picked colour already shows.
TRANSLUCENCY = MappingProxyType(
    {Finish.TRANSPARENT: 0.7, Finish.SILVER_LINED: 0.7, Finish.LUSTRE: 0.3, Finish.PEARL: 0.2}
)
# A silver lining reflects about 0.85 of the light in every channel (from memory); it stands in for
# any backing.
SILVER_LINING_LINEAR1 = 0.85
# White light that the surface itself sends back. Matte: Fresnel's reflection of glass of index 1.5
# at normal incidence, ((n - 1) / (n + 1))^2 = 0.04, which a frosted surface scatters everywhere
# instead of into one glint. Lustre and pearl: thicker veils, by eye.
VEIL = MappingProxyType({Finish.MATTE: 0.04, Finish.LUSTRE: 0.06, Finish.PEARL: 0.12})
# A metallic bead mirrors a room: from its dark floor to half-way to the window's white. Chosen by
# us: the floor sends back some two fifths of the light of the walls.
_METAL_DARK, _METAL_BRIGHT = 0.4, 0.5
# A thin film turns the hue with the angle. Chosen by us: a third of the way to the next hue name
# on either side, and never less chroma than can be told from grey.
_RAINBOW_TURN_DEG, _RAINBOW_CHROMA = 30.0, 15.0

_METALS = frozenset({Finish.METALLIC, Finish.GALVANISED})


def layered(at_once: ArrayLike, through_twice: ArrayLike, backing: ArrayLike) -> FloatArray:
    """What comes back from a layer over a backing: R0 + T2 Rg / (1 - R0 Rg).

    R0 comes back from the layer at once; T2 goes through it, off the backing and through again, and
    the bottom sums all further reflections between the two. Kubelka 1948, New Contributions to the
    Optics of Intensely Light-Scattering Materials, JOSA 38.

    Args:
        at_once: R0, 0-1.
        through_twice: T2, the square of the layer's transmittance, 0-1.
        backing: Rg, 0-1.

    Returns:
        Reflectance in linear light, broadcast shape.
    """
    first, ground = np.asarray(at_once, np.float64), np.asarray(backing, np.float64)
    # Only perfect white on perfect white brings the bottom to 0, and then nothing goes through.
    return first + np.asarray(through_twice) * ground / np.maximum(1.0 - first * ground, 1e-12)


def over_backing(linear1: ArrayLike, translucency: float, backing_linear1: ArrayLike) -> FloatArray:
    """A translucent colour over a backing, per channel in linear light.

    ``layered`` with R0 = (1 - t) C and T2 = t C (1 - R0): a rule of ours for a thin layer whose
    picked colour is the one it shows over white. So every t gives C over white, t = 0 gives C over
    anything, and no layer sends back more light than it gets.

    Args:
        linear1: the glass's colour C, (..., 3).
        translucency: t, 0 to 1.
        backing_linear1: the backing, broadcast against the colour.

    Returns:
        Linear light, (..., 3).

    Raises:
        ValueError: a translucency outside 0-1.
    """
    if not 0.0 <= translucency <= 1.0:
        raise ValueError(f"a translucency is a number from 0 to 1; got {translucency!r}")
    colour = np.asarray(linear1, dtype=np.float64)
    at_once = (1.0 - translucency) * colour
    return layered(at_once, translucency * colour * (1.0 - at_once), backing_linear1)


def met(srgb1: ArrayLike, finish: Finish, backing_srgb1: ArrayLike) -> FloatArray:
    """The colour that the eye meets on a bead over a backing; the middle one of a range.

    Args:
        srgb1: the glass's colour in daylight, (..., 3).
        finish: the bead's finish.
        backing_srgb1: what lies behind it, broadcast against the colour.

    Returns:
        sRGB in 0-1, (..., 3).

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    colours, backing = checked_srgb1(srgb1), checked_srgb1(backing_srgb1)
    translucency, veil = TRANSLUCENCY.get(finish, 0.0), VEIL.get(finish, 0.0)
    colours, backing = np.broadcast_arrays(colours, backing)
    if translucency == 0.0 and veil == 0.0:
        return colours.copy()
    behind = (
        np.full(3, SILVER_LINING_LINEAR1)
        if finish is Finish.SILVER_LINED
        else srgb1_to_linear1(backing)
    )
    body = over_backing(srgb1_to_linear1(colours), translucency, behind)
    return np.clip(linear1_to_srgb1(body + veil * (1.0 - body)), 0.0, 1.0)


def is_range(finish: Finish) -> bool:
    """Whether a bead of that finish shows many colours at once rather than one."""
    return finish in _METALS or finish is Finish.RAINBOW


def met_range(srgb1: ArrayLike, finish: Finish, backing_srgb1: ArrayLike) -> FloatArray:
    """The colours between which a bead plays: one end, the middle, the other end.

    Metallic and galvanised run from dark to bright, rainbow turns the hue; every other finish is
    one colour, given three times.

    Args:
        srgb1: the glass's colour in daylight, (..., 3).
        finish: the bead's finish.
        backing_srgb1: what lies behind it, broadcast against the colour.

    Returns:
        sRGB in 0-1, (3, ..., 3).

    Raises:
        ValueError: colours outside sRGB, or not finite.
    """
    middle = met(srgb1, finish, backing_srgb1)
    if finish in _METALS:
        linear1 = srgb1_to_linear1(middle)
        dark, bright = _METAL_DARK * linear1, linear1 + _METAL_BRIGHT * (1.0 - linear1)
        return np.stack([linear1_to_srgb1(dark), middle, linear1_to_srgb1(bright)])
    if finish is Finish.RAINBOW:
        return np.stack(
            [_turned(middle, -_RAINBOW_TURN_DEG), middle, _turned(middle, _RAINBOW_TURN_DEG)]
        )
    return np.stack([middle, middle, middle])


def _turned(srgb1: FloatArray, turn_deg: float) -> FloatArray:
    lch = lab_to_lch(srgb1_to_lab(srgb1))
    chroma = np.maximum(lch[..., 1], _RAINBOW_CHROMA)
    turned = np.stack([lch[..., 0], chroma, lch[..., 2] + turn_deg], axis=-1)
    return np.clip(lab_to_srgb1(lch_to_lab(turned)), 0.0, 1.0)
