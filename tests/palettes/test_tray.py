"""The tray: read, refused by row and column, written back, taken from, searched."""

import csv
import io

import pytest

from palettes.charts import bead_kinds
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.tray import NO_LIMIT, Short, Tray, TrayBead, taken_off
from palettes.tray_files import starter_tray
from palettes.tray_find import find, nearest
from palettes.tray_read import COLUMNS, Reading, parse_tray, whole_tray
from palettes.tray_sheet import MOST_BYTES
from palettes.tray_write import with_bead, write_tray

ROUND = bead_kinds()["round 8/0"]
HEADING = "name,kind,colour,finish,grams,count,price,lot,kept\n"
GERMAN = (
    "Name;Kind and size;Color;Finish;Grams;Where kept;Note\r\n"
    'Röte;8/0 round;#B3202A;;12,5;"Dose ""A""; oben";=1+1\r\n'
    "\r\n"
    "Himmel;round 8/0;86c8d8;Silver Lined;1.234,5;;-5\r\n"
)


def bead(name: str, **more: object) -> TrayBead:
    values: dict[str, object] = {"name": name, "kind": ROUND, "hex": "#ff0000", **more}
    return TrayBead(**values)  # type: ignore[arg-type]  # the tests' own short hand


def one_fault(row: str) -> tuple[int, str]:
    reading = parse_tray(HEADING + "Good,round 8/0,#123456,,,,,,\n" + row)
    assert [kept.name for kept in reading.tray.beads] == ["Good"]
    (fault,) = reading.faults
    assert str(fault.row) in str(fault)
    assert fault.wanted
    return fault.row, fault.column


def test_a_spreadsheet_of_another_country() -> None:
    for codec in ("utf-8", "utf-8-sig", "cp1252", "utf-16"):
        reading = parse_tray(GERMAN.encode(codec))
        first, second = reading.tray.beads
        assert (first.name, first.hex, first.grams) == ("Röte", "#b3202a", 12.5)
        assert first.kept == 'Dose "A"; oben'
        assert (second.finish, second.grams) == (Finish.SILVER_LINED, 1234.5)
        assert first.kind == second.kind == ROUND
        assert reading.faults == ()


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_any_delimiter_and_line_end_comes_back_byte_for_byte(delimiter: str, end: str) -> None:
    table = [list(COLUMNS), ["Röte", "round 8/0", "#b3202a", "", "2.5", "", "", "x", "a b"]]
    text = end.join(delimiter.join(row) for row in table) + end
    for codec in ("utf-8", "utf-8-sig", "cp1252", "utf-16-le", "utf-16"):
        content = text.encode(codec)
        reading = parse_tray(content)
        assert reading.tray.beads[0].name == "Röte"
        assert write_tray(reading.tray, reading) == content


def test_what_is_not_changed_stays_and_what_is_changes_only_there() -> None:
    content = GERMAN.replace("=1+1", "mine").encode("cp1252")
    reading = parse_tray(content)
    assert write_tray(reading.tray, reading) == content
    less = taken_off(reading.tray, {0: 37})
    assert isinstance(less, Tray)
    # common practice, no source: 37 beads of round 8/0 weigh a gram in our own table.
    assert write_tray(less, reading) == content.replace(b"12,5", b"11,5")


def test_beads_come_and_go() -> None:
    reading = parse_tray(HEADING + "A,round 8/0,#111111,,1,,,,\nB,round 8/0,#222222,,2,,,,")
    after = Tray(beads=(reading.tray.beads[1], bead("C, new", count=5, price=0.25)))
    text = write_tray(after, reading).decode("utf-8-sig")
    assert text.splitlines() == [
        HEADING.strip(),
        "B,round 8/0,#222222,,2,,,,",
        '"C, new",round 8/0,#ff0000,opaque,,5,0.25,,',
    ]
    again = parse_tray(text)
    assert [b.name for b in again.tray.beads] == ["B", "C, new"]
    changed = with_bead(again.tray, 0, bead("B2"))
    assert parse_tray(write_tray(changed, again)).tray.beads[0].name == "B2"


def test_a_new_tray_has_all_columns() -> None:
    tray = Tray(beads=(bead("Ünï", grams=1.5, count=3, price=0.1, lot="L", kept="tin"),))
    content = write_tray(tray)
    (row,) = csv.DictReader(io.StringIO(content.decode("utf-8-sig")))
    assert tuple(row) == COLUMNS
    assert row["name"] == "Ünï"
    back = parse_tray(content).tray.beads[0]
    assert (back.key, back.grams, back.count, back.price) == (tray.beads[0].key, 1.5, 3, 0.1)


def test_a_tray_of_another_file_is_written_whole() -> None:
    back = parse_tray(write_tray(starter_tray()))
    assert [b.key for b in back.tray.beads] == [b.key for b in starter_tray().beads]
    assert back.tray.stocks == starter_tray().stocks


def test_letters_that_an_encoding_lacks_are_not_lost() -> None:
    reading = parse_tray((HEADING + "Röte,round 8/0,#111111,,,,,,\n").encode("cp1252"))
    after = Tray(beads=(*reading.tray.beads, bead("мак")))
    names = [b.name for b in parse_tray(write_tray(after, reading)).tray.beads]
    assert names == ["Röte", "мак"]


