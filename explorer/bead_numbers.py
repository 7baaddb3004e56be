"""Beads by their numbers in a design."""

from dataclasses import replace

from explorer.design import Design


def tidied(design: Design) -> Design:
    """The design with every bead once, and without those that nothing uses any more."""
    used = sorted(set(design.owned()))
    beads = tuple(dict.fromkeys(design.beads[old] for old in used))
    if beads == design.beads:
        return design
    place = {bead: number for number, bead in enumerate(beads)}
    number = {old: place[design.beads[old]] for old in used}

    def new(numbers: tuple[int, ...]) -> tuple[int, ...]:
        return tuple(number[old] for old in numbers)

    return replace(
        design,
        beads=beads,
        units=tuple(replace(unit, beads=new(unit.beads)) for unit in design.units),
        strands=tuple(replace(strand, beads=new(strand.beads)) for strand in design.strands),
        start_links=new(design.start_links),
        end_links=new(design.end_links),
    )
