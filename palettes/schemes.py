"""Classic schemes of the colour wheel, as moods around the hue of one colour.

The wheel is the hue of CIE LCh: equal steps on it look about equally large. Painters' wheels differ
from it and from each other, so angles here are the schemes' own, not a mixture of pigments.
"""

from enum import StrEnum
from types import MappingProxyType

from palettes.moods import Mood, Region
from palettes.spaces import hex_to_srgb1, lab_to_lch, srgb1_to_lab


class Scheme(StrEnum):
    """A scheme of the colour wheel, in the words of colour teaching (common practice)."""

    ONE_HUE = "one hue"
    NEIGHBOURS = "neighbours"
    COMPLEMENT = "complement"
    SPLIT_COMPLEMENT = "split complement"
    TRIAD = "triad"
    RECTANGLE = "rectangle"
    SQUARE = "square"


# Where the other hues stand, in degrees from the first: common practice, no source.
TURNS_DEG = MappingProxyType(
    {
        Scheme.ONE_HUE: (0.0,),
        Scheme.NEIGHBOURS: (-30.0, 0.0, 30.0),
        Scheme.COMPLEMENT: (0.0, 180.0),
        Scheme.SPLIT_COMPLEMENT: (0.0, 150.0, 210.0),
        Scheme.TRIAD: (0.0, 120.0, 240.0),
        Scheme.RECTANGLE: (0.0, 60.0, 180.0, 240.0),
        Scheme.SQUARE: (0.0, 90.0, 180.0, 270.0),
    }
)
# How far from its hue a colour may stand. Chosen by us: half the step between neighbours, so that
# two hues of a scheme never overlap.
_TOLERANCE_DEG = 15.0
# Chosen by us, because a colour with less chroma has no hue to build on, and one of a scheme shows
# its hue plainly.
LEAST_CHROMA = 15.0
_LIGHTNESS, _CHROMA = (18.0, 92.0), (LEAST_CHROMA, 130.0)


def scheme_mood(scheme: Scheme, hex_colour: str) -> Mood:
    """The hues of a scheme around a colour's hue, each as a region of equal share.

    Raises:
        ValueError: the colour is nearly grey, or no hex colour.
    """
    _, chroma, hue = lab_to_lch(srgb1_to_lab(hex_to_srgb1(hex_colour))).tolist()
    if chroma < LEAST_CHROMA:
        raise ValueError(f"{hex_colour} is nearly grey: a scheme needs a colour with a hue")
    return Mood(
        name=scheme.value,
        title=f"{scheme.value.capitalize()} of {hex_colour}",
        regions=tuple(
            Region(
                name=f"hue {(hue + turn) % 360.0:.0f}",
                lightness=_LIGHTNESS,
                chroma=_CHROMA,
                hue_deg=(
                    (hue + turn - _TOLERANCE_DEG) % 360.0,
                    (hue + turn + _TOLERANCE_DEG) % 360.0,
                ),
            )
            for turn in TURNS_DEG[scheme]
        ),
    )
