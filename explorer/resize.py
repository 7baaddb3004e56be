"""A saved piece for another wearer: the same repeat and order, more or fewer motifs."""

from dataclasses import dataclass, replace

from explorer.brief import Wearer
from explorer.design import Closure, Column, Design
from explorer.fit import TOLERANCE_MM
from explorer.piece import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class TooShort:
    """Not one motif fits the new measurement; the shortest strip that has one."""

    target_mm: float
    needs_mm: float


def resize(
    piece: Piece,
    wearer: Wearer,
    *,
    closure: Closure | None = None,
    plain_ends: bool | None = None,
) -> Piece | TooShort:
    """The piece with the most motifs that fit another measurement.

    Motifs are taken from the first form of the piece in strip order, beginning anew at its end, or
    mirrored about the middle where it was mirrored; so resizing there and back gives the same
    piece. Link beads spent the old slack, so a strip of another length starts without them.

    Args:
        piece: the piece; its ``origin``, if it has one, is its first form.
        wearer: the new measurement.
        closure: another fastening; None for the piece's own.
        plain_ends: whether plain base beads at both ends fill what is left over; None for as the
            piece has it.

    Raises:
        BriefError: the closure takes up all of measurement and ease.
    """
    closure = piece.design.closure if closure is None else closure
    source = replace(piece.origin or piece.design, closure=closure)
    target_mm = wearer.target_mm(closure)
    fill = piece.plain_ends if plain_ends is None else plain_ends
    bare = with_margins(source, 0) if fill else source
    motifs = most_motifs(bare, target_mm)
    if motifs == 0:
        return TooShort(target_mm=target_mm, needs_mm=of_length(bare, 1).strip_mm)
    design = of_length(source, motifs)
    if fill:
        left_mm = target_mm + TOLERANCE_MM - of_length(bare, motifs).strip_mm
        design = with_margins(design, int(left_mm / (2.0 * design.base_pitch_mm)))
    origin = None if design == source else source
    return replace(piece, design=design, origin=origin, wearer=wearer, plain_ends=fill)


def with_margins(design: Design, each_end: int) -> Design:
    """The design with so many plain base beads at each end, of the beads that are there already."""
    if len(design.start_margin) == len(design.end_margin) == each_end:
        return design
    near = next((divider[0] for divider in design.dividers if divider), design.motifs[0][0])
    plain = design.start_margin or design.end_margin or (Column(base=near.base),)
    start = tuple(plain[i % len(plain)] for i in range(each_end))
    return replace(design, start_margin=start, end_margin=start[::-1])


def most_motifs(source: Design, target_mm: float) -> int:
    """The most motifs of a design's pattern whose strip is no longer than the target.

    Link beads are left out of account: they are proposed anew for whatever is left over.
    """
    motifs = 0
    while of_length(source, motifs + 1).strip_mm <= target_mm + TOLERANCE_MM:
        motifs += 1
    return motifs


def of_length(source: Design, motifs: int) -> Design:
    """A design's pattern carried on, or cut, to so many motifs."""
    if motifs == len(source.motifs):
        return source
    chosen = _pattern(source.motifs, motifs)
    dividers = tuple(source.dividers[i % len(source.motifs)] for i in range(motifs))
    return replace(
        source,
        motifs=chosen,
        dividers=(*dividers, source.dividers[-1]),
        start_links=(),
        end_links=(),
    )


def _pattern(motifs: tuple[tuple[Column, ...], ...], count: int) -> tuple[tuple[Column, ...], ...]:
    if len(motifs) > 1 and motifs == motifs[::-1]:
        half = (len(motifs) + 1) // 2
        first = tuple(motifs[i % half] for i in range((count + 1) // 2))
        return first + first[: count // 2][::-1]
    return tuple(motifs[i % len(motifs)] for i in range(count))
