"""A killed process, a full disk, a read-only one, two processes: no piece is lost, nothing is half.

Short in the ordinary run; ``DANGLEWISE_LONG_CHECKS=1`` kills 500 times inside a write.
"""

import contextlib
import os
import random
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from itertools import islice
from pathlib import Path
from typing import IO, Any

import pytest

from explorer.shelf import MIGRATIONS, VERSION, Shelf, ShelfError
from explorer.shelf_rows import LAYOUTS, Row, read
from gallery.files import write_bytes
from tests.robust.crash_child import WRITING, do, steps

if sys.platform == "win32":
    pytest.skip("processes are killed by POSIX signals", allow_module_level=True)

ROOT = Path(__file__).resolve().parents[2]
LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
KILLS = 500 if LONG else 14
_MANY = 100_000
_OLD = 6
# Chosen by us: about one kill in three falls between two writes.
_TRIES = 20


def rows_of(path: Path) -> list[Row]:
    with Shelf(path).transaction() as connection:
        return [row for layout in LAYOUTS for row in read(connection, layout)]


def content(path: Path) -> dict[str, Any]:
    """All that stands on a shelf but for the times, read past our own code."""
    assert all(row.whole for row in rows_of(path))
    connection = sqlite3.connect(path)
    try:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        rows = {
            "pieces": "SELECT number, name, who, notes, document, thrown_away, made, minutes, "
            "lots, revision, thrown_by FROM pieces ORDER BY number",
            "photographs": "SELECT piece, jpeg FROM photographs ORDER BY number",
            "tables": "SELECT mark, document FROM tables ORDER BY mark",
            "tray": "SELECT content FROM trays ORDER BY number DESC LIMIT 1",
            "version": "PRAGMA user_version",
        }
        return {what: connection.execute(sql).fetchall() for what, sql in rows.items()}
    finally:
        connection.close()


def older(path: Path, version: int) -> None:
    """A shelf as an older version left it, with a few pieces."""
    connection = sqlite3.connect(path, isolation_level=None)
    for step in MIGRATIONS[:version]:
        step(connection)
    for place in range(_OLD):
        connection.execute(
            "INSERT INTO pieces (name, who, notes, saved, document) VALUES (?, '', '', ?, ?)",
            (f"old {place}", f"2025-01-0{place + 1}", f"{place}" * 50_000),
        )
    connection.execute(f"PRAGMA user_version = {version}")
    connection.close()


