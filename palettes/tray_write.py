"""From a tray back to its table: what was not changed stays as it was, byte for byte."""

from dataclasses import replace

from palettes.tray import Tray, TrayBead
from palettes.tray_cells import harmless, in_marks, unquoted
from palettes.tray_read import COLUMNS, Reading, columns_of
from palettes.tray_sheet import Row, Sheet, encoded, row_text


def write_tray(tray: Tray, reading: Reading | None = None) -> bytes:
    """The tray as a CSV file's content.

    Rows that were read and not changed, rows with faults, blank rows and other columns stay as
    they were; rows of beads that are gone go; new beads come last. A cell that a spreadsheet could
    run as a formula gets an apostrophe before it wherever it stands, which reading takes off.

    Args:
        tray: the beads as they are now.
        reading: what was read; without it the file is a new one in UTF-8, cells parted by commas.
    """
    if reading is None:
        heading = Row(text=",".join(COLUMNS) + "\r\n", cells=COLUMNS)
        sheet = Sheet(rows=(heading,), heading=0)
        reading = Reading(tray=Tray(), faults=(), sheet=sheet, mark=None)
    sheet = reading.sheet
    places = columns_of(sheet, "the tray")
    before = {bead.row: bead for bead in reading.tray.beads}
    # A row of another file is no row of this one: such a bead is new here.
    now = {bead.row: bead for bead in tray.beads if bead.row in before}
    texts = []
    for at, row in enumerate(sheet.rows):
        if at in before and at not in now:
            continue
        changed = at in now and now[at] != before.get(at)
        cells = _cells(row, now[at], before.get(at), places, reading.mark) if changed else None
        texts.append(_row(row, cells, sheet, keep=at < sheet.heading))
    new = [bead for bead in tray.beads if bead.row not in before]
    width = max(len(sheet.rows[sheet.heading].cells), 1)
    for bead in new:
        blank = Row(text="", cells=("",) * width)
        cells = _cells(blank, bead, None, places, reading.mark)
        if texts and not texts[-1].endswith(sheet.line_end):
            texts[-1] += sheet.line_end
        texts.append(row_text([harmless(cell) for cell in cells], sheet))
    return encoded("".join(texts), sheet)


def _row(row: Row, cells: list[str] | None, sheet: Sheet, *, keep: bool) -> str:
    """A row's text: as it was, unless a cell is new or could be run."""
    safe = [harmless(unquoted(cell)) for cell in (row.cells if cells is None else cells)]
    if keep or (cells is None and safe == list(row.cells)):
        return row.text
    text = row_text(safe, sheet)
    return text if row.text.endswith(sheet.line_end) else text.removesuffix(sheet.line_end)


def _cells(
    row: Row, bead: TrayBead, before: TrayBead | None, places: dict[str, int], mark: str | None
) -> list[str]:
    """The row's cells with those of the bead that differ from before put in."""
    width = max([len(row.cells), *(place + 1 for place in places.values())])
    cells = [unquoted(cell) for cell in row.cells] + [""] * (width - len(row.cells))
    written = cell_texts(bead, mark)
    was = cell_texts(before, mark) if before is not None else dict.fromkeys(COLUMNS, "")
    for column, place in places.items():
        if written[column] != was[column]:
            cells[place] = written[column]
    return cells


def cell_texts(bead: TrayBead, mark: str | None) -> dict[str, str]:
    """What each column holds of a bead, numbers with that decimal mark; empty where nothing is."""
    numbers = {"grams": bead.grams, "count": bead.count, "price": bead.price}
    return {
        "name": bead.name,
        "kind": bead.kind.name,
        "colour": bead.hex,
        "finish": bead.finish.value,
        "lot": bead.lot,
        "kept": bead.kept,
        **{key: "" if value is None else in_marks(value, mark) for key, value in numbers.items()},
    }


def with_bead(tray: Tray, place: int, bead: TrayBead) -> Tray:
    """The tray with one bead changed; it keeps its row in the file."""
    beads = list(tray.beads)
    beads[place] = replace(bead, row=beads[place].row)
    return Tray(beads=tuple(beads))
