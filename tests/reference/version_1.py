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
"""

import json
import lzma
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FILE = Path(__file__).parent / "version-1.jsonl.xz"


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
