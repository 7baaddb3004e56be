"""A shelf that can be read and not written to: a read-only folder, a full disk, a log left over."""

import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from explorer.shelf import Shelf

if sys.platform == "win32":
    pytest.skip("rights and limits are POSIX's", allow_module_level=True)

import resource

ROOT = Path(__file__).parents[2]
DOCUMENT = (ROOT / "tests/reference/pieces/v1-everything.json").read_text("utf-8")
# Runs command lines. The superuser may write anywhere, so those rights are given away, once a first
# line has loaded all that the others need.
_RUN = """
import os, sys
from explorer.__main__ import main
lines = [line.split("|") for line in sys.argv[2:]]
if sys.argv[1]:
    main(sys.argv[1].split("|"))
    if os.geteuid() == 0:
        os.setuid(65534)
sys.exit(max(main(line) for line in lines))
"""


@pytest.fixture
def shelf() -> Iterator[Shelf]:
    """A shelf of one piece in a folder that anybody may look into."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        (folder / "out").mkdir()
        (folder / "out").chmod(0o777)
        shelf = Shelf(folder / "held" / "shelf.sqlite3")
        shelf.put("Harbour", DOCUMENT)
        yield shelf
        shelf.path.parent.chmod(0o755)


def lock(shelf: Shelf) -> None:
    for path in (*shelf.path.parent.iterdir(), shelf.path.parent):
        path.chmod(0o555 if path.is_dir() else 0o444)


def ran(first: str, *lines: str, before: Callable[[], None] | None = None) -> tuple[int, str, str]:
    done = subprocess.run(
        [sys.executable, "-c", _RUN, first, *lines],
        cwd=ROOT,
        preexec_fn=before,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


def test_a_shelf_in_a_folder_for_reading_only_is_listed_and_exported(shelf: Shelf) -> None:
    at = f"--shelf|{shelf.path}"
    archive = shelf.path.parents[1] / "out" / "all.zip"
    export = f"shelf|export|--out|{archive}|{at}"
    other = Shelf(shelf.path.parents[1] / "other.sqlite3")
    other.put("Other", DOCUMENT)
    load = f"shelf|export|--out|{archive}.zip|--shelf|{other.path}"
    lock(shelf)
    before = shelf.path.read_bytes()
    code, out, err = ran(load, f"shelf|list|{at}", export)
    assert (code, err) == (0, "")
    assert out.count("Harbour") == 1
    told = f"the folder {shelf.path.parent} cannot be written to"
    assert out.count(f"was only read, for nothing can be saved there now: {told}") == 2
    assert archive.read_bytes()[:2] == b"PK"
    code, out, err = ran(load, f"shelf|throw-away|1|{at}")
    assert code == 2
    assert told in err
    assert [one.name for one in shelf.path.parent.iterdir()] == [shelf.path.name]
    assert shelf.path.read_bytes() == before


@pytest.mark.parametrize("mode", [0o644, 0o444])
def test_reading_and_what_is_refused_leave_a_shelf_as_it_was(shelf: Shelf, mode: int) -> None:
    at = f"--shelf|{shelf.path}"
    archive = shelf.path.parents[1] / "out" / "all.zip"
    shelf.path.chmod(mode)
    before = shelf.path.read_bytes()
    for line in (f"shelf|list|{at}", f"shelf|export|--out|{archive}|{at}"):
        assert ran("", line)[0] == 0
    assert ran("", f"shelf|throw-away|9|{at}")[0] == 2
    # Others than its owner, who may write beside it but not into it.
    shelf.path.parent.chmod(0o777)
    other = Shelf(shelf.path.parents[1] / "other.sqlite3")
    other.put("Other", DOCUMENT)
    code, out, err = ran(
        f"shelf|export|--out|{archive}.zip|--shelf|{other.path}", f"shelf|list|{at}"
    )
    assert (code, err) == (0, "")
    assert f"the file {shelf.path} cannot be written to" in out
    assert [one.name for one in shelf.path.parent.iterdir()] == [shelf.path.name]
    assert shelf.path.stat().st_mode & 0o777 == mode
    assert shelf.path.read_bytes() == before


def test_a_shelf_that_cannot_be_read_is_told_as_such(shelf: Shelf) -> None:
    other = Shelf(shelf.path.parents[1] / "other.sqlite3")
    other.put("Other", DOCUMENT)
    archive = shelf.path.parents[1] / "out" / "all.zip"
    for path in (shelf.path.parent, shelf.path):
        path.chmod(0o777 if path.is_dir() else 0)
    code, _, err = ran(
        f"shelf|export|--out|{archive}|--shelf|{other.path}", f"shelf|list|--shelf|{shelf.path}"
    )
    assert code == 2
    assert f"the file {shelf.path} cannot be read" in err
    assert "right to read" in err


def test_what_stands_in_a_log_that_was_left_over_is_read_too(shelf: Shelf) -> None:
    # A writer that ends in the midst of its work leaves the log.
    leave = (
        "import os, sqlite3, sys; from pathlib import Path; from explorer.shelf import Shelf;"
        "path = Path(sys.argv[1]); held = sqlite3.connect(path);"
        "held.execute('SELECT count(*) FROM pieces').fetchone();"
        "Shelf(path).put('Thaw', Path(sys.argv[2]).read_text('utf-8')); os._exit(0)"
    )
    piece = shelf.path.parents[1] / "piece.json"
    piece.write_text(DOCUMENT, "utf-8")
    subprocess.run([sys.executable, "-c", leave, shelf.path, piece], cwd=ROOT, check=True)
    log = shelf.path.with_name(f"{shelf.path.name}-wal")
    assert log.stat().st_size
    shelf.path.with_name(f"{shelf.path.name}-shm").unlink()
    other = Shelf(shelf.path.parents[1] / "other.sqlite3")
    other.put("Other", DOCUMENT)
    lock(shelf)
    at = f"--shelf|{shelf.path}"
    code, out, err = ran(f"shelf|list|--shelf|{other.path}", f"shelf|list|{at}")
    assert (code, err) == (0, "")
    assert "Thaw" in out
    assert "Harbour" in out


def test_a_full_disk_can_be_read(shelf: Shelf) -> None:
    def full() -> None:
        # No file grows any more, as when the disk has no room.
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))

    at = f"--shelf|{shelf.path}"
    code, out, err = ran("", f"shelf|list|{at}", before=full)
    assert (code, err) == (0, "")
    assert "Harbour" in out
    assert "was only read, for nothing can be saved there now" in out
    code, _, err = ran("", f"shelf|throw-away|1|{at}", before=full)
    assert code == 2
    assert "nothing was changed" in err
    assert [one.name for one in shelf.find()] == ["Harbour"]
