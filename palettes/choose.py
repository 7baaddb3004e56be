"""The best k of N colours: every two as far apart as can be, for all eyes and lights at once.

What is maximised is the smallest difference among the chosen, the worst way of looking counting
for each pair. A choice that reaches t is a set of k colours of which every two lie t apart or more,
so the best t is found by halving between a t that some choice reaches and one that none does.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike

from palettes.choose_clique import Mask, Purse, Search, SpentError
from palettes.choose_improve import grown, improved, reached
from palettes.choose_metric import Single, worst_single
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.difference import delta_e_2000
from palettes.spaces import FloatArray
from palettes.viewing import Condition, lab_under

# How much the search may do for one question, in looks at a colour. Chosen by us: all questions
# about 6 of 300 beads take less together; a million is about half a second.
STEPS = 500_000
PATIENT_STEPS = 20_000_000
# Chosen by us, because a tray holds as many, and their differences fill 100 MB.
MOST_COLOURS = 5000


def choose(
    srgb1: ArrayLike, looks: Sequence[Condition], wishes: Wishes, *, steps: int = STEPS
) -> Choice | NoChoice:
    """The choice whose two most similar colours differ most.

    Args:
        srgb1: the colours to choose from, (n, 3), at most ``MOST_COLOURS``.
        looks: the ways of looking; for every pair the worst counts.
        wishes: how many, and what else the choice must hold to.
        steps: how much the search may try; where it runs out the choice comes with a bound.

    Returns:
        The choice with exact differences, or why there is none. What is proved holds to within
        0.001, since the search works in single precision.

    Raises:
        ValueError: colours outside sRGB, too many of them, or wishes that do not suit them.
    """
    colours = np.asarray(srgb1, dtype=np.float64).reshape(-1, 3)
    if len(colours) > MOST_COLOURS:
        raise ValueError(f"at most {MOST_COLOURS} colours to choose from; got {len(colours)}")
    wishes.check_length(len(colours))
    lab = lab_under(colours, looks)
    found = choose_by(worst_single(lab), wishes, steps=steps)
    return found if isinstance(found, NoChoice) else _exact(found, lab, wishes)


def choose_by(matrix: Single, wishes: Wishes, *, steps: int = STEPS) -> Choice | NoChoice:
    """As ``choose``, from the differences themselves.

    Args:
        matrix: (n, n), symmetric; the diagonal is not read.
        wishes: the demands.
        steps: how much the search may try.
    """
    allowed = np.ones(len(matrix), dtype=bool)
    allowed[[*wishes.never, *wishes.must]] = False
    if len(wishes.must) > wishes.size or allowed.sum() < wishes.size - len(wishes.must):
        return NoChoice(why=f"{int(allowed.sum())} colours are left for {wishes.size}")
    asker = _Asker(matrix, allowed, wishes, steps)
    given = np.array(wishes.must, dtype=np.intp)
    if not asker.open_pairs[np.ix_(given, given)][np.triu_indices(len(given), 1)].all():
        return NoChoice(why="the must-haves themselves do not hold to the demands")
    try:
        first = asker.ask(-math.inf)
    except SpentError:
        return NoChoice(why="none was found that holds to all demands", certain=False)
    if first is None:
        return NoChoice(why="no choice holds to all demands at once")
    return _settled(asker, max([first, *asker.grown()], key=asker.reached))


class _Asker:
    """Answers whether some choice reaches a difference."""

    def __init__(self, matrix: Single, allowed: Mask, wishes: Wishes, steps: int) -> None:
        self.matrix, self.wishes = matrix, wishes
        self.open_pairs = _open_pairs(wishes, len(matrix))
        self.allowed = allowed
        self._steps = steps

    def ask(self, least: float) -> tuple[int, ...] | None:
        """A choice that reaches it, or None if there is none; ``SpentError`` if that stays open."""
        joined = (self.matrix >= least) & self.open_pairs
        purse = Purse(left=self._steps)
        places = Search(joined, self.allowed, self.wishes, purse).find()
        if places is None:
            return None
        return improved(self.matrix, self.open_pairs, self.allowed, self.wishes, places)

    def grown(self) -> list[tuple[int, ...]]:
        """A few good choices to start from."""
        if len(self.wishes.must) == self.wishes.size:
            return []
        parts = (self.matrix, self.open_pairs, self.allowed, self.wishes)
        return [improved(*parts, places) for places in grown(*parts)]

    def reached(self, places: tuple[int, ...]) -> float:
        """The smallest difference that is not between two must-haves."""
        return reached(self.matrix, places, self.wishes.must)


def _settled(asker: _Asker, first: tuple[int, ...]) -> Choice:
    """The best choice by halving, from one that holds to the demands."""
    best, low = first, asker.reached(first)
    if math.isinf(low):
        return _choice(asker, best, low)
    usable = asker.allowed.copy()
    usable[list(asker.wishes.must)] = True
    pairs = np.triu(asker.open_pairs & usable[:, None] & usable[None, :], 1)
    steps = np.unique(asker.matrix[pairs & (asker.matrix > low)])
    # Steps below `floor` are reached, from `top` on refuted, and of those from `doubt` on nothing
    # is known: first halve below it, so that what is found grows, then above, so that the bound
    # falls.
    floor, top, doubt = 0, len(steps), len(steps)
    tried = 0
    while max(floor, tried) < top:
        below = floor < min(top, doubt)
        middle = (floor + min(top, doubt)) // 2 if below else (max(floor, tried) + top) // 2
        try:
            found = asker.ask(float(steps[middle]))
        except SpentError:
            doubt, tried = (middle, middle + 1) if below else (doubt, middle + 1)
            continue
        if found is None:
            top = middle
        else:
            best, low = found, asker.reached(found)
            floor = int(np.searchsorted(steps, np.float32(low), side="right"))
    return _choice(asker, best, max(low, float(steps[top - 1]) if top else low))


def _choice(asker: _Asker, places: tuple[int, ...], bound: float) -> Choice:
    low = asker.reached(places)
    return Choice(
        places=places,
        weakest=low,
        weakest_pair=None,
        reached=low,
        bound=bound,
        proven=bound <= low,
    )


def _open_pairs(wishes: Wishes, count: int) -> Mask:
    """Pairs that may both be chosen, whatever their difference."""
    pairs = ~np.eye(count, dtype=bool)
    if wishes.groups:
        groups = np.array(wishes.groups)
        single = np.array(wishes.most_of)[groups] <= 1
        pairs &= ~((groups[:, None] == groups[None, :]) & single[:, None])
    if wishes.never_both:
        kinds = np.array(wishes.never_both)
        pairs &= kinds[:, None] != kinds[None, :]
    if wishes.least_gap > 0.0:
        lightness = np.array(wishes.lightness)
        pairs &= np.abs(lightness[:, None] - lightness[None, :]) >= wishes.least_gap - 1e-9
    return pairs


def _exact(found: Choice, lab: FloatArray, wishes: Wishes) -> Choice:
    """The choice with its differences by the exact formula."""
    pairs = list(combinations(found.places, 2))
    if not pairs:
        return found
    first, second = np.array(pairs).T
    worst = delta_e_2000(lab[:, first], lab[:, second]).min(axis=0)
    given = np.array([set(pair) <= set(wishes.must) for pair in pairs])
    low = float(worst[~given].min()) if not given.all() else math.inf
    at = int(worst.argmin())
    return replace(
        found,
        weakest=float(worst[at]),
        weakest_pair=pairs[at],
        reached=low,
        bound=low if found.proven else max(found.bound, low),
    )
