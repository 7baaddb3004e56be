"""Whether lifting, weaving and changing a piece grow in proportion to it.

Run by hand from the top of the repository: ``python -m tests.bench.bench_pattern``.

Prints what a piece of twice as many motifs, no two alike, takes against the half of it, best of
five repeats in one run. In proportion is 2; a floor of 3 tells what grows with the square.
"""

import timeit
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from random import Random

from explorer import changes
from explorer.brief import Wearer
from explorer.design import Column, Design, of_columns
from explorer.lift import lift
from explorer.pattern import Pattern
from explorer.piece import Piece, from_json, to_json
from explorer.weave import forget, weave
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Swatch

MOTIFS = (500, 1000, 2000)
SWATCH = Swatch(name="rose", hex="#d98aa0")


def different(motifs: int) -> Design:
    """So many motifs, no two alike, each with a colour of its own."""
    rng = Random(motifs)  # noqa: S311 - what to try, no secret
    kinds = list(bead_kinds().values())
    beads = tuple(
        Bead(name=f"{number}", kind=kinds[number % 3], hex=f"#{rng.randrange(2**24):06x}")
        for number in range(motifs)
    )

    def dangle(own: int) -> tuple[int, ...]:
        return (own, *rng.choices(range(motifs), k=rng.randint(0, 3)))

    return of_columns(
        # The first again at the end, so that the beads are put in order.
        beads=(*beads, beads[0]),
        base_pitch_mm=2.0,
        motifs=tuple(
            tuple(Column(base=0, beads=dangle(own)) for _ in range(3)) for own in range(motifs)
        ),
        dividers=((Column(base=0),),) * (motifs + 1),
    )


def woven(pattern: Pattern) -> Design:
    """The piece of a pattern, woven anew."""
    forget()
    return weave(pattern)


def works(design: Design) -> dict[str, Callable[[], object]]:
    """What is timed of a piece."""
    pattern = lift(design)
    text = to_json(Piece(pattern=pattern))
    half = replace(pattern, run=replace(pattern.run, motifs=len(design.motifs) // 2))
    wearer = Wearer(snug_mm=900.0)
    return {
        "lift": lambda: lift(design),
        "weave": lambda: woven(pattern),
        "paint a motif": lambda: changes.paint_motif(pattern, 3, SWATCH),
        "move a motif": lambda: changes.move(pattern, 3, 9),
        "lengthen everywhere": lambda: changes.lengthen(pattern, 3, 0, 5, everywhere=True),
        "another size": lambda: changes.resize(half, wearer),
        "open": lambda: from_json(text),
    }


def best_ms(work: Callable[[], object]) -> float:
    """Milliseconds a call, the best of five."""
    return min(timeit.repeat(work, number=1, repeat=5)) * 1000.0


def main() -> None:
    """Print the table."""
    found = {motifs: {k: best_ms(w) for k, w in works(different(motifs)).items()}
             for motifs in MOTIFS}  # fmt: skip
    print(f"{'work':<22}" + "".join(f"{n:>6} ms" for n in MOTIFS) + "  twice as many")
    for name in found[MOTIFS[0]]:
        row = [found[motifs][name] for motifs in MOTIFS]
        ratios = [f"{b / a:.1f}" for a, b in pairwise(row)]
        print(f"{name:<22}" + "".join(f"{ms:9.0f}" for ms in row) + f"  {', '.join(ratios)}")


if __name__ == "__main__":
    main()
