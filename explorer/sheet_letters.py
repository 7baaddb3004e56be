"""A letter for every bead of a piece, so that a sheet reads in grey and to all eyes."""

import string
from collections.abc import Iterator, Mapping
from dataclasses import replace

from explorer.counts import BeadCount, Counts
from explorer.design import Design
from explorer.layout_columns import place_bead
from gallery.page import Chip
from palettes.beads import Bead

# The larger side of a bead beside its letter; chosen by us, because a line of text is as high.
_CHIP_MM = 4.2


def letters(design: Design) -> dict[int, str]:
    """The letter of every bead number in use: motifs' beads first, in strip order.

    Beads that are the same in everything share a letter, under whatever number they stand.
    """
    found: dict[int, str] = {}
    known: dict[Bead, str] = {}
    for number in _in_order(design):
        bead = design.beads[number]
        known.setdefault(bead, letter(len(known)))
        found.setdefault(number, known[bead])
    return found


def by_letter(
    counted: Counts, found: Mapping[int, str]
) -> tuple[tuple[str, tuple[BeadCount, ...]], ...]:
    """What is counted of every bead in use, by its letter, A first.

    Args:
        counted: the counts of a piece.
        found: its ``letters``.
    """
    seen: dict[str, list[BeadCount]] = {}
    for entry in counted.by_bead:
        if entry.used:
            seen.setdefault(found[entry.bead], []).append(entry)
    there = sorted(seen.items(), key=lambda item: (len(item[0]), item[0]))
    return tuple((mark, tuple(entries)) for mark, entries in there)


def letter(place: int) -> str:
    """A to Z, then AA, AB and so on; places count from 0."""
    if place < 0:
        raise ValueError(f"places count from 0; got {place!r}")
    rest, last = divmod(place, 26)
    return (letter(rest - 1) if rest else "") + string.ascii_uppercase[last]


def _in_order(design: Design) -> Iterator[int]:
    for motif in design.motifs:
        for column in motif:
            yield from column.beads
    for _, column in design.columns():
        yield column.base
        yield from column.beads
    yield from design.start_links
    yield from design.end_links


def chip(design: Design, number: int, mark: str) -> Chip:
    """A bead of the piece with its letter, drawn large enough to be told."""
    bead = place_bead(design.beads[number], (0.0, 0.0), 0.0, "", 0)
    grow = _CHIP_MM / max(bead.across_mm, bead.along_mm)
    larger = replace(
        bead,
        across_mm=bead.across_mm * grow,
        along_mm=bead.along_mm * grow,
        hole_mm=bead.hole_mm * grow,
    )
    return Chip(letter=mark, bead=larger)
