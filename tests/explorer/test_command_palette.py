"""``danglewise palette``: every source on the command line, and pieces made of tray beads only."""

import io
import json
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from skimage import data

from explorer.__main__ import main
from explorer.brief import Brief, Strip, Wearer
from explorer.commands.watching import Watching
from explorer.propose import Proposals, propose
from palettes.beads import BeadKind
from palettes.charts import bead_kinds, parse_palette
from palettes.choose_from import Request, from_mood, from_photo, from_picks
from palettes.choose_picked import Picked
from palettes.choose_watch import Sofar
from palettes.lights import Light
from palettes.moods import moods
from palettes.spaces import hexes_to_srgb1
from palettes.tray import Tray, taken_off
from palettes.tray_files import starter_tray
from palettes.tray_write import write_tray
from palettes.viewing import conditions, worst_matrix
from palettes.vision import Sight, Viewer

Capture = pytest.CaptureFixture[str]
EYES = ("typical", "protan", "deutan", "tritan")


def asked(capsys: Capture, *arguments: str) -> dict[str, Any]:
    code = main(["palette", *arguments, "--json"])
    captured = capsys.readouterr()
    assert code == 0, captured.out
    document = json.loads(captured.out)
    assert isinstance(document, dict)
    assert main(["palette", *arguments]) == 0
    assert document["colours"][0]["hex"] in capsys.readouterr().out
    return document


def refused(capsys: Capture, *arguments: str) -> dict[str, str]:
    code = main(["palette", *arguments, "--json"])
    captured = capsys.readouterr()
    assert code == 2, captured.out
    error: dict[str, str] = json.loads(captured.out)["error"]
    assert all(error[part] for part in ("field", "wanted", "remedy")), error
    return error


def picture(name: str) -> NDArray[np.uint8]:
    """A photograph of the scikit-image wheel."""
    return np.asarray(getattr(data, name)(), dtype=np.uint8)


@pytest.fixture
def photo(tmp_path: Path) -> str:
    path = tmp_path / "cup.jpg"
    Image.fromarray(picture("coffee")).save(path)
    return str(path)


@pytest.fixture
def tray_file(tmp_path: Path) -> str:
    path = tmp_path / "mine.csv"
    path.write_bytes(write_tray(starter_tray()))
    return str(path)


def check(document: dict[str, Any], size: int, *, beads: bool) -> None:
    colours = document["colours"]
    assert len(colours) == size
    for colour in colours:
        assert {"hex", "name", "finish"} <= set(colour)
        assert ("bead" in colour) == beads
    srgb1 = hexes_to_srgb1([colour["hex"] for colour in colours])
    for name, value in document["weakest_by_view"].items():
        look = conditions([Viewer(sight=Sight(name))], [Light.DAYLIGHT])
        upper = worst_matrix(srgb1, look)[np.triu_indices(size, 1)]
        assert value == pytest.approx(upper.min())
    assert document["weakest"] == pytest.approx(min(document["weakest_by_view"].values()))


def test_free(capsys: Capture) -> None:
    found = asked(capsys, "--free", "--size", "5")
    check(found, 5, beads=False)
    assert set(found["weakest_by_view"]) == set(EYES)
    assert (found["proven"], found["bound"]) == (False, None)
    assert found["brief"]["seed"] == 1
    assert found == asked(capsys, "--free", "--size", "5", "--seed", "1")
    assert found["colours"] != asked(capsys, "--free", "--size", "5", "--seed", "2")["colours"]


def test_free_from_a_tray_is_proved(capsys: Capture, tray_file: str) -> None:
    found = asked(capsys, "--free", "--tray", tray_file, "--kind", "round 8/0")
    check(found, 6, beads=True)
    assert found["proven"] is True
    assert found["bound"] == pytest.approx(found["weakest"])
    assert found["colours"][0]["bead"]["kind"] == "round 8/0"
    assert found["colours"] == asked(capsys, "--free", "--starter")["colours"]
    thrifty = ("--budget", "2,00", "--each", "100", "--one-per-finish", "--size", "4")
    few = asked(capsys, "--free", "--starter", *thrifty)
    assert len({colour["finish"] for colour in few["colours"]}) == 4
    assert few["weakest"] <= found["weakest"] + 20.0


