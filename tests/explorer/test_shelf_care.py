"""What the shelf takes care of: names that fit, bad rows, two tabs, what is thrown away, turns."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from explorer import shelf_tables
from explorer.commands.shelf_care import thrown_words
from explorer.errors import BriefError
from explorer.piece import MOST_NAME, MOST_NOTES
from explorer.shelf import Saved, Shelf, ShelfError
from explorer.shelf_archive import to_archive
from explorer.shelf_entry import Entry, Making, Photograph, copied_name
from explorer.shelf_import import all_entries, entries_in, put_new
from explorer.shelf_rows import PIECES, checksum, read, update
from explorer.shelf_saved import Conflict
from palettes.errors import ChartError

DOCUMENT = (Path(__file__).parents[1] / "reference/pieces/v1-everything.json").read_text("utf-8")
Asked = Callable[..., dict[str, Any]]


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "shelf.sqlite3")


def seen(shelf: Shelf, number: int) -> Saved:
    saved = shelf.get(number)
    assert saved is not None
    return saved


def spoil(shelf: Shelf, sql: str) -> None:
    """Change what stands in the file past the shelf, as a fault of the disk does."""
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute(sql)
        connection.commit()


def named(shelf: Shelf, number: int, name: str) -> None:
    """Give a piece a name as an earlier version wrote it: past the limit, and nothing damaged."""
    with shelf.transaction() as connection:
        (row,) = read(connection, PIECES, "WHERE number = ?", (number,))
        update(connection, row, {"name": name})


@pytest.mark.parametrize("name", ["x" * MOST_NAME, "g\u0308" * (MOST_NAME // 2), "Harbour"])
def test_the_name_of_a_copy_of_a_copy_fits(shelf: Shelf, name: str) -> None:
    number = shelf.put(name, DOCUMENT)
    for _ in range(3):
        copy = shelf.copy(number)
        assert copy is not None
        saved = seen(shelf, copy)
        assert saved.name.startswith("Copy of ")
        assert len(saved.name) <= MOST_NAME
        number = copy
    good, faults = all_entries(shelf)
    assert (len(good), faults) == (4, ())
    assert len(entries_in(to_archive(good), "it")) == 4


def test_a_copys_name_ends_with_a_whole_sign() -> None:
    name = copied_name("g\u0308" * (MOST_NAME // 2))
    assert name.endswith("g\u0308…")
    assert len(name) <= MOST_NAME


BAD = {
    "broken text": "UPDATE pieces SET notes = CAST(x'ff41fe' AS TEXT) WHERE number = 2",
    "a flip in the notes": "UPDATE pieces SET notes = 'lonh tail' WHERE number = 2",
    "minutes that cannot be": "UPDATE pieces SET minutes = -5 WHERE number = 2",
    "a flip in the piece": "UPDATE pieces SET document = replace(document, '0', '1') "
    "WHERE number = 2",
}


@pytest.mark.parametrize("kind", BAD)
def test_one_bad_row_stops_no_other(
    shelf: Shelf, kind: str, asked: Asked, refused: Callable[..., dict[str, str]], tmp_path: Path
) -> None:
    for name in ("one", "two", "three"):
        shelf.put(name, DOCUMENT, notes="long tail")
    spoil(shelf, BAD[kind])
    standing = shelf.standing()
    assert [saved.name for saved in standing.pieces] == ["three", "one"]
    (apart,) = standing.apart
    assert (apart.number, apart.name, apart.damaged) == (2, "two", True)
    at = ("--shelf", str(shelf.path))
    listed = asked("shelf", "list", *at, code=2)
    assert [one["name"] for one in listed["pieces"]] == ["three", "one"]
    assert [one["number"] for one in listed["apart"]] == [2]
    assert listed["error"]["field"] == "shelf"
    out = str(tmp_path / "all.zip")
    done = asked("shelf", "export", "--out", out, *at, code=2)
    assert done["pieces"] == 2
    assert done["error"]["got"] == str(shelf.path)
    assert "piece 2" in done["left_out"][0]
    # By its number what stands there is given as it is, into a file of its own.
    alone = tmp_path / "two.json"
    given = asked("shelf", "export", "2", "--out", str(alone), *at, code=2)
    assert (given["pieces"], given["error"]["got"]) == (0, "2")
    assert alone.read_text("utf-8") == apart.saved.document
    error = refused("shelf", "export", "2", "--out", out, *at)
    assert "shelf export 2 --out FILE.json" in error["remedy"]
    there = str(tmp_path / "there.sqlite3")
    assert len(asked("shelf", "import", out, "--shelf", there)["numbers"]) == 2
    # and what is damaged is left as it is by all of this
    assert shelf.standing().apart == (apart,)
    with pytest.raises(ShelfError, match="damaged"):
        shelf.copy(2)
    # but can be thrown away, brought back and taken out, and stays known as damaged
    assert shelf.throw_away(2)
    assert shelf.standing(thrown=True).apart[0].damaged
    assert shelf.bring_back(2)
    assert shelf.standing().apart[0].damaged


def test_a_name_too_long_from_an_earlier_version_can_be_mended(shelf: Shelf) -> None:
    shelf.put("one", DOCUMENT)
    shelf.put("two", DOCUMENT)
    named(shelf, 1, "Copy of " + "x" * MOST_NAME)
    good, faults = all_entries(shelf)
    assert [one.name for one in good] == ["two"]
    assert "piece 1" in str(faults[0])
    (apart,) = shelf.standing().apart
    assert (apart.number, apart.damaged) == (1, False)
    assert shelf.change(apart.saved, {"name": "Mended"}) == seen(shelf, 1)
    assert {saved.name for saved in shelf.find()} == {"Mended", "two"}


def test_one_bad_piece_of_an_archive_stops_no_other(shelf: Shelf) -> None:
    entries = [Entry(name=name, document=DOCUMENT) for name in ("one", "two", "three")]
    content = to_archive(entries).replace(b"pieces/0002.json", b"pieces/0007.json", 1)
    faults: list[ChartError] = []
    found = entries_in(content, "it", faults)
    assert [entry.name for entry in found] == ["one", "three"]
    assert len(faults) == 1
    put_new(shelf, found)
    assert [saved.name for saved in shelf.find()] == ["one", "three"]
    with pytest.raises(ChartError):
        entries_in(content, "it")


def test_notes_are_bounded_like_a_piece_own() -> None:
    with pytest.raises(BriefError) as raised:
        Entry(name="one", document=DOCUMENT, notes="x" * (MOST_NOTES + 1))
    assert raised.value.field == "notes"


def test_half_a_character_is_refused_in_our_words(shelf: Shelf) -> None:
    with pytest.raises(BriefError):
        shelf.put("half \ud83d", DOCUMENT)
    assert shelf.find() == ()


def test_what_another_tab_wrote_is_not_written_over(shelf: Shelf) -> None:
    number = shelf.put("one", DOCUMENT)
    first = second = seen(shelf, number)
    # The first tab writes notes, the second, which saw none of them, only who it is for.
    shelf.change(first, {**first.words, "notes": "long tail"})
    after = shelf.change(second, {**second.words, "who": "Wren"})
    assert isinstance(after, Saved)
    assert (after.notes, after.who, after.revision) == ("long tail", "Wren", 3)


def test_the_same_word_changed_twice_is_a_conflict(shelf: Shelf) -> None:
    number = shelf.put("one", DOCUMENT)
    first = second = seen(shelf, number)
    shelf.change(first, {"notes": "mine", "minutes": 30})
    found = shelf.change(second, {"notes": "yours", "who": "Wren"})
    assert isinstance(found, Conflict)
    assert found.words == ("notes",)
    assert found.theirs == seen(shelf, number)
    # Nothing was written, not even what nobody else had changed.
    assert (found.theirs.notes, found.theirs.who) == ("mine", "")
    assert isinstance(shelf.change(found.theirs, {"notes": "yours"}), Saved)
    # Two that write the same are of one mind.
    assert isinstance(shelf.change(second, {"notes": "yours", "minutes": 30}), Saved)


def test_nothing_is_written_into_a_piece_that_was_thrown_away(shelf: Shelf) -> None:
    number = shelf.put("one", DOCUMENT)
    before = seen(shelf, number)
    shelf.throw_away(number)
    assert shelf.change(before, {"notes": "mine"}) == Conflict(words=(), theirs=seen(shelf, number))
    shelf.bring_back(number)
    assert seen(shelf, number) == before


def test_what_did_not_change_is_not_written(shelf: Shelf) -> None:
    number = shelf.put("one", DOCUMENT)
    before = seen(shelf, number)
    assert shelf.change(before, before.words) == before
    assert shelf.change(replace(before, number=99), {"name": "two"}) is None
    with pytest.raises(BriefError):
        shelf.change(before, {"minutes": -1})
    assert seen(shelf, number) == before


def test_thrown_away_pieces_have_a_place_with_who_and_when(shelf: Shelf, asked: Asked) -> None:
    for name in ("one", "two", "three"):
        shelf.put(name, DOCUMENT)
    at = ("--shelf", str(shelf.path))
    assert shelf.throw_away(2, by="tab 1234")
    assert not shelf.throw_away(2, by="another")
    assert asked("shelf", "throw-away", "1", *at) == {"numbers": [1]}
    thrown = asked("shelf", "list", "--thrown-away", *at)["pieces"]
    # The last one first, whoever looks and whenever.
    assert [one["name"] for one in thrown] == ["one", "two"]
    assert [one["thrown_away"]["by"] for one in thrown] == ["command line", "tab 1234"]
    # What a tab is called tells a reader nothing.
    lines = [thrown_words(saved.thrown) for saved in shelf.standing(thrown=True).pieces]
    day = [one["thrown_away"]["at"][:10] for one in thrown]
    assert lines == [
        f"thrown away {day[0]} on the command line", f"thrown away {day[1]} in the app"
    ]  # fmt: skip
    assert all(datetime.fromisoformat(one["thrown_away"]["at"]) for one in thrown)
    assert [one["name"] for one in asked("shelf", "list", *at)["pieces"]] == ["three"]
    assert asked("shelf", "bring-back", "2", *at) == {"numbers": [2]}
    assert [one["name"] for one in asked("shelf", "list", *at)["pieces"]] == ["three", "two"]
    assert seen(shelf, 2).thrown is None
    assert asked("shelf", "take-out", "1", *at) == {"numbers": [1]}
    assert shelf.get(1) is None
    assert asked("shelf", "list", "--thrown-away", *at)["pieces"] == []


@pytest.mark.parametrize(
    ("act", "numbers"),
    [("take-out", ["1"]), ("bring-back", ["1"]), ("throw-away", ["2"]), ("throw-away", ["1", "9"]),
     ("take-out", []), ("bring-back", ["x"])],
)  # fmt: skip
def test_what_is_not_where_it_must_be_is_refused(
    shelf: Shelf, refused: Callable[..., dict[str, str]], act: str, numbers: list[str]
) -> None:
    shelf.put("one", DOCUMENT)
    shelf.put("two", DOCUMENT)
    shelf.throw_away(2)
    error = refused("shelf", act, *numbers, "--shelf", str(shelf.path))
    assert error["field"] == "number"
    assert [saved.number for saved in shelf.find()] == [1]
    assert [saved.number for saved in shelf.standing(thrown=True).pieces] == [2]


def test_what_is_taken_out_for_good_is_not_in_the_file(shelf: Shelf) -> None:
    words = "Rosalind Featherstonehaugh"
    jpeg = b"\xff\xd8 the only picture of her wrist"
    keep = shelf.put("stays", DOCUMENT)
    entry = Entry(name="goes", who=words, document=DOCUMENT, photographs=(Photograph(jpeg=jpeg),))
    (number,) = shelf.put_all([entry])
    assert words.encode() in b"".join(one.read_bytes() for one in shelf.path.parent.iterdir())
    assert not shelf.take_out(number)
    shelf.throw_away(number)
    assert shelf.take_out(number)
    held = b"".join(one.read_bytes() for one in shelf.path.parent.iterdir())
    assert words.encode() not in held
    assert jpeg not in held
    assert [saved.number for saved in shelf.find()] == [keep]
    # Its number is never given to another.
    assert shelf.put("new", DOCUMENT) > number


def test_a_clock_set_back_loses_no_table(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(200):
        shelf_tables.keep(shelf, f"{number}", "x")
    monkeypatch.setattr(shelf_tables, "_now", lambda: "1999-12-31T00:00:00.000000+00:00")
    assert shelf_tables.keep(shelf, "new", "just kept") == 1
    kept = shelf_tables.kept(shelf, "new")
    assert kept is not None
    assert kept.document == "just kept"
    assert shelf_tables.last(shelf) == "just kept"
    assert shelf_tables.kept(shelf, "0") is None
    assert shelf_tables.kept(shelf, "1") is not None


def test_pieces_stand_in_the_order_they_came_whatever_the_clock_said(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf.put("first", DOCUMENT)
    monkeypatch.setattr("explorer.shelf._now", lambda: "1999-12-31T00:00:00.000000+00:00")
    shelf.put("second", DOCUMENT)
    assert [saved.name for saved in shelf.find()] == ["second", "first"]


def test_a_damaged_table_is_left_and_told(shelf: Shelf) -> None:
    shelf_tables.keep(shelf, "a", "first")
    shelf_tables.keep(shelf, "b", "second")
    spoil(shelf, "UPDATE tables SET document = 'secomd' WHERE mark = 'b'")
    with pytest.raises(ShelfError, match="damaged"):
        shelf_tables.kept(shelf, "b")
    # Nothing is written over it by a page that had seen it.
    assert shelf_tables.keep(shelf, "b", "third", seen=1) is None
    assert shelf_tables.last(shelf) == "first"


def test_a_damaged_state_of_the_beads_gives_way_to_the_one_before(shelf: Shelf) -> None:
    assert [shelf.keep_tray(b"one"), shelf.keep_tray(b"two")] == [1, 2]
    spoil(shelf, "UPDATE trays SET content = x'00' WHERE number = 2")
    assert shelf.tray() == (1, b"one")
    assert shelf.newer_trays_damaged(1) == 1
    assert shelf.keep_tray(b"three") == 3
    assert shelf.newer_trays_damaged(3) == 0


@pytest.mark.parametrize(
    "sql",
    ["UPDATE sqlite_sequence SET seq = 'many'", "UPDATE sqlite_sequence SET seq = -9",
     "UPDATE sqlite_sequence SET seq = 9223372036854775807", "DELETE FROM sqlite_sequence",
     "UPDATE tables SET turn = 9223372036854775807", "UPDATE pieces SET thrown_away = -7",
     "UPDATE pieces SET thrown_away = 9223372036854775807, revision = 9223372036854775807"],
)  # fmt: skip
def test_a_damaged_counter_stops_nothing(shelf: Shelf, sql: str) -> None:
    shelf.put("one", DOCUMENT)
    shelf_tables.keep(shelf, "a", "first")
    spoil(shelf, sql)
    assert shelf.put("two", DOCUMENT) == 2
    assert shelf.throw_away(2)
    shelf.throw_away(1)
    assert shelf_tables.keep(shelf, "b", "second") == 1
    assert shelf_tables.kept(shelf, "b") is not None
    assert shelf_tables.last(shelf) == "second"
    assert "two" in {saved.name for saved in shelf.standing(thrown=True).pieces}
    assert shelf.standing(thrown=True).numbers == {1, 2}


def test_every_word_is_under_the_checksum(shelf: Shelf) -> None:
    shelf.put_all([Entry(name="one", who="W", document="{}", making=Making(minutes=3, lots="A"))])
    with shelf.transaction() as connection:
        (row,) = read(connection, PIECES)
    assert row.whole
    for column in PIECES.columns:
        other = 77 if isinstance(row.values[column], int) else b"other"
        changed = {**row.values, column: other}
        assert checksum(PIECES, changed) != row.seal, column
    # A text cannot flow from one column into the next.
    moved = {**row.values, "name": b"oneW", "who": b""}
    assert checksum(PIECES, moved) != row.seal
