"""What to change where two neighbours look alike, each change verified by judging the result."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from itertools import pairwise

import numpy as np

from explorer.changes import (
    Changed,
    is_locked,
    paint_motif,
    replace_colour,
    swap_colours,
    swatch_of,
)
from explorer.contrast import met_colours
from explorer.contrast_piece import Neighbours, PieceJudgement, judge_piece
from explorer.contrast_words import tenths
from explorer.design import Design
from explorer.pattern import Key, Pattern
from explorer.weave import weave
from palettes.beads import Bead
from palettes.spaces import FloatArray
from palettes.swatches import Swatch
from palettes.viewing import TYPICAL_DAYLIGHT, Condition, worst_matrix

# A gain below this is none that anyone would see: chosen by us from the 0.8 at which half the
# people perceive a difference (Paravina et al. 2015), rounded up.
LEAST_GAIN = 1.0
# How many of each kind are judged in full: chosen by us, since the quick estimate that sorts them
# errs only where motifs hold accents.
_VERIFIED = 4


class Change(StrEnum):
    """What kind of change mends a pair."""

    SWAP = "swap"  # two motifs change places: the counts stay
    OWN_BEAD = "own bead"  # one motif takes another bead of the piece
    NEW_BEAD = "new bead"  # a bead is replaced in every motif by one at hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """One change that mends a pair.

    Attributes:
        change: its kind.
        motifs: the motifs that change, from 0.
        old: the colour that goes; None for a swap.
        new: the colour that comes; None for a swap.
        pair_from: the pair's worst CIEDE2000 now.
        pair_to: what it reaches, on the same meeting of the same two motifs.
        weakest_from: the piece's weakest now.
        weakest_to: the piece's weakest after the change.
        changed: the piece after the change.
    """

    change: Change
    motifs: tuple[int, ...]
    old: Swatch | None
    new: Swatch | None
    pair_from: float
    pair_to: float
    weakest_from: float
    weakest_to: float
    changed: Changed

    @property
    def design(self) -> Design:
        """The piece after the change, bead by bead."""
        return weave(self.changed.pattern)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    """A change that is made only if it looks likely: the motifs' own colours tell."""

    change: Change
    motifs: tuple[int, ...]
    own: tuple[Key, ...]
    make: Callable[[], Changed]
    old: Swatch | None = None
    new: Swatch | None = None


def suggest(
    pattern: Pattern,
    *,
    at_hand: Sequence[Bead] = (),
    pair: Neighbours | None = None,
    looks: Sequence[Condition] = (TYPICAL_DAYLIGHT,),
    backing: str | None = None,
    most: int = 6,
) -> tuple[Suggestion, ...]:
    """Changes that mend a weak pair and leave no other pair weaker than the weakest is now.

    None of them sets a motif beside one of the same beads that stood apart from it before.

    Every suggestion has been judged in full: its numbers are those of the changed piece.

    Args:
        pattern: the piece.
        at_hand: more beads to take from; only those of the dangles' kind are used.
        pair: the neighbouring motifs or facing dangles to mend; the weakest motifs if none is
            named.
        looks: whose eyes and which lights.
        backing: the hex of what lies behind the beads, as for ``judge_piece``.
        most: at most so many.

    Returns:
        The best first, by the piece's weakest pair and then by the pair itself; empty where
        nothing helps by at least ``LEAST_GAIN``, or by the light's uncertainty if that is more.
    """
    now = judge_piece(weave(pattern), looks=looks, backing=backing)
    target = pair or now.weakest
    if target is None or now.weakest is None:
        return ()
    found = []
    for candidates in (
        _swaps(pattern, target),
        _own_beads(pattern, target),
        _new_beads(pattern, target, at_hand),
    ):
        likely = _likeliest(pattern, list(candidates), looks, backing)
        found += [_verified(candidate, now, target, looks, backing) for candidate in likely]
    kept = [suggestion for suggestion in found if suggestion is not None]
    kept.sort(key=lambda s: (-round(s.weakest_to, 6), -round(s.pair_to, 6), len(s.motifs)))
    return tuple(kept[:most])


def _verified(
    candidate: _Candidate,
    now: PieceJudgement,
    target: Neighbours,
    looks: Sequence[Condition],
    backing: str | None,
) -> Suggestion | None:
    """The change with its numbers, or None where it does not help enough."""
    changed = candidate.make()
    then = judge_piece(weave(changed.pattern), looks=looks, backing=backing)
    after = next(
        row
        for row in (*then.motifs, *then.dangles)
        if (row.meeting, row.i, row.j) == (target.meeting, target.i, target.j)
    )
    before, reached = now.weakest, then.weakest
    if before is None or reached is None or len(then.repeats) > len(now.repeats):
        return None
    gain = max(LEAST_GAIN, target.uncertainty, after.uncertainty)
    if after.worst < target.worst + gain or reached.worst < before.worst - 1e-9:
        return None
    return Suggestion(
        change=candidate.change,
        motifs=candidate.motifs,
        old=candidate.old,
        new=candidate.new,
        pair_from=target.worst,
        pair_to=after.worst,
        weakest_from=before.worst,
        weakest_to=reached.worst,
        changed=changed,
    )


