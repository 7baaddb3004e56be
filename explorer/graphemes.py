"""Text cut where a reader sees the end of a sign, never in the midst of one."""

import regex

# A sign can be several characters: a letter and its accents, a flag, a family (Unicode Standard
# Annex 29, "Grapheme Cluster Boundary Rules").
_SIGN = r"\X"


def shortened(text: str, most: int) -> str:
    """The text, cut at the end of a sign with an ellipsis where it has too many characters.

    Args:
        text: any text.
        most: the most characters (code points) of what comes back, at least 1.
    """
    if len(text) <= most:
        return text
    ends = (sign.end() for sign in regex.finditer(_SIGN, text))
    at = max((end for end in ends if end < most), default=0)
    return text[:at].rstrip() + "…"


def told_signs(signs: str) -> str:
    """Characters one by one, those that cannot be seen by their numbers (Unicode Standard)."""
    unseen = regex.compile(r"[\p{M}\p{C}\p{Z}]")
    return ", ".join(f"U+{ord(one):04X}" if unseen.match(one) else one for one in signs)
