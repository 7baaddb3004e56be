"""A word for a colour: only a help, since the hex and the picture say what it is."""

from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from palettes.difference import delta_e_2000
from palettes.spaces import FloatArray, checked_srgb1, hexes_to_srgb1, srgb1_to_lab

# Words in the run-together names of CSS that are not themselves names there, or are one word.
_MORE_WORDS = """
alice almond antique blanched blush brick burly cadet chiffon cornflower cornsilk cream dark deep
dim dodger drab fire floral forest ghost goldenrod hot indian lace lawn lemon light medium midnight
mint misty navajo old pale papaya peach powder puff rebecca rose rosy royal saddle sandy sea
seashell sky slate smoke spring steel whip wood
"""
_WORDS = frozenset(_MORE_WORDS.split())


@cache
def _table() -> tuple[tuple[str, ...], FloatArray]:
    """Names as people write them, and their L*a*b* (n, 3); one name a colour."""
    from PIL import ImageColor

    # CSS has both spellings of grey; ours is the British one. Of two names for one colour the
    # later wins: cyan and magenta, the commoner words, over aqua and fuchsia.
    # The library writes a colour that someone asked for back into its table in another form, so
    # every one is asked for.
    by_hex = {
        "#{:02x}{:02x}{:02x}".format(*ImageColor.getrgb(name)[:3]): name
        for name in ImageColor.colormap
        if "gray" not in name
    }
    known = _WORDS | frozenset(by_hex.values())
    names = tuple(" ".join(_split(name, known)) for name in by_hex.values())
    return names, srgb1_to_lab(hexes_to_srgb1(list(by_hex)))


def _split(name: str, known: frozenset[str]) -> list[str]:
    """A run-together name in words; whole where it does not come apart into known ones."""
    if name in _WORDS:
        return [name]
    for length in range(len(name) - 1, 1, -1):
        rest = _split(name[length:], known)
        if name[:length] in known and known.issuperset(rest):
            return [*_split(name[:length], known), *rest]
    return [name]


def word_for(srgb1: ArrayLike) -> str:
    """The CSS colour name nearest by CIEDE2000, in separate words, such as ``light sea green``.

    The names are those of CSS Color Module Level 4; half of all sRGB colours lie more than about
    6 CIEDE2000 from the nearest of them.

    Args:
        srgb1: one colour, (3,).

    Raises:
        ValueError: no sRGB colour.
    """
    colour = checked_srgb1(srgb1)
    if colour.shape != (3,):
        raise ValueError(f"one colour is wanted; got an array of shape {colour.shape}")
    names, lab = _table()
    return names[int(np.argmin(delta_e_2000(srgb1_to_lab(colour), lab)))]