def _likeliest(
    pattern: Pattern,
    candidates: list[_Candidate],
    looks: Sequence[Condition],
    backing: str | None,
) -> list[_Candidate]:
    """The few candidates with the strongest weakest pair, by the motifs' own colours alone."""
    if not candidates:
        return []
    keys = list(dict.fromkeys(key for one in candidates for key in one.own if key != _NEW))
    swatches = [swatch_of(pattern, key) for key in keys]
    place = {key: number for number, key in enumerate(keys)}
    # Each new colour has a place of its own behind those that there are.
    new = list(dict.fromkeys(one.new for one in candidates if one.new is not None))
    swatches += new
    place_of_new = {swatch: len(keys) + number for number, swatch in enumerate(new)}
    met = met_colours([s.hex for s in swatches], [s.finish for s in swatches], backing)[1]
    apart: FloatArray = worst_matrix(met, looks)

    def weakest(candidate: _Candidate) -> tuple[int, float, float]:
        row = [
            place_of_new[candidate.new] if key == _NEW and candidate.new else place[key]
            for key in candidate.own
        ]
        steps = np.sort([apart[a, b] for a, b in pairwise(row) if a != b])
        repeats = len(row) - 1 - len(steps)
        if not len(steps):
            return -repeats, 0.0, 0.0
        # The mean over the weaker quarter breaks ties between pieces with the same weakest.
        return -repeats, float(steps[0]), float(steps[: max(1, len(steps) // 4)].mean())

    return sorted(candidates, key=weakest, reverse=True)[:_VERIFIED]


# Stands for a colour that the palette has not yet: no colour has this key.
_NEW: Key = 0


def _swaps(pattern: Pattern, target: Neighbours) -> Iterator[_Candidate]:
    """One motif of the pair changes colours with a third."""
    own = _own(pattern)
    for one in (target.i, target.j):
        for other, key in enumerate(own):
            if other in {target.i, target.j} or key == own[one]:
                continue
            if is_locked(pattern, one) or is_locked(pattern, other):
                continue
            swapped = list(own)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            yield _Candidate(
                change=Change.SWAP,
                motifs=tuple(sorted((one, other))),
                own=tuple(swapped),
                make=partial(swap_colours, pattern, one, other),
            )


def _own_beads(pattern: Pattern, target: Neighbours) -> Iterator[_Candidate]:
    """One motif of the pair takes a colour that other motifs have."""
    own = _own(pattern)
    for one in (target.i, target.j):
        if is_locked(pattern, one):
            continue
        for key in sorted(set(own) - {own[target.i], own[target.j]}):
            swatch = swatch_of(pattern, key)
            yield _Candidate(
                change=Change.OWN_BEAD,
                motifs=(one,),
                own=(*own[:one], key, *own[one + 1 :]),
                make=partial(paint_motif, pattern, one, swatch),
                old=swatch_of(pattern, own[one]),
                new=swatch,
            )


def _new_beads(
    pattern: Pattern, target: Neighbours, at_hand: Sequence[Bead]
) -> Iterator[_Candidate]:
    """A colour of the pair is replaced in every motif by a bead at hand of the same kind."""
    own = _own(pattern)
    known = {(colour.name, colour.hex, colour.finish) for colour in pattern.colours}
    for key in dict.fromkeys((own[target.i], own[target.j])):
        old = swatch_of(pattern, key)
        for bead in dict.fromkeys(at_hand):
            if bead.kind != pattern.hanging or (bead.name, bead.hex, bead.finish) in known:
                continue
            new = Swatch(name=bead.name.strip() or bead.hex, hex=bead.hex, finish=bead.finish)
            yield _Candidate(
                change=Change.NEW_BEAD,
                motifs=tuple(motif for motif, one in enumerate(own) if one == key),
                own=tuple(_NEW if one == key else one for one in own),
                make=partial(replace_colour, pattern, old, new),
                old=old,
                new=new,
            )


def _own(pattern: Pattern) -> tuple[Key, ...]:
    return tuple(pattern.own_key(motif) for motif in range(pattern.run.motifs))


def in_words(suggestion: Suggestion, told: Callable[[float], str] = tenths) -> str:
    """The suggestion as a button says it; motifs count from 1.

    Args:
        suggestion: the change.
        told: writes a difference as the maker does.
    """
    match suggestion.change:
        case Change.SWAP:
            first, second = suggestion.motifs
            what = f"Swap motifs {first + 1} and {second + 1}"
        case Change.OWN_BEAD:
            what = f"Make motif {suggestion.motifs[0] + 1} {_name(suggestion.new)}"
        case Change.NEW_BEAD:
            what = f"Use {_name(suggestion.new)} instead of {_name(suggestion.old)}"
    before, after = told(suggestion.pair_from), told(suggestion.pair_to)
    return f"{what}: this pair goes from {before} to {after}"


def _name(swatch: Swatch | None) -> str:
    return "another colour" if swatch is None else swatch.name
