"""From a table to a tray: every cell checked, every fault named by row and column.

Columns of our own, in any order, in capitals or not; others are kept and not looked at:

* ``name``: what you call the colour. Needed.
* ``kind``: shape and size as ``round 8/0``. Needed.
* ``colour``: six hex digits as ``#1f8a83``. Needed.
* ``finish``: one of the words for finishes; ``opaque`` where it is empty.
* ``grams``, ``count``: how much there is; either, both or neither.
* ``price``: of one gram, in your money.
* ``lot``, ``kept``: the batch, and where you keep it.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from palettes.beads import BeadKind
from palettes.charts import bead_kinds
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.spaces import parse_hex
from palettes.tray import MOST_BEADS, MOST_GRAMS, MOST_PRICE, NO_LIMIT, Tray, TrayBead
from palettes.tray_cells import decimal_mark, number, plain, unquoted
from palettes.tray_sheet import Row, Sheet, column_word, parse_sheet

COLUMNS = ("name", "kind", "colour", "finish", "grams", "count", "price", "lot", "kept")
NEEDED = ("name", "kind", "colour")
_NUMBERS = MappingProxyType({"grams": MOST_GRAMS, "count": NO_LIMIT, "price": MOST_PRICE})
# Other words for our columns that makers use.
_ALSO = MappingProxyType(
    {
        "color": "colour",
        "hex": "colour",
        "kind and size": "kind",
        "g": "grams",
        "beads": "count",
        "price per gram": "price",
        "where kept": "kept",
    }
)
# Chosen by us: longer than any name, shorter than a page.
MOST_LETTERS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFault:
    """What cannot be used in a table.

    Attributes:
        row: as a spreadsheet counts rows, from 1.
        column: the column's name.
        got: the cell as it was given.
        wanted: what is allowed there.
    """

    row: int
    column: str
    got: str
    wanted: str

    def __str__(self) -> str:
        return f"row {self.row}, column {self.column}: got {self.got!r}; wanted {self.wanted}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A tray as read.

    Attributes:
        tray: the good rows.
        faults: what is wrong with the others; use the tray only if there is none, or if the maker
            says so.
        sheet: the table, for writing back.
        mark: its decimal mark, or none.
    """

    tray: Tray
    faults: tuple[RowFault, ...]
    sheet: Sheet
    mark: str | None


def parse_tray(content: bytes | str, path: str = "the tray") -> Reading:
    """The tray in a file's bytes, or in text that was pasted from a spreadsheet.

    Args:
        content: a table with a heading; see above for its columns.
        path: for messages.

    Raises:
        ChartError: it is no such table at all, lacks a needed column, or has one twice.
    """
    sheet = parse_sheet(content, path, frozenset({*COLUMNS, *_ALSO}))
    places = columns_of(sheet, path)
    body = [(i, row) for i, row in enumerate(sheet.rows) if i > sheet.heading and not row.is_blank]
    if len(body) > MOST_BEADS:
        raise ChartError(path, "the rows", f"a tray holds at most {MOST_BEADS}; got {len(body)}")
    mark = decimal_mark(
        cell_of(row, places, column) for _, row in body for column in ("grams", "price")
    )
    beads: list[TrayBead] = []
    faults: list[RowFault] = []
    keys: dict[tuple[str, str, str], int] = {}
    for at, row in body:
        bead, wrong = _bead(at, row, places, mark, len(sheet.rows[sheet.heading].cells))
        if bead is not None and keys.setdefault(bead.key, at) != at:
            told = f"a name that row {keys[bead.key] + 1} has not, or another lot"
            wrong, bead = [RowFault(row=at + 1, column="name", got=bead.name, wanted=told)], None
        faults += wrong
        beads += [bead] if bead is not None else []
    return Reading(tray=Tray(beads=tuple(beads)), faults=tuple(faults), sheet=sheet, mark=mark)


def whole_tray(reading: Reading, path: str, *, keep_good: bool) -> Tray:
    """The tray, if all of it is good or the maker says that the good rows shall do.

    Raises:
        ChartError: there are faults and nobody said so; the first few are named.
    """
    if keep_good or not reading.faults:
        return reading.tray
    first = reading.faults[0]
    told = "; ".join(str(fault) for fault in reading.faults[:5])
    more = len(reading.faults) - 5
    raise ChartError(
        path,
        f"row {first.row}, column {first.column}",
        told + (f"; and {more} more" if more > 0 else ""),
    )


