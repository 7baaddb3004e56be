"""Every fault on the command line: field, value, what is allowed, what to do."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Refused = Callable[..., dict[str, str]]
Asked = Callable[..., dict[str, Any]]


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["fit"], "snug"),
        (["fit", "--snug"], "snug"),
        (["fit", "--snug", "-3in"], "snug"),
        (["fit", "--snug", "0"], "snug"),
        (["fit", "--snug", "wide"], "snug"),
        (["fit", "--snug", "40 m"], "snug"),
        (["fit", "--snug", "6 ft"], "snug"),
        (["fit", "--snug", "nan"], "snug"),
        (["fit", "--snug", "8 7/8"], "snug"),
        (["fit", "--snug", "21.5"], "snug"),
        (["fit", "--snug", "200", "--ease", "3/4"], "ease"),
        (["fit", "--snug", "200", "--ease", "0.75"], "ease"),
        (["fit", "--snug", "200", "--closure", "1/2"], "closure"),
        (["fit", "--snug", "200", "--pitch", "1/8"], "pitch"),
        (["fit", "--snug", "200", "--pitch", "0.122"], "pitch"),
        (["fit", "--snug", "200", "--swatch", "20 beads measure 2 1/2"], "swatch"),
        (["fit", "--snug", "200", "--swatch", "20 beads measure 2.5"], "swatch"),
        (["fit", "--snug", "200", "--ease", "-1"], "ease"),
        (["fit", "--snug", "200", "--ease", "300"], "ease"),
        (["fit", "--snug", "200", "--closure", "long"], "closure"),
        (["fit", "--snug", "50", "--ease", "0", "--closure", "60"], "closure"),
        (["fit", "--snug", "200", "--base", "pearl 99"], "base"),
        (["fit", "--snug", "200", "--pitch", "31"], "pitch"),
        (["fit", "--snug", "200", "--pitch", "0.122 mm"], "pitch"),
        (["fit", "--snug", "200", "--dangles", "0"], "dangles"),
        (["fit", "--snug", "200", "--dangles", "5.5"], "dangles"),
        (["fit", "--snug", "200", "--dangles", "99"], "dangles"),
        (["fit", "--snug", "200", "--divider", "-1"], "divider"),
        (["fit", "--snug", "50", "--dangles", "31"], "snug"),
        (["fit", "--snug", "200", "--profile", "1,0,1"], "profile"),
        (["fit", "--snug", "200", "--profile", "1,x"], "profile"),
        (["fit", "--snug", "200", "--profile", ",".join("1" * 32)], "profile"),
        (["fit", "--snug", "200", "--profile", "1,2,1", "--dangles", "4"], "dangles"),
        (["fit", "--snug", "200", "--hanging", "pearls"], "hanging"),
        (
            [
                "fit",
                "--snug",
                "50",
                "--ease",
                "0",
                "--closure",
                "48",
                "--dangles",
                "1",
                "--divider",
                "0",
                "--base",
                "cube 1.8",
                "--hanging",
                "drop 3.4",
            ],
            "hanging",
        ),
        (["fit", "--snug", "200", "--swatch", "some beads"], "swatch"),
        (["fit", "--snug", "200", "--swatch", "20 = 62 mm", "--pitch", "3.1"], "swatch"),
        (["fit", "--snug", "200", "--thread", "15"], "thread"),
        (["fit", "--snug", "200", "--needle", "x"], "needle"),
        (["fit", "--snug", "200", "--working-length", "1"], "working_length"),
        (["fit", "--snug", "200", "--spares", "-5"], "spares"),
        (["fit", "--snug", "200", "--wear", "crown"], "wear"),
        (["order", "--colours", "red,blue", "--motifs", "4"], "colours"),
        (["order", "--colours", "", "--motifs", "4"], "colours"),
        (["order", "--colours", "f00,00f", "--motifs", "0"], "motifs"),
        (["order", "--colours", "f00,00f", "--motifs", "many"], "motifs"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--least", "5"], "least"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--most", "4"], "most"),
        (["order", "--colours", "f00", "--motifs", "2", "--least", "2", "--most", "1"], "least"),
        (["judge", "--colours", "#12345"], "colours"),
        (["judge"], "colours"),
        (["judge", "--colours", "f00,00f", "--see", "wolf"], "see"),
        (["judge", "--colours", "f00,00f", "--see", "deutan:1.5"], "see"),
        (["judge", "--colours", "f00,00f", "--see", "deutan:nan"], "see"),
        (["judge", "--colours", "f00,00f", "--light", "moonlight"], "light"),
        (["judge", "--colours", "f00,00f", "--distance", "0"], "distance"),
        (["judge", "--colours", "f00,00f", "--distance", "far"], "distance"),
        (["judge", "--colours", "f00,00f", "--motif-width", "0"], "motif-width"),
        (["judge", "--colours", "f00,00f", "--backing", "oak"], "backing"),
        (["judge", "no-such-piece.json"], "piece"),
        (["judge", "--colours", "f00,00f", "--finishes", "sticky"], "finishes"),
        (["judge", "--colours", "f00,00f,0f0", "--finishes", "matte,matte"], "finishes"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--gap", "2"], "gap"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--gap", "x"], "gap"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--fix", "0"], "fix"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--fix", "12=f00"], "fix"),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--fix", "0=0f0"], "fix"),
        (
            ["order", "--colours", "f00,00f", "--motifs", "9", "--arrangement", "spiral"],
            "arrangement",
        ),
        (["order", "--colours", "f00,00f", "--motifs", "9", "--several", "0"], "several"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--mood", "loud"], "mood"),
        (["propose", "--snug", "200", "--like", "no-such.json"], "piece"),
        (["propose", "--snug", "200", "--starter", "--palette", "hush"], "tray"),
        (["propose", "--snug", "200", "--starter", "--tray", "x.csv"], "tray"),
        (["propose", "--snug", "200", "--starter", "--hanging", "cube 4"], "hanging"),
        (["propose", "--snug", "200"], "palette"),
        (["propose", "--snug", "200", "--palette", "no such"], "palette"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--colours", "f00"], "palette"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--count", "0"], "count"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--seed", "-1"], "seed"),
        (["propose", "--snug", "45", "--palette", "rockpool", "--dangles", "20"], "snug"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--longest", "0"], "longest"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--drop", "2"], "drop"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--drop", "low"], "drop"),
        (["fit", "--snug", "200", "--base", ""], "base"),
        (["fit", "--snug", "200", "--hanging", " "], "hanging"),
        (["fit", "--snug", "200", "--pitch", "0"], "pitch"),
        (["fit", "--sn", "200"], "snug"),
        (["judge", "--colours", "f00,00f", "--see", ""], "see"),
        (["judge", "--colours", "f00,00f", "--light", ""], "light"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--seed", ""], "seed"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--count", ""], "count"),
        (["propose", "--snug", "200", "--palette", "rockpool", "--shortest", ""], "shortest"),
        (["palette", "--mood", "summer", "--size", ""], "size"),
        (["gallery"], "out"),
        (["gallery", "--out", ""], "out"),
        (["weave"], "command"),
        (["fit", "--snug", "200", "--colour", "f00"], "colour"),
        (["--port", "80"], "port"),
        (["--port", "http"], "port"),
    ],
)
def test_every_fault_names_its_field(refused: Refused, arguments: list[str], field: str) -> None:
    assert refused(*arguments)["field"] == field


def test_a_blank_folder_writes_nowhere(
    refused: Refused, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "roster.csv").write_text("name,snug\nMia,150\n", encoding="utf-8")
    wish = ["propose", "--snug", "200", "--palette", "rockpool", "--count", "1", "--out", ""]
    assert refused(*wish)["field"] == "out"
    assert refused("kit", "roster.csv", "--out", " ")["field"] == "out"
    assert [path.name for path in tmp_path.iterdir()] == ["roster.csv"]


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "empty"),
        (b"\n", "line 2, column 1"),
        (b'{"danglewise_piece": 1,', "line 1, column 24"),
        (b"[" * 100_000, "lists in lists"),
        (b'{"danglewise_piece": 1, "x": NaN}', "a number that is none"),
        (b'{"danglewise_piece": 1, "x": ' + b"9" * 5000 + b"}", "far too long"),
        (b"[]", "danglewise_piece"),
        (b"\xff\xfe\x00", "UTF-8"),
    ],
)
def test_what_is_no_piece_says_why_in_plain_words(
    refused: Refused, tmp_path: Path, content: bytes, told: str
) -> None:
    path = tmp_path / "a.json"
    path.write_bytes(content)
    error = refused("judge", str(path))
    assert told in error["wanted"]
    assert "python" not in str(error).lower()
    assert "recursion" not in str(error).lower()


def test_a_piece_that_an_editor_marked_as_utf_8_is_read(asked: Asked, tmp_path: Path) -> None:
    kept = Path(__file__).parent.parent / "reference" / "pieces" / "v1-proposed.json"
    marked = tmp_path / "marked.json"
    marked.write_bytes(b"\xef\xbb\xbf" + kept.read_bytes())
    assert asked("judge", str(marked))["pairs"] == asked("judge", str(kept))["pairs"]


def test_a_folder_is_no_tray(refused: Refused, tmp_path: Path) -> None:
    error = refused("propose", "--snug", "200", "--tray", str(tmp_path))
    assert "Errno" not in error["wanted"]
    assert "folder" in error["wanted"]


def test_one_motif_has_no_neighbours_even_in_a_ring(asked: Asked) -> None:
    found = asked("order", "--colours", "f00,00f,0f0", "--motifs", "1", "--ring")
    assert len(found["order"]) == 1
    assert found["weakest"] is None
    assert found["weakest_pair"] is None
    assert found["proven"] is True


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["fit", "--snug=--"], "snug"),
        (["fit", "--snug", "200", "--base=--"], "base"),
        (["fit", "--snug", "200", "--spares=--"], "spares"),
        (["order", "--colours=--", "--motifs", "3"], "colours"),
        (["sheet", "p.json", "--out=--"], "out"),
        (["kit", "r.csv", "--out=o", "--band=--"], "band"),
        (["shelf", "list", "--shelf=--"], "shelf"),
        (["propose", "--snug", "200", "--palette=--"], "palette"),
        (["picture", "p.json", "--out=--"], "out"),
        (["change", "p.json", "lock", "1", "--out=--"], "out"),
        (["change", "p.json", "tips", "--kind=--"], "kind"),
        (["--port=--"], "port"),
        (["--listen=--"], "listen"),
    ],
)
def test_two_dashes_are_no_value(refused: Refused, arguments: list[str], field: str) -> None:
    error = refused(*arguments)
    assert (error["field"], error["got"]) == (field, "--")


@pytest.mark.parametrize("spelled", ["{}", "{}\n{}", "\u00e9{}"])
@pytest.mark.parametrize(
    "arguments",
    [
        ["fit", "--snug", "LONG"],
        ["fit", "--snug", "200", "--base", "LONG"],
        ["fit", "--LONG"],
        ["LONG"],
        ["fit", "--snug", "200 LONG"],
        ["judge", "--colours", "f00,00f", "--see", "LONG"],
        ["judge", "--colours", "f00,00f", "--light", "LONG"],
        ["judge", "LONG"],
        ["sheet", "LONG", "--out", "o.pdf"],
        ["propose", "--snug", "200", "--palette", "LONG"],
        ["order", "--colours", "LONG", "--motifs", "3"],
        ["order", "--colours", "f00,00f", "--motifs", "3", "--fix", "LONG"],
        ["picture", "LONG", "--out", "o.png"],
        ["change", "LONG"],
        ["change", "p.json", "LONG"],
        ["change", "LONG", "lock", "1", "--out", "o.json"],
        ["shelf", "LONG"],
        ["shelf", "list", "--shelf", "LONG"],
        ["palette", "LONG"],
        ["--port", "LONG"],
        ["--listen", "LONG"],
    ],
)
def test_an_error_shows_the_ends_of_a_very_long_value(
    refused: Refused, arguments: list[str], spelled: str
) -> None:
    long = spelled.format("x" * 100_000, "y")
    error = refused(*(part.replace("LONG", long) for part in arguments))
    assert len(error["got"]) < 300
    assert all(len(part) < 2500 for part in error.values())


def test_a_file_with_a_very_long_value_is_refused_in_short(
    refused: Refused, tmp_path: Path
) -> None:
    path = tmp_path / "roster.csv"
    path.write_text(f"name,snug\nMia,{'9' * 100_000}\n", "utf-8")
    error = refused("kit", str(path), "--out", str(tmp_path / "out"))
    assert "line 2" in error["got"]
    assert sum(map(len, error.values())) < 3000
