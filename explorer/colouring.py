"""Colour within a motif: which bead goes where in its dangles."""

from collections.abc import Sequence
from enum import StrEnum

# Chosen by us: a band of one row flickers at arm's length, one of two reads as a band.
BAND_ROWS = 2


class Colouring(StrEnum):
    """How a motif's beads are spread over its dangles."""

    PLAIN = "all one colour"
    TIPS = "accent at the tips"
    BANDS = "bands by row"
    STRIPES = "stripes by dangle"
    FADE = "light to dark along the drop"
    HEART = "edge and heart"


def paint(
    profile: Sequence[int], beads: Sequence[int], colouring: Colouring
) -> tuple[tuple[int, ...], ...]:
    """The bead numbers of every dangle, from the base down.

    Args:
        profile: dangle lengths in beads.
        beads: the motif's own bead first, then what goes with it; for ``FADE`` from the lightest
            to the darkest. One bead alone makes any colouring all one colour.
        colouring: the pattern.

    Raises:
        ValueError: no bead is given.
    """
    if not beads:
        raise ValueError("a motif is painted with one bead or more; got none")
    longest = max(profile)
    return tuple(
        tuple(
            beads[_which(colouring, len(beads), row, length, column, len(profile), longest)]
            for row in range(length)
        )
        for column, length in enumerate(profile)
    )


def _which(
    colouring: Colouring, beads: int, row: int, length: int, column: int, width: int, longest: int
) -> int:
    second = min(1, beads - 1)
    from_edge = min(column, width - 1 - column)
    match colouring:
        case Colouring.TIPS:
            return second if row == length - 1 else 0
        case Colouring.BANDS:
            return (row // BAND_ROWS) % beads
        case Colouring.STRIPES:
            return from_edge % beads
        case Colouring.FADE:
            return row * beads // longest
        case Colouring.HEART:
            return second if row == length - 1 or from_edge == 0 else 0
        case Colouring.PLAIN:
            return 0
