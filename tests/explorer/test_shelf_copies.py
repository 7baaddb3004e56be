"""Copies beside the shelf: once a day, of whole shelves, and none is lost to a clock set back."""

import sqlite3
import stat
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from explorer import shelf_tables
from explorer.shelf import Shelf, ShelfError
from explorer.shelf_copies import copies, keep_at_start, keep_for_the_day, start_copy
from explorer.shelf_entry import Entry, Photograph
from explorer.shelf_generations import MOST_COPIES

DAY = 86_400.0
NOON = 1_700_000_000.0


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    shelf.put("one", "{}")
    return shelf


def held(path: Path) -> list[str]:
    return [saved.name for saved in Shelf(path).find()]


def test_a_shelf_that_is_not_there_is_not_made(tmp_path: Path) -> None:
    keep_at_start(tmp_path / "shelf.sqlite3")
    assert keep_for_the_day(tmp_path / "shelf.sqlite3") is None
    assert list(tmp_path.iterdir()) == []


def test_a_shelf_that_holds_nothing_is_not_copied(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    shelf.path.touch()
    for _ in range(2):
        keep_at_start(shelf.path)
        assert [one.name for one in tmp_path.iterdir()] == ["shelf.sqlite3"]
        # Once as an empty file, once as a shelf without anything on it.
        shelf.find()
        with shelf.transaction():
            pass
    # The first piece brings the day's copy, whatever lay on the table before.
    shelf_tables.keep(shelf, "a", "{}")
    keep_at_start(shelf.path)
    assert start_copy(shelf.path).exists()
    assert keep_for_the_day(shelf.path) is None
    shelf.put("one", "{}")
    made = keep_for_the_day(shelf.path)
    assert made is not None
    assert held(made) == ["one"]


@pytest.mark.parametrize("what", ["pieces", "photographs"])
def test_what_stops_copying_is_named_and_can_be_thrown_away(shelf: Shelf, what: str) -> None:
    photograph = Photograph(jpeg=b"picture")
    shelf.put_all([Entry(name="Harbour", document="{}", photographs=(photograph,))])
    spoilt = {
        "pieces": "UPDATE pieces SET notes = 'other' WHERE number = 2",
        "photographs": "UPDATE photographs SET jpeg = x'00'",
    }
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute(spoilt[what])
        connection.commit()
    named = "a photograph of “Harbour”" if what == "photographs" else "written: “Harbour”"
    with pytest.raises(ShelfError, match=rf"{named} \(piece 2\).* thrown away, where it stays"):
        keep_at_start(shelf.path)
    # That a flip says so throws nothing away.
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE pieces SET thrown_away = 1 WHERE number = 2")
        connection.commit()
    with pytest.raises(ShelfError, match="Harbour"):
        keep_at_start(shelf.path)
    shelf.bring_back(2)
    shelf.throw_away(2)
    keep_at_start(shelf.path)
    assert held(copies(shelf.path)[0]) == ["one"]
    assert Shelf(copies(shelf.path)[0]).standing(thrown=True).numbers == {2}


def test_a_copy_is_made_once_a_day_and_a_few_are_kept(shelf: Shelf) -> None:
    for day in range(9):
        made = keep_for_the_day(shelf.path, NOON + day * DAY)
        assert made is not None
        assert keep_for_the_day(shelf.path, NOON + day * DAY + 3_600) is None
        shelf.put(f"day {day}", "{}")
    found = copies(shelf.path)
    assert [path.name for path in found] == [
        f"shelf-copy-{number}.sqlite3" for number in range(9, 9 - MOST_COPIES, -1)
    ]
    assert held(found[0])[0] == "day 7"
    assert held(found[-1])[0] == "day 3"
    assert {stat.S_IMODE(path.stat().st_mode) for path in found} == {0o600}
    # Nothing else is left beside it.
    names = {path.name for path in shelf.path.parent.iterdir()}
    assert names == {"shelf.sqlite3", *(path.name for path in found)}


def test_a_clock_set_back_loses_no_copy(shelf: Shelf) -> None:
    for day in range(MOST_COPIES):
        keep_for_the_day(shelf.path, NOON + day * DAY)
    before = copies(shelf.path)
    for back in range(1, 40):
        assert keep_for_the_day(shelf.path, NOON - back * DAY) is None
    assert copies(shelf.path) == before
    # From there on days pass as ever, and the lowest count goes first, whatever the files' dates.
    made = keep_for_the_day(shelf.path, NOON - 38 * DAY)
    assert made is not None
    assert copies(shelf.path) == (made, *before[:-1])


def test_each_start_has_a_copy_of_its_own_that_pushes_no_day_out(shelf: Shelf) -> None:
    for _ in range(MOST_COPIES + 3):
        keep_at_start(shelf.path)
        shelf.put("more", "{}")
    assert len(copies(shelf.path)) == 1
    assert len(held(start_copy(shelf.path))) == MOST_COPIES + 3


@pytest.mark.parametrize("how", ["a row", "a page", "no shelf"])
def test_a_damaged_shelf_pushes_no_copy_out(shelf: Shelf, how: str) -> None:
    keep_at_start(shelf.path)
    kept = {path: path.read_bytes() for path in (start_copy(shelf.path), *copies(shelf.path))}
    if how == "a row":
        with closing(sqlite3.connect(shelf.path)) as connection:
            connection.execute("UPDATE pieces SET notes = 'other'")
            connection.commit()
    else:
        content = bytearray(shelf.path.read_bytes())
        content[0 if how == "no shelf" else 2 * 4096] ^= 0x04
        shelf.path.write_bytes(content)
    later = copies(shelf.path)[0].stat().st_mtime + 2 * DAY
    with pytest.raises(ShelfError):
        keep_at_start(shelf.path)
    with pytest.raises(ShelfError):
        keep_for_the_day(shelf.path, later)
    assert {path: path.read_bytes() for path in kept} == kept
    assert len(copies(shelf.path)) == 1


def test_the_command_copies_before_it_changes(
    shelf: Shelf, asked: Callable[..., dict[str, Any]]
) -> None:
    asked("shelf", "throw-away", "1", "--shelf", str(shelf.path))
    (copy,) = copies(shelf.path)
    assert held(copy) == ["one"]
    assert held(shelf.path) == []
