"""Files that belong together are all written, or none of them is; what was there is told."""

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from explorer.__main__ import main
from explorer.commands.file_set import together
from explorer.errors import BriefError
from explorer.shelf import Shelf

ROSTER = "name,snug\nMia,150\nZoe,152\nNils,160\n"
COMMANDS = {
    "kit": ["kit", "roster.csv", "--out", "new/out"],
    "propose": [
        "propose", "--snug", "150", "--palette", "rockpool", "--count", "3", "--out", "new/out",
    ],
    "gallery": ["gallery", "--out", "new/out"],
}  # fmt: skip

PIECE = Path(__file__).parents[2] / "gallery" / "examples" / "tide-anklet.json"
# Every way to write files, with the folder or file that it writes and what is said the second time.
WRITES = {
    "palette --from d7263d --size 3": "a/made.toml",
    "picture PIECE": "a/made.png",
    "sheet PIECE": "a/made.pdf",
    "change PIECE swap 1 2": "a/made.json",
    "propose --snug 150 --palette rockpool --count 1": "a",
    "kit roster.csv": "a",
    "shelf export --shelf s.sqlite3": "a/made.zip",
}


@pytest.fixture
def full_after(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """Makes the disk full when so many files have been written."""

    def begin(files: int) -> None:
        written = [0]

        def fsync(_: int) -> None:
            written[0] += 1
            if written[0] > files:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        monkeypatch.setattr(os, "fsync", fsync)

    return begin


def put_all(folder: Path, content: bytes, *names: str) -> None:
    with together(str(folder)) as files:
        for name in names:
            files.put(name, content)


@pytest.mark.parametrize("command", COMMANDS)
def test_a_disk_that_gets_full_leaves_no_part_of_a_set(
    command: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    full_after: Callable[[int], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("roster.csv").write_text(ROSTER, "utf-8")
    full_after(2)
    assert main(COMMANDS[command]) == 2
    told = capsys.readouterr().err
    assert told.startswith("out: got")
    assert "No space left" in told
    assert "new" in told
    assert ".danglewise" not in told
    assert [path.name for path in tmp_path.rglob("*")] == ["roster.csv"]


@pytest.mark.parametrize("out", ["file", "file/new", "folder", f"{'n' * 300}"])
@pytest.mark.parametrize("command", ["kit", "propose"])
def test_the_folder_is_looked_at_before_the_work(
    command: str,
    out: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("the work was begun")

    work = {"kit": "make_kit", "propose": "propose"}[command]
    monkeypatch.setattr(f"explorer.commands.{command}.{work}", never)
    monkeypatch.chdir(tmp_path)
    Path("roster.csv").write_text(ROSTER, "utf-8")
    Path("file").write_text("no folder")
    # A folder stands where a file of the set belongs.
    for name in ("kit.json", "proposals.json"):
        Path("folder", name).mkdir(parents=True)
    before = sorted(tmp_path.rglob("*"))
    assert main([*COMMANDS[command][:-1], out]) == 2
    assert capsys.readouterr().err.startswith("out: got")
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("name", ["folder.toml", "a\0b.toml", "palette.txt", f"{'n' * 300}.gpl"])
def test_a_palette_s_file_is_looked_at_before_the_search(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.delattr("explorer.commands.palette._found")
    (tmp_path / "folder.toml").mkdir()
    assert main(["palette", "--free", "--out", str(tmp_path / name)]) == 2
    assert capsys.readouterr().err.startswith("out: got")
    assert [one.name for one in tmp_path.rglob("*")] == ["folder.toml"]


def test_a_set_that_cannot_be_whole_leaves_the_last_one_as_it_was(
    tmp_path: Path, full_after: Callable[[int], None]
) -> None:
    put_all(tmp_path, b"first", "a.txt", "b.txt")
    full_after(1)
    with pytest.raises(BriefError, match="No space"):
        put_all(tmp_path, b"second", "a.txt", "b.txt")
    found = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert found == {"a.txt": b"first", "b.txt": b"first"}


def test_what_cannot_be_moved_into_place_takes_nothing_else_along(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"first")
    (tmp_path / "c.txt").mkdir()
    with pytest.raises(BriefError, match="directory"):
        put_all(tmp_path, b"second", "a.txt", "b.txt", "c.txt")
    assert (tmp_path / "a.txt").read_bytes() == b"first"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.txt", "c.txt"]


def test_a_set_stands_beside_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_bytes(b"mine")
    (tmp_path / "a.txt").write_bytes(b"first")
    put_all(tmp_path, b"second", "a.txt", "b.txt")
    found = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert found == {"mine.txt": b"mine", "a.txt": b"second", "b.txt": b"second"}


@pytest.mark.parametrize(("command", "out"), WRITES.items())
def test_what_was_there_and_was_replaced_is_told(
    command: str,
    out: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("roster.csv").write_text(ROSTER, "utf-8")
    Shelf(Path("s.sqlite3")).put("Tide", PIECE.read_text("utf-8"))
    words = (str(PIECE) if word == "PIECE" else word for word in command.split())
    typed = [*words, "--out", out]
    assert main([*typed, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["changed"] == [f"the folder {Path('a')} was made"]
    if out == "a":
        names = sorted(path.name for path in Path(out).iterdir())
        told = f"{len(names)} files in a were there and were replaced: "
    else:
        told = f"{Path(out)} was there and was replaced"
    assert main(typed) == 0
    assert f"\n{told}" in capsys.readouterr().out
    Path(out, names[0]).unlink() if out == "a" else Path(out).write_bytes(b"mine")
    assert main([*typed, "--json"]) == 0
    (words,) = json.loads(capsys.readouterr().out)["changed"]
    if out == "a":
        assert words.startswith(f"{len(names) - 1} files in a were there and were replaced: ")
        assert names[0] not in words.split(": ")[1].split(", ")
    else:
        assert words == told


def test_of_many_replaced_files_some_are_named(tmp_path: Path) -> None:
    names = [f"{n}.txt" for n in range(8)]
    put_all(tmp_path, b"first", *names)
    with together(str(tmp_path)) as files:
        for name in names:
            files.put(name, b"second")
    assert files.changed == (
        (
            f"8 files in {tmp_path} were there and were replaced: "
            "0.txt, 1.txt, 2.txt, 3.txt, 4.txt, 5.txt and 2 more"
        ),
    )


def test_a_stopped_set_leaves_nothing(tmp_path: Path) -> None:
    def stopped() -> None:
        with together(str(tmp_path / "x" / "y")) as files:
            files.put("a.txt", b"half")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert list(tmp_path.iterdir()) == []
