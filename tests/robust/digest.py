"""Prints what the program makes of a fixed brief, as digests: ``python -m tests.robust.digest``.

The same text must come out in every process: whatever the hash seed, on one core or two.
"""

import hashlib
import json
import sys

from explorer.brief import Brief, Strip, Wearer
from explorer.counts import counts
from explorer.layout import rows_scene
from explorer.piece import Piece, to_json
from explorer.propose import Proposals, propose
from explorer.share import to_code
from explorer.sheet import making_sheet
from explorer.thread import thread_plan
from gallery.files import to_png
from gallery.page_html import to_html
from gallery.raster import draw
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette


def digests() -> dict[str, str]:
    """What came out, by what it is."""
    kinds = bead_kinds()
    colours = tuple(
        Bead(name=s.name, kind=kinds["round 8/0"], hex=s.hex, finish=s.finish)
        for s in palette("rockpool").swatches
    )
    brief = Brief(
        wearer=Wearer(snug_mm=214.0, ease_mm=20.0),
        strip=Strip(base=kinds["cube 3"]),
        colours=colours,
        base_bead=Bead(name="base", kind=kinds["cube 3"], hex="#39424b"),
        count=6,
        seed=7,
    )
    found = propose(brief)
    assert isinstance(found, Proposals)
    pieces = [Piece(pattern=one.pattern) for one in found.proposals]
    first = pieces[0]
    return {
        "pieces": _digest("".join(map(to_json, pieces)).encode()),
        "code": _digest(to_code(first).encode()),
        "picture": _digest(to_png(draw(rows_scene(first.design, rows=2), 5.0, clear=True))),
        "sheet": _digest(to_html(making_sheet(first)).encode()),
        "beads": str([counts(piece.design).total for piece in pieces]),
        "thread": f"{thread_plan(first.design).length_mm:.9f}",
        "weakest": str([round(one.weakest or 0.0, 9) for one in found.proposals]),
    }


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:16]


if __name__ == "__main__":
    sys.stdout.write(json.dumps(digests(), indent=1) + "\n")
