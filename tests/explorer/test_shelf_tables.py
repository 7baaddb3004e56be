"""Tables on the shelf: what lay there last, its revision, and what an older shelf held."""

import sqlite3
import threading
from pathlib import Path

import pytest

from explorer.shelf import MIGRATIONS, VERSION, Shelf
from explorer.shelf_tables import Kept, keep, kept, last


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "shelf.sqlite3")


def test_a_table_keeps_what_lay_on_it_last(shelf: Shelf) -> None:
    assert kept(shelf, "a") is None
    assert last(shelf) is None
    assert [keep(shelf, "a", "1"), keep(shelf, "b", "2"), keep(shelf, "a", "3")] == [1, 1, 2]
    assert kept(shelf, "a") == Kept(document="3", steps=b"", revision=2)
    assert kept(shelf, "b") == Kept(document="2", steps=b"", revision=1)
    assert last(shelf) == "3"


def test_what_was_not_seen_is_not_written_over(shelf: Shelf) -> None:
    assert keep(shelf, "a", "one", steps=b"s", seen=0) == 1
    assert keep(shelf, "a", "new", seen=0) is None
    assert keep(shelf, "a", "two", steps=b"t", seen=1) == 2
    assert keep(shelf, "a", "late", seen=1) is None
    assert kept(shelf, "a") == Kept(document="two", steps=b"t", revision=2)
    # A table that was swept off meanwhile is in nobody's way.
    assert keep(shelf, "gone", "mine", seen=7) == 8


def test_of_many_at_once_that_saw_the_same_one_wins(shelf: Shelf) -> None:
    keep(shelf, "a", "begin")
    found: list[int | None] = []
    threads = [
        threading.Thread(target=lambda n=n: found.append(keep(shelf, "a", f"{n}", seen=1)))
        for n in range(6)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(found, key=str) == [2, None, None, None, None, None]


@pytest.mark.parametrize("version", range(1, VERSION))
def test_a_table_of_an_older_shelf_is_there_and_can_be_kept(tmp_path: Path, version: int) -> None:
    path = tmp_path / "shelf.sqlite3"
    connection = sqlite3.connect(path)
    for step in MIGRATIONS[:version]:
        step(connection)
    connection.execute("INSERT INTO tables (mark, used, document) VALUES ('a', 'x', 'old')")
    connection.execute(f"PRAGMA user_version = {version}")
    connection.commit()
    connection.close()
    shelf = Shelf(path)
    before = kept(shelf, "a")
    assert before is not None
    assert (before.document, before.steps) == ("old", b"")
    assert keep(shelf, "a", "new", seen=before.revision) == before.revision + 1


def test_tables_that_nobody_came_back_to_are_swept_off(shelf: Shelf) -> None:
    for number in range(203):
        keep(shelf, f"{number}", "x")
    assert kept(shelf, "2") is None
    assert kept(shelf, "3") is not None
