"""Every other kind of block as pieces of a page: heads, text, facts, steps, figures, notes."""

from collections.abc import Sequence
from dataclasses import replace

from gallery.page import (
    Blanks,
    Block,
    Break,
    Cards,
    Facts,
    Figures,
    Heading,
    Note,
    Ruler,
    Steps,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_cards import card_pieces
from gallery.page_figures import figure_pieces
from gallery.page_flow import Piece
from gallery.page_ink import (
    FAINT,
    GREEN,
    INK,
    QUIET,
    Anchor,
    Mark,
    Path,
    Words,
    box,
    moved,
)
from gallery.page_strips import strip_pieces
from gallery.page_tables import table_pieces
from gallery.page_text import HEADING_PT, TITLE_PT, Setting, line_mm, set_lines

_BOX_MM = 3.4  # chosen by us, because boxes in tables are as large
# So many facts stay on one page; chosen by us, because they belong together.
_MOST_TOGETHER = 10
_FEW_STEPS = 4  # so many things to do as well; chosen by us, as many pieces of thread as are usual
_LABEL_SHARE = 0.22  # of the width, for the labels of facts; by eye


def pieces_of(blocks: Sequence[Block], setting: Setting) -> list[Piece]:
    """All blocks as pieces, in order."""
    pieces: list[Piece] = []
    opens = False
    for block in blocks:
        if isinstance(block, Break):
            opens = True
            continue
        found = _pieces(block, setting)
        if opens and found:
            found[0] = replace(found[0], opens=True)
            opens = False
        pieces += found
    return pieces


def _pieces(block: Block, setting: Setting) -> list[Piece]:  # noqa: C901 - a line a kind
    match block:
        case Title():
            return [_title(block, setting)]
        case Heading():
            return [_heading(block, setting)]
        case Text():
            return _text(block, setting)
        case Facts():
            return _facts(block, setting)
        case Table():
            return table_pieces(block, setting)
        case Steps():
            return _steps(block, setting)
        case TrueSize():
            return strip_pieces(block, setting)
        case Ruler():
            return [_ruler(block.length_mm, setting)]
        case Figures():
            return figure_pieces(block.figures, setting)
        case Note():
            return _note(block, setting)
        case Cards():
            return card_pieces(block.cards, setting)
        case Blanks():
            return [_blanks(block.labels, setting)]
        case Break():
            return []


def _title(block: Title, setting: Setting) -> Piece:
    corner = block.corner
    taken = 0.0 if corner is None else corner.width_mm + 5.0
    room = setting.paper.room_mm - taken
    size = TITLE_PT * min(setting.scale, 1.25)
    lines = setting.wrapped(block.text, size, room, bold=True)[:3]
    under = setting.wrapped(block.under, setting.body_pt, room) if block.under else []
    marks = list(set_lines(lines, 0.0, 0.0, size, bold=True))
    y = len(lines) * line_mm(size) - 1.0
    marks += set_lines(under, 0.0, y, setting.body_pt, srgb1=QUIET)
    y += len(under) * line_mm(setting.body_pt)
    if corner is not None:
        marks += [moved(mark, room + 5.0, 0.0) for mark in corner.marks]
        y = max(y, corner.height_mm)
    y += 2.0
    marks.append(Path(points_mm=((0.0, y), (setting.paper.room_mm, y)), width_mm=0.6, stroke=GREEN))
    return Piece(height_mm=y + 1.0, marks=tuple(marks), keep=True)


def _heading(block: Heading, setting: Setting) -> Piece:
    size = HEADING_PT * setting.scale
    aside = 0.0
    marks: list[Mark] = []
    if block.number:
        marks += set_lines([block.number], 0.0, 0.0, size, bold=True, srgb1=GREEN)
        aside = setting.measure.width_mm(block.number, size, bold=True) + 2.5
    lines = setting.wrapped(block.text, size, setting.paper.room_mm - aside, bold=True)
    marks += set_lines(lines, aside, 0.0, size, bold=True)
    return Piece(
        height_mm=len(lines) * line_mm(size) + 0.5, marks=tuple(marks), gap_mm=6.0, keep=True
    )


def _text(block: Text, setting: Setting) -> list[Piece]:
    size = setting.small_pt if block.quiet else setting.body_pt
    ink = QUIET if block.quiet else INK
    lines = setting.wrapped(block.text, size, setting.paper.room_mm, bold=block.bold)
    last = len(lines) - 1
    return [
        Piece(
            height_mm=line_mm(size),
            marks=set_lines([line], 0.0, 0.0, size, bold=block.bold, srgb1=ink),
            gap_mm=1.4 if at == 0 else 0.0,
            # No line stands alone at the foot or at the top of a page.
            keep=(at == 0 and last > 0) or (0 < at == last - 1) or (block.leads and at == last),
        )
        for at, line in enumerate(lines)
    ]


def _facts(block: Facts, setting: Setting) -> list[Piece]:
    """Rows of facts; a few stay together."""
    pieces = [_fact(label, value, setting) for label, value in block.rows]
    pieces[:1] = [replace(piece, gap_mm=2.0) for piece in pieces[:1]]
    if len(pieces) > _MOST_TOGETHER:
        return pieces[:-1] + [replace(piece, keep=block.leads) for piece in pieces[-1:]]
    kept = [replace(piece, keep=True) for piece in pieces[:-1]]
    return kept + [replace(piece, keep=block.leads) for piece in pieces[-1:]]


def _fact(label: str, value: str, setting: Setting) -> Piece:
    room, size = setting.paper.room_mm, setting.body_pt
    left = room * _LABEL_SHARE
    labels = setting.wrapped(label, size, left - 3.0)
    values = setting.wrapped(value, size, room - left)
    return Piece(
        height_mm=max(len(labels), len(values)) * line_mm(size) + 0.7,
        marks=(
            *set_lines(labels, 0.0, 0.0, size, srgb1=QUIET),
            *set_lines(values, left, 0.0, size),
        ),
        gap_mm=0.3,
    )


def _steps(block: Steps, setting: Setting) -> list[Piece]:
    """Things to do; a few stay together, and of many none stands alone at a page's foot or top."""
    pieces = [_step(text, setting) for text in block.texts]
    last = len(pieces) - 1
    few = len(pieces) <= _FEW_STEPS
    return [
        replace(piece, keep=at < last and (few or at in (0, last - 1)))
        for at, piece in enumerate(pieces)
    ]


def _step(text: str, setting: Setting) -> Piece:
    size = setting.body_pt
    side = _BOX_MM * setting.scale
    aside = side + 3.1
    lines = setting.wrapped(text, size, setting.paper.room_mm - aside)
    top = (line_mm(size) - side) / 2.0
    return Piece(
        height_mm=len(lines) * line_mm(size),
        marks=(box(0.0, top, side, side), *set_lines(lines, aside, 0.0, size)),
        gap_mm=1.6,
    )


def _ruler(length_mm: float, setting: Setting) -> Piece:
    size, y = setting.small_pt, 3.0
    marks: list[Mark] = [Path(points_mm=((0.0, y), (length_mm, y)), width_mm=0.3)]
    for mm in range(int(length_mm) + 1):
        tick = 3.0 if mm % 10 == 0 else 2.0 if mm % 5 == 0 else 1.1
        marks.append(Path(points_mm=((float(mm), y), (float(mm), y - tick)), width_mm=0.15))
    words = (
        f"This line is {length_mm:g} mm long. If your ruler says otherwise, print again at 100 % "
        "(“actual size”), not fitted to the page."
    )
    lines = setting.wrapped(words, size, setting.paper.room_mm - length_mm - 6.0)
    marks += set_lines(lines, length_mm + 6.0, 0.0, size, srgb1=QUIET)
    high = max(y + 1.0, len(lines) * line_mm(size))
    return Piece(height_mm=high, marks=tuple(marks), gap_mm=3.0)


def _note(block: Note, setting: Setting) -> list[Piece]:
    """A title and its texts with a bar at their left, line by line so that it may be parted."""
    size = setting.body_pt
    room = setting.paper.room_mm - 5.0
    lines = [(line, True) for line in setting.wrapped(block.title, size, room, bold=True)]
    for text in block.texts:
        lines += [(line, False) for line in setting.wrapped(text, size, room)]
    pieces = []
    for at, (line, bold) in enumerate(lines):
        bar = Path(points_mm=((0.6, 0.0), (0.6, line_mm(size))), width_mm=1.2, stroke=INK)
        pieces.append(
            Piece(
                height_mm=line_mm(size),
                marks=(bar, *set_lines([line], 5.0, 0.0, size, bold=bold)),
                gap_mm=3.0 if at == 0 else 0.0,
                keep=at + 1 < len(lines) and at < 2,
            )
        )
    return pieces


def _blanks(labels: tuple[str, ...], setting: Setting) -> Piece:
    size, gap = setting.small_pt, 6.0
    wide = (setting.paper.room_mm - gap * (len(labels) - 1)) / len(labels)
    y = 2.0 * line_mm(setting.body_pt)
    marks: list[Mark] = []
    for at, label in enumerate(labels):
        x = at * (wide + gap)
        marks.append(Path(points_mm=((x, y), (x + wide, y)), width_mm=0.2, stroke=INK))
        marks += set_lines([label], x, y + 0.5, size, srgb1=QUIET)
    return Piece(height_mm=y + 0.5 + line_mm(size), marks=tuple(marks), gap_mm=2.0)


def foot(text: str, page: int, pages: int, setting: Setting) -> tuple[Mark, ...]:
    """The line at the foot of a page, counted from 1."""
    size, paper = setting.small_pt * 0.92, setting.paper
    y = paper.height_mm - paper.margin_mm
    right = f"page {page} of {pages}"
    room = paper.room_mm - setting.measure.width_mm(right, size) - 6.0
    line = Path(
        points_mm=((paper.margin_mm, y - 4.2), (paper.width_mm - paper.margin_mm, y - 4.2)),
        width_mm=0.15,
        stroke=FAINT,
    )
    return (
        line,
        Words(
            x_mm=paper.margin_mm,
            y_mm=y,
            text=setting.shortened(text, size, room),
            size_pt=size,
            srgb1=QUIET,
        ),
        Words(
            x_mm=paper.width_mm - paper.margin_mm,
            y_mm=y,
            text=right,
            size_pt=size,
            srgb1=QUIET,
            anchor=Anchor.END,
        ),
    )
