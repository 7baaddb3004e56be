"""``danglewise sheet``: its contract, bad pieces, and files that cannot be written."""

import io
import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from explorer.__main__ import main
from explorer.counts import counts
from explorer.piece import from_json
from explorer.share import from_code

Capture = pytest.CaptureFixture[str]
KEPT = Path(__file__).parent.parent / "reference" / "pieces" / "v1-proposed.json"


def asked(capsys: Capture, *arguments: str) -> dict[str, Any]:
    code = main(["sheet", *arguments, "--json"])
    captured = capsys.readouterr()
    assert code == 0, captured.out
    found: dict[str, Any] = json.loads(captured.out)
    return found


def refused(capsys: Capture, *arguments: str) -> dict[str, str]:
    assert main(["sheet", *arguments, "--json"]) == 2
    captured = capsys.readouterr()
    error: dict[str, str] = json.loads(captured.out)["error"]
    assert set(error) == {"field", "got", "wanted", "remedy"}
    return error


@pytest.mark.parametrize(("more", "paper"), [([], (210.0, 297.0)), (["--letter"], (215.9, 279.4))])
def test_a_sheet_is_written_on_the_paper_asked_for(
    capsys: Capture, tmp_path: Path, more: list[str], paper: tuple[float, float]
) -> None:
    out = tmp_path / "s.pdf"
    found = asked(capsys, str(KEPT), "--out", str(out), "--dated", "2026-11-25", *more)
    reader = PdfReader(io.BytesIO(out.read_bytes()))
    assert found["pages"] == len(reader.pages)
    box = reader.pages[0].mediabox
    sides = (float(box.width) * 25.4 / 72.0, float(box.height) * 25.4 / 72.0)
    assert sides == pytest.approx(paper, abs=0.01)
    design = from_json(KEPT.read_text("utf-8")).design
    assert found["counts"]["total"] == counts(design).total
    assert from_code(found["link"]).design == design
    foot = reader.pages[-1].extract_text()
    assert "2026-11-25" in foot
    assert "seed 1" in foot


def test_a_sheet_is_written_again_byte_for_byte(capsys: Capture, tmp_path: Path) -> None:
    for name in ("a.pdf", "b.pdf"):
        asked(capsys, str(KEPT), "--out", str(tmp_path / name), "--dated", "")
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_without_a_date_today_is_printed(capsys: Capture, tmp_path: Path) -> None:
    found = asked(capsys, str(KEPT), "--out", str(tmp_path / "s.pdf"))
    assert found["brief"]["dated"].count("-") == 2


def test_the_code_can_be_left_out(capsys: Capture, tmp_path: Path) -> None:
    found = asked(capsys, str(KEPT), "--out", str(tmp_path / "s.pdf"), "--no-code")
    assert found["link"] is None


def broken(tmp_path: Path, change: dict[str, Any]) -> str:
    document = json.loads(KEPT.read_text("utf-8")) | change
    path = tmp_path / "piece.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    return str(path)


@pytest.mark.parametrize(
    "change",
    [
        {"danglewise_piece": 99},
        {"base_pitch_mm": "wide"},
        {"motifs": []},
        {"beads": [{"name": "x", "kind": "none", "hex": "#000000", "finish": "opaque"}]},
        {"wearer": {"snug_mm": -1}},
    ],
)
def test_a_piece_of_the_future_or_changed_by_hand_is_refused(
    capsys: Capture, tmp_path: Path, change: dict[str, Any]
) -> None:
    out = tmp_path / "s.pdf"
    path = broken(tmp_path, change)
    assert refused(capsys, path, "--out", str(out))["field"] == path
    assert not out.exists()


def test_a_piece_cut_short_is_refused(capsys: Capture, tmp_path: Path) -> None:
    path = tmp_path / "cut.json"
    path.write_text(KEPT.read_text("utf-8")[:300], encoding="utf-8")
    assert refused(capsys, str(path), "--out", str(tmp_path / "s.pdf"))["field"] == str(path)


def test_names_in_any_script_and_as_markup_are_printed(capsys: Capture, tmp_path: Path) -> None:
    path = broken(tmp_path, {"name": "<b>Ελένη</b> &amp; 李 {0} %s"})
    found = asked(capsys, path, "--out", str(tmp_path / "s.pdf"))
    assert found["lacking"] == ["李"]
    text = PdfReader(tmp_path / "s.pdf").pages[0].extract_text()
    assert "<b>Ελένη</b> &amp; ◊ {0} %s" in text.replace("\n", " ")


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        ([], "out"),
        ([str(KEPT)], "out"),
        (["no-such.json", "--out", "x.pdf"], "piece"),
        ([str(KEPT), "--out", "x.pdf", "--dated", "x" * 61], "dated"),
        ([str(KEPT), "--out", "x.pdf", "--dated", "a\nb"], "dated"),
        ([str(KEPT), "--out", "x.pdf", "--wear", "crown"], "wear"),
        ([str(KEPT), "--out", "x.pdf", "--working-length", "310 mm"], "working_length"),
    ],
)
def test_every_fault_names_its_field(
    capsys: Capture,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: list[str],
    field: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert refused(capsys, *arguments)["field"] == field
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_cannot_be_written_is_told(capsys: Capture, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    out = str(tmp_path / "taken" / "s.pdf")
    assert refused(capsys, str(KEPT), "--out", out)["field"] == "out"
    assert (tmp_path / "taken").read_text("utf-8") == "a file"


def test_a_full_disk_leaves_the_old_sheet(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "s.pdf"
    out.write_bytes(b"old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    error = refused(capsys, str(KEPT), "--out", str(out))
    assert "No space left" in error["wanted"]
    assert out.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["s.pdf"]


@pytest.mark.parametrize("watched", [True, False])
def test_progress_is_shown_to_a_person_only(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, watched: bool
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: watched, raising=False)
    assert main(["sheet", str(KEPT), "--out", str(tmp_path / "s.pdf")]) == 0
    shown = capsys.readouterr().err
    assert (" of " in shown and shown.endswith("\n")) if watched else shown == ""
