"""The making sheet: all that a maker needs at the table without a screen.

Blocks of plain text, figures and drawings, in the order of work; ``gallery.pdf`` prints them.
"""

from explorer.piece import Piece
from explorer.sheet_care import care_blocks
from explorer.sheet_facts import SheetFacts, SheetOptions, sheet_facts
from explorer.sheet_parts import count_blocks, picture_blocks, size_blocks, thread_blocks
from explorer.sheet_work import base_row_blocks, dangle_blocks, finish_blocks
from explorer.thread import GUESSED_PACE_S
from gallery.page import LARGE_TYPE, Document, Title
from gallery.page_ink import Drawing
from gallery.page_qr import code_drawing


def making_sheet(piece: Piece, options: SheetOptions | None = None) -> Document:
    """A piece's making sheet.

    Args:
        piece: the piece.
        options: the maker's choices.

    Raises:
        BriefError: the thread's working length does not reach for the longest stitch.
    """
    return sheet_of(sheet_facts(piece, options or SheetOptions()))


def sheet_of(facts: SheetFacts) -> Document:
    """The making sheet of facts that are worked out already."""
    options, piece = facts.options, facts.piece
    return Document(
        title=f"{piece.name} \N{EN DASH} making sheet",
        blocks=(
            Title(text=piece.name, under=under_title(facts), corner=code(options.link)),
            *picture_blocks(facts),
            *count_blocks(facts),
            *thread_blocks(facts),
            *size_blocks(facts),
            *care_blocks(facts),
            *base_row_blocks(facts),
            *dangle_blocks(facts),
            *finish_blocks(facts),
        ),
        foot=foot_words(piece, options),
        scale=LARGE_TYPE if options.large else 1.0,
    )


def under_title(facts: SheetFacts) -> str:
    """Whom it is for, what it is, how much there is to do, and where it comes from."""
    options, design = facts.options, facts.design
    motifs = len(design.motifs)
    parts = [
        f"for {options.of_whom}" if options.of_whom else "",
        f"{options.wear.value}: {motifs} motif{'s' * (motifs > 1)}",
        f"{facts.counts.total} beads",
        time_words(facts),
    ]
    return ", ".join(part for part in parts if part)


def time_words(facts: SheetFacts) -> str:
    """The time it takes, and how sure that is."""
    pace_s = facts.options.pace_s
    sure = " (a guess: time your own)" if pace_s == GUESSED_PACE_S else ""
    minutes = facts.minutes
    words = f"{minutes / 60.0:.1f} hours" if minutes >= 60.0 else f"{minutes:.0f} minutes"
    return f"about {words} at {pace_s:g} seconds a bead{sure}"


def foot_words(piece: Piece, options: SheetOptions) -> str:
    """Name, date and seed, to find a sheet and its piece again."""
    seed = None if piece.seed is None else f"seed {piece.seed}"
    return " · ".join(part for part in (piece.name, options.dated, seed) if part)


def code(link: str) -> Drawing | None:
    """A link as a code to scan; none where there is no link, or it is too long to print."""
    return code_drawing(link) if link else None
