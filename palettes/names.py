"""Words for a colour: only a help, since the hex and the picture say what it is.

All names here are made of plain words by hue, lightness and chroma in L*a*b*; where one word ends
and the next begins was chosen by us, by eye, on charts of each hue at several lightnesses. A name
begins or ends with the plain word that ``plain_word`` gives the same colour, so that a maker and
a child who speak of one bead do not speak of two.
"""

import math

from numpy.typing import ArrayLike

from palettes.spaces import checked_srgb1, srgb1_to_lab

# Hues in degrees, each word up to the angle beside it; chosen by us by eye.
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
# Chosen by us by eye: below so much chroma a colour counts as grey, black or white.
_GREY_BELOW = 11.0
# Chosen by us by eye: greys from this chroma on have a tinge that is seen beside a true one.
_TINGED_FROM = 5.0
# Chosen by us by eye: so near to the next hue's word, a hue has some of it.
_NEAR_DEG = 9.0
# Chosen by us, because the screen's own red lies 3 degrees from orange and is as red as can be.
_NEAR_RED_DEG = 2.5
_SOME = {
    "pink": "pinkish ", "red": "reddish ", "orange": "orange-", "yellow": "yellowish ",
    "green": "greenish ", "blue-green": "bluish ", "blue": "bluish ", "purple": "purplish ",
}  # fmt: skip


def plain_word(srgb1: ArrayLike) -> str:
    """One plain word for a colour, such as ``red`` or ``blue-green``; a child of seven reads it.

    Args:
        srgb1: one colour, (3,).

    Raises:
        ValueError: no sRGB colour.
    """
    return _plain(*_lch(srgb1))


def word_for(srgb1: ArrayLike) -> str:
    """A colour's name in plain words, such as ``light blue-green`` or ``deep reddish purple``.

    Colours that the eye tells apart may have one name: there are about a hundred and fifty.

    Args:
        srgb1: one colour, (3,).

    Raises:
        ValueError: no sRGB colour.
    """
    lightness, chroma, hue = _lch(srgb1)
    word = _plain(lightness, chroma, hue)
    if word in ("black", "white", "grey"):
        return _neutral(word, lightness, chroma, hue)
    if word == "cream":
        return word
    if word in ("brown", "sand"):
        tinge = "reddish " if word == "brown" and hue < 45.0 else ""
        return f"{_shade(lightness, least=(34.0, 60.0))}{tinge}{word}"
    return f"{_tone(word, lightness, chroma)}{_tinge(word, hue)}{word}"


def _lch(srgb1: ArrayLike) -> tuple[float, float, float]:
    colour = checked_srgb1(srgb1)
    if colour.shape != (3,):
        raise ValueError(f"one colour is wanted; got an array of shape {colour.shape}")
    lightness, a, b = (float(part) for part in srgb1_to_lab(colour))
    return lightness, math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360.0


def _plain(lightness: float, chroma: float, hue: float) -> str:
    if chroma < _GREY_BELOW or lightness < 12.0:
        return "black" if lightness < 22.0 else "white" if lightness > 86.0 else "grey"
    if 55.0 < hue < 112.0 and lightness > 60.0 and chroma < 38.0:
        return "cream" if lightness > 82.0 else "sand"
    if _brown(lightness, chroma, hue):
        return "brown"
    return _hue_word(_word_at(hue), lightness, chroma, hue)


def _hue_word(word: str, lightness: float, chroma: float, hue: float) -> str:
    """A hue's word; light and dull colours are called otherwise than deep ones of the same hue."""
    if word == "red" and lightness > (66.0 if chroma > 70.0 else 62.0 if chroma > 30.0 else 58.0):
        return "pink"
    if word == "orange" and chroma < 32.0:
        return "pink" if hue < 55.0 else "sand"
    if word == "blue-green" and hue > 193.0 and lightness > 68.0:
        return "blue"
    if word == "purple" and hue > 318.0 and lightness > 70.0:
        return "pink"
    if word == "pink" and lightness < 48.0:
        return _dark_pink(lightness, chroma, hue)
    if word == "yellow" and lightness < 57.0:
        return "green"
    return "blue" if word == "purple" and _screen_blue(lightness, chroma, hue) else word


def _screen_blue(lightness: float, chroma: float, hue: float) -> bool:
    """Strong and dark blues lie where paler colours are purple: L*a*b* bends there."""
    return (hue < 308.0 and (chroma > 95.0 or lightness < 30.0)) or (
        hue < 303.0 and chroma > 65.0 and lightness < 52.0
    )


def _brown(lightness: float, chroma: float, hue: float) -> bool:
    """Dark or dull orange and dull red: brown is no hue of its own."""
    if 30.0 < hue < 55.0:
        return lightness < 50.0 and chroma < (32.0 if hue < 40.0 else 56.0)
    return 55.0 <= hue < 98.0 and (
        lightness < 48.0 or (lightness < 64.0 and chroma < 56.0 and hue < 85.0) or lightness < 56.0
    )


def _dark_pink(lightness: float, chroma: float, hue: float) -> str:
    if 8.0 < hue < 345.0:
        return "purple"
    if lightness < 38.0 or chroma < 30.0:
        return "red" if hue <= 8.0 or hue > 354.0 else "purple"
    return "pink"


def _word_at(hue: float) -> str:
    return next(word for most, word in _HUES if hue <= most)


def _neutral(word: str, lightness: float, chroma: float, hue: float) -> str:
    hint = _word_at(hue)
    # Some orange makes a grey brownish; of white, one says yellowish.
    some = {"orange": "brownish " if word == "grey" else "yellowish "}.get(hint, _SOME[hint])
    tinge = "" if chroma < _TINGED_FROM else some
    if word == "grey":
        return f"{_shade(lightness, least=(40.0, 68.0))}{tinge}grey"
    return f"{tinge}{word}"


def _shade(lightness: float, *, least: tuple[float, float]) -> str:
    """``dark`` below the first lightness, ``light`` from the second on."""
    return "dark " if lightness < least[0] else "light " if lightness >= least[1] else ""


def _tone(word: str, lightness: float, chroma: float) -> str:
    """How light and how strong; limits chosen by us by eye."""
    if lightness > 78.0 and chroma < 40.0:
        return "pale "
    if lightness < 28.0:
        return "dark "
    if lightness < 42.0 and chroma < 100.0:
        return "deep "
    if chroma < 32.0:
        return "soft "
    if chroma > 78.0:
        return "bright "
    return "light " if lightness > (86.0 if word == "yellow" else 70.0) else ""


def _tinge(word: str, hue: float) -> str:
    """Some of the next hue's word, where that is near and is another one."""
    if word == "blue" and hue > 297.0:
        # See ``_screen_blue``: no eye finds it purplish.
        return ""
    near = _NEAR_RED_DEG if word == "red" else _NEAR_DEG
    for other in (_word_at((hue + near) % 360.0), _word_at((hue - near) % 360.0)):
        # Blue-green lies between its neighbours and needs no more words; greens and blues that
        # are near to it have some of the other.
        if other != word and word != "blue-green":
            if other == "blue-green":
                return "greenish " if word == "blue" else "bluish "
            return _SOME[other]
    return ""
