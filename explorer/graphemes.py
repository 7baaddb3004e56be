"""Text cut where a reader sees the end of a sign, never in the midst of one.

A sign can be several characters: a letter and its accents, a flag, a family. The rules are those of
Unicode Standard Annex 29, "Grapheme Cluster Boundary Rules", as far as Python's own table of
characters tells them: GB3, GB6 to GB9a and GB11 to GB13. Its lists of prepended marks (GB9b) and of
Indic conjuncts (GB9c) are not in that table, so those may be cut as two signs.
"""

import unicodedata

_JOINER = "\u200d"
# Marks that change the sign before them and are no marks by category: GB9 names emoji modifiers,
# the joiner's counterpart, halfwidth voiced marks and tags.
_CHANGING = (("\u200c", "\u200d"), ("\uff9e", "\uff9f"), ("\U0001f3fb", "\U0001f3ff"),
             ("\U000e0020", "\U000e007f"))  # fmt: skip
_REGIONAL = ("\U0001f1e6", "\U0001f1ff")
# Hangul as the standard builds it: leading, vowel and trailing letters and whole syllables.
_LEADING, _VOWEL, _TRAILING = ("\u1100", "\u115f"), ("\u1160", "\u11a7"), ("\u11a8", "\u11ff")
_SYLLABLES, _TRAILS = ("\uac00", "\ud7a3"), 28


def shortened(text: str, most: int) -> str:
    """The text, cut at the end of a sign with an ellipsis where it has too many characters.

    Args:
        text: any text.
        most: the most characters (code points) of what comes back, at least 1.
    """
    if len(text) <= most:
        return text
    at = most - 1
    while at and not _ends_before(text, at):
        at -= 1
    return text[:at].rstrip() + "…"


def _ends_before(text: str, at: int) -> bool:
    """Whether a sign ends before the character at that place."""
    before, after = text[at - 1], text[at]
    if before == "\r" and after == "\n":
        return False
    if _changes(after) or _hangul_goes_on(before, after):
        return False
    # Whatever follows a joiner is part of a sign that it joins.
    if before == _JOINER:
        return False
    return not (_within(before, _REGIONAL) and _within(after, _REGIONAL) and _odd_flags(text, at))


def _within(sign: str, span: tuple[str, str]) -> bool:
    return span[0] <= sign <= span[1]


def _changes(sign: str) -> bool:
    if unicodedata.category(sign) in ("Mn", "Me", "Mc"):
        return True
    return any(_within(sign, span) for span in _CHANGING)


def _hangul_goes_on(before: str, after: str) -> bool:
    open_syllable = _within(before, _SYLLABLES) and not (ord(before) - ord("\uac00")) % _TRAILS
    if _within(before, _LEADING):
        return _within(after, _LEADING) or _within(after, _VOWEL) or _within(after, _SYLLABLES)
    if _within(before, _VOWEL) or open_syllable:
        return _within(after, _VOWEL) or _within(after, _TRAILING)
    return (_within(before, _TRAILING) or _within(before, _SYLLABLES)) and _within(after, _TRAILING)


def _odd_flags(text: str, at: int) -> bool:
    """Whether the letters of flags before a place are odd in number: the last one wants another."""
    first = at
    while first and _within(text[first - 1], _REGIONAL):
        first -= 1
    return (at - first) % 2 == 1
