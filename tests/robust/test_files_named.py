"""Files that a maker names: one reader, bounded, regular files only; whatever else says why."""

import ast
import json
import os
import signal
import socket
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from explorer.__main__ import main
from explorer.commands.files import read_bytes, read_text
from explorer.errors import BriefError
from gallery.files import to_png

ROOT = Path(__file__).resolve().parents[2]
PIECE = ROOT / "tests" / "reference" / "pieces" / "v1-proposed.json"
# Every way to name a file to be read; FILE stands for it.
CALLS = {
    "judge": "judge FILE",
    "sheet": "sheet FILE --out made.pdf",
    "picture": "picture FILE --out made.png",
    "kit": "kit FILE --out made",
    "kit's tray": "kit roster.csv --tray FILE --out made",
    "like": "propose --snug 214 --like FILE --count 1",
    "tray": "propose --snug 214 --tray FILE --count 1",
    "palette's tray": "palette --free --tray FILE",
    "photograph": "palette FILE",
    "import": "shelf import FILE",
}
# Where opening and reading may stand, with what it is there.
MAY_OPEN = {
    "explorer/commands/files.py": {"os.open", "os.read"},  # the reader
    "explorer/command_line.py": {"os.open"},  # nowhere, for output that nobody reads
    "palettes/charts.py": {"read_text", "np.loadtxt"},  # what comes with the program
    "palettes/choose_clique.py": {"self._demands.open"},  # no file
    "gallery/files.py": {"Image.open", "os.fdopen", "os.open"},  # pictures of ours; the writer
    "gallery/photos.py": {"Image.open"},  # bytes that were read
    "gallery/photo_jpeg.py": {"Image.open"},  # the same
    "explorer/commands/own_output.py": {"os.open"},  # nowhere, for what others print
    "explorer/commands/file_set.py": {"shutil.copy2"},  # files of ours, into their place
    "explorer/shelf_carving.py": {"read_bytes"},  # the shelf's file, past SQLite
    "explorer/shelf_rescue.py": {"shutil.copyfile"},  # the same
    "explorer/shelf_file.py": {"shutil.copyfile"},  # the shelf's file and log, to read them aside
    "explorer/shelf_archive.py": {"zipfile.ZipFile", "self._archive.open"},  # the same
    "explorer/app/class_kit.py": {"zipfile.ZipFile"},  # written in memory
    "explorer/app/views/handing_on.py": {"read_text"},  # the pages' own parts, from here on
    "explorer/app/views/neighbours.py": {"read_text"},
    "explorer/app/parts/photo.py": {"read_text"},
    "explorer/app/parts/sight.py": {"read_text"},
    "explorer/app/parts/choices.py": {"read_text"},
    "explorer/app/parts/plot.py": {"read_text"},
    "explorer/app/parts/profile_editor.py": {"read_text"},
    "explorer/app/parts/picture.py": {"read_text"},
    "explorer/app/parts/tradeoff.py": {"read_text"},
    "explorer/app/parts/walk.py": {"read_text"},
    "explorer/app/parts/steps_queue.py": {"read_text"},
    "explorer/app/parts/style.py": {"read_text"},
}
READS = {
    "open", "read_text", "read_bytes", "fdopen", "ZipFile", "loadtxt", "genfromtxt", "fromfile",
    "memmap", "mmap", "imread", "copyfile", "copyfileobj", "FileIO", "FileInput",
}  # fmt: skip
READS_OF = {("np", "load"), ("os", "read"), ("shutil", "copy"), ("shutil", "copy2")}


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("explorer.commands.shelf.default_path", lambda: tmp_path / "s.sqlite3")
    (tmp_path / "roster.csv").write_text("name,snug\nMia,150\n", encoding="utf-8")
    return tmp_path


