"""Words for colours that a child of seven reads: the plain ones, told apart by light and dark."""

import re
from collections.abc import Sequence

from palettes.names import plain_word, word_for
from palettes.spaces import hex_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch

# Which words a bead's own name may have for a colour, beside the one that we would take; a bead of
# any other colour is only called so ("Red Sea"). Chosen by us: words of colours that lie side by
# side.
_ALSO = {
    "pink": {"red", "purple", "orange"},
    "red": {"pink", "orange", "brown"},
    "orange": {"red", "yellow", "brown", "sand"},
    "yellow": {"orange", "green", "sand", "cream"},
    "green": {"yellow", "blue-green", "brown"},
    "blue-green": {"green", "blue"},
    "blue": {"blue-green", "purple"},
    "purple": {"pink", "blue", "red"},
    "brown": {"red", "orange", "sand", "yellow"},
    "sand": {"brown", "cream", "yellow", "orange", "pink"},
    "cream": {"white", "yellow", "sand"},
    "white": {"cream", "grey"},
    "grey": {"white", "black", "blue", "green", "brown"},
    "black": {"grey", "blue", "brown"},
}
# What a bead's own name says of light and dark; no shade of ours may say the other.
_SAID = {
    "light": frozenset({"light", "pale"}),
    "dark": frozenset({"dark", "deep", "midnight"}),
}


def child_word(hex_: str, name: str = "") -> str:
    """One plain word for a colour, such as ``red`` or ``blue-green``.

    Args:
        hex_: the colour.
        name: its own name; where that ends in a plain word which may be said of the colour, that
            is the word, so that a child and a grown-up say the same.
    """
    word = plain_word(hex_to_srgb1(hex_))
    named = [one for one in _words(name) if one in _ALSO]
    return named[-1] if named and named[-1] in _ALSO[word] else word


def _words(name: str) -> list[str]:
    return re.findall(r"blue-green|[a-z]+", name.lower())


def child_words(swatches: Sequence[Swatch]) -> tuple[str, ...]:
    """A word for each colour, no two alike: the lighter of two is light, the darker dark.

    Where only one of them is light or dark to the eye, the other has the plain word, and so has the
    one between three. Four and more are numbered from light to dark, and so are those that would be
    called light where their own name says dark, or the other way round.
    """
    plain = [child_word(swatch.hex, swatch.name) for swatch in swatches]
    told = list(plain)
    for word in dict.fromkeys(plain):
        places = [place for place, one in enumerate(plain) if one == word]
        if len(places) == 1:
            continue
        places.sort(key=lambda place: -float(srgb1_to_lab(hex_to_srgb1(swatches[place].hex))[0]))
        shades = _shades([swatches[place].hex for place in places])
        if not shades or any(
            _contradict(shade, swatches[place].name)
            for shade, place in zip(shades, places, strict=True)
        ):
            shades = tuple(f"{{}} {at + 1}" for at in range(len(places)))
        for shade, place in zip(shades, places, strict=True):
            told[place] = shade.format(word)
    return tuple(told)


def _shades(hexes: list[str]) -> tuple[str, ...]:
    """How two or three colours of one word are told apart, from light to dark."""
    if len(hexes) == 3:
        return ("light {}", "{}", "dark {}")
    if len(hexes) != 2:
        return ()
    light = "light" in _said(word_for(hex_to_srgb1(hexes[0])))
    dark = "dark" in _said(word_for(hex_to_srgb1(hexes[1])))
    if light == dark:
        return ("light {}", "dark {}")
    return ("light {}", "{}") if light else ("{}", "dark {}")


def _said(name: str) -> set[str]:
    return {way for way, words in _SAID.items() if words & set(_words(name))}


def _contradict(shade: str, name: str) -> bool:
    said = _said(name)
    return bool(said) and shade.split(maxsplit=1)[0] in set(_SAID) - said
