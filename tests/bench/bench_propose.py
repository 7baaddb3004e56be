"""Times proposals against drawing their thumbnails: ``python -m tests.bench.bench_propose``.

Floors: 24 proposals for an adult ankle with their thumbnails in under a second on two cores; the
search from a palette at most three times, from a tray of 300 beads at most eight times as long as
the thumbnails. What the first round in a process costs is measured in fresh processes, from the
first import on.
"""

import json
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from explorer.brief import USUAL_EXTRAS, Brief, Strip, Wearer
from explorer.commands.palette_choice import as_divider, bead, beads, best_base, swatches
from explorer.layout import thumbnail_scene
from explorer.propose import Proposals, propose
from gallery.raster import draw
from palettes.charts import bead_kinds, palette_names

RUNS = 5
CHILDREN = 5
FIRST = ("imports", "search", "thumbnails", "together")


def brief_of(palette: str) -> Brief:
    """An adult ankle in one of our palettes."""
    kinds = bead_kinds()
    chosen, bases = swatches(palette, None)
    base = bead(best_base(chosen, bases), kinds["cube 3"])
    return Brief(
        wearer=Wearer(snug_mm=216.0, ease_mm=30.0),
        strip=Strip(base=kinds["cube 3"]),
        colours=beads(chosen, kinds["round 8/0"]),
        base_bead=base,
        divider_bead=as_divider(base, kinds["round 8/0"]),
        extras=USUAL_EXTRAS,
    )


def tray_of(brief: Brief, count: int) -> Brief:
    """The same with a tray of beads by chance."""
    colours = np.random.default_rng(4).integers(0, 2**24, size=count)
    tray = tuple(
        replace(brief.colours[0], name=f"bead {i}", hex=f"#{int(colour):06x}")
        for i, colour in enumerate(colours)
    )
    return replace(brief, colours=tray)


def thumbnails(found: Proposals) -> None:
    """Draw every proposal at 400 x 200."""
    for proposal in found.proposals:
        scene = thumbnail_scene(proposal.design, aspect=2.0)
        draw(scene, min(400 / scene.width_mm, 200 / scene.height_mm))


def timed(work: Callable[[], object]) -> float:
    """Processor seconds of one run, which other work on the machine does not stretch."""
    start = time.process_time()
    work()
    return time.process_time() - start


def first() -> dict[str, float]:
    """Processor seconds of the first round in this process, its imports and start counted too."""
    imports = time.process_time()
    brief = brief_of("rockpool")
    asked = time.process_time()
    found = propose(brief)
    searched = time.process_time()
    assert isinstance(found, Proposals)
    thumbnails(found)
    drawn = time.process_time()
    together = drawn - asked
    return dict(zip(FIRST, (imports, searched - asked, drawn - searched, together), strict=True))


def first_rounds() -> None:
    """What the first round costs in several fresh processes."""
    command = [sys.executable, "-m", "tests.bench.bench_propose", "first"]
    rounds = [
        json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
        for _ in range(CHILDREN)
    ]
    for part in FIRST:
        seconds = [one[part] for one in rounds]
        print(
            f"first in {CHILDREN} fresh processes: {part:>10} at least {min(seconds):.3f} s, "
            f"median {statistics.median(seconds):.3f} s, at most {max(seconds):.3f} s"
        )


def main() -> int:
    """Print the table, or the first round alone when asked by ourselves."""
    if sys.argv[1:] == ["first"]:
        print(json.dumps(first()))
        return 0
    first_rounds()
    for name in (*palette_names(), "a tray of 300"):
        asked = tray_of(brief_of("rockpool"), 300) if name.startswith("a tray") else brief_of(name)
        answer = propose(asked)
        assert isinstance(answer, Proposals)
        search = statistics.median(timed(partial(propose, asked)) for _ in range(RUNS))
        draw_all = statistics.median(timed(partial(thumbnails, answer)) for _ in range(RUNS))
        print(
            f"{name:>16}: {len(answer.proposals)} proposals, search {search:.3f} s, thumbnails "
            f"{draw_all:.3f} s, ratio {search / draw_all:.2f}, together {search + draw_all:.3f} s"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
