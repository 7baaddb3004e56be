"""What strange inputs once broke, each kept as a test of its own."""

import io
import json
import math
import os
import stat
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from explorer.__main__ import main
from explorer.app.cache_judging import close_up
from explorer.app.events import read_events
from explorer.app.kept import from_text
from explorer.design import build
from explorer.kit_roster import parse_roster
from explorer.layout import motif_scene
from explorer.piece import from_json
from explorer.shelf import Shelf
from gallery.files import check_place, write_bytes
from gallery.framing import BEAD_PX, PAGE_PX, drawable
from gallery.raster import size_px
from palettes.beads import Bead
from palettes.charts import bead_kinds, parse_palette
from palettes.errors import ChartError
from palettes.palette_files import parse_palette_text
from palettes.viewing import Condition
from tests.explorer.columns import with_columns
from tests.fuzz.doors import pieces, tables
from tests.fuzz.pictures import samples


@pytest.mark.parametrize(
    "text",
    ["a = " + "[" * 5000, "a = " + "[" * 900 + "]" * 900, "a = " + "9" * 5000],
    ids=["brackets", "closed brackets", "digits"],
)
def test_a_palette_of_brackets_or_digits_is_refused(text: str) -> None:
    with pytest.raises(ChartError, match="not valid TOML"):
        parse_palette(text, "a palette")


def test_a_picture_is_no_palette_though_its_bytes_look_like_a_colour() -> None:
    # The table of codes that a JPEG begins with (ITU-T T.81, annex K) holds 456789.
    picture = samples()[0].decode("utf-8", "replace")
    assert "456789" in picture
    with pytest.raises(ChartError, match="no text"):
        parse_palette_text(picture, "picture.jpg")


def _piece(change: Callable[[dict[str, Any]], None]) -> str:
    document = json.loads(pieces()[0])
    change(document)
    return json.dumps(document)


@pytest.mark.parametrize(
    ("change", "entry"),
    [
        (lambda d: d.update(name="Wren\ud800"), "name"),
        (lambda d: d["beads"][0].update(name="\udfff"), "name"),
        (lambda d: d.update(seed=10**4000), "seed"),
        (lambda d: d.update(seed=-1), "seed"),
        (lambda d: d["kinds"][0].update(diameter_mm=9e8), "the design"),
        (lambda d: d["kinds"][0].update(pitch_mm=5e-324), "the design"),
        (lambda d: d["kinds"][0].update(beads_per_gram=1e-300), "the design"),
    ],
    ids=["half a sign", "half a sign in a bead", "huge seed", "seed below 0", "huge bead",
         "no bead", "no weight"],
)  # fmt: skip
def test_a_piece_that_would_break_something_later_is_refused(
    change: Callable[[dict[str, Any]], None], entry: str
) -> None:
    with pytest.raises(ChartError) as caught:
        from_json(_piece(change))
    assert caught.value.entry == entry


def test_a_motif_as_large_as_a_table_is_drawn_small() -> None:
    kind = replace(bead_kinds()["round 8/0"], name="plate", diameter_mm=90.0, pitch_mm=90.0)
    beads = (Bead(name="a", kind=kind, hex="#102030"), Bead(name="b", kind=kind, hex="#d0c0b0"))
    design = build(
        beads=beads,
        base=0,
        base_pitch_mm=50.0,
        profiles=((3, *(10,) * 8),),
        order=(0, 1),
        divider_base_beads=1,
    )
    # At the usual scale of a close-up it would have more pixels than may be drawn.
    scene = motif_scene(design, 0, 2)
    with pytest.raises(ValueError, match="pixels are more than"):
        size_px(scene, 12.0)
    assert math.prod(size_px(scene, drawable(scene, 12.0))) <= 1.01 * PAGE_PX
    assert drawable(scene, 12.0) * 90.0 <= 1.01 * BEAD_PX
    assert drawable(scene, 0.1) == 0.1
    small = with_columns(design, motifs=tuple(motif[:1] for motif in design.motifs))
    scene = motif_scene(small, 0, 2)
    drawn = np.array(Image.open(io.BytesIO(close_up(small, 0, Condition(), None))))
    assert drawn.shape[0] <= scene.height_mm * BEAD_PX / 90.0 + 1


def test_a_number_that_nobody_counts_to_is_no_event() -> None:
    event = {"epoch": "e", "act": "paint", "id": "m0", "value": 1}
    assert read_events([{**event, "n": 10**400}], epoch="e", done=0) == ()
    assert read_events([{**event, "n": 1, "value": 2**60}], epoch="e", done=0) == ()
    assert len(read_events([{**event, "n": 1}], epoch="e", done=0)) == 1


def test_half_a_sign_in_a_roster_is_left_out_of_the_name() -> None:
    (learner,) = parse_roster("\ud800Wren;152 mm\n").learners
    assert learner.name == "Wren"


@pytest.mark.parametrize("key", ["dangles", "divider", "swatch_beads", "margin"])
@pytest.mark.parametrize("value", [-1, 10**400])
def test_a_table_whose_sizes_are_none_is_refused(key: str, value: int) -> None:
    document = json.loads(json.dumps(tables()[0]))
    document["sizing"].update({key: value, "swatch_length": "39.5 mm"})
    with pytest.raises(ChartError) as caught:
        from_text(json.dumps(document))
    assert caught.value.entry == key


