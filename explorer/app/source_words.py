"""What is said about a palette as found."""

import math

from explorer.contrast_words import LOOKS, figure, possible_words
from palettes.choose_picked import Picked, PickedColour
from palettes.difference import Verdict, verdict

# A bead instead of a colour that was wished for: how near it comes, in words.
_NEAR = {
    Verdict.SAME: "looks the same",
    Verdict.CLOSE: "close to it",
    Verdict.DISTINCT: "another shade",
    Verdict.CLEARLY_APART: "the nearest there is, and far off",
}
# The kinds of eyes in plain words, the trade's word beside each.
_EYES = {
    "protan": "red-blind (protan)",
    "deutan": "green-blind (deutan)",
    "tritan": "blue-blind (tritan)",
}
# The scale of harmony in words, from its top down; the limits chosen by us, for its own source
# names none but nought.
_TOGETHER = (
    (0.8, "go together very well"),
    (0.4, "go together well"),
    (0.0, "go together fairly well"),
    (-math.inf, "clash"),
)
# A miss of a mood's region below this passes for a hit. Chosen by us, because ``choose_mood.NEAR``
# is the same.
_NEAR_MISS = 6.0


def apart_words(found: Picked) -> str:
    """How the two most alike stand apart for the worst of the chosen eyes."""
    if math.isinf(found.weakest):
        return "One colour, so none is like another."
    look = min(found.weakest_by_view, key=lambda pair: pair[1])[0]
    words = LOOKS[verdict(found.weakest)]
    who, *rest = str(look).split()
    eyes = " ".join((_EYES.get(who, who), "eyes", *rest))
    one, other = (found.colours[place].name for place in found.most_alike or (0, 0))
    return (
        f"{one} and {other} are the most alike, worst for {eyes}: they {words} "
        f"(difference {figure(found.weakest)})."
    )


def views_words(found: Picked) -> str:
    """The smallest difference for every pair of eyes; nothing where there is but one."""
    if len(found.weakest_by_view) < 2 or math.isinf(found.weakest):
        return ""
    parts = (f"{look} {figure(value)}" for look, value in found.weakest_by_view)
    return f"Their difference by eyes: {', '.join(parts)}."


def proof_words(found: Picked) -> str:
    """What is known of better choices."""
    if found.proven:
        return "No choice of so many stands further apart: proved."
    words = []
    if found.stopped:
        words.append("Ended early: the best found so far, not proved.")
    possible = possible_words(found.weakest, found.strongest, found.gave_up_for)
    if possible:
        words.append(f"{possible[0].upper()}{possible[1:]}.")
    elif found.bound is not None and not math.isinf(found.bound):
        words.append(
            f"No choice of so many stands further apart than a difference of {found.bound:.0f}."
        )
    return " ".join(words)


def harmony_words(found: Picked) -> str:
    """How well colours go together, apart from contrast."""
    how = next(words for least, words in _TOGETHER if found.harmony >= least)
    value = f"{found.harmony:.1f}".replace("-", "\N{MINUS SIGN}")
    return f"They {how} ({value}; below 0 they clash, about 1.2 is the most)."


def why_words(colour: PickedColour) -> tuple[str, ...]:
    """Why a colour is in a palette, and what bead it is, in short lines."""
    origin, lines = colour.origin, []
    if origin.region is not None and not origin.region.startswith("hue "):
        near = "" if (origin.miss or 0.0) <= _NEAR_MISS else "the nearest to "
        lines.append(f"{near}{origin.region}")
    if origin.share is not None:
        share = f"{origin.share:.0%}".replace("%", "\N{NO-BREAK SPACE}%")
        lines.append(f"{share} of the photo" if origin.share >= 0.005 else "a dot of the photo")
    if origin.wanted == colour.hex and origin.share is None:
        lines.append("your favourite")
    elif origin.wanted is not None and origin.difference is not None:
        lines.append(
            f"{_NEAR[verdict(origin.difference)]} "
            f"(difference\N{NO-BREAK SPACE}{figure(origin.difference)})"
        )
    if colour.bead is not None:
        stock = colour.bead.stock
        about = "about " if colour.bead.count is None else ""
        amount = "amount not known" if stock is None else f"{about}{stock}"
        lines += [f"{colour.finish}, {amount}", colour.bead.kept]
    return tuple(filter(None, lines))
