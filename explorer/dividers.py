"""The small beads that hang between motifs."""

from explorer.design import Design
from palettes.beads import Bead


def divider_beads(design: Design) -> tuple[Bead, ...]:
    """The small beads under the first base bead that stands between motifs; none if bare."""
    column = next((column for divider in design.dividers for column in divider), None)
    return () if column is None else tuple(design.beads[number] for number in column.beads)


def has_dividers(design: Design) -> bool:
    """Whether any base bead stands between motifs."""
    return any(design.dividers)