def test_a_mood(capsys: Capture, tray_file: str) -> None:
    check(asked(capsys, "--mood", "summer", "--tray", tray_file), 6, beads=True)
    free = asked(capsys, "--mood", "Nightfall", "--size", "4")
    check(free, 4, beads=False)
    assert {colour["region"] for colour in free["colours"]} >= {"night"}


def test_a_few_picks(capsys: Capture, tray_file: str) -> None:
    found = asked(capsys, "--from", "f36,36f,fd3", "--tray", tray_file)
    check(found, 6, beads=True)
    wanted = {colour["wanted"] for colour in found["colours"] if "wanted" in colour}
    assert wanted == {"#ff3366", "#3366ff", "#ffdd33"}
    assert all(c["difference"] > 0.0 for c in found["colours"] if "wanted" in c)
    triad = asked(capsys, "--from", "f36", "--scheme", "split-complement")
    check(triad, 6, beads=False)
    assert "#ff3366" in {colour["hex"] for colour in triad["colours"]}


def test_a_photograph(capsys: Capture, photo: str, tray_file: str) -> None:
    found = asked(capsys, photo, "--size", "5")
    check(found, 5, beads=False)
    assert sum(colour["share"] for colour in found["colours"]) == pytest.approx(1.0)
    assert all(0.0 <= part <= 1.0 for colour in found["colours"] for part in colour["at"])
    beads = asked(capsys, photo, "--size", "5", "--tray", tray_file)
    check(beads, 5, beads=True)
    assert [c["wanted"] for c in beads["colours"]] == [c["hex"] for c in found["colours"]]


