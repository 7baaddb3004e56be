"""Turning beads of another kind or colour than the dangles they end."""

from dataclasses import replace

from explorer.design import Column, Design, motif_bead
from palettes.beads import Bead, BeadKind


def body_bead(motif: tuple[Column, ...]) -> int:
    """The bead that a motif's dangles are made of, turning beads left out where they can be."""
    bodies = tuple(
        replace(column, beads=column.beads[:-1]) for column in motif if len(column.beads) > 1
    )
    return motif_bead(bodies) if bodies else motif_bead(motif)


def tip_kind(design: Design) -> BeadKind | None:
    """The kind of the turning beads, where all are of one kind and it is not the dangles' own."""
    kinds = {design.beads[column.beads[-1]].kind for motif in design.motifs for column in motif}
    kind = next(iter(kinds))
    return None if len(kinds) > 1 or kind == hanging_kind(design) else kind


def tip_bead(design: Design) -> Bead | None:
    """A bead with the turning beads' look, where all look alike and the motifs do not."""
    looks = {_look(design, column.beads[-1]) for motif in design.motifs for column in motif}
    own = {_look(design, body_bead(motif)) for motif in design.motifs}
    if len(looks) > 1 or looks == own:
        return None
    return design.beads[design.motifs[0][0].beads[-1]]


def _look(design: Design, number: int) -> tuple[str, str, str]:
    bead = design.beads[number]
    return bead.name, bead.hex, bead.finish.value


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
