"""Counts gathered by what beads have in common."""

from collections.abc import Callable

from explorer.counts import Counts
from explorer.design import Design
from palettes.beads import Bead

Grouping = Callable[[Bead], str]


def by_kind(bead: Bead) -> str:
    """Shape and size, such as ``round 11/0``."""
    return bead.kind.name


def by_colour(bead: Bead) -> str:
    """The colour's hex, whatever kind and finish."""
    return bead.hex


def by_finish(bead: Bead) -> str:
    """The finish in the trade's word."""
    return bead.finish.value


def grouped(design: Design, counted: Counts, grouping: Grouping) -> tuple[tuple[str, int], ...]:
    """Beads in the piece by group, spares left out, in the order of the design's beads.

    Args:
        design: the piece.
        counted: its counts.
        grouping: gives a bead's group; ``by_kind``, ``by_colour`` and ``by_finish`` are ready.
    """
    found: dict[str, int] = {}
    for entry in counted.by_bead:
        if entry.used:
            group = grouping(design.beads[entry.bead])
            found[group] = found.get(group, 0) + entry.used
    return tuple(found.items())
