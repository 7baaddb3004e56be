"""A file of another program's is never made into a shelf."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from explorer.__main__ import main
from explorer.shelf import MIGRATIONS, Shelf

OTHERS = {
    "a table": ("CREATE TABLE bookmarks (url TEXT)",),
    "a version": ("CREATE TABLE bookmarks (url TEXT)", "PRAGMA user_version = 3"),
    "a newer version": ("CREATE TABLE bookmarks (url TEXT)", "PRAGMA user_version = 99"),
    "a version alone": ("PRAGMA user_version = 1",),
    "names of ours": ("CREATE TABLE pieces (a)", "CREATE TABLE tables (a)"),
    "a log": ("PRAGMA journal_mode = WAL", "CREATE TABLE bookmarks (url TEXT)"),
}


@pytest.mark.parametrize("kind", OTHERS)
@pytest.mark.parametrize("act", ["list", "import"])
def test_another_programs_file_is_refused_and_stays_as_it_is(
    kind: str, act: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "other.sqlite"
    connection = sqlite3.connect(path, isolation_level=None)
    for command in OTHERS[kind]:
        connection.execute(command)
    connection.close()
    path.chmod(0o664)
    before = path.read_bytes(), path.stat().st_mode
    example = next(Path(__file__).parents[2].glob("gallery/examples/*.json"))
    files = [str(example)] if act == "import" else []
    assert main(["shelf", act, *files, "--shelf", str(path)]) == 2
    assert "another program's" in capsys.readouterr().err
    assert (path.read_bytes(), path.stat().st_mode) == before
    assert [one.name for one in tmp_path.iterdir()] == ["other.sqlite"]


def test_an_empty_file_becomes_a_shelf(tmp_path: Path) -> None:
    path = tmp_path / "new.sqlite3"
    path.touch()
    assert Shelf(path).put("one", "{}") == 1
    assert [one.name for one in Shelf(path).find()] == ["one"]


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS) + 1))
def test_a_shelf_of_every_version_is_one(version: int, tmp_path: Path) -> None:
    path = tmp_path / "old.sqlite3"
    connection = sqlite3.connect(path)
    for step in MIGRATIONS[:version]:
        step(connection)
    connection.execute(f"PRAGMA user_version = {version}")
    connection.commit()
    connection.close()
    assert Shelf(path).find() == ()


@pytest.mark.parametrize("name", [b"pieces", b"tables"])
def test_a_shelf_whose_tables_lost_their_names_is_one(
    name: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "shelf.sqlite3"
    example = next(Path(__file__).parents[2].glob("gallery/examples/*.json"))
    Shelf(path).put("one", example.read_text("utf-8"))
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA journal_mode = DELETE")
    connection.close()
    # One bit makes a small letter a capital one.
    path.write_bytes(path.read_bytes().replace(name, name[:-1] + b"S"))
    standing = Shelf(path).standing()
    assert [saved.name for saved in standing.pieces] == ["one"]
    assert "damaged" in standing.trouble
    assert main(["shelf", "throw-away", "1", "--shelf", str(path)]) == 2
    assert "shelf rescue" in capsys.readouterr().err


@pytest.mark.parametrize("act", ["list", "import"])
def test_a_file_that_is_no_database_is_refused(
    act: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "text"
    path.write_bytes(b"words " * 1000)
    path.chmod(0o664)
    example = next(Path(__file__).parents[2].glob("gallery/examples/*.json"))
    files = [str(example)] if act == "import" else []
    assert main(["shelf", act, *files, "--shelf", str(path)]) == 2
    told = capsys.readouterr().err
    assert "no shelf" in told
    assert "damaged" not in told
    assert "Name a shelf's file" in told
    assert path.read_bytes() == b"words " * 1000
    assert path.stat().st_mode & 0o777 == 0o664
    assert [one.name for one in tmp_path.iterdir()] == ["text"]


def test_an_empty_file_is_listed_and_stays_empty(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "new.sqlite3"
    path.touch(0o664)
    before = path.stat()
    assert main(["shelf", "list", "--shelf", str(path)]) == 0
    assert "Nothing stands there." in capsys.readouterr().out
    assert path.stat() == before
    assert [one.name for one in tmp_path.iterdir()] == ["new.sqlite3"]
    # Nor is it made by what cannot be done to it.
    assert main(["shelf", "throw-away", "1", "--shelf", str(path)]) == 2
    assert path.read_bytes() == b""


def test_a_newer_shelf_says_what_opens_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "shelf.sqlite3"
    Shelf(path).put("one", "{}")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    assert main(["shelf", "list", "--shelf", str(path)]) == 2
    assert (
        capsys.readouterr().err.rstrip().endswith("Update Danglewise to use it; it is untouched.")
    )