def child(path: Path, seed: int, count: int, held: int) -> "subprocess.Popen[bytes]":
    command = [sys.executable, "-m", "tests.robust.crash_child", str(path)]
    return subprocess.Popen(
        [*command, str(seed), str(count), str(held)],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


def output(process: "subprocess.Popen[bytes]") -> IO[bytes]:
    assert process.stdout is not None
    return process.stdout


def expected(folder: Path, version: int, seed: int, done: int) -> dict[str, Any]:
    """What stands on a shelf after so many steps that nobody disturbed."""
    path = folder / f"expected-{done}.sqlite3"
    if version:
        older(path, version)
    shelf = Shelf(path)
    shelf.find()
    for step in islice(steps(seed, _OLD if version else 0), done):
        do(shelf, step)
    return content(path)


def killed_while_writing(path: Path, seed: int, held: int) -> list[str] | None:
    """What a process told until it was killed; None where the kill did not fall inside a write.

    The kill comes when some word of SQL has been told, at once or a moment later. It fell inside
    where something was written since the last BEGIN and nothing was told after it: not even that
    the step is done. A COMMIT told last can be done already.
    """
    rng = random.Random(seed)  # noqa: S311 - when to kill
    process = child(path, seed, _MANY, held)
    out = output(process)
    left = rng.randint(1, 60)
    told = []
    while left:
        told.append(out.readline().decode().rstrip("\n"))
        left -= told[-1].startswith("sql ") or not told[-1]
    # Chosen by us: a step with large pieces takes some milliseconds to be on the disk.
    time.sleep(rng.choice((0.0, rng.uniform(0.0, 0.004))))
    process.kill()
    told += out.read().decode().splitlines()
    complaint = process.communicate()[1]
    assert process.returncode == -signal.SIGKILL, complaint
    since = told[max(at for at, line in enumerate(told) if line == "sql BEGIN") + 1 :]
    wrote = any(line.removeprefix("sql ") in WRITING for line in since)
    return told if wrote and told[-1].startswith("sql ") else None


@pytest.mark.parametrize("number", range(KILLS))
def test_a_process_killed_while_it_writes_leaves_every_piece(
    number: int, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    version = number % (VERSION + 1) % VERSION
    # Every one of these kills falls inside a write: one that did not is tried again.
    for turn in range(_TRIES):
        folder = tmp_path / f"{turn}"
        folder.mkdir()
        path = folder / "shelf.sqlite3"
        if version:
            older(path, version)
        seed = number * _TRIES + turn
        told = killed_while_writing(path, seed, _OLD if version else 0)
        if told is not None:
            break
    else:
        pytest.fail("no kill fell inside a write")
    record_property("tries", turn + 1)
    record_property("last", told[-1])
    done = sum(line.startswith("done") for line in told)
    begun = sum(line.startswith("begin") for line in told)
    assert done <= begun <= done + 1
    Shelf(path).find()
    found = content(path)
    possible = [expected(folder, version, seed, steps_) for steps_ in {done, begun}]
    assert found in possible, (done, begun, {k: len(v) for k, v in found.items()})
    for copy in folder.glob("shelf-version-*.sqlite3"):
        kept = sqlite3.connect(copy)
        assert kept.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert kept.execute("SELECT count(*) FROM pieces").fetchone() == (_OLD,)
        assert kept.execute("PRAGMA user_version").fetchone() == (version,)
        kept.close()


def test_two_processes_share_a_shelf(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    count = 120 if LONG else 25
    pair = [child(path, seed, count, 0) for seed in (1, 2)]
    for process in pair:
        complaint = process.communicate()[1]
        assert process.returncode == 0, complaint.decode()
    found = content(path)
    for seed in (1, 2):
        for step in islice(steps(seed), count):
            if step.kind == "put":
                assert [row for row in found["pieces"] if row[4] == step.values[1]], step.kind
    brought = sum(
        step.values[0] if step.kind == "import" else step.kind in ("put", "copy")
        for seed in (1, 2)
        for step in islice(steps(seed), count)
    )
    assert len(found["pieces"]) == brought


@contextlib.contextmanager
def small_disk(folder: Path, size: str) -> Iterator[Path]:
    """A file system of its own of that size; a test that cannot have one is skipped with reason."""
    mount, umount = shutil.which("mount"), shutil.which("umount")
    if mount is None or umount is None:
        pytest.skip("this machine has no mount command; the quota test runs instead")
    place = folder / "disk"
    place.mkdir()
    made = subprocess.run(
        [mount, "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(place)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    if made.returncode:
        pytest.skip(f"no small disk: {made.stderr.strip()}; the quota test runs instead")
    try:
        yield place
    finally:
        subprocess.run([umount, str(place)], check=True)


def _remount(place: Path, how: str) -> None:
    mount = shutil.which("mount")
    assert mount is not None
    subprocess.run([mount, "-o", f"remount,{how}", str(place)], check=True)


def _fill(shelf: Shelf) -> list[str]:
    """Save pieces until no more fit; their texts."""
    kept: list[str] = []

    def save() -> None:
        for place in range(10_000):
            text = f"{place}" * 9_000
            shelf.put(f"piece {place}", text)
            kept.append(text)

    with pytest.raises(ShelfError, match="disk is full") as caught:
        save()
    assert caught.value.why == "database or disk is full"
    assert caught.value.remedy == "Free some space on its disk, and try again; nothing was changed."
    return kept


def test_a_full_disk_costs_no_piece(tmp_path: Path) -> None:
    with small_disk(tmp_path, "1m") as place:
        shelf = Shelf(place / "shelf.sqlite3")
        kept = _fill(shelf)
        assert len(kept) > 3
        # Whatever still works, what was saved is whole; with room again all of it is there.
        _remount(place, "size=8m")
        assert sorted(s.document for s in shelf.find()) == sorted(kept)
        assert shelf.put("one more", "{}") == len(kept) + 1
        assert len(content(shelf.path)["pieces"]) == len(kept) + 1


def test_a_full_disk_leaves_a_file_as_it_was(tmp_path: Path) -> None:
    with small_disk(tmp_path, "64k") as place:
        write_bytes(place / "piece.json", b"whole")
        with pytest.raises(OSError, match="No space"):
            write_bytes(place / "piece.json", bytes(200_000))
        assert [path.name for path in place.iterdir()] == ["piece.json"]
        assert (place / "piece.json").read_bytes() == b"whole"


def test_a_read_only_disk_is_said_and_nothing_is_lost(tmp_path: Path) -> None:
    with small_disk(tmp_path, "4m") as place:
        shelf = Shelf(place / "shelf.sqlite3")
        shelf.put("one", "{1}")
        _remount(place, "ro")
        words = rf"shelf\.sqlite3 .*the folder {re.escape(str(place))} cannot be written to"
        with pytest.raises(ShelfError, match=words) as caught:
            shelf.put("two", "{2}")
        assert "read-only" in caught.value.remedy or "writable" in caught.value.remedy
        with pytest.raises(OSError, match="Read-only"):
            write_bytes(place / "piece.json", b"x")
        _remount(place, "rw")
        assert [saved.document for saved in shelf.find()] == ["{1}"]


_QUOTA = """
import resource, signal, sys
from pathlib import Path
from explorer.shelf import Shelf, ShelfError
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (600_000, 600_000))
shelf = Shelf(Path(sys.argv[1]))
kept = 0
try:
    for place in range(1000):
        shelf.put(f"piece {place}", f"{place}" * 9_000)
        kept += 1
except ShelfError as error:
    assert "cannot be used" in str(error), error
    print(kept)
"""


def test_a_quota_costs_no_piece(tmp_path: Path) -> None:
    """The same as a full disk for whoever may mount none: no file grows beyond a size."""
    path = tmp_path / "shelf.sqlite3"
    done = subprocess.run(
        [sys.executable, "-c", _QUOTA, str(path)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stderr == ""
    kept = int(done.stdout)
    assert kept > 3
    documents = [saved.document for saved in Shelf(path).find()]
    assert sorted(documents) == sorted(f"{place}" * 9_000 for place in range(kept))
