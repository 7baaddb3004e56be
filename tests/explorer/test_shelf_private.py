"""What tells of people is its owner's alone: the shelf, its log, copies and exports."""

import os
import stat
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from explorer.shelf import Shelf
from explorer.shelf_copies import copies, keep_at_start, start_copy
from gallery.files import write_bytes

if sys.platform == "win32":
    pytest.skip("rights of files are POSIX's", allow_module_level=True)

DOCUMENT = (Path(__file__).parents[1] / "reference/pieces/v1-everything.json").read_text("utf-8")


def rights(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture(params=[0o000, 0o022, 0o077])
def umask(request: pytest.FixtureRequest) -> Iterator[int]:
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


def test_a_picture_is_as_public_as_the_users_mask_allows(tmp_path: Path, umask: int) -> None:
    path = tmp_path / "picture.png"
    write_bytes(path, b"x")
    assert rights(path) == 0o666 & ~umask
    write_bytes(path, b"y")
    assert rights(path) == 0o666 & ~umask


def test_the_shelf_and_all_that_comes_from_it_are_private(
    tmp_path: Path, umask: int, asked: Callable[..., dict[str, Any]]
) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    path = folder / "shelf.sqlite3"
    shelf = Shelf(path)
    shelf.put("one", DOCUMENT, who="Wren")
    with shelf.transaction() as connection:
        connection.execute("UPDATE pieces SET who = who")
        # The write-ahead log and its index are there while the shelf is open.
        beside = [one for one in folder.iterdir() if one != path]
        assert len(beside) == 2
        assert {rights(one) for one in beside} == {0o600 & ~umask}
    keep_at_start(path)
    at = ("--shelf", str(path))
    for name in ("one.json", "all.zip"):
        asked("shelf", "export", "--out", str(folder / name), *at)
    asked("shelf", "rescue", str(path), "--out", str(folder / "new.sqlite3"))
    made = [path, start_copy(path), *copies(path), folder / "new.sqlite3"]
    made += [folder / "one.json", folder / "all.zip"]
    assert set(made) == set(folder.iterdir())
    assert {one.name: rights(one) for one in made} == {one.name: 0o600 & ~umask for one in made}


def test_a_shelf_that_others_could_read_is_closed_to_them(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    Shelf(path).put("one", "{}")
    path.chmod(0o664)
    Shelf(path).find()
    assert rights(path) == 0o664
    Shelf(path).put("two", "{}")
    assert rights(path) == 0o600


_LOG = """
import os, sys
from pathlib import Path
os.umask(0)
log = Path(sys.argv[1])
import explorer.app.logging_setup as setup
setup.log_path = lambda: log
setup._MOST_BYTES = 2_000
setup.begin_log()
for number in range(60):
    setup.LOGGER.info("a line of the log, number %d, which is long enough to fill it", number)
"""


@pytest.mark.parametrize("before", [None, 0o644])
def test_the_log_is_private_and_so_is_the_older_one(tmp_path: Path, before: int | None) -> None:
    log = tmp_path / "logs" / "danglewise.log"
    if before is not None:
        log.parent.mkdir()
        log.write_text("from an earlier version\n")
        log.chmod(before)
    done = subprocess.run(
        [sys.executable, "-c", _LOG, str(log)],
        cwd=Path(__file__).parents[2], capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    files = sorted(log.parent.iterdir())
    assert [one.name for one in files] == ["danglewise.log", "danglewise.log.1"]
    assert {rights(one) for one in files} == {0o600}
