"""Pieces as version 1 saved them, in ``version-1.jsonl.xz``: never written again.

The last program of version 1 made them, once, with ``random.Random(1)``:

* 375 proposals, up to 9 each of 42 briefs: every palette in turn with its first 4 to 9 colours, on
  bases of all kinds but drops, with dangles of the usual kind for the base, 3 to 9 wide, and 0 to 3
  base beads between motifs, bare or with a small bead; with and without plain ends, a closure, an
  extender and a measured pitch; outlines of all shapes or given ones, also one-sided ones, alone or
  two in turn; every arrangement, colouring and mood as proposals take them.
* 125 of them changed further, in 1 to 8 steps drawn from: a motif, a dangle or a bead painted; a
  dangle of another length, in one motif or in all; one motif's own outline; outlines in turn or
  mirrored; turning beads of another kind, a colour, or both, in all motifs or in one; small beads
  under the dividers; link beads; a colour of the palette, the base or the whole palette exchanged;
  plain ends; other dangles, dividers, base and dangle beads; the quick rule. A third of them were
  then resized, once or twice, and a seventh measured half-way and adjusted.
* the gallery's example pieces as they stood then.

Names, notes and wearers are invented. Every thirteenth piece has the code by which it was shared.

``version-1-shelf.sqlite3.xz`` is a shelf of that program with 30 of them, and with a table on which
24 steps were made, 20 of which can be taken back and 4 were.
"""

import json
import lzma
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path
from typing import Any

from explorer.design import Column, Design
from explorer.piece import Piece, from_json

FILE = Path(__file__).parent / "version-1.jsonl.xz"
SHELF = Path(__file__).parent / "version-1-shelf.sqlite3.xz"
# The table's mark.
MARK = "0123456789abcdef"

Row = list[tuple[object, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A piece of version 1.

    Attributes:
        piece: its file.
        how: ``proposed``, ``by hand`` or ``example``.
        edits: what was done to it by hand.
        code: the code by which it was shared, if it was.
        letters: how long such a code is, without name and measurement; 0 where nobody counted.
    """

    piece: str
    how: str
    edits: tuple[str, ...] = ()
    code: str = ""
    letters: int = 0


@cache
def kept() -> tuple[Kept, ...]:
    """All of them, in the order of the file."""
    rows = map(json.loads, lzma.decompress(FILE.read_bytes()).decode().splitlines())
    return tuple(
        Kept(
            piece=row["piece"],
            how=row["how"],
            edits=tuple(row.get("edits", ())),
            code=row.get("code", ""),
            letters=row.get("letters", 0),
        )
        for row in rows
    )


@cache
def opened(one: Kept) -> Piece:
    """What is saved of it as it opens now; found once, however many tests look at it."""
    return from_json(one.piece)


def shelf_at(path: Path) -> Path:
    """The kept shelf, put where it can be opened."""
    path.write_bytes(lzma.decompress(SHELF.read_bytes()))
    return path


def written(document: dict[str, Any]) -> list[Row]:
    """Every bead of a file of version 1, row by row in strip order."""
    kinds = {kind["name"]: kind for kind in document["kinds"]}
    beads = [
        (bead["name"], bead["hex"], bead["finish"], *kinds[bead["kind"]].values())
        for bead in document["beads"]
    ]
    start, end = document["margins"]
    rows = [start]
    for divider, motif in zip(document["dividers"], document["motifs"], strict=False):
        rows += [divider, motif]
    rows += [document["dividers"][-1], end, *([side] for side in document["links"])]
    return [[tuple(beads[n] for n in column) for column in row] for row in rows]


def woven(design: Design) -> list[Row]:
    """The same of a design."""
    beads = [
        (bead.name, bead.hex, bead.finish.value, *asdict(bead.kind).values())
        for bead in design.beads
    ]

    def row(columns: tuple[Column, ...]) -> Row:
        return [tuple(beads[n] for n in (one.base, *one.beads)) for one in columns]

    rows = [row(design.start_margin)]
    for divider, motif in zip(design.dividers, design.motifs, strict=False):
        rows += [row(divider), row(motif)]
    rows += [row(design.dividers[-1]), row(design.end_margin)]
    return rows + [[tuple(beads[n] for n in s)] for s in (design.start_links, design.end_links)]


def listed(document: dict[str, Any]) -> list[tuple[str, ...]]:
    """Its beads in the order of every list, without those that nothing uses."""
    used = {n for side in document["links"] for n in side}
    rows = [*document["motifs"], *document["dividers"], *document["margins"]]
    used.update(n for row in rows for column in row for n in column)
    keys = "name", "hex", "finish", "kind"
    each = (tuple(document["beads"][n][key] for key in keys) for n in sorted(used))
    return list(dict.fromkeys(each))


def check(document: dict[str, Any], piece: Piece) -> None:
    """All that the file holds is in the piece."""
    design = piece.design
    assert woven(design) == written(document)
    assert [(b.name, b.hex, b.finish.value, b.kind.name) for b in design.beads] == listed(document)
    assert design.base_pitch_mm == document["base_pitch_mm"]
    assert asdict(design.closure) == document["closure"]
    wearer = None if piece.wearer is None else asdict(piece.wearer)
    if wearer is not None:
        wearer["closure_mm"] = document["closure"]["length_mm"]
    assert wearer == document["wearer"]
    assert piece.wear == document.get("wear")
    for key in ("name", "notes", "seed", "plain_ends", "pitch_measured"):
        assert getattr(piece, key) == document[key], key