def test_faults_name_row_and_column() -> None:
    assert one_fault("X,round 8/0,red,,,,,,") == (3, "colour")
    assert one_fault("X,round 8/0,100,,,,,,") == (3, "colour")
    assert one_fault("X,blob,#123456,,,,,,") == (3, "kind")
    assert one_fault(",round 8/0,#123456,,,,,,") == (3, "name")
    assert one_fault("X,round 8/0,#123456,shiny,,,,,") == (3, "finish")
    assert one_fault("X,round 8/0,#123456,,-1,,,,") == (3, "grams")
    assert one_fault("X,round 8/0,#123456,,1e9,,,,") == (3, "grams")
    assert one_fault("X,round 8/0,#123456,,nan,,,,") == (3, "grams")
    assert one_fault("X,round 8/0,#123456,,,2.5,,,") == (3, "count")
    assert one_fault("X,round 8/0,#123456,,,,free,,") == (3, "price")
    assert one_fault(f"X,round 8/0,#123456,,,,,,{'x' * 300}") == (3, "kept")
    assert one_fault("X,round 8/0,#123456,,,,,,,more") == (3, "10")
    assert one_fault("good ,ROUND  8/0,#654321,,,,,,") == (3, "name")
    # Another lot of the same name is another bead.
    assert not parse_tray(
        HEADING + "A,round 8/0,#111111,,,,,1,\nA,round 8/0,#111211,,,,,2,\n"
    ).faults


def test_a_number_that_could_be_two_is_refused_unless_the_table_tells() -> None:
    row = "X,round 8/0,#123456,,{},,,,"
    assert one_fault(row.format('"1,234"')) == (3, "grams")
    told = parse_tray(HEADING + row.format('"1,234"') + "\nY,round 8/0,#123456,,2.5,,,,")
    assert told.tray.beads[0].grams == 1234.0


def test_good_rows_are_kept_only_if_the_maker_says_so() -> None:
    text = HEADING + "A,round 8/0,#111111,,,,,,\nB,round 8/0,zz,,-3,,,,\n"
    reading = parse_tray(text)
    with pytest.raises(ChartError, match=r"mine\.csv, row 3, column colour.*column grams"):
        whole_tray(reading, "mine.csv", keep_good=False)
    tray = whole_tray(reading, "mine.csv", keep_good=True)
    assert [b.name for b in tray.beads] == ["A"]
    # The bad row is not lost when the good ones are written.
    assert write_tray(tray, reading).decode("utf-8-sig") == text


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        (b"bead,size\nA,B\n", "no column name, kind, colour"),
        (b"a\x1b[2Jb,c\n", r"among a \[2Jb, c;"),
        (b"name,kind,colour,color\n", "twice"),
        (b'name,kind,colour\n"A,round 8/0,#111111\n', "quotation mark"),
        (b"\x00\x01\x02\xff" * 50, "no"),
        ((HEADING + "A,round 8/0,#111111,,,,,,\n" * 5001).encode(), "at most 5000"),
        (b"x" * (MOST_BYTES + 1), "larger than"),
    ],
)
def test_what_is_no_tray(content: bytes, told: str) -> None:
    with pytest.raises(ChartError, match=told):
        parse_tray(content)


def test_taking_off() -> None:
    tray = Tray(
        beads=(bead("A", count=100), bead("B", grams=2.0), bead("C"), bead("D", grams=1.0, count=9))
    )
    assert tray.stocks == (100, 74, NO_LIMIT, 9)
    after = taken_off(tray, {0: 40, 1: 37, 2: 1000, 3: 9})
    assert isinstance(after, Tray)
    assert [(b.count, b.grams) for b in after.beads[:3]] == [(60, None), (None, 1.0), (None, None)]
    assert after.beads[3].count == 0
    short = taken_off(tray, {0: 101, 1: 80, 2: 5})
    assert short == Short(missing=((0, 1), (1, 6)))
    for wrong in ({9: 1}, {0: -1}):
        with pytest.raises(ValueError, match="got"):
            taken_off(tray, wrong)


def test_a_tray_checks_itself() -> None:
    with pytest.raises(ValueError, match="twice"):
        Tray(beads=(bead("A"), bead(" a ")))
    wrongs: tuple[dict[str, object], ...] = ({"hex": "#FFF"}, {"grams": -1.0}, {"count": -1})
    for wrong in wrongs:
        with pytest.raises(ValueError, match="got"):
            bead("A", **wrong)
    with pytest.raises(ValueError, match="has a name"):
        bead(" ")
    assert bead("A", price=0.37).bead_price == pytest.approx(0.01)
    assert bead("A").bead_price is None


def test_the_starter_tray() -> None:
    tray = starter_tray()
    assert 110 <= len(tray.beads) <= 130
    assert len({b.name for b in tray.beads}) == len(tray.beads)
    assert set(Finish) - {b.finish for b in tray.beads} <= {Finish.DYED}
    assert len(tray.of_kind(ROUND).beads) > 60
    assert all(b.stock and b.price for b in tray.beads)


def test_finding() -> None:
    tray = starter_tray()
    found = find(tray, words="tin MATTE", kind=ROUND)
    assert found
    assert all(tray.beads[p].finish is Finish.MATTE for p in found)
    assert find(tray, words="ladybird") == (0,)
    assert find(tray, words="no such bead") == ()
    assert len(find(tray)) == len(tray.beads)
    assert find(tray, finishes=[Finish.RAINBOW], least_stock=10_000) == ()
    (place, apart), (_, next_apart) = nearest(tray, tray.beads[7].hex, 2)
    assert (place, apart) == (7, 0.0)
    assert next_apart > 0.0


def test_five_thousand_beads() -> None:
    rows = (f"bead {i},round 8/0,#{i:06x},matte,{i % 50}.5,,,,shelf{i % 9}\n" for i in range(5000))
    reading: Reading = parse_tray(HEADING + "".join(rows))
    assert len(reading.tray.beads) == 5000
    assert len(find(reading.tray, words="shelf3 matte")) == 556