def test_written_files_are_read_again(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "kept.toml"
    found = asked(capsys, "--mood", "autumn", "--starter", "--out", str(path))
    kept = parse_palette(path.read_text("utf-8"), "kept.toml")
    assert [(s.hex, s.name, s.finish.value) for s in kept.swatches] == [
        (c["hex"], c["name"], c["finish"]) for c in found["colours"]
    ]
    asked(capsys, "--mood", "autumn", "--starter", "--out", str(tmp_path / "kept.gpl"))
    assert (tmp_path / "kept.gpl").read_text().startswith("GIMP Palette\n")
    assert refused(capsys, "--free", "--out", str(tmp_path / "kept.xyz"))["field"] == "out"
    (tmp_path / "file").write_text("")
    assert refused(capsys, "--free", "--out", str(tmp_path / "file" / "x.toml"))["field"] == "out"


def test_what_is_wrong_is_named(capsys: Capture, tmp_path: Path) -> None:
    assert "--mood" in refused(capsys)["wanted"]
    assert refused(capsys, "--free", "--mood", "summer")["got"] == "mood and free"
    assert "summer" in refused(capsys, "--mood", "grumpy")["wanted"]
    assert refused(capsys, "--free", "--scheme", "triad")["field"] == "scheme"
    assert "triad" in refused(capsys, "--from", "f00", "--scheme", "nine")["wanted"]
    assert refused(capsys, "--from", "777", "--scheme", "triad")["field"] == "from"
    assert refused(capsys, "--from", "f00,f00")["field"] == "from"
    assert refused(capsys, "--from", "f00,0f0,00f,ff0")["field"] == "from"
    assert refused(capsys, "--from", "f00,0f0", "--size", "1")["field"] == "from"
    assert refused(capsys, "--from", "red")["field"] == "from"
    assert refused(capsys, "--free", "--size", "99")["field"] == "size"
    assert refused(capsys, "--free", "--budget", "3")["field"] == "budget"
    assert refused(capsys, "--free", "--starter", "--budget", "lots")["field"] == "budget"
    assert refused(capsys, "--free", "--starter", "--tray", "x.csv")["field"] == "tray"
    assert refused(capsys, "--free", "--starter", "--each", "999999")["field"] == "tray"
    assert refused(capsys, "--free", "--starter", "--kind", "drop 3.4")["field"] == "kind"
    assert refused(capsys, "--free", "--see", "cats")["field"] == "see"
    assert refused(capsys, str(tmp_path / "none.jpg"))["field"] == "photo"
    assert refused(capsys, "--free", "--tray", str(tmp_path / "none.csv"))
    heic = tmp_path / "a.heic"
    heic.write_bytes(b"\0\0\0\x18ftypheic" + bytes(50))
    assert "JPEG" in refused(capsys, str(heic))["remedy"]
    words = tmp_path / "words.jpg"
    words.write_text("no picture")
    assert refused(capsys, str(words))["got"] == str(words)
    empty = tmp_path / "clear.png"
    Image.new("RGBA", (4, 4), (0, 0, 0, 0)).save(empty)
    assert refused(capsys, str(empty))["field"] == "photo"


def test_bad_rows_are_named_and_good_ones_kept_only_on_request(
    capsys: Capture, tmp_path: Path
) -> None:
    path = tmp_path / "bad.csv"
    rows = [f"bead {i},round 8/0,#{i * 1111111 % 0xFFFFFF:06x}" for i in range(20)]
    path.write_text("name;kind;colour\n".replace(";", ",") + "\n".join([*rows, "=x,round,#12"]))
    error = refused(capsys, "--free", "--tray", str(path))
    assert error["got"] == "row 22, column kind"
    assert "column colour" in error["wanted"]
    assert "\x1b" not in json.dumps(error)
    found = asked(capsys, "--free", "--tray", str(path), "--keep-good", "--size", "3")
    check(found, 3, beads=True)


def test_names_that_move_a_cursor_do_not(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "odd.csv"
    path.write_text("name,kind,colour\n\x1b[2J<b>x,round 8/0,#ff0000\n=1+1,round 8/0,#0000ff\n")
    assert main(["palette", "--free", "--tray", str(path), "--size", "2"]) == 0
    assert "\x1b" not in capsys.readouterr().out


def brief_of(picked: Picked, kind: BeadKind, tray: Tray) -> Brief:
    """A brief in the palette's beads; base and divider beads are of the tray, too."""
    cube = tray.of_kind(bead_kinds()["cube 3"]).beads
    colours = tuple(colour.bead for colour in picked.colours if colour.bead is not None)
    assert len(colours) == len(picked.colours)
    assert all(bead.kind == kind for bead in colours)
    stock = Tray(beads=colours).stocks
    return Brief(
        wearer=Wearer(snug_mm=214.0, ease_mm=10.0),
        strip=Strip(base=bead_kinds()["cube 3"]),
        colours=tuple(bead.bead for bead in colours),
        base_bead=cube[1].bead,
        divider_bead=colours[0].bead,
        stock=stock,
        keep_palette=True,
        count=2,
    )


def test_photo_mood_and_picks_each_end_in_a_piece_of_tray_beads_only() -> None:
    tray, kind = starter_tray(), bead_kinds()["round 8/0"]
    at_hand = {bead.bead for bead in tray.beads}
    request = Request(
        size=5,
        looks=conditions([Viewer(sight=Sight(eyes)) for eyes in EYES], [Light.DAYLIGHT]),
        tray=tray.of_kind(kind),
        beads_each=60,
    )
    rng = np.random.default_rng(1)
    for picked in (
        from_photo(request, picture("astronaut"), rng),
        from_mood(request, moods()["summer"], rng),
        from_picks(request, ("#ff4fa3", "#30c0ff", "#ffe14d"), rng),
    ):
        assert isinstance(picked, Picked)
        found = propose(brief_of(picked, kind, tray))
        assert isinstance(found, Proposals)
        assert found.proposals
        for proposal in found.proposals:
            assert set(proposal.design.beads) <= at_hand
            # Every colour that was found is in the piece.
            assert {c.bead.bead for c in picked.colours if c.bead} <= set(proposal.design.beads)
            used = [tray.beads.index(c.bead) for c in picked.colours if c.bead]
            assert isinstance(taken_off(tray, dict.fromkeys(used, 60)), Tray)


def test_a_palette_needs_neither_the_app_nor_spectra() -> None:
    code = (
        "import sys\nfrom explorer.__main__ import main\n"
        "main(['palette', '--free', '--size', '3'])\n"
        "print(sorted({'streamlit', 'colour'} & set(sys.modules)))"
    )
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=root, check=False
    )
    assert done.stdout.splitlines()[-1] == "[]", done.stderr


class Screen(io.StringIO):
    """What a person sees of it."""

    def isatty(self) -> bool:
        return True


def test_a_person_sees_how_a_search_stands_and_others_do_not(
    monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    assert main(["palette", "--free", "--starter"]) == 0
    assert capsys.readouterr().err == ""
    screen = Screen()
    monkeypatch.setattr(sys, "stderr", screen)
    assert main(["palette", "--free", "--starter"]) == 0
    shown = screen.getvalue().split("\r")
    assert "best so far: difference" in shown[1]
    assert "Ctrl+C" in shown[1]
    # Nothing of it is left over, and no line is wider than a screen of 80.
    assert shown[-2].strip() == shown[-1] == ""
    assert max(map(len, shown)) < 80
    assert len(shown[-2]) == len(shown[-3])


def test_ctrl_c_keeps_the_best_and_says_that_nothing_is_proved(
    monkeypatch: pytest.MonkeyPatch, capsys: Capture, tmp_path: Path
) -> None:
    class Pressed(Watching):
        def __call__(self, sofar: Sofar) -> bool:
            if super().__call__(sofar) and sofar.reached is not None:
                signal.raise_signal(signal.SIGINT)
            return super().__call__(sofar)

    monkeypatch.setattr("explorer.commands.palette.Watching", Pressed)
    out = tmp_path / "kept.toml"
    for source in (["--free", "--starter"], ["--from", "f36", "--starter"], ["--mood", "summer"]):
        assert main(["palette", *source, "--json", "--out", str(out)]) == 0
        found = json.loads(capsys.readouterr().out)
        assert len(found["colours"]) == 6
        assert (found["stopped"], found["proven"]) == (True, False)
        kept = parse_palette(out.read_text("utf-8"), "kept.toml")
        assert kept.hexes == tuple(colour["hex"] for colour in found["colours"])
        assert main(["palette", *source]) == 0
        told = capsys.readouterr().out
        assert "ended early: the best found so far, not proved" in told
        assert "(proved)" not in told
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_ctrl_c_ends_it_where_there_is_no_answer_yet_and_at_the_second_press(
    monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    class Early(Watching):
        def __call__(self, sofar: Sofar) -> bool:
            signal.raise_signal(signal.SIGINT)
            return super().__call__(sofar)

    class Twice(Watching):
        def __call__(self, sofar: Sofar) -> bool:
            super().__call__(sofar)
            signal.raise_signal(signal.SIGINT)
            signal.raise_signal(signal.SIGINT)
            return True

    for pressed in (Early, Twice):
        monkeypatch.setattr("explorer.commands.palette.Watching", pressed)
        assert main(["palette", "--free", "--starter", "--json"]) == 130
        assert capsys.readouterr().out == ""
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_a_limit_on_steps_gives_the_same_answer_each_time(capsys: Capture, tmp_path: Path) -> None:
    rows = np.random.default_rng(4).integers(0, 256, (1200, 3))
    path = tmp_path / "many.csv"
    lines = (f"Bead {i},round 8/0,#{r:02x}{g:02x}{b:02x}" for i, (r, g, b) in enumerate(rows))
    path.write_text("name,kind,colour\n" + "\n".join(lines) + "\n", encoding="utf-8")
    few = asked(capsys, "--free", "--tray", str(path), "--steps", "50000")
    check(few, 6, beads=True)
    assert (few["brief"]["steps"], few["stopped"], few["proven"]) == (50000, True, False)
    assert few == asked(capsys, "--free", "--tray", str(path), "--steps", "50000")
    none = asked(capsys, "--free", "--tray", str(path), "--steps", "0")
    assert none["weakest"] <= few["weakest"]
    whole = asked(capsys, "--free", "--starter", "--steps", "1000000000")
    assert (whole["stopped"], whole["proven"]) == (False, True)
    for wrong in (["--free"], ["x.jpg"], ["--free", "--starter"]):
        assert refused(capsys, *wrong, "--steps", "-1")["field"] == "steps"