@pytest.mark.parametrize("arguments", [["judge", "--json", "-1", "--"], ["--json", "-1"]])
def test_a_document_is_given_though_a_number_follows(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    captured = capsys.readouterr()
    assert json.loads(captured.out)["error"]["remedy"]
    assert captured.err == ""


def test_a_name_from_a_file_moves_no_cursor(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    shelf.put("Wren\x1b[2J\x9b2J\u202eneW", pieces()[0], who="\x07Ida")
    assert main(["shelf", "list", "--shelf", str(shelf.path)]) == 0
    listed = capsys.readouterr().out
    assert "Wren\ufffd[2J\ufffd2J\ufffdneW: for \ufffdIda" in listed
    assert main(["shelf", "list", "--shelf", str(shelf.path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["pieces"][0]["who"] == "\x07Ida"


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_place_behind_a_broken_link_is_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("loop").symlink_to("loop")
    Path("dangling").symlink_to("nowhere")
    Path("file").touch()
    Shelf(tmp_path / "shelf.sqlite3").put("Wren", pieces()[0])
    names = ("loop/new.sqlite3", "dangling/a/new.sqlite3", "file/new.sqlite3", "x" * 300, "a\0b")
    for name in names:
        with pytest.raises((OSError, ValueError)):
            check_place(Path(name))
        assert main(["shelf", "rescue", "shelf.sqlite3", "--out", name, "--json"]) == 2
        error = json.loads(capsys.readouterr().out)["error"]
        assert error["field"] == "out"
        assert "Errno" not in error["wanted"]
    assert not Path("nowhere").exists()


@pytest.mark.parametrize(
    "call",
    ["kit roster.csv --out", "palette photo.jpg --out", "shelf export --shelf shelf.sqlite3 --out",
     "shelf import piece.json --shelf", "gallery --out"],
)  # fmt: skip
@pytest.mark.parametrize("name", ["a\0b.toml", "a\0b.zip", "piece.json/under.toml"])
def test_a_name_that_no_file_can_have_is_no_place(
    call: str,
    name: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("roster.csv").write_text("Wren;152 mm\n", "utf-8")
    Path("photo.jpg").write_bytes(samples()[0])
    Path("piece.json").write_text(pieces()[0], "utf-8")
    Shelf(tmp_path / "shelf.sqlite3").put("Wren", pieces()[0])
    assert main([*call.split(), name, "--json"]) == 2
    error = json.loads(capsys.readouterr().out)["error"]
    assert error["got"] == name
    assert error["remedy"]
    assert "Errno" not in error["wanted"]


def test_a_shelf_whose_name_is_too_long_is_none(capsys: pytest.CaptureFixture[str]) -> None:
    for call in ("shelf --out new.sqlite3 rescue", "shelf list --shelf"):
        assert main([*call.split(), "x" * 300, "--json"]) == 2
        assert json.loads(capsys.readouterr().out)["error"]["field"] == "shelf"


@pytest.mark.parametrize("call", ["shelf list --shelf", "shelf --out new.sqlite3 rescue"])
def test_a_large_file_that_is_no_shelf_is_soon_known(
    call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("film").write_bytes(np.random.default_rng(1).bytes(20_000_000))
    with Path("holes").open("wb") as file:
        file.truncate(20_000_000)
    with Path("huge").open("wb") as file:
        file.truncate(3_000_000_000)
    # Processor time, which other work on the machine does not lengthen: it was minutes, and hours.
    begun = time.process_time()
    for name in ("film", "holes", "huge"):
        assert main([*call.split(), name, "--json"]) == 2
        assert json.loads(capsys.readouterr().out)["error"]["field"] == "shelf"
    assert time.process_time() - begun < 20.0


def test_a_palette_is_not_searched_for_before_its_place_is_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def searched(*_: object) -> None:
        raise AssertionError("a long search for nothing")

    monkeypatch.setattr("explorer.commands.palette.from_free", searched)
    for name in ("palette.txt", str(tmp_path)):
        assert main(["palette", "--free", "--out", name, "--json"]) == 2
        assert json.loads(capsys.readouterr().out)["error"]["field"] == "out"


@pytest.mark.skipif(sys.platform == "win32", reason="there are no such pipes and rights")
def test_what_is_no_file_is_neither_replaced_nor_made_private(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    os.mkfifo("pipe")
    Path("pipe").chmod(0o644)
    Path("folder").mkdir(mode=0o755)
    Path("piece.json").write_text(pieces()[0], "utf-8")
    for name in ("pipe", "folder"):
        mode = Path(name).stat().st_mode
        for write in (check_place, lambda path: write_bytes(path, b"x")):
            with pytest.raises(OSError, match=r"pipe|directory"):
                write(Path(name))
        for call in ("sheet piece.json --out", "shelf import piece.json --shelf"):
            assert main([*call.split(), name, "--json"]) == 2
            assert json.loads(capsys.readouterr().out)["error"]["got"] == name
        assert Path(name).stat().st_mode == mode
    assert stat.S_ISFIFO(Path("pipe").stat().st_mode)
    assert {path.name for path in tmp_path.iterdir()} == {"pipe", "folder", "piece.json"}
