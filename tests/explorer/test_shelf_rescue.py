"""A damaged shelf is rescued by the command: what is whole, what is named, what is refused."""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from explorer import shelf_photographs
from explorer.__main__ import main
from explorer.shelf import Shelf
from explorer.shelf_carving import carved
from explorer.shelf_copies import keep_for_the_day
from explorer.shelf_entry import Entry, Photograph
from explorer.shelf_rows import PIECES

Asked = Callable[..., dict[str, Any]]
Refused = Callable[..., dict[str, str]]


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    photographs = (Photograph(jpeg=b"first"), Photograph(jpeg=b"second"))
    shelf.put_all([Entry(name="one", document="{1}", notes="long tail", photographs=photographs)])
    shelf.put("two", "{2}" * 9_000)
    shelf.put("three", "{3}")
    shelf.throw_away(3, by="command line")
    return shelf


def flip(path: Path, at: int, bit: int = 1) -> None:
    content = bytearray(path.read_bytes())
    content[at] ^= bit
    path.write_bytes(content)


@pytest.mark.parametrize("at", [0, 16, 18, 20, 31, 60, 63, 100, 103, 110, 4096, 8192])
def test_a_flip_where_all_hangs_on_it_loses_no_piece(
    shelf: Shelf, at: int, asked: Asked, tmp_path: Path
) -> None:
    """The file's head, the list of tables, and the first pages (sqlite.org/fileformat2.html)."""
    flip(shelf.path, at, 0x40)
    out = tmp_path / "new.sqlite3"
    # Where the size or the count of pages is what was hit, pages seem to be cut off.
    code = 2 if at in (16, 31) else 0
    done = asked("shelf", "rescue", str(shelf.path), "--out", str(out), code=code)
    assert (done["pieces"], done["photographs"], done["apart"], done["lost"]) == (3, 2, [], [])
    new = Shelf(out)
    assert [saved.name for saved in new.find()] == ["two", "one"]
    assert [saved.name for saved in new.standing(thrown=True).pieces] == ["three"]
    assert [photo.jpeg for photo in shelf_photographs.of_piece(new, 1)] == [b"first", b"second"]
    with closing(sqlite3.connect(out)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    # Numbers go on where they stood.
    assert new.put("four", "{}") == 4


def test_a_flip_in_the_notes_is_noticed_and_named(shelf: Shelf, asked: Asked) -> None:
    flip(shelf.path, shelf.path.read_bytes().index(b"long tail"))
    out = shelf.path.with_name("new.sqlite3")
    done = asked("shelf", "rescue", str(shelf.path), "--out", str(out), code=2)
    assert done["pieces"] == 2
    assert [(one["number"], one["name"]) for one in done["apart"]] == [(1, "one")]
    # It is set apart there too, with what can be read of it.
    (apart,) = Shelf(out).standing().apart
    assert (apart.saved.notes, apart.damaged) == ("mong tail", True)


def test_a_damaged_photograph_is_named_and_its_piece_is_whole(shelf: Shelf, asked: Asked) -> None:
    flip(shelf.path, shelf.path.read_bytes().index(b"second"))
    out = shelf.path.with_name("new.sqlite3")
    done = asked("shelf", "rescue", str(shelf.path), "--out", str(out), code=2)
    assert (done["pieces"], done["photographs"]) == (3, 1)
    assert done["lost"] == ["photograph 2 of piece 1 is damaged"]
    assert [photo.damaged for photo in shelf_photographs.of_piece(Shelf(out), 1)] == [False, True]


def test_pieces_are_kept_as_they_are_where_none_is_whole(shelf: Shelf, asked: Asked) -> None:
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE pieces SET notes = 'mong tail'")
        connection.execute("UPDATE photographs SET jpeg = x'00'")
        connection.commit()
    flip(shelf.path, 0)
    out = shelf.path.with_name("new.sqlite3")
    done = asked("shelf", "rescue", str(shelf.path), "--out", str(out), code=2)
    assert (done["pieces"], done["photographs"]) == (0, 0)
    assert {one["name"] for one in done["apart"]} == {"one", "two", "three"}
    assert {one.name for one in Shelf(out).standing().apart} == {"one", "two"}
    assert [one.name for one in Shelf(out).standing(thrown=True).apart] == ["three"]


def test_what_may_be_missing_is_counted(
    shelf: Shelf, asked: Asked, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(4, 24):
        shelf.put(f"piece {number}", "{}" * 2_000)
    content = shelf.path.read_bytes()
    half = shelf.path.with_name("half.sqlite3")
    half.write_bytes(content[: len(content) // 2])
    out = shelf.path.with_name("new.sqlite3")
    done = asked("shelf", "rescue", str(half), "--out", str(out), code=2)
    lost = 23 - done["pieces"]
    assert 0 < lost < 23
    pages, pieces, more, copies = done["missing"]
    count = len(content) // 4096
    assert pages == f"{count - count // 2} of the file's {count} pages are cut off"
    assert pieces.startswith(f"up to {lost} pieces may be missing, unless taken out for good: ")
    assert "numbers up to 23 were given" in pieces
    assert more == "the file is damaged: more may have stood there than was found in it"
    assert copies.startswith("copies may stand beside the shelf")
    assert main(["shelf", "rescue", str(half), "--out", f"{out}2"]) == 2
    captured = capsys.readouterr()
    assert pieces in captured.out
    assert "copies of the shelf" in captured.err
    # The half file itself is listed with the same code.
    assert asked("shelf", "list", "--shelf", str(half), code=2)["error"]["field"] == "shelf"


def test_nothing_is_said_to_be_missing_from_a_whole_shelf(shelf: Shelf, asked: Asked) -> None:
    done = asked("shelf", "rescue", str(shelf.path), "--out", f"{shelf.path}.new")
    assert (done["damage"], done["missing"]) == (None, [])


def test_saves_that_wait_in_the_log_are_rescued(shelf: Shelf, tmp_path: Path) -> None:
    crashed = tmp_path / "crashed"
    crashed.mkdir()
    with closing(sqlite3.connect(shelf.path)) as reader:
        # A reader keeps the log from being folded in, as a crash does.
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM pieces").fetchone()
        shelf.put("in the log", "{4}" * 5_000)
        with shelf.transaction() as connection:
            connection.execute("SELECT 1")
            for beside in ("", "-wal"):
                name = f"{shelf.path.name}{beside}"
                shutil.copyfile(shelf.path.with_name(name), crashed / name)
    path = crashed / shelf.path.name
    assert "in the log" in {row.text("name") for row in carved(path, PIECES) if row.whole}
    # Also where the file itself can no longer be opened.
    flip(path, 0)
    assert "in the log" in {row.text("name") for row in carved(path, PIECES) if row.whole}


def test_what_cannot_be_rescued_is_said(shelf: Shelf, refused: Refused, tmp_path: Path) -> None:
    path, out = str(shelf.path), tmp_path / "new.sqlite3"
    assert refused("shelf", "rescue", path, "--out", path)["field"] == "out"
    assert refused("shelf", "rescue", path)["field"] == "out"
    assert refused("shelf", "rescue", "--out", str(out))["field"] == "shelf"
    assert refused("shelf", "rescue", str(tmp_path / "no"), "--out", str(out))["field"] == "shelf"
    other = tmp_path / "other"
    for content in (b"", b"x" * 5_000, bytes(9_000)):
        other.write_bytes(content)
        if content:
            error = refused("shelf", "rescue", str(other), "--out", str(out))
            assert error["field"] == "shelf"
        assert not out.exists()
        assert other.read_bytes() == content
    blocked = tmp_path / "file"
    blocked.write_text("x")
    assert refused("shelf", "rescue", path, "--out", str(blocked / "x"))["field"] == "out"


def test_copies_of_earlier_days_are_named(shelf: Shelf, asked: Asked) -> None:
    copy = keep_for_the_day(shelf.path)
    flip(shelf.path, 0)
    out = str(shelf.path.with_name("new.sqlite3"))
    done = asked("shelf", "rescue", str(shelf.path), "--out", out)
    assert done["copies"] == [str(copy)]
    assert done["damage"] == "file is not a database"


def test_a_file_that_is_far_too_large_is_refused_before_it_is_copied(
    tmp_path: Path, refused: Refused
) -> None:
    path = tmp_path / "large.sqlite3"
    with path.open("wb") as file:
        # A hole, which takes no room.
        file.truncate(2_000_000_001)
    error = refused("shelf", "rescue", str(path), "--out", str(tmp_path / "new.sqlite3"))
    assert (error["field"], error["got"]) == ("shelf", str(path))
    assert "at most 2 GB" in error["wanted"]
    assert [one.name for one in tmp_path.iterdir()] == ["large.sqlite3"]
