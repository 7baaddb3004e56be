"""Judgements and their pictures, kept like everything in ``explorer.app.cache``."""

import contextlib
from dataclasses import dataclass

from explorer.app import drawings, tasks
from explorer.app.drawings import Seen
from explorer.app.heavy import LINE, Job, in_turn
from explorer.app.helper import HelperLostError
from explorer.app.store import kept
from explorer.contrast import met_colours
from explorer.contrast_piece import Neighbours, PieceJudgement, judge_piece
from explorer.design import Design
from explorer.pattern import Pattern
from explorer.suggest import Suggestion, suggest
from palettes.beads import Bead
from palettes.swatches import Swatch
from palettes.viewing import Condition, worst_matrix

# In megabytes, of each; chosen by us: of a class's pieces all that is judged, and as many strips as
# thirty pages show, at some 100 kB each.
_FIGURES, _PICTURES = 8.0, 24.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A piece and everything that a judgement of it depends on."""

    design: Design
    looks: tuple[Condition, ...]
    backing: str | None
    distance_m: float | None


@kept(_FIGURES)
def judged_piece(question: Question) -> PieceJudgement:
    """Everything that meets on the piece, weakest first."""
    return judge_piece(
        question.design,
        looks=question.looks,
        backing=question.backing,
        distance_m=question.distance_m,
    )


@kept(_FIGURES)
def mended(
    pattern: Pattern, question: Question, pair: Neighbours, at_hand: tuple[Bead, ...], most: int
) -> tuple[Suggestion, ...]:
    """What to change for a pair, the best first."""
    return suggest(
        pattern,
        at_hand=at_hand,
        pair=pair,
        looks=question.looks,
        backing=question.backing,
        most=most,
    )


@kept(_PICTURES)
@in_turn
def seen_strip(design: Design, look: Condition, backing: str | None, narrow: bool) -> Seen:
    """The strip without its closure, in rows where it is long, all beads hanging straight."""
    return drawings.seen_strip(design, look, backing, narrow)


def asked_strips(question: Question, looks: tuple[Condition, ...], narrow: bool) -> Job | None:
    """Have those of the strips drawn that are not kept; None where all are."""
    design, backing = question.design, question.backing
    lacking = tuple(look for look in looks if seen_strip.get(design, look, backing, narrow) is None)
    return LINE.join(tasks.strips, design, lacking, backing, narrow) if lacking else None


def keep_strips(job: Job) -> None:
    """Keep what was drawn; what was lost is drawn where it is shown."""
    design, looks, backing, narrow = job.arguments
    with contextlib.suppress(HelperLostError):
        for look, seen in zip(looks, job.result() or (), strict=False):
            seen_strip.put(seen, design, look, backing, narrow)


@kept(_PICTURES)
@in_turn
def close_up(design: Design, first: int, look: Condition, backing: str | None) -> bytes:
    """Two neighbouring motifs as someone sees them, without those beside them."""
    return drawings.pair_seen(design, first, look, backing)


@kept(_PICTURES)
@in_turn
def pair_from(design: Design, first: int, backing: str | None, distance_m: float) -> bytes:
    """The same two as an ordinary eye has them from farther away."""
    return drawings.pair_from(design, first, backing, distance_m)


@kept(_FIGURES)
def colour_matrix(
    swatches: tuple[Swatch, ...], looks: tuple[Condition, ...], backing: str | None
) -> tuple[tuple[float, ...], ...]:
    """The smallest CIEDE2000 of all pairs of colours over the conditions."""
    met = met_colours([s.hex for s in swatches], [s.finish for s in swatches], backing)[1]
    return tuple(tuple(row) for row in worst_matrix(met, looks).tolist())
