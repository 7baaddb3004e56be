"""What saved patterns weave stays what it was when they were saved.

A piece lies half woven on someone's table. Its file says what was meant, and its beads are worked
out again whenever it is opened; they must come out as they did.
"""

import json
from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest

from explorer.colouring import Colouring
from explorer.pattern import Part, Relative, Way
from explorer.piece import Piece, from_json, to_json
from explorer.profile import Shape
from explorer.sequence_types import Arrangement
from tests.reference import add_woven
from tests.reference.add_woven import add, digests, entries

ENTRIES = entries()
# Of what is as usual in a rule, everything that can be otherwise. Those of beads and wearers are
# not woven.
PARTS = {
    "across", "along", "base", "beads", "beside", "by_motif", "closure", "colour", "colouring",
    "edits", "end", "for_motifs", "from_tip", "gaps", "growth", "held", "inside", "kind", "kept",
    "last_divider", "least", "length", "lengths", "letters", "listed", "locked", "margins",
    "mirrored", "most", "outline", "paint", "pitch_mm", "shape", "start", "tip", "way", "width",
}  # fmt: skip
WORDS: tuple[type[StrEnum], ...] = (Arrangement, Colouring, Part, Relative, Shape, Way)
# What is as usual is not written.
USUAL = {Colouring.PLAIN, Way.CYCLE, Arrangement.FREE, Relative.BASE}


def read(entry: dict[str, Any]) -> Piece:
    return from_json(json.dumps(entry["saved"]))


@pytest.mark.parametrize("name", ENTRIES)
def test_a_saved_pattern_weaves_what_it_wove(name: str) -> None:
    piece = read(ENTRIES[name])
    assert digests(piece.pattern) == ENTRIES[name]["woven"], (
        "Saved pieces weave other beads than before. A weave that changes needs a new version of "
        "the file, and reading of the old one as it was. woven.json is never changed to fit."
    )
    assert json.loads(to_json(piece)) == ENTRIES[name]["saved"]


def _found(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield f"{key}:"
            yield from _found(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _found(inner)
    elif isinstance(value, str):
        yield value


def test_every_rule_is_among_them() -> None:
    assert len(ENTRIES) >= 60
    found = set(_found([entry["saved"] for entry in ENTRIES.values()]))
    assert {f"{part}:" for part in PARTS} <= found
    assert {word.value for kind in WORDS for word in kind} - USUAL <= found


def test_an_entry_is_never_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "woven.json"
    monkeypatch.setattr(add_woven, "FILE", path)
    first, second = (read(ENTRIES[name]) for name in list(ENTRIES)[:2])
    add("one", first)
    before = path.read_text("utf-8")
    with pytest.raises(SystemExit, match="never changed"):
        add("one", second)
    assert path.read_text("utf-8") == before
    add("two", second)
    assert list(entries()) == ["one", "two"]
    assert path.read_text("utf-8").startswith(before[: -len("\n}\n")])
