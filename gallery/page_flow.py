"""From blocks to pages: every block becomes pieces that are not parted, and pieces fill pages."""

from dataclasses import dataclass
from itertools import pairwise

from gallery.page import Document
from gallery.page_ink import Mark, moved
from gallery.page_text import Setting, line_mm

Page = tuple[Mark, ...]

# Room for the line at the foot of a page, in lines of small text; by eye.
_FOOT_LINES = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is not parted: marks from the upper left corner of the room between the margins.

    Attributes:
        height_mm: how much of the page it takes.
        marks: what it shows.
        gap_mm: space before it, none at the top of a page.
        keep: whether it stays on the page of the next piece.
        head: what stands over it where it opens a page, such as a table's head.
        opens: whether it opens a page.
    """

    height_mm: float
    marks: tuple[Mark, ...] = ()
    gap_mm: float = 0.0
    keep: bool = False
    head: "Piece | None" = None
    opens: bool = False


def room_high_mm(setting: Setting) -> float:
    """The height between head and foot of a page."""
    foot = _FOOT_LINES * line_mm(setting.small_pt)
    return setting.paper.height_mm - 2.0 * setting.paper.margin_mm - foot


def filled(pieces: list[Piece], setting: Setting) -> tuple[Page, ...]:
    """Pages filled with pieces from the top down.

    A piece higher than a page stands alone on one and runs over its foot.
    """
    pages: list[list[Mark]] = [[]]
    high, y = room_high_mm(setting), 0.0
    left = top = setting.paper.margin_mm
    for group in _groups(pieces):
        need = group[0].gap_mm * (y > 0.0) + _height(group)
        if y > 0.0 and (group[0].opens or y + need > high + 1e-6):
            pages.append([])
            y = 0.0
        if y == 0.0 and group[0].head is not None:
            pages[-1] += [moved(mark, left, top) for mark in group[0].head.marks]
            y = group[0].head.height_mm
        for piece in group:
            y += piece.gap_mm if y > 0.0 else 0.0
            if y > 0.0 and y + piece.height_mm > high + 1e-6:
                pages.append([])
                y = 0.0
            pages[-1] += [moved(mark, left, top + y) for mark in piece.marks]
            y += piece.height_mm
    return tuple(tuple(page) for page in pages)


def _height(group: list[Piece]) -> float:
    gaps = sum(later.gap_mm for _, later in pairwise(group))
    return sum(piece.height_mm for piece in group) + gaps


def _groups(pieces: list[Piece]) -> list[list[Piece]]:
    """Pieces that stay together, in order."""
    groups: list[list[Piece]] = []
    held = False
    for piece in pieces:
        if held and not piece.opens:
            groups[-1].append(piece)
        else:
            groups.append([piece])
        held = piece.keep
    return groups


def pages_of(document: Document, setting: Setting) -> tuple[Page, ...]:
    """The pages of a document, without their feet."""
    from gallery.page_blocks import pieces_of

    return filled(pieces_of(document.blocks, setting), setting)
