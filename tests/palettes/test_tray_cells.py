"""Numbers and texts in a tray's cells, as spreadsheets write them, and back without loss."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.charts import bead_kinds
from palettes.tray import Tray, TrayBead
from palettes.tray_cells import decimal_mark, harmless, in_marks, number, plain, unquoted
from palettes.tray_read import parse_tray
from palettes.tray_write import write_tray

ROUND = bead_kinds()["round 8/0"]


def bead(name: str, **more: object) -> TrayBead:
    values: dict[str, object] = {"name": name, "kind": ROUND, "hex": "#ff0000", **more}
    return TrayBead(**values)  # type: ignore[arg-type]  # the tests' own short hand


def test_formulas_are_harmless_and_come_back() -> None:
    names = ["=1+1", "+cmd", "-bad", "@x", "'=quoted", "'tis", "<b>bold</b>"]
    tray = Tray(beads=tuple(bead(name) for name in names))
    content = write_tray(tray).decode("utf-8-sig")
    cells = [row[0] for row in csv.reader(io.StringIO(content))][1:]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)
    assert [b.name for b in parse_tray(content).tray.beads] == names
    # A formula in a column that we do not know is made harmless too.
    reading = parse_tray("Name;Kind;Color;Note\r\nRöte;round 8/0;#B3202A;=1+1\r\n")
    assert ";'=1+1\r\n" in write_tray(reading.tray, reading).decode("utf-8-sig")


@given(st.text(max_size=12))
def test_harmless_is_undone(text: str) -> None:
    assert unquoted(harmless(text)) == text
    safe = harmless(text)
    assert safe == text or safe == f"'{text}"
    if safe.startswith(("=", "@", "\t", "\r")):
        raise AssertionError(text)


@given(st.lists(st.text(min_size=1, max_size=8).filter(str.strip), min_size=1, max_size=4))
def test_any_names_come_back(names: list[str]) -> None:
    once = {name.strip().casefold(): name.strip() for name in names}
    tray = Tray(beads=tuple(bead(name) for name in once.values() if "\0" not in name))
    try:
        content = write_tray(tray)
    except UnicodeEncodeError:
        # Half of a surrogate pair is no letter.
        return
    reading = parse_tray(content)
    assert reading.faults == ()
    back = [b.name for b in reading.tray.beads]
    # Line ends inside a cell may come back as another kind of line end.
    assert [n.replace("\r\n", "\n") for n in back] == [
        b.name.replace("\r\n", "\n") for b in tray.beads
    ]


def test_what_is_printed_moves_no_cursor() -> None:
    assert plain("a\x1b[31m\tb\u202e c\n") == "a [31m b c"
    assert plain("Größe 日本") == "Größe 日本"


@pytest.mark.parametrize(
    ("text", "mark", "value"),
    [
        ("12", None, 12.0),
        ("12.5", None, 12.5),
        ("12,5", None, 12.5),
        ("0,125", None, 0.125),
        (".5", None, 0.5),
        ("1.234,5", None, 1234.5),
        ("1,234.5", None, 1234.5),
        ("1.234.567", None, 1234567.0),
        ("1\u202f234,5", None, 1234.5),
        ("1'234.5", None, 1234.5),
        ("12 g", None, 12.0),
        ("€3,50", None, 3.5),
        ("3.50 $", None, 3.5),
        ("1,234", None, None),
        ("1,234", ",", 1.234),
        ("1,234", ".", 1234.0),
        ("-3", None, -3.0),
        ("12.5.3,1", None, None),
        ("1e3", None, None),
        ("", None, None),
        ("x", None, None),
        ("--1", None, None),
        ("1-2", None, None),
        ("٣", None, None),
    ],
)
def test_numbers_as_spreadsheets_write_them(
    text: str, mark: str | None, value: float | None
) -> None:
    assert number(text, mark) == value


@given(st.floats(0.0, 1e6), st.sampled_from([".", ","]))
def test_numbers_come_back_without_loss(value: float, mark: str) -> None:
    text = in_marks(value, mark)
    if "e" not in text:
        assert number(text, mark) == value


def test_a_table_with_both_marks_tells_nothing() -> None:
    assert decimal_mark(["1,5", "2,25", "7"]) == ","
    assert decimal_mark(["1,5", "2.5"]) is None
    assert decimal_mark(["1,234", "x", ""]) is None
