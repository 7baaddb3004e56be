"""``danglewise kit``: its contract, its document against the schema, and bad rosters."""

import io
import json
from collections import Counter
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from pypdf import PdfReader

from explorer.__main__ import main

Capture = pytest.CaptureFixture[str]
DATA = Path(__file__).parent.parent.parent / "explorer" / "data"
SCHEMA = json.loads((DATA / "kit-1.schema.json").read_text("utf-8"))

ROSTER = """name,snug,ease,picks,colours
Mia,150 mm,10,,
Ολυμπία,148,10,Coral;Sea,
Мария,6 in,1/2 in,,
Zoë,15.2 cm,,2,
Mia,155,10,,
,,,,
"=HYPERLINK(""x"")",149,10,,
../../etc,151,10,Sun;Sea;Coral,
<b>Bob</b>,160,10,Plum,
李雷,147,10,4,
Nils,140-165,10,,
O'Neil,152,10,Coral,
7,158,10,Sun,
"""
TRAY = """name,kind,colour,finish,grams,count
Coral,round 8/0,#f0694f,opaque,,90
Sea,round 8/0,#2fa79b,opaque,20,
Sun,round 8/0,#f8cb3f,opaque,20,
Plum,round 8/0,#7a2f5c,opaque,20,
Night,cube 3,#1f2c44,opaque,60,
"""


def asked(capsys: Capture, *arguments: str) -> dict[str, Any]:
    code = main(["kit", *arguments, "--json"])
    captured = capsys.readouterr()
    assert code == 0, captured.out
    found: dict[str, Any] = json.loads(captured.out)
    return found


def refused(capsys: Capture, *arguments: str) -> dict[str, str]:
    assert main(["kit", *arguments, "--json"]) == 2
    error: dict[str, str] = json.loads(capsys.readouterr().out)["error"]
    return error


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "roster.csv").write_text(ROSTER, encoding="utf-8")
    (tmp_path / "tray.csv").write_text(TRAY, encoding="utf-8")
    return tmp_path


def test_twelve_learners_with_one_colour_short(capsys: Capture, folder: Path) -> None:
    out = folder / "out"
    before = set(folder.rglob("*"))
    found = asked(
        capsys, str(folder / "roster.csv"), "--tray", str(folder / "tray.csv"), "--out", str(out)
    )
    jsonschema.validate(found, SCHEMA)
    assert found.pop("changed") == [f"the folder {out} was made"]
    assert json.loads((out / "kit.json").read_text("utf-8")) == found
    learners, totals, short = found["learners"], found["totals"], found["short"]
    assert len(learners) == 12
    assert learners[4]["name"] == "Mia (2)"
    assert len(found["remarks"]) == 1

    # Totals are the sums of the learners', bead by bead.
    used: Counter[tuple[str, str]] = Counter()
    for learner in learners:
        for row in learner["counts"]["by_bead"]:
            used[row["name"], row["kind"]] += row["used"]
    assert {(t["bead"], t["kind"]): t["used"] for t in totals["by_bead"]} == dict(used)
    for key in ("base_beads", "dangle_beads", "total"):
        assert totals[key] == sum(learner["counts"][key] for learner in learners)
    assert totals["thread_mm"] == pytest.approx(sum(one["thread_mm"] for one in learners))

    # Ninety coral beads for all: shared out to the last, and nothing else is short.
    assert {lack["bead"] for lack in short} == {"Coral"}
    assert sum(lack["given"] for lack in short) == 90
    assert all(lack["lacking"] == lack["needed"] - lack["given"] for lack in short)
    lacking = [lack["given"] for lack in short if lack["lacking"]]
    assert max(lacking) - min(lacking) <= 1

    # Every sheet is its learner's, every label and the class page are there, and nothing else.
    written = {path.relative_to(folder).as_posix() for path in folder.rglob("*")} - {
        path.relative_to(folder).as_posix() for path in before
    }
    sheets = {f"out/sheet-{n:04d}.pdf" for n in range(1, 13)}
    assert written == {"out", "out/kit.json", "out/class.pdf", "out/labels.pdf", *sheets}
    for learner in learners[:2]:
        text = PdfReader(out / learner["sheet"]).pages[0].extract_text()
        assert learner["name"] in text
    labels = "".join(
        page.extract_text()
        for page in PdfReader(io.BytesIO((out / "labels.pdf").read_bytes())).pages
    )
    assert all(name in labels for name in ("Ολυμπία", "Мария", "<b>Bob</b>", "../../etc"))
    assert found["lacking"] == ["李", "雷"]


def test_a_kit_is_written_again_byte_for_byte(capsys: Capture, folder: Path) -> None:
    roster = folder / "short.csv"
    roster.write_text("Ada,150\nBo,161\n", encoding="utf-8")
    for name in ("one", "two"):
        asked(capsys, str(roster), "--out", str(folder / name), "--dated", "")
    for path in sorted((folder / "one").iterdir()):
        assert (folder / "two" / path.name).read_bytes() == path.read_bytes(), path.name


def test_bands_make_kits_for_whoever_comes(capsys: Capture, folder: Path) -> None:
    roster = folder / "one.csv"
    roster.write_text("Ada,150\n", encoding="utf-8")
    found = asked(
        capsys, str(roster), "--out", str(folder / "o"), "--band", "140 - 160 mm: 2", "--ease", "0"
    )
    assert [one["measured"] for one in found["learners"]] == [True, False, False]
    assert found["learners"][1]["fit"]["target_mm"] == 160.0


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["no-such.csv", "--out", "o"], "roster"),
        (["roster.csv"], "out"),
        (["roster.csv", "--out", "o"], "roster"),
        (["short.csv", "--out", "o", "--tray", "no-such.csv"], "tray"),
        (["short.csv", "--out", "o", "--band", "wide"], "band"),
        (["short.csv", "--out", "o", "--band", "150:0"], "band"),
        (["short.csv", "--out", "o", "--band", "150:1000"], "band"),
        (["short.csv", "--out", "o", "--colours-each", "0"], "colours-each"),
        (["short.csv", "--out", "o", "--colours-each", "12"], "picks"),
        (["short.csv", "--out", "o", "--palette", "none"], "palette"),
        (["short.csv", "--out", "o", "--ease", "300"], "ease"),
        (["short.csv", "--out", "o", "--hanging", "round 11/0", "--tray", "tray.csv"], "tray"),
        (["short.csv", "--out", "tray.csv"], "out"),
    ],
)
def test_every_fault_names_its_field(
    capsys: Capture, folder: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str], field: str
) -> None:
    monkeypatch.chdir(folder)
    (folder / "roster.csv").write_text("name,snug\nMia,wide\n", encoding="utf-8")
    (folder / "short.csv").write_text("Ada,150\n", encoding="utf-8")
    assert refused(capsys, *arguments)["field"] == field
    assert not (folder / "o").exists()


def test_a_roster_that_is_no_text_is_told(capsys: Capture, folder: Path) -> None:
    (folder / "roster.csv").write_bytes(b"\xff\xfe\x00name")
    assert refused(capsys, str(folder / "roster.csv"), "--out", "o")["field"] == "roster"


def test_the_schema_refuses_what_is_no_kit() -> None:
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"learners": []}, SCHEMA)


@pytest.mark.parametrize("command", ["kit", "sheet"])
def test_both_commands_have_help(command: str, capsys: Capture) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    assert "--letter" in capsys.readouterr().out