@pytest.fixture
def bounded() -> Iterator[None]:
    """No more memory than a gigabyte beyond what is held, and an alarm, so that a fault ends."""
    resource = pytest.importorskip("resource")
    if threading.current_thread() is not threading.main_thread() or sys.platform != "linux":
        pytest.skip("memory is bounded and alarms are set on Linux, in the main thread")
    held = int(Path("/proc/self/statm").read_text("ascii").split()[0]) * resource.getpagesize()
    before = resource.getrlimit(resource.RLIMIT_AS)

    def late(*_: object) -> None:
        raise AssertionError("it reads and reads")

    old = signal.signal(signal.SIGALRM, late)
    # Far more than a refusal takes, also on a busy machine.
    signal.alarm(60)
    resource.setrlimit(resource.RLIMIT_AS, (held + 1_000_000_000, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, before)
        signal.alarm(0)
        signal.signal(signal.SIGALRM, old)


def told(capsys: pytest.CaptureFixture[str], call: str, name: str) -> dict[str, str]:
    """The fault that a call ends in."""
    code = main([name if part == "FILE" else part for part in [*call.split(), "--json"]])
    error = json.loads(capsys.readouterr().out)["error"]
    assert code == 2, error
    assert isinstance(error, dict)
    return error


@pytest.mark.usefixtures("bounded")
@pytest.mark.parametrize("call", CALLS.values(), ids=CALLS)
def test_what_has_no_end_is_not_read(
    call: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pipe = here / "pipe"
    os.mkfifo(pipe)
    (here / "link").symlink_to("/dev/zero")
    with socket.socket(socket.AF_UNIX) as listening:
        listening.bind("socket")
        for name in (str(pipe), "socket", "/dev/urandom", "/dev/zero", "link", "/dev/null"):
            error = told(capsys, call, name)
            assert "regular file" in error["wanted"], name
            assert error["got"] == name
            assert error["remedy"]


@pytest.mark.parametrize("call", CALLS.values(), ids=CALLS)
def test_what_is_no_file_to_use_says_so(
    call: str, here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "empty").touch()
    with (here / "huge").open("wb") as file:
        # Three gigabytes that take no room: a file of holes.
        file.truncate(3_000_000_000)
    assert "empty" in told(capsys, call, "empty")["wanted"]
    assert "at most" in told(capsys, call, "huge")["wanted"]
    assert "folder" in told(capsys, call, ".")["wanted"]
    for name in ("none", "a\0b", "\udcff" * 300, ""):
        error = told(capsys, call, name)
        assert "can be read" in error["wanted"]
        assert "Errno" not in error["wanted"]
    left = {path.name for path in here.iterdir() if "sqlite" not in path.name}
    assert left == {"empty", "huge", "roster.csv"}


def test_a_file_that_grows_or_lies_is_read_no_farther_than_allowed(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.write_bytes(b"12345")
    assert read_bytes(str(path), "piece", 5) == b"12345"
    with pytest.raises(BriefError, match="at most"):
        read_bytes(str(path), "piece", 4)
    if Path("/proc/self/maps").exists():
        # Linux says of it that it is empty; proc(5).
        assert Path("/proc/self/maps").stat().st_size == 0
        with pytest.raises(BriefError, match="at most"):
            read_bytes("/proc/self/maps", "piece", 100)


def test_links_are_followed_and_marks_of_an_encoding_left_out(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"\xef\xbb\xbfname\r\nMia\x1a")
    link = tmp_path / "b.txt"
    try:
        link.symlink_to("a.txt")
    except OSError:
        pytest.skip("no links here")
    assert read_text(str(link), "roster", 100) == "name\r\nMia\x1a"
    (tmp_path / "a.txt").write_bytes(b"\xff\xfe")
    with pytest.raises(BriefError, match="UTF-8"):
        read_text(str(link), "roster", 100)


def test_files_that_are_files_are_taken(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (here / "p.png").write_bytes(to_png(np.full((8, 8, 3), 77, dtype=np.uint8)))
    (here / "piece.json").symlink_to(PIECE)
    for call in ("palette p.png --size 1", "judge piece.json", "shelf import piece.json"):
        assert main([*call.split(), "--json"]) == 0, capsys.readouterr().out


def opened(path: Path) -> Iterator[str]:
    """What a source calls to open or read files; ``read_bytes`` by itself is the reader."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        words = ast.unparse(node.func)
        owner, _, name = words.rpartition(".")
        if words in ("read_text", "read_bytes"):
            continue
        if name in READS or (owner, name) in READS_OF:
            # Whose text is read may be spelled in many ways.
            yield name if name.startswith("read_") else words


def test_files_are_read_through_one_door() -> None:
    found = {
        path.relative_to(ROOT).as_posix(): set(opened(path))
        for package in ("palettes", "gallery", "explorer")
        for path in sorted((ROOT / package).rglob("*.py"))
    }
    assert {path: calls for path, calls in found.items() if calls} == MAY_OPEN
