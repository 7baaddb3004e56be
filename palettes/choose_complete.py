"""From a few picks to a palette that goes with them and stands apart.

Harmony rewards likeness and contrast difference, so one of them leads: first it is found how far
apart the colours could lie; then, among palettes that keep a good part of that, the most
harmonious is sought by exchanging colours.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from palettes.choose import STEPS, choose
from palettes.choose_metric import Single, delta_e_single, single_lab
from palettes.choose_types import HARMONY, Choice, NoChoice, Wishes
from palettes.choose_watch import Told
from palettes.difference import CLEARLY_APART_FROM
from palettes.harmony import harmony, mean_harmony
from palettes.spaces import FloatArray, srgb1_to_lab
from palettes.viewing import Condition, lab_under, worst_matrix

# The part of the best contrast that is kept. Chosen by us: it leaves room for harmony, and above
# ``clearly apart`` more contrast makes no piece better.
KEPT = 0.75
# Rounds of exchanges from the best choice. Chosen by us: it settles in fewer.
_ROUNDS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Completion:
    """A completed palette.

    Attributes:
        choice: the places; ``bound`` is the contrast that could be had without regard to harmony,
            and ``proven`` says whether this one has it.
        floor: the difference that every two keep, those of picks aside.
        harmony: mean harmony over all pairs.
    """

    choice: Choice
    floor: float
    harmony: float


def complete(
    srgb1: FloatArray,
    looks: Sequence[Condition],
    wishes: Wishes,
    *,
    steps: int = STEPS,
    most: int | None = None,
    told: Told | None = None,
) -> Completion | NoChoice:
    """A palette around must-haves.

    Args:
        srgb1: the colours to choose from, the picks among them, (n, 3).
        looks: the ways of looking.
        wishes: how many, with the picks as must-haves; demands beyond single pairs (groups, cost,
            range) are kept to by the choice that harmony starts from, and harmony then only
            exchanges where all hold none of them.
        steps: how much the search may try for one question.
        most: how much it may try in all, as ``choose`` takes it.
        told: is told how it stands and may end it, as ``choose`` takes it.
    """
    best = choose(srgb1, looks, wishes, steps=steps, most=most, told=told)
    if isinstance(best, NoChoice):
        return best
    floor = min(CLEARLY_APART_FROM, KEPT * best.reached)
    lab = srgb1_to_lab(srgb1)
    places = list(best.places)
    if not _has_wider_demands(wishes):
        places = _more_harmonious(lab, lab_under(srgb1, looks), places, wishes, floor)
    exact = worst_matrix(srgb1[places], looks)
    exact[np.tril_indices(len(places))] = np.inf
    i, j = divmod(int(exact.argmin()), len(places))
    given = np.isin(places, wishes.must)
    free = exact.copy()
    free[np.ix_(given, given)] = np.inf
    reached = float(free.min())
    strongest = best.reached if best.strongest is None else best.strongest
    given_up = reached < strongest - 1e-9
    return Completion(
        choice=Choice(
            places=tuple(places),
            weakest=float(exact[i, j]),
            weakest_pair=(places[i], places[j]) if len(places) > 1 else None,
            reached=reached,
            bound=max(best.bound, reached),
            proven=best.proven and reached >= best.reached - 1e-9,
            strongest=strongest if given_up else None,
            gave_up_for=HARMONY if given_up else "",
            stopped=best.stopped,
        ),
        floor=floor,
        harmony=mean_harmony(lab[places]),
    )


def _has_wider_demands(wishes: Wishes) -> bool:
    return bool(
        wishes.groups
        or wishes.never_both
        or wishes.costs
        or wishes.least_gap > 0.0
        or wishes.least_range > 0.0
    )


def _more_harmonious(
    lab: FloatArray, seen: FloatArray, places: list[int], wishes: Wishes, floor: float
) -> list[int]:
    """The places after exchanges that each raise harmony and keep the floor."""
    views = single_lab(seen)
    may = np.ones(len(lab), dtype=bool)
    may[list(wishes.never)] = False
    for _ in range(_ROUNDS):
        swap = _best_swap(lab, views, may, places, wishes.must, floor)
        if swap is None:
            break
        out, into = swap
        places = sorted([*(place for place in places if place != out), into])
    return places


def _best_swap(
    lab: FloatArray,
    views: Single,
    may: NDArray[np.bool_],
    places: list[int],
    must: tuple[int, ...],
    floor: float,
) -> tuple[int, int] | None:
    """The exchange that raises the sum of harmonies most, if any does."""
    pairs = harmony(lab[places][:, None], lab[None])
    apart = delta_e_single(views[:, :, places, None], views[:, :, None, :]).min(axis=0)
    best, swap = 1e-9, None
    for row, out in enumerate(places):
        if out in must:
            continue
        others = np.arange(len(places)) != row
        open_ = may & (apart[others] >= floor).all(axis=0)
        open_[places] = False
        gain = pairs[others].sum(axis=0) - pairs[others, out].sum()
        gain = np.where(open_, gain, -np.inf)
        into = int(gain.argmax())
        if gain[into] > best:
            best, swap = float(gain[into]), (out, into)
    return swap
