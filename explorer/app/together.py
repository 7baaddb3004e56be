"""Choosing together: filling one motif after the other, surprises, and kind repairs."""

import numpy as np

from explorer.app.events import painted
from explorer.app.refit import motif_hexes
from explorer.bead_numbers import tidied
from explorer.contrast_piece import motifs_as_seen
from explorer.design import Design, motif_bead
from palettes.difference import Verdict
from palettes.swatches import Swatch

_ALIKE = (Verdict.SAME, Verdict.CLOSE)


def filled(design: Design, motif: int, swatch: Swatch) -> tuple[Design, int]:
    """The design with that motif in a colour, and the motif that is next, round and round."""
    count = len(design.motifs)
    place = motif % count
    return painted(design, (place,), swatch), (place + 1) % count


def all_in(design: Design, swatch: Swatch) -> Design:
    """Every motif in one colour."""
    for motif in range(len(design.motifs)):
        design = painted(design, (motif,), swatch)
    return design


def surprise(design: Design, swatches: tuple[Swatch, ...], rng: np.random.Generator) -> Design:
    """Colours by chance, each used about as often, no two neighbours the same where it can be.

    Args:
        design: the piece.
        swatches: the colours, at least one.
        rng: the chance.
    """
    count = len(design.motifs)
    rounds = [rng.permutation(len(swatches)) for _ in range(-(-count // len(swatches)))]
    order: list[int] = []
    for one in rounds:
        turn = one.tolist()
        # A round that would begin with the colour that the last one ended in begins one later.
        if order and len(turn) > 1 and turn[0] == order[-1]:
            turn = [*turn[1:], turn[0]]
        order.extend(turn)
    for motif, colour in enumerate(order[:count]):
        design = painted(design, (motif,), swatches[colour])
    return design


def alike(design: Design) -> tuple[int, int] | None:
    """The neighbours that look most alike, by motif; none where all can be told apart.

    A tap too many makes two neighbours of the same beads, which are told of here; one colour for
    the whole piece is a wish.
    """
    seen = motifs_as_seen(design)
    if 0 < len(seen.repeats) < len(seen.rows):
        return seen.repeats[0]
    weakest = seen.weakest
    if weakest is None or weakest.worst_verdict not in _ALIKE:
        return None
    return weakest.i, weakest.j


def swapped(design: Design) -> Design | None:
    """The piece with one of two alike neighbours exchanged for another motif's colours.

    The exchange that leaves the fewest alike neighbours, then the strongest weakest pair, then the
    nearest; none where no exchange leaves fewer or better ones.
    """
    pair = alike(design)
    if pair is None:
        return None
    now = _rank(design)
    best: tuple[tuple[int, float], int, Design] | None = None
    for moved in pair:
        for other in range(len(design.motifs)):
            candidate = _exchanged(design, moved, other)
            rank, near = _rank(candidate), -abs(moved - other)
            if rank > now and (best is None or (rank, near) > (best[0], best[1])):
                best = (rank, near, candidate)
    return None if best is None else best[2]


def _rank(design: Design) -> tuple[int, float]:
    """The fewer neighbours look alike the better; a repair sets no motif beside its like either."""
    seen = motifs_as_seen(design)
    close = sum(row.alike_by_choice or row.worst_verdict in _ALIKE for row in seen.rows)
    return -close, 0.0 if seen.weakest is None else round(seen.weakest.worst, 6)


def _exchanged(design: Design, one: int, other: int) -> Design:
    """Two motifs with their colours exchanged; the outlines stay where they are."""
    hexes = motif_hexes(design)
    if hexes[one] == hexes[other]:
        return design
    first, second = (_swatch(design, motif) for motif in (one, other))
    return tidied(painted(painted(design, (one,), second), (other,), first))


def _swatch(design: Design, motif: int) -> Swatch:
    bead = design.beads[motif_bead(design.motifs[motif])]
    return Swatch(name=bead.name.strip() or bead.hex, hex=bead.hex, finish=bead.finish)


def mended(design: Design, swatches: tuple[Swatch, ...]) -> Design | None:
    """The piece with one of two alike neighbours in the colour that stands apart best."""
    pair = alike(design)
    if pair is None:
        return None
    now = _rank(design)
    options = [painted(design, (motif,), swatch) for motif in pair for swatch in swatches]
    best = max(options, key=_rank, default=None)
    return best if best is not None and _rank(best) > now else None
