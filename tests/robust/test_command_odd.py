"""Odd values and odd files on the command line: it answers or says what is wrong, both ways."""

import json
import shlex
from pathlib import Path

import pytest

from explorer.__main__ import main
from tests.fuzz.ground import FILES
from tests.fuzz.nasty import COLOURS, LENGTHS, NUMERALS

OPTIONS: dict[str, dict[str, tuple[str, ...]]] = {
    "fit --snug 214": {
        "ease": LENGTHS, "closure": LENGTHS, "pitch": LENGTHS, "thread": LENGTHS, "needle": LENGTHS,
        "dangles": NUMERALS, "divider": NUMERALS, "spares": NUMERALS,
        "base": ("", "pearl", "\udcff"), "hanging": ("", "x" * 9999),
        "swatch": ("", "0 = 0", "20 = -3", "= 4", "20 beads"),
        "profile": ("", "1,,2", "1;2;1", "9" * 20, "0", "1," * 40 + "1"), "wear": ("", "crown"),
    },
    "order --motifs 9": {"colours": COLOURS},
    "order --colours f00,00f,0f0 --motifs 9": {
        "gap": NUMERALS, "least": NUMERALS, "most": ("", "x", "-1", "9" * 30), "several": NUMERALS,
        "arrangement": ("", "spiral"), "fix": ("", "=f00", "x=f00", "0", "0=red", "99=f00"),
    },
    "judge --colours f00,00f": {
        "see": ("", "wolf", "deutan:-1", "deutan:", "deutan:nan", ",", "grey:\udcff"),
        "light": ("", "sun", "led,", "\udcff"), "distance": LENGTHS, "motif-width": LENGTHS,
        "backing": ("", "oak", "f00,0f0"),
    },
    "propose --snug 214 --palette rockpool": {
        "count": ("", "0", "1e9", "x"), "seed": ("", "-1", "x", "1.5", "9" * 30),
        "shortest": ("", "0", "x"), "drop": LENGTHS,
        "longest": ("", "0", "x"), "mood": ("", "loud"), "like": tuple(FILES)[:8],
    },
    "propose --snug 214": {
        "palette": ("", "../rockpool", "\udcff"), "colours": COLOURS,
        "tray": ("none.csv", ".", "minus.csv", "inf.csv", "open.csv", "empty.json"),
    },
}  # fmt: skip
CALLS = [
    *([*call.split(), f"--{name}", value]
      for call, options in OPTIONS.items() for name, values in options.items() for value in values),
    *(["fit", "--snug", value] for value in LENGTHS),
    *(["judge", name] for name in (*FILES, "", ".", "none.json", "\udcff.json")),
    *(["palette", name] for name in ("cut.png", "text.jpg", ".", "none.png", "empty.json")),
    *(["kit", name, "--out", "made"]
      for name in ("bytes.csv", "nul.csv", "quote.csv", "huge.csv", ".")),
    *(shlex.split(line) for line in (
        "fit", "fit --snug 214 extra", "fit --nosuch 1", "fit --snug - 3in", "fit --json=1",
        "weave", "''",
        "order", "judge", "propose", "palette", "sheet", "kit", "shelf", "shelf nosuch", "gallery",
        "palette --free --size 0", "palette --mood nosuch", "--port 0", "--listen x", "--listen ::",
        "sheet list.json --out x.pdf", "shelf export 0 --out x.zip", "shelf import zeros.json",
        "shelf rescue", "shelf rescue zeros.json --out made", "shelf rescue . --out made",
        "shelf rescue text.jpg --out zeros.json", "shelf take-out 0", "shelf bring-back",
        "shelf throw-away 7", "shelf export --thrown-away --out x.zip", "shelf list --out x.zip",
        "change", "change none.json", "change list.json swap 1 2 --out x.json", "change . lock 1",
        "change list.json lock 1 --out list.json", "change empty.json knot --out x.json",
        "order --colours f00,00f --motifs 5 --ring", "order --colours f00,00f --motifs 99999999",
    )),
]  # fmt: skip


def left_in(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir() if "sqlite" not in path.name}


@pytest.mark.parametrize(
    "call", CALLS, ids=lambda call: " ".join(call)[:60].encode("ascii", "replace").decode()
)
def test_an_odd_call_is_refused_in_both_ways(
    call: list[str],
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("explorer.commands.shelf.default_path", lambda: tmp_path / "s.sqlite3")
    for name, content in FILES.items():
        (tmp_path / name).write_bytes(content)
    before = left_in(tmp_path)
    assert main([*call, "--json"]) == 2
    captured = capsys.readouterr()
    error = json.loads(captured.out)["error"]
    assert set(error) == {"field", "got", "wanted", "remedy"}
    assert error["field"]
    assert error["wanted"]
    assert error["remedy"]
    assert captured.err == ""
    assert main(call) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Traceback" not in captured.err
    assert error["remedy"] in captured.err
    # Nothing is left behind of what was refused, but for the shelf's own file.
    assert left_in(tmp_path) == before
