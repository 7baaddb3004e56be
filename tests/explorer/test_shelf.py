"""The shelf: whole saves, undo of a delete, versions, marks, two at once."""

import sqlite3
import threading
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.shelf import MIGRATIONS, VERSION, Shelf, ShelfError
from tests.robust.crash_child import change


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "new" / "folder" / "shelf.sqlite3")


def test_what_is_put_is_found(shelf: Shelf) -> None:
    number = shelf.put("Harbour anklet", "{1}", who="Wren", notes="long tail")
    (saved,) = shelf.find()
    assert (saved.number, saved.name, saved.who) == (number, "Harbour anklet", "Wren")
    assert (saved.notes, saved.document) == ("long tail", "{1}")


@pytest.mark.parametrize(
    ("words", "found"), [("wren", 1), ("WREN tail", 1), ("wren bus", 0), ("", 2), ("ÄRMEL", 1)]
)
def test_search_wants_every_word_anywhere(shelf: Shelf, words: str, found: int) -> None:
    shelf.put("Harbour anklet", "{}", who="Wren", notes="long tail")
    shelf.put("Ärmelband", "{}", who="Ida")
    assert len(shelf.find(words)) == found


def test_the_newest_stands_first(shelf: Shelf) -> None:
    for name in ("one", "two", "three"):
        shelf.put(name, "{}")
    assert [saved.name for saved in shelf.find()] == ["three", "two", "one"]


def test_a_piece_is_thrown_away_and_brought_back(shelf: Shelf) -> None:
    number = shelf.put("one", "{}")
    shelf.throw_away(number)
    assert shelf.find() == ()
    shelf.bring_back(number)
    assert [saved.name for saved in shelf.find()] == ["one"]


def test_a_copy_is_another_piece(shelf: Shelf) -> None:
    number = shelf.put("one", "{1}", who="Wren")
    copy = shelf.copy(number)
    assert copy is not None
    change(shelf, copy, name="two", who="", notes="")
    assert {(s.name, s.document) for s in shelf.find()} == {("one", "{1}"), ("two", "{1}")}
    assert shelf.copy(999) is None


@pytest.mark.parametrize("name", ["", "   ", "x" * 201])
def test_a_name_that_is_none_is_refused(shelf: Shelf, name: str) -> None:
    with pytest.raises(BriefError):
        shelf.put(name, "{}")
    assert shelf.find() == ()


def test_a_failing_save_leaves_nothing_half_done(shelf: Shelf) -> None:
    shelf.put("one", "{}")

    def half() -> None:
        with shelf.transaction() as connection:
            connection.execute("DELETE FROM pieces")
            raise RuntimeError("the power went")

    with pytest.raises(RuntimeError, match="power"):
        half()
    assert [saved.name for saved in shelf.find()] == ["one"]


def test_a_newer_shelf_is_refused_by_name_and_left_alone(shelf: Shelf) -> None:
    shelf.put("one", "{}")
    with sqlite3.connect(shelf.path) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    connection.close()
    with pytest.raises(ShelfError, match="newer Danglewise"):
        shelf.find()
    with sqlite3.connect(shelf.path) as connection:
        assert connection.execute("SELECT count(*) FROM pieces").fetchone() == (1,)
    connection.close()


def test_every_older_version_is_brought_to_this_one(tmp_path: Path) -> None:
    for version in range(VERSION):
        path = tmp_path / f"{version}.sqlite3"
        connection = sqlite3.connect(path)
        for step in MIGRATIONS[:version]:
            step(connection)
        connection.execute(f"PRAGMA user_version = {version}")
        connection.commit()
        connection.close()
        assert Shelf(path).find() == ()


def test_what_is_no_shelf_is_said_so(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    path.write_text("not a database, and long enough that nobody takes it for an empty one" * 9)
    with pytest.raises(ShelfError, match=r"shelf\.sqlite3"):
        Shelf(path).find()


def test_a_folder_that_cannot_be_made_is_said_so(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(ShelfError):
        Shelf(tmp_path / "file" / "shelf.sqlite3").find()


class _Refuses(sqlite3.Connection):
    """A connection on a file system without shared memory: the log is taken, then fails."""

    logged = False

    def execute(self, sql: str, parameters: Any = ()) -> sqlite3.Cursor:
        if sql == "PRAGMA journal_mode = WAL":
            self.logged = True
            return super().execute("SELECT 1")
        if sql.startswith("PRAGMA journal_mode"):
            self.logged = False
        if self.logged and not sql.startswith("PRAGMA"):
            raise sqlite3.OperationalError("locking protocol")
        return super().execute(sql, parameters)


def test_it_works_where_a_write_ahead_log_is_refused(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *a, **k: real(*a, factory=_Refuses, **k))
    saved = shelf.get(shelf.put("one", "{}"))
    assert saved is not None
    assert saved.name == "one"


def test_many_at_once_lose_nothing(shelf: Shelf) -> None:
    def save(who: str) -> None:
        for number in range(10):
            shelf.put(f"{who} {number}", "{}")

    threads = [threading.Thread(target=save, args=(f"w{i}",)) for i in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(shelf.find()) == 40


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
@given(st.text(min_size=1, max_size=40).filter(str.strip), st.text(max_size=200))
def test_any_text_comes_back_as_it_was(shelf: Shelf, name: str, document: str) -> None:
    name, document = (
        text.encode("utf-8", "ignore").decode("utf-8").replace("\x00", "") or "x"
        for text in (name, document)
    )
    if not name.strip():
        return
    saved = shelf.get(shelf.put(name, document))
    assert saved is not None
    assert (saved.name, saved.document) == (name, document)
