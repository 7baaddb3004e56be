"""Colours as found become the piece's: dangles, base and order, from beads at hand if wanted."""

from dataclasses import dataclass, replace

from explorer.app import state, steps
from explorer.app.refit import main_base, meant
from explorer.app.state import Work
from explorer.changes import in_order
from explorer.colouring import Colouring
from explorer.counts import counts
from explorer.design import Design
from explorer.order_choice import choose_order, differences
from explorer.pattern import PaintEdit
from explorer.piece import Piece
from explorer.sequence_types import NoOrder, OrderBrief, balanced
from palettes.beads import BeadKind
from palettes.difference import delta_e_2000
from palettes.extract import in_proportion
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch
from palettes.tray import NO_LIMIT, Tray, TrayBead


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """The work with other colours, and what is to be said about it."""

    work: Work
    words: tuple[str, ...] = ()


def used(
    work: Work,
    swatches: tuple[Swatch, ...],
    *,
    boxes: tuple[TrayBead, ...] = (),
    tray: Tray | None = None,
    shares: tuple[float, ...] = (),
) -> Used:
    """The piece in the colours.

    Args:
        work: what is on the table.
        swatches: the colours, at least one.
        boxes: the beads at hand that they are, one each; none for free colours.
        tray: all beads at hand, for the base; none for free colours.
        shares: how much of the piece each colour shall take; empty for equal parts.
    """
    words: list[str] = []
    base = work.tray.base
    if boxes and tray is not None:
        work = _hanging(work, boxes[0].kind)
        found = best_base(work.piece.design, swatches, tray)
        kind = work.piece.design.beads[main_base(work.piece.design)].kind
        if found is None:
            words.append(
                f"Your beads hold not enough of any {kind.name} for the base, so it stays "
                f"{base.name}."
            )
        else:
            base = Swatch(name=found.name, hex=found.hex, finish=found.finish)
            words.append(f"The base is {found.name}, {kind.name}, from your beads.")
    colours = state.Tray(swatches=swatches, base=base, at_hand=bool(boxes))
    after = steps.with_tray(work, colours)
    least, most = _uses(after.piece.design, boxes, shares, len(swatches))
    if least:
        piece = shared_out(after.piece, swatches, least, most)
        if piece is None:
            words.append("There are too few motifs or beads to share the colours out so.")
        else:
            after = replace(after, piece=piece)
    return Used(work=after, words=tuple(words))


def _hanging(work: Work, kind: BeadKind) -> Work:
    """The work with dangles of another kind."""
    if work.sizing.hanging == kind.name:
        return work
    return steps.resized(work, replace(work.sizing, hanging=kind.name))


def best_base(design: Design, swatches: tuple[Swatch, ...], tray: Tray) -> TrayBead | None:
    """The bead at hand for the base that stands apart most from the colour nearest to it.

    None where no box of the base's kind has enough.
    """
    kind = design.beads[main_base(design)].kind
    wanted = counts(design).base_beads
    boxes = [b for b in tray.of_kind(kind).beads if b.stock is None or b.stock >= wanted]
    if not boxes:
        return None
    lab = srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in swatches]))
    own = srgb1_to_lab(hexes_to_srgb1([box.hex for box in boxes]))
    nearest = delta_e_2000(own[:, None], lab[None]).min(axis=1)
    return boxes[int(nearest.argmax())]


def _uses(
    design: Design, boxes: tuple[TrayBead, ...], shares: tuple[float, ...], colours: int
) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Fewest and most motifs of each colour; empty where equal parts will do."""
    motifs = len(design.motifs)
    if shares:
        exact = in_proportion(shares, motifs)
        return exact, exact
    least, most = balanced(colours, motifs)
    largest = max(sum(len(column.beads) for column in motif) for motif in design.motifs)
    stocks = (NO_LIMIT if box.stock is None else box.stock for box in boxes)
    caps = tuple(stock // max(1, largest) for stock in stocks)
    if all(cap >= high for cap, high in zip(caps, most, strict=False)):
        return (), ()
    return tuple(map(min, least, caps)), tuple(min(cap, motifs) for cap in caps)


def shared_out(
    piece: Piece, swatches: tuple[Swatch, ...], least: tuple[int, ...], most: tuple[int, ...]
) -> Piece | None:
    """A piece of plain motifs with so many of each colour, in the order that stands apart best.

    None where its motifs are not plain, or no order has so many of each.
    """
    pattern = piece.pattern
    by_hand = any(
        one.as_it_is or one.colouring or any(isinstance(edit, PaintEdit) for edit in one.edits)
        for _, one in pattern.motifs
    )
    if by_hand or pattern.inside.colouring is not Colouring.PLAIN:
        return None
    lab = srgb1_to_lab(hexes_to_srgb1([swatch.hex for swatch in swatches]))
    brief = OrderBrief(motifs=pattern.run.motifs, least=least, most=most)
    found = choose_order(differences(lab), brief)
    if isinstance(found, NoOrder):
        return None
    return meant(piece, in_order(pattern, swatches, found.order.order).pattern)
