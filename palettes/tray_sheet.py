"""A table of text as spreadsheets save it, kept so that it can be written back byte for byte."""

import codecs
import csv
from collections.abc import Iterator
from dataclasses import dataclass

from palettes.errors import ChartError

# Chosen by us: 5 000 beads with long notes take a tenth of it.
MOST_BYTES = 16_000_000
_DELIMITERS = (",", ";", "\t", "|")
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row: its text with its line end as it stands in the file, and its cells."""

    text: str
    cells: tuple[str, ...]

    @property
    def is_blank(self) -> bool:
        """Whether no cell holds anything."""
        return not any(cell.strip() for cell in self.cells)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A table.

    Attributes:
        rows: all rows of the file in order.
        heading: the place of the row with the columns' names.
        encoding: the codec.
        marked: whether the file begins with a byte order mark.
        delimiter: what parts the cells.
        line_end: what parts the rows.
    """

    rows: tuple[Row, ...]
    heading: int
    encoding: str = "utf-8-sig"
    marked: bool = True
    delimiter: str = ","
    line_end: str = "\r\n"


def parse_sheet(content: bytes | str, path: str, columns: frozenset[str]) -> Sheet:
    """The table in a file's bytes, or in text that was pasted.

    Args:
        content: at most ``MOST_BYTES``; in UTF-8, UTF-16 or Windows-1252, cells parted by comma,
            semicolon, tab or bar.
        path: for messages.
        columns: names that the heading may hold; they tell what parts the cells.

    Raises:
        ChartError: it is too large, no text, no table, or a quotation mark is never closed.
    """
    if len(content) > MOST_BYTES:
        raise ChartError(path, "the file", f"it is larger than {MOST_BYTES // 1_000_000} MB")
    text, encoding, marked = _decoded(content, path)
    line_end = "\r\n" if "\r\n" in text else "\r" if "\n" not in text and "\r" in text else "\n"
    lines = [line + line_end for line in text.split(line_end)]
    lines[-1] = lines[-1].removesuffix(line_end)
    lines = lines[:-1] if not lines[-1] else lines
    # Some spreadsheets write and read a first line that names the mark.
    said = lines[0].strip() if lines else ""
    marks = (said[4],) if said[:4].lower() == "sep=" and len(said) == 5 else _DELIMITERS
    skipped = 1 if marks is not _DELIMITERS else 0
    delimiter = max(marks, key=lambda mark: _known(lines[skipped:], mark, columns))
    first = (Row(text=lines[0], cells=()),) if skipped else ()
    rows = (*first, *_rows(lines[skipped:], delimiter, path, skipped))
    heading = next((i for i, row in enumerate(rows) if not row.is_blank), None)
    if heading is None:
        raise ChartError(path, "the file", "it is empty; the first row names the columns")
    return Sheet(
        rows=rows,
        heading=heading,
        encoding=encoding,
        marked=marked,
        delimiter=delimiter,
        line_end=line_end,
    )


def column_word(cell: str) -> str:
    """A heading's cell in its one spelling."""
    return " ".join(cell.replace("_", " ").casefold().split())


def row_text(cells: list[str], sheet: Sheet) -> str:
    """A new row's text in a sheet's manner; cells that need quotation marks get them."""
    special = (sheet.delimiter, '"', "\n", "\r")
    quoted = (
        '"' + cell.replace('"', '""') + '"' if any(mark in cell for mark in special) else cell
        for cell in cells
    )
    return sheet.delimiter.join(quoted) + sheet.line_end


def encoded(text: str, sheet: Sheet) -> bytes:
    """Text in a sheet's encoding; in UTF-8 with a mark where that has no such letters."""
    mark = {codec: bom for bom, codec in _MARKS}.get(sheet.encoding, b"") if sheet.marked else b""
    codec = "utf-8" if sheet.encoding == "utf-8-sig" else sheet.encoding
    try:
        return mark + text.encode(codec)
    except UnicodeEncodeError:
        return codecs.BOM_UTF8 + text.encode("utf-8")


def _decoded(content: bytes | str, path: str) -> tuple[str, str, bool]:
    if isinstance(content, str):
        return content.removeprefix("\ufeff"), "utf-8-sig", True
    for mark, codec in _MARKS:
        if content.startswith(mark):
            return _as_text(content[len(mark) :], codec, path), codec, True
    # Letters of the Latin script in UTF-16 have a zero byte each.
    if content[1:200:2].count(0) > len(content[1:200:2]) // 2:
        return _as_text(content, "utf-16-le", path), "utf-16-le", False
    try:
        return content.decode("utf-8"), "utf-8", False
    except UnicodeDecodeError:
        return _as_text(content, "cp1252", path), "cp1252", False


def _as_text(content: bytes, codec: str, path: str) -> str:
    try:
        return content.decode("utf-8" if codec == "utf-8-sig" else codec)
    except UnicodeDecodeError as error:
        raise ChartError(
            path, "the file", f"it is no text ({error.reason}); save it as CSV in UTF-8"
        ) from error


def _known(lines: list[str], mark: str, columns: frozenset[str]) -> int:
    """How many known columns the first row with anything in it has when parted so."""
    line = next((line for line in lines if line.strip(mark + " \r\n")), "")
    return sum(column_word(cell.strip('"')) in columns for cell in line.strip().split(mark))


def _rows(lines: list[str], mark: str, path: str, skipped: int) -> Iterator[Row]:
    taken: list[str] = []

    def feed() -> Iterator[str]:
        for line in lines:
            if "\0" in line:
                raise ChartError(path, "the file", "it is no text: it holds zero bytes")
            taken.append(line)
            # The reader knows line feeds only; what is kept for writing back is the line itself.
            yield line[:-1] + "\n" if line.endswith("\r") else line

    reader, count = csv.reader(feed(), delimiter=mark, strict=True), skipped
    try:
        for cells in reader:
            count += 1
            yield Row(text="".join(taken), cells=tuple(cells))
            taken.clear()
    except csv.Error as error:
        raise ChartError(
            path, f"row {count + 1}", f"{error}; close every quotation mark in it"
        ) from error
