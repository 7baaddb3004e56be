"""Beads by their numbers in a design."""

from dataclasses import replace

from explorer.design import Column, Design


def tidied(design: Design) -> Design:
    """The design with every bead once, and without those that nothing uses any more."""
    used = set(design.start_links) | set(design.end_links)
    for _, column in design.columns():
        used.update((column.base, *column.beads))
    beads = tuple(dict.fromkeys(design.beads[old] for old in sorted(used)))
    if beads == design.beads:
        return design
    place = {bead: number for number, bead in enumerate(beads)}
    number = {old: place[design.beads[old]] for old in used}

    def row(columns: tuple[Column, ...]) -> tuple[Column, ...]:
        return tuple(
            Column(base=number[c.base], beads=tuple(number[b] for b in c.beads)) for c in columns
        )

    return replace(
        design,
        beads=beads,
        motifs=tuple(row(motif) for motif in design.motifs),
        dividers=tuple(row(divider) for divider in design.dividers),
        start_margin=row(design.start_margin),
        end_margin=row(design.end_margin),
        start_links=tuple(number[b] for b in design.start_links),
        end_links=tuple(number[b] for b in design.end_links),
    )
