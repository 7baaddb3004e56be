"""Choosing together: filling one motif after the other, surprises, and kind repairs."""

import numpy as np

from explorer import changes
from explorer.contrast_piece import motifs_as_seen
from explorer.design import Design
from explorer.pattern import PaintEdit, Pattern
from explorer.weave import weave
from palettes.difference import Verdict
from palettes.swatches import Swatch

_ALIKE = (Verdict.SAME, Verdict.CLOSE)


def filled(pattern: Pattern, motif: int, swatch: Swatch) -> tuple[Pattern, int]:
    """The piece with that motif in a colour, and the motif that is next, round and round.

    A locked motif keeps its colour.
    """
    place = motif % pattern.run.motifs
    following = (place + 1) % pattern.run.motifs
    if changes.is_locked(pattern, place):
        return pattern, following
    return changes.paint_motif(pattern, place, swatch).pattern, following


def all_in(pattern: Pattern, swatch: Swatch) -> Pattern:
    """Every motif in one colour."""
    return changes.paint_all(pattern, swatch).pattern


def surprise(pattern: Pattern, swatches: tuple[Swatch, ...], rng: np.random.Generator) -> Pattern:
    """Colours by chance, each used about as often, no two neighbours the same where it can be.

    Args:
        pattern: the piece.
        swatches: the colours, at least one.
        rng: the chance.
    """
    count = pattern.run.motifs
    rounds = [rng.permutation(len(swatches)) for _ in range(-(-count // len(swatches)))]
    order: list[int] = []
    for one in rounds:
        turn = one.tolist()
        # A round that would begin with the colour that the last one ended in begins one later.
        if order and len(turn) > 1 and turn[0] == order[-1]:
            turn = [*turn[1:], turn[0]]
        order.extend(turn)
    return changes.in_order(pattern, swatches, order[:count]).pattern


def own_words(before: Pattern, after: Pattern) -> str:
    """Which parts had colours given by hand that a step took away; empty for none."""

    def painted(pattern: Pattern, motif: int) -> bool:
        done = pattern.by_hand(motif)
        touched = any(isinstance(edit, PaintEdit) for edit in done.edits)
        return bool(done.colour or done.held or touched)

    motifs = range(after.run.motifs)
    gone = [motif for motif in motifs if painted(before, motif) and not painted(after, motif)]
    if len(gone) == 1:
        return f"Part {gone[0] + 1} had its own colour. Undo brings it back."
    return f"{len(gone)} parts had their own colours. Undo brings them back." if gone else ""


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


def swapped(pattern: Pattern) -> Pattern | None:
    """The piece with one of two alike neighbours exchanged for another motif's colours.

    The exchange that leaves the fewest alike neighbours, then the strongest weakest pair, then the
    nearest; none where no exchange leaves fewer or better ones.
    """
    pair = alike(weave(pattern))
    if pair is None:
        return None
    now = _rank(pattern)
    best: tuple[tuple[int, float], int, Pattern] | None = None
    own = [pattern.own_key(motif) for motif in range(pattern.run.motifs)]
    for moved in pair:
        for other in range(pattern.run.motifs):
            locked = changes.is_locked(pattern, moved) or changes.is_locked(pattern, other)
            if locked or own[moved] == own[other]:
                continue
            candidate = changes.swap_colours(pattern, moved, other).pattern
            rank, near = _rank(candidate), -abs(moved - other)
            if rank > now and (best is None or (rank, near) > (best[0], best[1])):
                best = (rank, near, candidate)
    return None if best is None else best[2]


def _rank(pattern: Pattern) -> tuple[int, float]:
    """The fewer neighbours look alike the better; a repair sets no motif beside its like either."""
    seen = motifs_as_seen(weave(pattern))
    close = sum(row.alike_by_choice or row.worst_verdict in _ALIKE for row in seen.rows)
    return -close, 0.0 if seen.weakest is None else round(seen.weakest.worst, 6)


def mended(pattern: Pattern, swatches: tuple[Swatch, ...]) -> Pattern | None:
    """The piece with one of two alike neighbours in the colour that stands apart best."""
    pair = alike(weave(pattern))
    if pair is None:
        return None
    now = _rank(pattern)
    options = [
        changes.paint_motif(pattern, motif, swatch).pattern
        for motif in pair
        if not changes.is_locked(pattern, motif)
        for swatch in swatches
    ]
    best = max(options, key=_rank, default=None)
    return best if best is not None and _rank(best) > now else None
