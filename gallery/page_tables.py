"""Tables on paper: rows that are not parted, under a head that every page repeats."""

from gallery.page import Boxes, Cell, Chip, Head, Table
from gallery.page_flow import Piece
from gallery.page_ink import (
    FAINT,
    INK,
    MM_PER_PT,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    OneBead,
    Path,
    Words,
    box,
    moved,
)
from gallery.page_text import Setting, line_mm, set_lines

_PAD_MM = 1.1  # chosen by us: space over and under a cell's text
_BETWEEN_MM = 2.5  # chosen by us: space between columns
_BOX_MM = 3.4  # chosen by us: a square that a pencil ticks with ease


def table_pieces(table: Table, setting: Setting) -> list[Piece]:
    """A table's head and rows as pieces."""
    columns = _columns(table.heads, setting.paper.room_mm)
    head = _head(table, columns, setting)
    rows = [
        _row(row, table.heads, columns, setting, bold=table.bold_last and at == len(table.rows) - 1)
        for at, row in enumerate(table.rows)
    ]
    first = Piece(
        height_mm=head.height_mm, marks=head.marks, gap_mm=2.0, keep=bool(rows), head=None
    )
    return [
        first,
        *(
            Piece(
                height_mm=high,
                marks=marks,
                head=head if at else None,
                # No row stands alone on a page, a sum least of all.
                keep=at < len(rows) - 1 and at in (0, len(rows) - 2),
            )
            for at, (high, marks) in enumerate(rows)
        ),
    ]


def _columns(heads: tuple[Head, ...], room_mm: float) -> list[tuple[float, float]]:
    """Left edge and width of every column."""
    room = room_mm - _BETWEEN_MM * (len(heads) - 1)
    total = sum(head.share for head in heads)
    found, x = [], 0.0
    for head in heads:
        width = room * head.share / total
        found.append((x, width))
        x += width + _BETWEEN_MM
    return found


def _head(table: Table, columns: list[tuple[float, float]], setting: Setting) -> Piece:
    marks: list[Mark] = []
    size = setting.small_pt
    lines = [
        setting.wrapped(head.text, size, width)
        for head, (_, width) in zip(table.heads, columns, strict=True)
    ]
    deep = max(map(len, lines), default=1)
    for head, text, column in zip(table.heads, lines, columns, strict=True):
        top = (deep - len(text)) * line_mm(size)
        marks += _text(text, head, column, top, size, bold=False, quiet=True)
    high = deep * line_mm(size) + 1.0
    marks.append(_rule(setting.paper.room_mm, high, dark=True))
    return Piece(height_mm=high, marks=tuple(marks))


def _row(
    row: tuple[Cell, ...],
    heads: tuple[Head, ...],
    columns: list[tuple[float, float]],
    setting: Setting,
    *,
    bold: bool,
) -> tuple[float, tuple[Mark, ...]]:
    marks: list[Mark] = []
    size, high = setting.body_pt, line_mm(setting.body_pt)
    for cell, head, column in zip(row, heads, columns, strict=True):
        placed, deep = _cell(cell, head, column, size, setting, bold=bold)
        marks += placed
        high = max(high, deep)
    high += 2.0 * _PAD_MM
    marks.append(_rule(setting.paper.room_mm, high, dark=False))
    return high, tuple(marks)


def _cell(
    cell: Cell,
    head: Head,
    column: tuple[float, float],
    size: float,
    setting: Setting,
    *,
    bold: bool,
) -> tuple[list[Mark], float]:
    """A cell's marks and how high it is."""
    x, width = column
    if isinstance(cell, str):
        lines = setting.wrapped(cell, size, width, bold=bold)
        marks = _text(lines, head, column, _PAD_MM, size, bold=bold)
        return marks, len(lines) * line_mm(size)
    if isinstance(cell, Drawing):
        return [moved(mark, x, _PAD_MM) for mark in cell.marks], cell.height_mm
    middle = _PAD_MM + line_mm(size) / 2.0
    if isinstance(cell, Boxes):
        side = _BOX_MM * setting.scale
        step = side + 1.2
        per_row = max(1, int((width + 1.2) // step))
        boxes: list[Mark] = [
            box(x + (n % per_row) * step, middle - side / 2.0 + (n // per_row) * step,
                side, side)
            for n in range(cell.count)
        ]  # fmt: skip
        return boxes, line_mm(size) + step * ((cell.count - 1) // per_row)
    return chip_marks(cell, x, middle, size), line_mm(size)


def chip_marks(chip: Chip, x_mm: float, middle_mm: float, size_pt: float) -> list[Mark]:
    """A letter and its bead, side by side about a middle line."""
    base = middle_mm + size_pt * MM_PER_PT * 0.33
    letter = Words(x_mm=x_mm, y_mm=base, text=chip.letter, size_pt=size_pt, bold=True)
    aside = size_pt * MM_PER_PT * (0.55 + 0.6 * len(chip.letter))
    room = max(chip.bead.across_mm, chip.bead.along_mm)
    return [letter, OneBead(x_mm=x_mm + aside + room / 2.0, y_mm=middle_mm, bead=chip.bead)]


def _text(
    lines: list[str],
    head: Head,
    column: tuple[float, float],
    top_mm: float,
    size_pt: float,
    *,
    bold: bool,
    quiet: bool = False,
) -> list[Mark]:
    x, width = column
    return list(
        set_lines(
            lines,
            x + width if head.right else x,
            top_mm,
            size_pt,
            bold=bold,
            srgb1=QUIET if quiet else INK,
            anchor=Anchor.END if head.right else Anchor.START,
        )
    )


def _rule(width_mm: float, y_mm: float, *, dark: bool) -> Path:
    return Path(
        points_mm=((0.0, y_mm), (width_mm, y_mm)),
        width_mm=0.25 if dark else 0.15,
        stroke=QUIET if dark else FAINT,
    )
