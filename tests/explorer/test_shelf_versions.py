"""Kept shelves of every version (``tests/reference/write_shelves.py``) open and lose nothing."""

import shutil
import sqlite3
import stat
from contextlib import closing
from pathlib import Path

import pytest

from explorer import shelf_figures, shelf_photographs, shelf_tables
from explorer.piece import from_json
from explorer.shelf import VERSION, DamagedShelfError, NewerShelfError, Shelf
from explorer.shelf_entry import Making
from explorer.shelf_rescue import rescue
from explorer.shelf_rows import LAYOUTS, read
from tests.reference.write_shelves import DOCUMENT, JPEG, MAKING, MARK, PIECES, TRAY, write_now

FOLDER = Path(__file__).parents[1] / "reference/shelves"
VERSIONS = range(1, VERSION + 1)


@pytest.fixture
def kept(tmp_path: Path, version: int) -> Path:
    path = tmp_path / "shelf.sqlite3"
    shutil.copyfile(FOLDER / f"v{version}.sqlite3", path)
    return path


def test_a_shelf_of_every_version_is_kept() -> None:
    assert {path.name for path in FOLDER.glob("*.sqlite3")} == {f"v{n}.sqlite3" for n in VERSIONS}
    for version in VERSIONS:
        with closing(sqlite3.connect(FOLDER / f"v{version}.sqlite3")) as connection:
            assert connection.execute("PRAGMA user_version").fetchone() == (version,)


def check(path: Path, version: int) -> None:
    """All that such a shelf held is there."""
    shelf = Shelf(path)
    found = sorted((*shelf.find(), *shelf.standing(thrown=True).pieces), key=lambda s: s.number)
    assert shelf.standing().apart == ()
    assert [(s.name, s.who, s.notes, s.saved, int(s.thrown is not None)) for s in found] == list(
        PIECES
    )
    assert all(saved.document == DOCUMENT and from_json(saved.document) for saved in found)
    assert [saved.making for saved in found] == [
        MAKING if version >= 3 else Making(),
        Making(),
        Making(),
    ]
    table = shelf_tables.kept(shelf, MARK)
    assert table is not None
    assert table.document == f"on {MARK}"
    assert (table.steps, table.revision) == ((b"\x01", 7) if version >= 4 else (b"", 1))
    assert shelf_tables.last(shelf) == f"on {MARK}"
    assert shelf.tray() == ((1, TRAY) if version >= 2 else None)
    photographs = shelf_photographs.of_piece(shelf, 1)
    assert [photo.jpeg for photo in photographs] == ([JPEG] if version >= 3 else [])
    assert shelf_figures.kept(shelf, "prices") == ("{}" if version >= 3 else None)
    with shelf.transaction() as connection:
        assert all(row.whole for layout in LAYOUTS for row in read(connection, layout))


@pytest.mark.parametrize("version", VERSIONS)
def test_a_kept_shelf_opens_and_loses_nothing(kept: Path, version: int) -> None:
    check(kept, version)
    copies = list(kept.parent.glob("shelf-version-*.sqlite3"))
    assert len(copies) == (version < VERSION)
    for copy in copies:
        # As private as the shelf, and what it was before.
        assert stat.S_IMODE(copy.stat().st_mode) == 0o600
        check(copy, version)


@pytest.mark.parametrize("version", VERSIONS)
@pytest.mark.parametrize("at", [0, 100, 4096])
def test_a_damaged_shelf_of_every_version_is_rescued(kept: Path, version: int, at: int) -> None:
    """The file's head, the list of tables, the table of pieces."""
    content = bytearray(kept.read_bytes())
    content[at] ^= 0x40
    kept.write_bytes(content)
    done = rescue(kept, kept.with_name("new.sqlite3"))
    assert done.damage
    assert (done.pieces, done.photographs, done.apart) == (3, int(version >= 3), ())
    new = Shelf(kept.with_name("new.sqlite3"))
    assert [saved.name for saved in new.find()] == [PIECES[2][0], PIECES[0][0]]
    assert all(saved.document == DOCUMENT for saved in new.find())
    assert new.tray() == ((1, TRAY) if version >= 2 else None)


@pytest.mark.parametrize("version", VERSIONS)
def test_a_kept_shelf_is_rescued_though_nothing_is_wrong_with_it(kept: Path, version: int) -> None:
    before = kept.read_bytes()
    new = kept.with_name("new.sqlite3")
    done = rescue(kept, new)
    assert (done.pieces, done.apart, done.lost, done.damage) == (3, (), (), "")
    check(new, version)
    assert kept.read_bytes() == before
    assert {path.name for path in kept.parent.iterdir()} == {kept.name, new.name}


def test_the_newest_version_is_written_as_it_was_kept(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    write_now(path)
    check(path, VERSION)
    with (
        closing(sqlite3.connect(FOLDER / f"v{VERSION}.sqlite3")) as kept,
        closing(sqlite3.connect(path)) as new,
    ):
        schema = "SELECT name, sql FROM sqlite_schema ORDER BY name"
        assert kept.execute(schema).fetchall() == new.execute(schema).fetchall()


@pytest.mark.parametrize("version", [VERSION])
def test_a_newer_shelf_is_refused_by_name_also_by_a_search_of_its_pages(
    kept: Path, version: int
) -> None:
    with closing(sqlite3.connect(kept)) as connection:
        connection.execute(f"PRAGMA user_version = {version + 1}")
    with pytest.raises(NewerShelfError, match="newer Danglewise"):
        Shelf(kept).find()


@pytest.mark.parametrize("version", [VERSION])
@pytest.mark.parametrize("told", [-1, 0, 1, 4])
def test_a_version_that_is_damaged_brings_no_copies(kept: Path, version: int, told: int) -> None:
    with closing(sqlite3.connect(kept)) as connection:
        connection.execute(f"PRAGMA user_version = {told}")
    shelf = Shelf(kept)
    for _ in range(3):
        with pytest.raises(DamagedShelfError, match="rescue"):
            shelf.put("one", DOCUMENT)
    # What can be read is read, and said to be all that there is.
    standing = shelf.standing()
    assert [saved.number for saved in standing.pieces] == [3, 1]
    assert "damaged" in standing.trouble
    assert len(list(kept.parent.glob("*.sqlite3"))) == 1
    assert version == VERSION
