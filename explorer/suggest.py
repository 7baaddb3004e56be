"""What to change where two neighbours look alike, each change verified by judging the result."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import pairwise

import numpy as np

from explorer.contrast import met_colours
from explorer.contrast_piece import Neighbours, PieceJudgement, judge_piece
from explorer.contrast_words import tenths
from explorer.design import Design, motif_bead, with_motif_bead
from palettes.beads import Bead
from palettes.spaces import FloatArray
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
        old_bead: the bead that goes; None for a swap.
        new_bead: the bead that comes; None for a swap.
        pair_from: the pair's worst CIEDE2000 now.
        pair_to: what it reaches, on the same meeting of the same two motifs.
        weakest_from: the piece's weakest now.
        weakest_to: the piece's weakest after the change.
        design: the piece after the change.
    """

    change: Change
    motifs: tuple[int, ...]
    old_bead: Bead | None
    new_bead: Bead | None
    pair_from: float
    pair_to: float
    weakest_from: float
    weakest_to: float
    design: Design


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    change: Change
    motifs: tuple[int, ...]
    design: Design
    old_bead: Bead | None = None
    new_bead: Bead | None = None


def suggest(
    design: Design,
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
        design: the piece.
        at_hand: more beads to take from; only those of the replaced bead's kind are used.
        pair: the neighbouring motifs or facing dangles to mend; the weakest motifs if none is
            named.
        looks: whose eyes and which lights.
        backing: the hex of what lies behind the beads, as for ``judge_piece``.
        most: at most so many.

    Returns:
        The best first, by the piece's weakest pair and then by the pair itself; empty where
        nothing helps by at least ``LEAST_GAIN``, or by the light's uncertainty if that is more.
    """
    now = judge_piece(design, looks=looks, backing=backing)
    target = pair or now.weakest
    if target is None or now.weakest is None:
        return ()
    found = []
    for candidates in (
        _swaps(design, target),
        _own_beads(design, target),
        _new_beads(design, target, at_hand),
    ):
        likely = _likeliest(list(candidates), looks, backing)
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
    then = judge_piece(candidate.design, looks=looks, backing=backing)
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
        old_bead=candidate.old_bead,
        new_bead=candidate.new_bead,
        pair_from=target.worst,
        pair_to=after.worst,
        weakest_from=before.worst,
        weakest_to=reached.worst,
        design=candidate.design,
    )


def _likeliest(
    candidates: list[_Candidate], looks: Sequence[Condition], backing: str | None
) -> list[_Candidate]:
    """The few candidates with the strongest weakest pair, by the motifs' main beads alone."""
    if not candidates:
        return []
    beads = list(dict.fromkeys(bead for c in candidates for bead in c.design.beads))
    met = met_colours([b.hex for b in beads], [b.finish for b in beads], backing)[1]
    apart: FloatArray = worst_matrix(met, looks)
    place = {bead: number for number, bead in enumerate(beads)}

    def weakest(candidate: _Candidate) -> tuple[int, float, float]:
        mains = [motif_bead(motif) for motif in candidate.design.motifs]
        row = [place[candidate.design.beads[main]] for main in mains]
        steps = np.sort([apart[a, b] for a, b in pairwise(row) if a != b])
        repeats = len(row) - 1 - len(steps)
        if not len(steps):
            return -repeats, 0.0, 0.0
        # The mean over the weaker quarter breaks ties between pieces with the same weakest.
        return -repeats, float(steps[0]), float(steps[: max(1, len(steps) // 4)].mean())

    return sorted(candidates, key=weakest, reverse=True)[:_VERIFIED]


def _swaps(design: Design, target: Neighbours) -> Iterator[_Candidate]:
    """One motif of the pair changes colours with a third."""
    mains = [motif_bead(motif) for motif in design.motifs]
    for one in (target.i, target.j):
        for other, main in enumerate(mains):
            if other in {target.i, target.j} or main == mains[one]:
                continue
            swapped = with_motif_bead(with_motif_bead(design, one, main), other, mains[one])
            yield _Candidate(change=Change.SWAP, motifs=tuple(sorted((one, other))), design=swapped)


def _own_beads(design: Design, target: Neighbours) -> Iterator[_Candidate]:
    """One motif of the pair takes a bead that other motifs have."""
    mains = [motif_bead(motif) for motif in design.motifs]
    for one in (target.i, target.j):
        for bead in sorted(set(mains) - {mains[target.i], mains[target.j]}):
            yield _Candidate(
                change=Change.OWN_BEAD,
                motifs=(one,),
                old_bead=design.beads[mains[one]],
                new_bead=design.beads[bead],
                design=with_motif_bead(design, one, bead),
            )


def _new_beads(design: Design, target: Neighbours, at_hand: Sequence[Bead]) -> Iterator[_Candidate]:
    """A colour of the pair is replaced in every motif by a bead at hand of the same kind."""
    known = set(design.beads)
    for one in dict.fromkeys(motif_bead(design.motifs[i]) for i in (target.i, target.j)):
        old = design.beads[one]
        for bead in dict.fromkeys(at_hand):
            if bead.kind != old.kind or bead in known:
                continue
            yield _Candidate(
                change=Change.NEW_BEAD,
                motifs=tuple(
                    i
                    for i, motif in enumerate(design.motifs)
                    if any(one in column.beads for column in motif)
                ),
                old_bead=old,
                new_bead=bead,
                design=_with_new_bead(design, one, bead),
            )


def _with_new_bead(design: Design, old: int, bead: Bead) -> Design:
    """The design with a bead replaced in every motif; where else it is used it stays."""
    new = len(design.beads)
    motifs = tuple(
        tuple(
            replace(column, beads=tuple(new if b == old else b for b in column.beads))
            for column in motif
        )
        for motif in design.motifs
    )
    changed = replace(design, beads=(*design.beads, bead), motifs=motifs)
    used = {column.base for _, column in changed.columns()}
    used.update(b for _, column in changed.columns() for b in column.beads)
    used.update(changed.start_links, changed.end_links)
    if old in used:
        return changed
    # Nothing else holds the old bead: the new one takes its number.
    in_place = (*design.beads[:old], bead, *design.beads[old + 1 :])
    return replace(design, beads=in_place)


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
            what = f"Make motif {suggestion.motifs[0] + 1} {_name(suggestion.new_bead)}"
        case Change.NEW_BEAD:
            what = f"Use {_name(suggestion.new_bead)} instead of {_name(suggestion.old_bead)}"
    before, after = told(suggestion.pair_from), told(suggestion.pair_to)
    return f"{what}: this pair goes from {before} to {after}"


def _name(bead: Bead | None) -> str:
    return bead.name if bead is not None else "another bead"
