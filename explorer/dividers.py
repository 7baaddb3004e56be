"""The small beads that hang between motifs."""

from dataclasses import replace

from explorer.bead_numbers import tidied, with_bead
from explorer.design import MOST_DIVIDER_BEADS, Column, Design
from explorer.errors import BriefError
from palettes.beads import Bead


def with_divider_beads(design: Design, beads: tuple[Bead, ...]) -> Design:
    """The design with these small beads under every base bead of its dividers.

    Args:
        design: the piece; where it has no base beads between its motifs, nothing changes.
        beads: from the base down; none for bare dividers.

    Raises:
        BriefError: more than three.
    """
    if len(beads) > MOST_DIVIDER_BEADS:
        raise BriefError(
            "divider_beads",
            len(beads),
            f"nought to {MOST_DIVIDER_BEADS} small beads",
            "More of them are a dangle: make it a motif of one.",
        )
    numbers: list[int] = []
    for bead in beads:
        design, number = with_bead(design, bead)
        numbers.append(number)

    def hung(columns: tuple[Column, ...]) -> tuple[Column, ...]:
        return tuple(replace(column, beads=tuple(numbers)) for column in columns)

    return tidied(replace(design, dividers=tuple(hung(divider) for divider in design.dividers)))


def divider_beads(design: Design) -> tuple[Bead, ...]:
    """The small beads under the first base bead that stands between motifs; none if bare."""
    column = next((column for divider in design.dividers for column in divider), None)
    return () if column is None else tuple(design.beads[number] for number in column.beads)


def has_dividers(design: Design) -> bool:
    """Whether any base bead stands between motifs."""
    return any(design.dividers)
