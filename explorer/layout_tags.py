"""Names of beads in a picture, so that a click or a count finds its way back to the design."""

import re
from dataclasses import dataclass
from enum import StrEnum

from explorer.design import Part, Place


class Spot(StrEnum):
    """What a placed bead belongs to; the letter is the tag's first."""

    MOTIF = "m"
    DIVIDER = "d"
    MARGIN = "s"
    LINK = "k"


SPOT_OF_PART = {Part.MOTIF: Spot.MOTIF, Part.DIVIDER: Spot.DIVIDER, Part.MARGIN: Spot.MARGIN}

_COLUMN_TAG = re.compile(r"([mds])(\d+)\.c(\d+)\.(base|b(\d+))", re.ASCII)
_LINK_TAG = re.compile(r"k([01])\.(\d+)", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadTag:
    """One bead's address in the design, every number from 0.

    Attributes:
        spot: motif, divider, margin or link.
        index: which of that kind; 0 is the start's and 1 the end's for margins and links.
        column: the base bead within it; for a link bead its number from the strip outward.
        bead: the bead below the base bead, None for the base bead itself and for links.
    """

    spot: Spot
    index: int
    column: int
    bead: int | None = None

    def __str__(self) -> str:
        """The tag: ``m3.c2.b1``, ``d0.c0.base``, ``s1.c4.base`` or ``k0.1``."""
        if self.spot is Spot.LINK:
            return f"k{self.index}.{self.column}"
        last = "base" if self.bead is None else f"b{self.bead}"
        return f"{self.spot}{self.index}.c{self.column}.{last}"


def tag_of(place: Place, bead: int | None = None) -> str:
    """The tag of a column's base bead, or of the bead hanging at that number."""
    tag = BeadTag(spot=SPOT_OF_PART[place.part], index=place.index, column=place.column, bead=bead)
    return str(tag)


def parse_tag(tag: str) -> BeadTag:
    """The address that a tag spells.

    Raises:
        ValueError: the text is no tag; the message repeats it and shows what one looks like.
    """
    if found := _COLUMN_TAG.fullmatch(tag):
        spot, index, column, _, bead = found.groups()
        return BeadTag(
            spot=Spot(spot),
            index=int(index),
            column=int(column),
            bead=None if bead is None else int(bead),
        )
    if found := _LINK_TAG.fullmatch(tag):
        return BeadTag(spot=Spot.LINK, index=int(found[1]), column=int(found[2]))
    raise ValueError(f"{tag!r} names no bead: tags look like m3.c2.b1, d0.c0.base or k0.1")
