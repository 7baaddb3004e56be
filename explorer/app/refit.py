"""A piece made over for another strip or in other colours, as near to what it was as can be."""

from dataclasses import replace

from explorer.app.sizing import Measured
from explorer.bead_numbers import tidied, with_bead
from explorer.design import Column, Design, Part, motif_bead
from explorer.fit import Fit
from explorer.order_choice import choose_order, differences
from explorer.piece import Piece
from explorer.sequence_types import NoOrder, Order, OrderBrief
from explorer.tips import hanging_kind
from palettes.beads import Bead
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch


def redesigned(piece: Piece, design: Design) -> Piece:
    """The piece after a change of its beads, which makes this its first form."""
    return piece if design == piece.design else replace(piece, design=design, origin=None)


def resampled(columns: tuple[Column, ...], width: int) -> tuple[Column, ...]:
    """A motif of another width: every place takes the dangle at the same height of the old one.

    Places are mirrored about the middle, so that a symmetric motif stays symmetric.
    """
    old = len(columns)
    if width == old:
        return columns
    if width == 1:
        return (columns[old // 2],)
    half = [(2 * place * (old - 1) + width - 1) // (2 * (width - 1)) for place in range(width)]
    places = [half[p] if 2 * p < width else old - 1 - half[width - 1 - p] for p in range(width)]
    return tuple(columns[place] for place in places)


def refitted(piece: Piece, to: Measured, fit: Fit, *, quick: bool = False) -> Piece:
    """The piece on another strip: its motifs in their order, as many as fit, taken round again.

    Args:
        piece: the piece as it is.
        to: the measurement, the base and the dangles' kind.
        fit: the strip for them.
        quick: take the quick rule's numbers, where it gives a motif at all: one base bead ends the
            strip, whatever the divider.
    """
    design = piece.design
    quick = quick and fit.quick_rule.motifs > 0
    count = fit.quick_rule.motifs if quick else fit.motifs
    motifs = tuple(
        resampled(design.motifs[i % len(design.motifs)], fit.repeat.dangles) for i in range(count)
    )
    base = main_base(design)
    hangs = next((c.beads for d in design.dividers for c in d if c.beads), ())
    divider = (Column(base=base, beads=hangs),) * fit.repeat.divider
    last = (divider or (Column(base=base),))[:1] if quick else divider
    margin = (Column(base=base),) * (0 if quick else fit.repeat.margins // 2)
    remade = replace(
        design,
        beads=_rekinded(design, to),
        base_pitch_mm=fit.pitch_mm,
        motifs=motifs,
        dividers=(*(divider,) * count, last),
        start_margin=margin,
        end_margin=margin,
        closure=to.closure,
    )
    return replace(
        piece,
        design=remade,
        origin=None,
        wearer=to.wearer,
        pitch_measured=to.strip.measured_pitch_mm is not None,
        plain_ends=to.strip.plain_ends,
    )


def main_base(design: Design) -> int:
    """The bead of the first base bead that is not a margin's."""
    return design.dividers[0][0].base if design.dividers[0] else design.motifs[0][0].base


def _rekinded(design: Design, to: Measured) -> tuple[Bead, ...]:
    """The beads with their kinds changed; one that is base and dangle bead counts as base bead.

    Turning beads and small beads of another kind than the dangles' keep theirs.
    """
    bases = {column.base for _, column in design.columns()}
    kept = set(design.start_links) | set(design.end_links)
    old = hanging_kind(design)
    return tuple(
        replace(bead, kind=to.strip.base)
        if number in bases
        else bead
        if number in kept or bead.kind != old
        else replace(bead, kind=to.hanging)
        for number, bead in enumerate(design.beads)
    )


def motif_beads_in_order(design: Design) -> tuple[int, ...]:
    """The numbers of the beads that hang in motifs, first seen first."""
    seen: dict[int, None] = {}
    for place, column in design.columns():
        if place.part is Part.MOTIF:
            seen.update(dict.fromkeys(column.beads))
    return tuple(seen)


def recoloured(piece: Piece, swatches: tuple[Swatch, ...], base: Swatch) -> Piece:
    """The piece in other colours: the first colour seen takes the first swatch, and so on round.

    Small beads under the dividers follow the base.
    """
    design = piece.design
    beads = list(design.beads)
    for rank, number in enumerate(motif_beads_in_order(design)):
        beads[number] = dressed(beads[number], swatches[rank % len(swatches)])
    motif_numbers = set(motif_beads_in_order(design))
    for place, column in design.columns():
        beads[column.base] = dressed(beads[column.base], base)
        if place.part is not Part.MOTIF:
            for number in column.beads:
                if number not in motif_numbers:
                    beads[number] = dressed(beads[number], base)
    return redesigned(piece, replace(design, beads=tuple(beads)))


def reordered(piece: Piece, swatches: tuple[Swatch, ...]) -> Piece:
    """A piece of plain motifs with all the swatches in the order that stands apart best."""
    design = piece.design
    lab = srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in swatches]))
    found = choose_order(differences(lab), OrderBrief(motifs=len(design.motifs)))
    return piece if isinstance(found, NoOrder) else in_order(piece, swatches, found.order)


def in_order(piece: Piece, swatches: tuple[Swatch, ...], order: Order) -> Piece:
    """A piece of plain motifs, each all in the swatch that the order gives it."""
    design = piece.design
    motifs = []
    for number, motif in enumerate(design.motifs):
        old = design.beads[motif_bead(motif)]
        design, bead = with_bead(design, dressed(old, swatches[order.order[number]]))
        motifs.append(tuple(replace(c, beads=(bead,) * len(c.beads)) for c in motif))
    return redesigned(piece, tidied(replace(design, motifs=tuple(motifs))))


def dressed(bead: Bead, swatch: Swatch) -> Bead:
    """The bead in a swatch's colour, name and finish."""
    return replace(bead, name=swatch.name, hex=swatch.hex, finish=swatch.finish)


def motif_hexes(design: Design) -> tuple[str, ...]:
    """Every motif's main colour, in strip order."""
    return tuple(design.beads[motif_bead(motif)].hex for motif in design.motifs)
