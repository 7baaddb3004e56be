"""``danglewise picture``: its contract, every fault named, and nothing half-written."""

import json
import sys
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from explorer.__main__ import main
from explorer.picture_files import printed_size
from gallery import raster, true_size

BANDS = ", band by band"
Capture = pytest.CaptureFixture[str]
KEPT = str(Path(__file__).parent.parent / "reference" / "pieces" / "v1-proposed.json")


def answered(capsys: Capture, *arguments: str) -> tuple[int, dict[str, Any]]:
    code = main(["picture", *arguments, "--json"])
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return code, found


def test_a_picture_is_written_and_its_defaults_are_told(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "a b.png"
    code, found = answered(capsys, KEPT, "--out", str(out), "--longer", "500")
    assert code == 0
    with Image.open(out) as picture:
        assert max(picture.size) == 500
    assert found["bytes"] == out.stat().st_size
    assert found["brief"]["view"] == "strip"
    assert found["brief"]["use"] == "screen"
    assert found["brief"]["ground"] == "paper"
    assert found["brief"]["girth_mm"] > 0


def test_the_same_piece_gives_the_same_bytes(capsys: Capture, tmp_path: Path) -> None:
    for name in ("a.png", "b.png"):
        answered(capsys, KEPT, "--out", str(tmp_path / name), "--view", "worn", "--longer", "300")
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


@pytest.mark.parametrize(
    ("field", "more"),
    [
        ("view", ["--view", "sideways"]),
        ("use", ["--use", "wall"]),
        ("use", ["--view", "worn", "--use", "vector"]),
        ("ground", ["--ground", "grass"]),
        ("skin", ["--skin", "blue"]),
        ("girth", ["--girth", "-3in"]),
        ("girth", ["--girth", "40 m"]),
        ("view", ["--view", "worn", "--girth", "500 mm"]),
        ("longer", ["--longer", "nan"]),
        ("longer", ["--longer", "-5"]),
        ("longer", ["--longer", "1" * 400]),
        ("caption", ["--caption", "x" * 500]),
        ("caption", ["--caption", "a\x07b"]),
        ("out", ["--use", "vector"]),
    ],
)
def test_every_fault_is_named_and_nothing_is_written(
    capsys: Capture, tmp_path: Path, field: str, more: list[str]
) -> None:
    code, found = answered(capsys, KEPT, "--out", str(tmp_path / "p.png"), *more)
    assert code == 2
    assert found["error"]["field"] == field
    assert found["error"]["wanted"]
    assert found["error"]["remedy"]
    assert list(tmp_path.iterdir()) == []


def test_a_picture_at_true_size_tells_its_size(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "p.png"
    assert main(["picture", KEPT, "--out", str(out), "--use", "true-size"]) == 0
    told = capsys.readouterr().out
    with Image.open(out) as picture:
        wide, high = picture.size
    assert f"{wide * 25.4 / 300:.1f} x {high * 25.4 / 300:.1f} mm (" in told
    assert f"{wide} x {high} pixels" in told
    assert ("in parts" in told) == (wide * 25.4 / 300 > 297.0)
    long = b"\x89PNG" + bytes(12) + (12455).to_bytes(4, "big") + (449).to_bytes(4, "big")
    assert printed_size(long) == (
        "1054.5 x 38.0 mm (41.52 x 1.50 in), 12455 x 449 pixels; larger than a sheet of A4 or "
        "Letter paper: the making sheet prints the strip in parts"
    )


def test_signs_that_cannot_be_drawn_are_named(capsys: Capture, tmp_path: Path) -> None:
    out = ["--out", str(tmp_path / "p.png"), "--use", "square", "--caption"]
    code, found = answered(capsys, KEPT, *out, "For Zoë \U0001f469\u200d\U0001f467 \u200f")
    assert code == 2
    assert found["error"]["got"] == "\U0001f469, U+200D, \U0001f467, U+200F"
    assert "Shorten" not in found["error"]["remedy"]
    answered(capsys, KEPT, *out, "Für Zoë, 12 €")
    assert (tmp_path / "p.png").exists()


@pytest.mark.parametrize("use", ["screen", "square", "true-size", f"true-size{BANDS}"])
def test_who_waits_at_a_terminal_sees_how_far_it_is(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, use: str
) -> None:
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    if use.endswith(BANDS):
        monkeypatch.setattr(true_size, "_WHOLE_PIXELS", 0)
        monkeypatch.setattr(raster, "_HELD_BYTES", 1)
    monkeypatch.setattr(raster, "_BAND_PIXELS", 1)
    out = str(tmp_path / "p.png")
    assert main(["picture", KEPT, "--out", out, "--use", use.removesuffix(BANDS), "--json"]) == 0
    told, bars = capsys.readouterr()
    assert json.loads(told)["file"] == out
    assert bars.startswith("\r[")
    assert bars.endswith(f"\r[{'#' * 30}] 100 of 100\n")
    done = [int(bar.split()[-3]) for bar in bars.rstrip().split("\r")[1:]]
    assert len(set(done)) > 3
    assert done == sorted(done)
    assert done.count(100) == 1


def test_nothing_is_told_where_nobody_sees_it(capsys: Capture, tmp_path: Path) -> None:
    assert main(["picture", KEPT, "--out", str(tmp_path / "p.png"), "--longer", "300"]) == 0
    assert capsys.readouterr().err == ""


def test_a_place_that_cannot_be_written(capsys: Capture, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder")
    code, found = answered(capsys, KEPT, "--out", str(tmp_path / "file" / "p.png"))
    assert code == 2
    assert found["error"]["field"] == "out"
    assert (tmp_path / "file").read_text() == "not a folder"


@pytest.mark.parametrize(
    ("command", "work"),
    [
        ("picture", "explorer.commands.picture.picture_file"),
        ("sheet", "explorer.commands.sheet.sheet_facts"),
    ],
)
@pytest.mark.parametrize("name", ["file/p.png", "file/new/p.png", "folder.png", f"{'n' * 300}.png"])
def test_the_way_out_is_looked_at_before_the_work(
    capsys: Capture,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    work: str,
    name: str,
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("the work was begun")

    monkeypatch.setattr(work, never)
    (tmp_path / "file").write_text("not a folder")
    (tmp_path / "folder.png").mkdir()
    assert main([command, KEPT, "--out", str(tmp_path / name), "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["error"]["field"] == "out"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["file", "folder.png"]


def test_a_wrong_ending_is_said_before_the_work(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr("explorer.commands.picture.picture_file")
    code, found = answered(capsys, KEPT, "--out", str(tmp_path / "p.svg"))
    assert (code, found["error"]["field"]) == (2, "out")


def test_a_new_folder_is_made_only_for_what_is_written(capsys: Capture, tmp_path: Path) -> None:
    out = tmp_path / "new" / "more" / "p.png"
    code, _ = answered(capsys, KEPT, "--out", str(out), "--view", "worn", "--girth", "500 mm")
    assert code == 2
    assert list(tmp_path.iterdir()) == []
    code, _ = answered(capsys, KEPT, "--out", str(out), "--longer", "300")
    assert code == 0
    assert [one.name for one in out.parent.iterdir()] == ["p.png"]
