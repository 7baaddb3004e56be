"""What judging costs beside other work.

Run by hand from the top of the repository: ``python -m tests.bench.bench_judge``.

Prints ratios of two computations in one run, best of several repeats each. Floors: the matrix at
most 25 calls of the library, judging no more than drawing.
"""

import timeit
from collections.abc import Callable
from typing import cast

import numpy as np
from skimage import color

from explorer.contrast import looks_of
from explorer.contrast_piece import judge_piece
from explorer.design import Design, build
from explorer.layout import thumbnail_scene
from explorer.lift import lift
from explorer.suggest import suggest
from gallery.framing import framed
from gallery.raster import draw
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette
from palettes.lights import Light
from palettes.spaces import FloatArray, srgb1_to_lab
from palettes.viewing import conditions, worst_matrix
from palettes.vision import VIEWERS

THUMBNAIL_PX = 800
MOTIFS = 40


def best_ms(work: Callable[[], object], number: int) -> float:
    """Milliseconds a call, the best of seven repeats after one warm-up."""
    work()
    return min(timeit.repeat(work, number=number, repeat=7)) / number * 1000.0


def piece() -> Design:
    """Forty motifs of seven dangles in seven colours."""
    kinds, swatches = bead_kinds(), palette("rockpool").swatches
    beads = tuple(
        Bead(name=s.name, kind=kinds["round 11/0"], hex=s.hex, finish=s.finish) for s in swatches
    )
    return build(
        beads=(*beads, Bead(name="base", kind=kinds["cube 1.8"], hex="#1f2c44")),
        base=len(beads),
        base_pitch_mm=1.95,
        profiles=((1, 2, 4, 6, 4, 2, 1),),
        order=tuple(i % len(beads) for i in range(MOTIFS)),
        divider_base_beads=1,
    )


def thumbnail(design: Design) -> object:
    """The piece's thumbnail, 800 px wide."""
    scene, px_per_mm = framed(thumbnail_scene(design), THUMBNAIL_PX, THUMBNAIL_PX // 2)
    return draw(scene, px_per_mm)


def main() -> None:
    """Prints the table."""
    colours = np.random.default_rng(0).random((12, 3))
    lab, every = srgb1_to_lab(colours), conditions(VIEWERS, tuple(Light))
    metric = cast("Callable[[FloatArray, FloatArray], FloatArray]", color.deltaE_ciede2000)
    library = best_ms(lambda: metric(lab[:, None], lab[None]), 100)
    matrix = best_ms(lambda: worst_matrix(colours, every), 50)
    print(f"scikit-image, 12 x 12               {library:8.3f} ms")
    print(f"worst of 5 viewers x 4 lights       {matrix:8.3f} ms, ratio {matrix / library:.1f}")
    design = piece()
    pattern = lift(design)
    looks = looks_of("typical,protan,deutan,tritan,grey", "daylight,lamplight,fluorescent,led")
    drawn = best_ms(lambda: thumbnail(design), 1)
    judged = best_ms(lambda: judge_piece(design, looks=looks, backing="#a07e56"), 5)
    mended = best_ms(lambda: suggest(pattern, looks=looks), 1)
    print(f"thumbnail of {MOTIFS} motifs, {THUMBNAIL_PX} px    {drawn:8.1f} ms")
    print(f"judging it, all viewers and lights  {judged:8.1f} ms, ratio {judged / drawn:.2f}")
    print(f"suggestions for it, likewise        {mended:8.1f} ms, ratio {mended / drawn:.2f}")


if __name__ == "__main__":
    main()
