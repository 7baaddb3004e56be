"""A piece made over for another strip or in other colours, as near to what it was as can be."""

from dataclasses import replace

from explorer import changes
from explorer.app.sizing import Measured
from explorer.design import Design, Part, motif_bead
from explorer.fit import Fit
from explorer.pattern import Pattern
from explorer.piece import Piece


def meant(piece: Piece, pattern: Pattern) -> Piece:
    """The piece with another pattern."""
    return replace(piece, pattern=pattern)


def words_of(changed: changes.Changed) -> tuple[str, ...]:
    """All that is to be told of a change: what it gave up, what sleeps, what is to be decided."""
    return (*changed.gave_up, *changed.asleep, *changed.asks)


def refitted(pattern: Pattern, to: Measured, fit: Fit, *, quick: bool = False) -> changes.Changed:
    """The pattern on another strip: its motifs in their order, as many as fit.

    Args:
        pattern: the pattern as it is.
        to: the measurement, the base and the dangles' kind.
        fit: the strip for them.
        quick: take the quick rule's numbers, where it gives a motif at all: one base bead ends the
            strip, whatever the divider.
    """
    quick = quick and fit.quick_rule.motifs > 0
    return changes.refit(
        pattern,
        to.wearer,
        repeat=replace(fit.repeat, margins=0) if quick else fit.repeat,
        motifs=fit.quick_rule.motifs if quick else fit.motifs,
        base=to.strip.base,
        pitch_mm=fit.pitch_mm,
        measured=to.strip.measured_pitch_mm is not None,
        hanging=to.hanging,
        closure=to.closure,
        fill=to.strip.plain_ends,
        last_divider=1 if quick else None,
    )


def main_base(design: Design) -> int:
    """The bead of the first base bead that is not a margin's."""
    return design.dividers[0][0].base if design.dividers[0] else design.motifs[0][0].base


def motif_beads_in_order(design: Design) -> tuple[int, ...]:
    """The numbers of the beads that hang in motifs, first seen first."""
    seen: dict[int, None] = {}
    for place, column in design.columns():
        if place.part is Part.MOTIF:
            seen.update(dict.fromkeys(column.beads))
    return tuple(seen)


def motif_hexes(design: Design) -> tuple[str, ...]:
    """Every motif's main colour, in strip order."""
    return tuple(design.beads[motif_bead(motif)].hex for motif in design.motifs)
