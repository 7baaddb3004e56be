"""Words for colours that a child of seven reads: the plain ones, told apart by light and dark."""

from collections.abc import Sequence

import numpy as np

from palettes.spaces import hex_to_srgb1, srgb1_to_lab

# Hues of L*a*b* in degrees, each word up to the angle beside it; chosen by us by eye, close to
# where the named colours of CSS change their words.
_HUES = (
    (8.0, "pink"),
    (43.0, "red"),
    (76.0, "orange"),
    (112.0, "yellow"),
    (172.0, "green"),
    (222.0, "blue-green"),
    (297.0, "blue"),
    (338.0, "purple"),
    (360.0, "pink"),
)
# Chosen by us by eye: below so much chroma a colour counts as grey.
_GREY_BELOW = 11.0
_SHADES = {2: ("light {}", "dark {}"), 3: ("light {}", "{}", "dark {}")}


def child_word(hex_: str) -> str:
    """One plain word for a colour, such as ``red`` or ``blue-green``."""
    lightness, a, b = (float(part) for part in srgb1_to_lab(hex_to_srgb1(hex_)))
    chroma, hue = float(np.hypot(a, b)), float(np.degrees(np.arctan2(b, a)) % 360.0)
    if chroma < _GREY_BELOW or lightness < 12.0:
        return "black" if lightness < 22.0 else "white" if lightness > 84.0 else "grey"
    if 50.0 < hue < 112.0 and lightness > 66.0 and chroma < 46.0:
        return "cream" if lightness > 82.0 else "sand"
    if (50.0 < hue < 90.0 and lightness < 48.0) or (30.0 < hue < 90.0 and chroma < 42.0):
        return "brown"
    # The screen's own blue and navy lie where paler colours are purple.
    if 297.0 < hue < 308.0 and (chroma > 95.0 or lightness < 30.0):
        return "blue"
    word = next(word for most, word in _HUES if hue <= most)
    if word == "red" and lightness > 62.0:
        return "pink"
    if word == "pink" and lightness < 48.0 and 8.0 < hue < 345.0:
        return "purple"
    if word == "yellow" and lightness < 55.0:
        return "green"
    return word


def child_words(hexes: Sequence[str]) -> tuple[str, ...]:
    """A word for each colour, no two alike: the lighter of two is light, the darker dark.

    Between them a third one has the plain word; four and more are numbered from light to dark.
    """
    plain = [child_word(hex_) for hex_ in hexes]
    told = list(plain)
    for word in dict.fromkeys(plain):
        places = [place for place, one in enumerate(plain) if one == word]
        if len(places) == 1:
            continue
        places.sort(key=lambda place: -float(srgb1_to_lab(hex_to_srgb1(hexes[place]))[0]))
        names = _SHADES.get(len(places)) or tuple(f"{{}} {at + 1}" for at in range(len(places)))
        for name, place in zip(names, places, strict=True):
            told[place] = name.format(word)
    return tuple(told)
