"""Adds saved pieces to ``tests/explorer/woven.json``, by names of their own.

``python -m tests.reference.add_woven NAME PIECE.json``

The file holds what was saved and digests of the beads that were woven from it when it was added,
in its own size and in others. An entry is never changed: makers weave by what it stands for.
"""

import hashlib
import json
import sys
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from explorer.changes import with_motifs
from explorer.design import Design
from explorer.pattern import Pattern
from explorer.piece import Piece, from_json, to_json
from explorer.weave import weave

FILE = Path(__file__).parents[1] / "explorer/woven.json"


def entries() -> dict[str, dict[str, Any]]:
    """All entries by their names."""
    found = json.loads(FILE.read_text("utf-8")) if FILE.exists() else {}
    assert isinstance(found, dict)
    return found


def beads_of(design: Design) -> str:
    """A digest of a design's beads, their order in lists and everything else that is woven."""
    whole = {
        "beads": [
            {**asdict(bead), "kind": asdict(bead.kind), "finish": bead.finish.value}
            for bead in design.beads
        ],
        "columns": [
            [place.part.value, place.index, place.column, column.base, *column.beads]
            for place, column in design.columns()
        ],
        "links": [design.start_links, design.end_links],
        "pitch": design.base_pitch_mm,
        "closure": asdict(design.closure),
    }
    return hashlib.sha256(json.dumps(whole).encode()).hexdigest()[:16]


def digests(pattern: Pattern) -> dict[str, str]:
    """What a pattern weaves in its own size, half as long, longer and of one motif."""
    own = pattern.run.motifs
    sizes = dict.fromkeys((own, max(1, own // 2), own + 1, 2 * own + 1, 1))
    return {str(size): beads_of(weave(with_motifs(pattern, size))) for size in sizes}


def add(name: str, piece: Piece) -> None:
    """Add a piece under a new name."""
    found = entries()
    if name in found:
        sys.exit(f"there is an entry {name!r}, and entries are never changed; take another name")
    text = to_json(replace(piece, name="Woven", notes=""))
    found[name] = {"saved": json.loads(text), "woven": digests(piece.pattern)}
    lines = (
        f"  {json.dumps(n)}: {json.dumps(found[n], ensure_ascii=False, separators=(',', ':'))}"
        for n in found
    )
    FILE.write_text("{\n" + ",\n".join(lines) + "\n}\n", "utf-8")


def main() -> None:
    """Add what the command line names."""
    if len(sys.argv) != 3:
        sys.exit("wanted: a name for the entry, and a file with a saved piece")
    name, path = sys.argv[1:]
    add(name, from_json(Path(path).read_text("utf-8"), path))


if __name__ == "__main__":
    main()
