"""Cautions in words, each with a remedy: what crowds, hangs too low, tangles or wears on skin.

Nothing here forbids: thresholds are judgements, and a ruffle can be a wish.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from explorer.brief import Wearer
from explorer.crowding import Touch, crowding, stacked
from explorer.design import Column, Design
from explorer.ends import BREAKAWAY
from explorer.sitting import short_words, sitting
from palettes.finishes import Finish

# Chosen by us: a drop of two centimetres swings past its neighbour's lower half.
LONG_DROP_MM = 20.0
# Chosen by us: between strings of round 11/0 (about 6 mg a mm), which hang by their own weight,
# and of round 15/0 or cylinder 11/0 (under 4), which do not.
LIGHT_MG_PER_MM = 5.0


class Wear(StrEnum):
    """What a piece is worn as."""

    BRACELET = "bracelet"
    ANKLET = "anklet"
    CHILD = "child's piece"

    @property
    def with_article(self) -> str:
        """The word with its article: ``an anklet``."""
        return f"{'an' if self is Wear.ANKLET else 'a'} {self.value}"


# The usual lowest drop in mm, from memory.
USUAL_DROP_MM = {Wear.BRACELET: 15.0, Wear.ANKLET: 25.0, Wear.CHILD: 10.0}

# What skin, sweat and friction do (common practice, no source).
_WORN_FINISHES = {
    Finish.DYED: "dye fades and can bleed on skin",
    Finish.GALVANISED: "the metal coat rubs off with friction and sweat unless protected",
    Finish.SILVER_LINED: "the silver lining can tarnish",
    Finish.COLOUR_LINED: "the colour lining may fade or rub off",
}


# Closures that hold however hard they are pulled (common practice, no source).
_HOLDS = ("lobster", "toggle")


class Topic(StrEnum):
    """What a caution is about."""

    SIZE = "size"
    CROWDING = "crowding"
    DROP = "drop"
    TANGLING = "tangling"
    FINISH = "finish"
    CLOSURE = "closure"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One thing to know before weaving.

    Attributes:
        topic: what it is about.
        words: what was found, with its number and unit.
        remedy: what could be done.
    """

    topic: Topic
    words: str
    remedy: str


def cautions(
    design: Design, wear: Wear = Wear.BRACELET, wearer: Wearer | None = None
) -> tuple[Caution, ...]:
    """All that a maker should hear about a piece, most pressing first; none if all is well.

    Args:
        design: the piece.
        wear: what it is worn as, which sets the usual drop.
        wearer: the measurement, if one is known.
    """
    found = (
        None if wearer is None else _size_caution(design, wearer),
        _closure_caution(design, wear),
        _crowding_caution(design),
        _drop_caution(design, wear),
        _tangle_caution(design),
    )
    return (*(caution for caution in found if caution), *_finish_cautions(design))


def _drop_mm(design: Design, column: Column) -> float:
    return stacked(design, column.beads)[-1][1] if column.beads else 0.0


def _mg(design: Design, column: Column) -> float:
    return math.fsum(1000.0 / design.beads[bead].kind.beads_per_gram for bead in column.beads)


def _size_caution(design: Design, wearer: Wearer) -> Caution | None:
    words = short_words(sitting(design, wearer))
    if not words:
        return None
    return Caution(
        topic=Topic.SIZE,
        words=words,
        remedy="Add ease, or plain base beads or link beads at both ends.",
    )


def _closure_caution(design: Design, wear: Wear) -> Caution | None:
    kind = design.closure.kind.lower()
    if wear is not Wear.CHILD:
        return None
    if not kind:
        return Caution(
            topic=Topic.CLOSURE,
            words="No closure is named. On a child's piece it must come open when it is pulled.",
            remedy=f"Take one that does, such as a {BREAKAWAY}; never one with magnets.",
        )
    if "magnet" in kind:
        return Caution(
            topic=Topic.CLOSURE,
            words="A magnetic closure on a child's piece: swallowed magnets injure.",
            remedy=f"Choose a closure without magnets that comes open when pulled: a {BREAKAWAY}.",
        )
    if design.closure.length_mm > 0.0 and any(word in kind for word in _HOLDS):
        return Caution(
            topic=Topic.CLOSURE,
            words=f"A {design.closure.kind} on a child's piece does not open when it is pulled.",
            remedy=f"Choose a closure that does, such as a {BREAKAWAY}.",
        )
    return None


def _crowding_caution(design: Design) -> Caution | None:
    found = crowding(design)
    if found.touch is Touch.FREE or found.columns is None:
        return None
    side = (
        "side by side without a gap"
        if found.touch is Touch.TOUCHING
        else "one before the other, as a ruffle"
    )
    return Caution(
        topic=Topic.CROWDING,
        words=(
            f"The dangles at base beads {found.columns[0] + 1} and {found.columns[1] + 1} take "
            f"{100.0 * found.ratio:.0f} % of the room there is: they will lie {side}."
        ),
        remedy=(
            "A smaller dangle bead, a dangle on every second base bead, or a bigger base bead; "
            "measure the base pitch over a swatch first."
        ),
    )


def _drop_caution(design: Design, wear: Wear) -> Caution | None:
    lowest = max(_drop_mm(design, column) for _, column in design.columns())
    usual = USUAL_DROP_MM[wear]
    if lowest <= usual + 1e-6:
        return None
    return Caution(
        topic=Topic.DROP,
        words=(
            f"The longest dangle hangs {lowest:.1f} mm; usual for {wear.with_article} is up to "
            f"{usual:g} mm (from memory): it can catch."
        ),
        remedy="Fewer beads in the longest dangles, or smaller ones.",
    )


def _tangle_caution(design: Design) -> Caution | None:
    columns = [column for _, column in design.columns()]
    drops = [_drop_mm(design, column) for column in columns]
    loose = [
        drop >= LONG_DROP_MM and _mg(design, column) < LIGHT_MG_PER_MM * drop
        for drop, column in zip(drops, columns, strict=True)
    ]
    pairs = sum(a and b for a, b in pairwise(loose))
    if not pairs:
        return None
    where = "in one place" if pairs == 1 else f"in {pairs} places"
    return Caution(
        topic=Topic.TANGLING,
        words=(
            f"Long light dangles hang side by side {where} ({LONG_DROP_MM:g} mm and more, "
            f"under {LIGHT_MG_PER_MM:g} mg a mm): they will tangle."
        ),
        remedy="A heavier turning bead, larger beads, or shorter dangles between the long ones.",
    )


def _finish_cautions(design: Design) -> tuple[Caution, ...]:
    used: dict[Finish, list[str]] = {}
    for number in sorted(set(design.owned())):
        bead = design.beads[number]
        names = used.setdefault(bead.finish, [])
        if bead.name not in names:
            names.append(bead.name)
    return tuple(
        Caution(
            topic=Topic.FINISH,
            words=f"{', '.join(used[finish])} ({finish.value}): {harm}.",
            remedy="Choose an opaque, lustre or plain glass bead where the piece rubs on skin.",
        )
        for finish, harm in _WORN_FINISHES.items()
        if finish in used
    )
