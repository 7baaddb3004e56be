"""What printing costs beside the picture, and whether a class costs so many single sheets.

Run by hand from the top of the repository: ``python -m tests.bench.bench_sheets``.

Prints ratios of two computations in one run, best of several repeats each. Floors: one sheet at
most ten times its picture; twice as many learners at most 2.2 times the time; memory that does not
grow with the class. Then ``danglewise sheet`` of strips of 300, 1 000 and 3 000 motifs, every motif
another one: processor time and peak of memory, which grow as the strip does;
``python -m tests.bench.bench_sheets long`` measures these alone.
"""

import random
import sys
import tempfile
import time
import timeit
import tracemalloc
from collections.abc import Callable
from functools import partial
from pathlib import Path

from explorer.brief import Strip
from explorer.design import Design, build
from explorer.kit import Kit, KitBrief, make_kit
from explorer.kit_pages import sheets
from explorer.kit_roster import Learner
from explorer.layout import strip_scene
from explorer.piece import Piece, piece_of, to_json
from explorer.sheet import making_sheet
from explorer.sheet_facts import SheetOptions
from gallery.pdf import to_pdf
from gallery.raster import draw
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette
from tests.bench.alone import command

TRUE_SIZE_PX_PER_MM = 300.0 / 25.4  # the picture at true size, as printers print it
CLASSES = (50, 100, 200)


def best_s(work: Callable[[], object], repeat: int) -> float:
    """Seconds of this process a call, the best of several after one warm-up."""
    work()
    return min(timeit.repeat(work, number=1, repeat=repeat, timer=time.process_time))


def class_of(learners: int) -> Kit:
    """A class of so many, each of another girth."""
    kinds = bead_kinds()
    colours = tuple(
        Bead(name=s.name, kind=kinds["round 8/0"], hex=s.hex, finish=s.finish)
        for s in palette("kite-day").swatches
    )
    brief = KitBrief(
        strip=Strip(base=kinds["cube 3"]),
        hanging=kinds["round 8/0"],
        base_bead=Bead(name="base", kind=kinds["cube 3"], hex="#39424b"),
        colours=colours,
        ease_mm=12.0,
    )
    girths = [140.0 + 30.0 * n / learners for n in range(learners)]
    people = [Learner(name=f"Learner {n}", least_mm=g, most_mm=g) for n, g in enumerate(girths)]
    return make_kit(people, brief)


def print_all(kit: Kit) -> int:
    """Every sheet as bytes, one after the other; how many bytes in all."""
    return sum(len(to_pdf(sheet).pdf) for sheet in sheets(kit, SheetOptions()))


def narrow(motifs: int) -> Design:
    """A strip of that many motifs of five dangles, each motif another, in 60 colours."""
    chance = random.Random(motifs)  # noqa: S311 - a demo piece, no secret
    kinds = bead_kinds()
    base, hanging = kinds["cube 3"], kinds["round 8/0"]
    colours = [f"#{chance.randrange(1 << 24):06x}" for _ in range(60)]
    return build(
        beads=(
            Bead(name="base", kind=base, hex="#39424b"),
            *(Bead(name=text, kind=hanging, hex=text) for text in colours),
        ),
        base=0,
        base_pitch_mm=base.ladder_pitch_mm,
        profiles=tuple(tuple(chance.randint(1, 12) for _ in range(5)) for _ in range(motifs)),
        order=tuple(chance.randint(1, 60) for _ in range(motifs)),
        divider_base_beads=1,
        divider_hangs=(1,),
    )


def long_sheet(motifs: int) -> None:
    """The whole command's time and memory for a strip of that many motifs."""
    with tempfile.TemporaryDirectory() as folder:
        kept, out = Path(folder) / "piece.json", Path(folder) / "sheet.pdf"
        kept.write_text(to_json(piece_of(design=narrow(motifs))), "utf-8")
        used = command("sheet", str(kept), "--out", str(out))
        size_mb = out.stat().st_size / 1e6
    print(
        f"sheet of {motifs:4d} motifs           {used.seconds:8.2f} s, "
        f"{used.seconds / motifs * 1e3:.1f} ms a motif, {used.clock_s:.1f} s by the clock, "
        f"peak {used.peak_mb:.0f} MB, a file of {size_mb:.1f} MB"
    )


def main() -> None:
    """Prints the table."""
    if sys.argv[1:] != ["long"]:
        beside_pictures()
    for motifs in (300, 1000, 3000):
        long_sheet(motifs)


def beside_pictures() -> None:
    """One sheet beside its picture, and classes of many."""
    piece: Piece = class_of(1).learners[0].piece
    scene = strip_scene(piece.design)
    picture = best_s(lambda: draw(scene, TRUE_SIZE_PX_PER_MM), 5)
    sheet = best_s(lambda: to_pdf(making_sheet(piece)), 5)
    print(f"picture at true size, 300 dpi   {picture * 1e3:8.0f} ms")
    print(f"making sheet                    {sheet * 1e3:8.0f} ms, ratio {sheet / picture:.2f}")
    before = 0.0
    for learners in CLASSES:
        kit = class_of(learners)
        took = timeit.timeit(partial(print_all, kit), number=1, timer=time.process_time)
        ratio = f", {took / before:.2f} times the class before" if before else ""
        print(f"class of {learners:3d}                    {took:8.2f} s{ratio}")
        before = took
    for learners in (50, 200):
        kit = class_of(learners)
        tracemalloc.start()
        print_all(kit)
        peak = tracemalloc.get_traced_memory()[1]
        tracemalloc.stop()
        print(f"class of {learners:3d}, most memory       {peak / 1e6:8.1f} MB")


if __name__ == "__main__":
    main()
