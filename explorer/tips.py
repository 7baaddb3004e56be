"""Turning beads of another kind or colour than the dangles they end."""

from explorer.design import Design
from palettes.beads import BeadKind


def tip_kind(design: Design) -> BeadKind | None:
    """The kind of the turning beads, where all are of one kind and it is not the dangles' own."""
    kinds = {design.beads[column.beads[-1]].kind for motif in design.motifs for column in motif}
    kind = next(iter(kinds))
    return None if len(kinds) > 1 or kind == hanging_kind(design) else kind


def hanging_kind(design: Design) -> BeadKind:
    """The kind that most beads of the dangles have, turning beads left out where they can be."""
    tally: dict[BeadKind, int] = {}
    for skip in (1, 0):
        for motif in design.motifs:
            for column in motif:
                for number in column.beads[: len(column.beads) - skip]:
                    kind = design.beads[number].kind
                    tally[kind] = tally.get(kind, 0) + 1
        if tally:
            break
    return max(tally, key=lambda kind: tally[kind])
