"""How fast pictures are drawn: ratios against Pillow's own PNG encoder, and growth with size.

Times are the processor's. Run by hand: ``python -m tests.bench.bench_pictures``. Each first round
is a process of its own, in which nothing has been drawn before, and so is each large picture, whose
peak of memory is its own. ``python -m tests.bench.bench_pictures true-size`` measures the command
alone, on strips of 100, 300 and 1 000 motifs.
"""

import resource
import statistics
import subprocess
import sys
import tempfile
import time
from itertools import cycle, islice
from pathlib import Path

from explorer.design import Closure, Design, build
from explorer.layout import loop_scene, strip_scene, thumbnail_scene
from explorer.piece import piece_of, to_json
from gallery.files import to_png
from gallery.framing import framed
from gallery.raster import draw
from palettes.beads import Bead, BeadKind
from palettes.finishes import Finish
from palettes.forms import Form
from tests.bench.alone import command

CUBE = BeadKind(
    name="cube 1.8", form=Form.CUBE, diameter_mm=1.8, pitch_mm=1.8, hole_mm=0.8,
    beads_per_gram=95, ladder_pitch_mm=1.95,
)  # fmt: skip
ROUND = BeadKind(
    name="round 15/0", form=Form.ROUND, diameter_mm=1.5, pitch_mm=1.07, hole_mm=0.65,
    beads_per_gram=280, ladder_pitch_mm=1.65,
)  # fmt: skip
HEXES = ("#d9a441", "#1f7a6d", "#c8553d", "#e8dcc4", "#2d4a73", "#7a3b69")
PROFILES = (
    (2, 4, 6, 8, 9, 8, 6, 4, 2),
    (3, 5, 7, 9, 7, 5, 3, 5, 3),
    (6,) * 9,
    (9, 7, 5, 3, 1, 3, 5, 7, 9),
    (1, 2, 3, 4, 5, 6, 7, 8, 9),
    (2, 8, 2, 8, 2, 8, 2, 8, 2),
)
THUMBNAILS, WIDTH, HEIGHT = 24, 400, 200
CHILDREN = 5


def piece(motifs: int, number: int) -> Design:
    """A strip of so many motifs, another one for every number."""
    finish = tuple(Finish)[number % len(Finish)]
    beads = (
        Bead(name="base", kind=CUBE, hex="#efe6d6"),
        *(Bead(name=text, kind=ROUND, hex=text, finish=finish) for text in HEXES),
    )
    colours = 3 + number % 4
    return build(
        beads=beads,
        base=0,
        base_pitch_mm=CUBE.ladder_pitch_mm,
        profiles=(PROFILES[number % len(PROFILES)],),
        order=tuple(islice(cycle(range(1, 1 + colours)), motifs)),
        divider_base_beads=1,
        divider_hangs=(1 + number % 6,),
        closure=Closure(length_mm=18.0),
    )


def thumbnails(runs: tuple[str, ...]) -> float:
    """24 thumbnails against the time that Pillow takes to encode them: the last run's ratio."""
    pieces = [piece(10, number) for number in range(THUMBNAILS)]
    ratio = 0.0
    for run in runs:
        start = time.process_time()
        scenes = [framed(thumbnail_scene(one), WIDTH, HEIGHT) for one in pieces]
        laid = time.process_time()
        pictures = [draw(*scene) for scene in scenes]
        drawn = time.process_time()
        for picture in pictures:
            to_png(picture)
        encoded = time.process_time()
        png = encoded - drawn
        ratio = (drawn - laid) / png
        beads = sum(len(scene.beads) for scene, _ in scenes) / len(scenes)
        print(
            f"{run}: {THUMBNAILS} thumbnails of {beads:.0f} beads: "
            f"layout {(laid - start) / png:.2f}, drawing {ratio:.2f} "
            f"times the PNG encoding of {png:.3f} s "
            f"(floor 6, goal 3)"
        )
    return ratio


def first_rounds() -> None:
    """The first round of thumbnails, looks computed, in several fresh processes."""
    ratios = sorted(
        float(
            subprocess.run(
                [sys.executable, "-m", "tests.bench.bench_pictures", "first"],
                check=True, capture_output=True, text=True,
            ).stdout.split()[-1]
        )
        for _ in range(CHILDREN)
    )  # fmt: skip
    print(
        f"first in {CHILDREN} fresh processes: drawing at least {ratios[0]:.2f}, median "
        f"{statistics.median(ratios):.2f}, at most {ratios[-1]:.2f} times the PNG encoding"
    )


def one(kind: str, amount: int) -> None:
    """One large picture: its time and the process's peak of memory."""
    scene = strip_scene(piece(amount, 0)) if kind == "strip" else loop_scene(piece(12, 0))
    scale = 4.0 if kind == "strip" else amount / scene.width_mm
    start = time.process_time()
    picture = draw(scene, scale)
    seconds = time.process_time() - start
    # Linux counts in KiB.
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    pixels = picture.shape[0] * picture.shape[1]
    print(
        f"{kind}: {len(scene.beads)} beads, {picture.shape[1]} x {picture.shape[0]} px: "
        f"{seconds:.2f} s, {seconds / len(scene.beads) * 1e6:.0f} us a bead, "
        f"{seconds / pixels * 1e9:.0f} ns a pixel, peak {peak_mb:.0f} MB (floor 500)"
    )


def true_size(motifs: int) -> None:
    """``danglewise picture --use true-size``: the whole command's times and its peak of memory."""
    design = piece(motifs, 0)
    with tempfile.TemporaryDirectory() as folder:
        kept, out = Path(folder) / "piece.json", Path(folder) / "piece.png"
        kept.write_text(to_json(piece_of(design=design)), "utf-8")
        used = command("picture", str(kept), "--use", "true-size", "--out", str(out))
        size_mb = out.stat().st_size / 1e6
    beads = sum(1 + len(column.beads) for _, column in design.columns())
    print(
        f"true size: {motifs} motifs, {beads} beads: {used.seconds:.1f} s of processor time, "
        f"{used.seconds / beads * 1e6:.0f} us a bead, {used.clock_s:.1f} s by the clock (floor 15 "
        f"for 1000), peak {used.peak_mb:.0f} MB (floor 500), a file of {size_mb:.1f} MB"
    )


def main() -> None:
    """Everything, or one large picture when asked by ourselves."""
    if len(sys.argv) == 3:
        one(sys.argv[1], int(sys.argv[2]))
        return
    if sys.argv[1:] == ["first"]:
        print(thumbnails(("first",)))
        return
    if sys.argv[1:] != ["true-size"]:
        drawn_alone()
    for motifs in (100, 300, 1000):
        true_size(motifs)


def drawn_alone() -> None:
    """Thumbnails and large pictures, drawn and not yet packed."""
    thumbnails(("first", "again", "again"))
    first_rounds()
    jobs = [("strip", n) for n in (42, 84, 168)] + [("loop", n) for n in (1000, 2000, 4000)]
    for kind, amount in jobs:
        subprocess.run([sys.executable, __file__, kind, str(amount)], check=True)


if __name__ == "__main__":
    main()