def columns_of(sheet: Sheet, path: str) -> dict[str, int]:
    """Where each of our columns stands in a sheet; ``ChartError`` if one is missing or twice."""
    places: dict[str, int] = {}
    heading = sheet.rows[sheet.heading].cells
    for place, cell in enumerate(heading):
        word = column_word(unquoted(cell))
        column = _ALSO.get(word, word)
        if column in places:
            raise ChartError(path, "the heading", f"column {column} stands there twice")
        if column in COLUMNS:
            places[column] = place
    missing = [column for column in NEEDED if column not in places]
    if missing:
        raise ChartError(
            path,
            "the heading",
            f"no column {', '.join(missing)} among {plain(', '.join(heading))[:MOST_LETTERS]}; "
            f"the columns are {', '.join(COLUMNS)}",
        )
    return places


def cell_of(row: Row, places: dict[str, int], column: str) -> str:
    """A cell's text, empty where the row or the table has none."""
    place = places.get(column, len(row.cells))
    return unquoted(row.cells[place].strip()) if place < len(row.cells) else ""


def _bead(
    at: int, row: Row, places: dict[str, int], mark: str | None, width: int
) -> tuple[TrayBead | None, list[RowFault]]:
    """The bead of a row, or what is wrong with it."""
    text = {column: cell_of(row, places, column) for column in COLUMNS}
    kind, colour, finish = _kind(text["kind"]), _hex(text["colour"]), _finish(text["finish"])
    amounts = {column: _amount(text[column], column, mark) for column in _NUMBERS}
    wrong = dict(_wrong_texts(text))
    if any(cell.strip() for cell in row.cells[width:]):
        wrong[f"{width + 1}"] = f"no more than {width} cells, as the heading has"
        text[f"{width + 1}"] = row.cells[width]
    if kind is None:
        wrong["kind"] = f"one of {', '.join(bead_kinds())}"
    if colour is None:
        wrong["colour"] = "six hex digits such as #1f8a83"
    if finish is None:
        wrong["finish"] = f"one of {', '.join(Finish)}"
    for column, value in amounts.items():
        if value is None and text[column]:
            what = "a whole number" if column == "count" else "a number"
            wrong[column] = f"{what} from 0 to {_NUMBERS[column]:g}, or nothing"
    if wrong or kind is None or colour is None or finish is None:
        return None, [
            RowFault(row=at + 1, column=column, got=text[column][:MOST_LETTERS], wanted=wanted)
            for column, wanted in wrong.items()
        ]
    count = amounts["count"]
    bead = TrayBead(
        name=text["name"],
        kind=kind,
        hex=colour,
        finish=finish,
        grams=amounts["grams"],
        count=None if count is None else int(count),
        price=amounts["price"],
        lot=text["lot"],
        kept=text["kept"],
        row=at,
    )
    return bead, []


def _wrong_texts(text: dict[str, str]) -> Iterator[tuple[str, str]]:
    if not text["name"]:
        yield "name", "a name"
    for column in ("name", "lot", "kept"):
        if len(text[column]) > MOST_LETTERS:
            yield column, f"at most {MOST_LETTERS} letters"


def _amount(text: str, column: str, mark: str | None) -> float | None:
    """The amount in a cell; None where there is none or it cannot be."""
    value = number(text, mark)
    if value is None or not 0.0 <= value <= _NUMBERS[column]:
        return None
    return None if column == "count" and value != int(value) else value


@cache
def _kinds_by_words() -> Mapping[tuple[str, ...], BeadKind]:
    return MappingProxyType(
        {tuple(sorted(kind.name.split())): kind for kind in bead_kinds().values()}
    )


def _kind(text: str) -> BeadKind | None:
    """The kind of that name, its words in any order."""
    return _kinds_by_words().get(tuple(sorted(text.casefold().split())))


def _hex(text: str) -> str | None:
    # Three digits only after #: a spreadsheet makes 100 of 000100.
    if not re.fullmatch(r"#?[0-9a-fA-F]{6}|#[0-9a-fA-F]{3}", text, re.ASCII):
        return None
    return parse_hex(text)


def _finish(text: str) -> Finish | None:
    word = "-".join(text.casefold().split()) or Finish.OPAQUE.value
    word = {"galvanized": "galvanised", "color-lined": "colour-lined", "luster": "lustre"}.get(
        word, word
    )
    return Finish(word) if word in {finish.value for finish in Finish} else None
