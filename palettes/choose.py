"""The best k of N colours: every two as far apart as can be, for all eyes and lights at once.

What is maximised is the smallest difference among the chosen, the worst way of looking counting
for each pair. A choice that reaches t is a set of k colours of which every two lie t apart or more,
so the best t is found by halving between a t that some choice reaches and one that none does.

Where some choice is far apart throughout, HyAB decides between those that are, since CIEDE2000
jumps there; among those that are best by HyAB the one that CIEDE2000 prefers is taken.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike

from palettes.choose_clique import Mask, Purse, Search, SpentError
from palettes.choose_improve import grown, improved, reached
from palettes.choose_metric import Rows, Single, worst_hyab, worst_single
from palettes.choose_types import Choice, NoChoice, Wishes
from palettes.choose_watch import Sofar, StoppedError, Told, Watch
from palettes.difference import FAR_APART_FROM, HYAB, delta_e_2000, ranked
from palettes.spaces import FloatArray
from palettes.viewing import Condition, lab_under

# How much the search may do for one question, in looks at a colour. Chosen by us: all questions
# about 6 of 300 beads take less together; a million is about half a second.
STEPS = 500_000
PATIENT_STEPS = 20_000_000
# Chosen by us, because a tray holds as many, and their differences fill 100 MB.
MOST_COLOURS = 5000
# From so many colours on, a first answer comes before all their differences are known. Chosen by
# us: those of a thousand take about a fifth of a second.
MANY = 1000
# How much is done when the strongest choice is known. Chosen by us, because what follows is short.
_LAST_PART = 0.9
# The part of ``steps`` that HyAB's choice gets for a question. Chosen by us, because nothing is
# claimed to be proved of it; of 60 to 5000 colours it found the same as all steps would.
_LESS = 20


def choose(
    srgb1: ArrayLike,
    looks: Sequence[Condition],
    wishes: Wishes,
    *,
    steps: int = STEPS,
    most: int | None = None,
    told: Told | None = None,
) -> Choice | NoChoice:
    """The choice whose two most similar colours differ most.

    Args:
        srgb1: the colours to choose from, (n, 3), at most ``MOST_COLOURS``.
        looks: the ways of looking; for every pair the worst counts.
        wishes: how many, and what else the choice must hold to.
        steps: how much the search may try for one question; where it runs out the choice comes
            with a bound.
        most: how much it may try in all after its first answer, looks and, from ``MANY`` colours
            on, differences together; None for no limit.
        told: is told how the search stands, and ends it where it answers False; the best so far is
            its answer then.

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
    watch = Watch(told, most)

    @cache
    def matrix() -> Single:
        return worst_single(lab, watch.spend if len(colours) >= MANY else None)

    start = matrix() if len(colours) < MANY else Rows(lab)
    found = _found(start, matrix, wishes, steps, watch)
    if isinstance(found, NoChoice):
        return found
    found = _exact(found, lab, wishes)
    if found.stopped or not FAR_APART_FROM <= found.reached < math.inf:
        return found
    return _by_hyab(found, matrix(), lab, wishes, steps, watch)


def _by_hyab(
    first: Choice, matrix: Single, lab: FloatArray, wishes: Wishes, steps: int, watch: Watch
) -> Choice:
    """The choice that HyAB prefers of those that are far apart throughout, else the first."""
    ranks = ranked(matrix, worst_hyab(lab))
    # What is told stays CIEDE2000, and of the first choice.
    told = watch.told_as(Sofar(part=_LAST_PART, reached=first.reached))
    top = _known(ranks, wishes, steps // _LESS, told)
    if isinstance(top, Choice) and not top.stopped:
        # Among choices as good by HyAB, the strongest: worse pairs are one colour to it.
        among = np.where(ranks >= top.reached, matrix, np.float32(0.0))
        top = _known(among, wishes, steps // _LESS, told)
    if isinstance(top, NoChoice) or top.stopped or top.reached < FAR_APART_FROM:
        return replace(first, stopped=isinstance(top, Choice) and top.stopped)
    taken = _exact(top, lab, wishes)
    if taken.reached >= first.reached:
        # As strong: a third colour may stand further from the two that are the weakest pair.
        return replace(taken, bound=max(first.bound, taken.reached), proven=first.proven)
    return replace(
        taken,
        bound=first.bound,
        proven=False,
        strongest=first.reached,
        gave_up_for=HYAB,
    )


def choose_by(matrix: Single, wishes: Wishes, *, steps: int = STEPS) -> Choice | NoChoice:
    """As ``choose``, from the differences themselves.

    Args:
        matrix: (n, n), symmetric; the diagonal is not read.
        wishes: the demands.
        steps: how much the search may try.
    """
    return _known(matrix, wishes, steps, Watch())


def _known(matrix: Single, wishes: Wishes, steps: int, watch: Watch) -> Choice | NoChoice:
    """The choice where all differences are known."""
    return _found(matrix, lambda: matrix, wishes, steps, watch)


def _found(
    matrix: Single | Rows,
    whole: Callable[[], Single],
    wishes: Wishes,
    steps: int,
    watch: Watch,
) -> Choice | NoChoice:
    """The choice from the differences, or first from rows of them and then from all."""
    count = len(matrix)
    allowed = np.ones(count, dtype=bool)
    allowed[[*wishes.never, *wishes.must]] = False
    if len(wishes.must) > wishes.size or allowed.sum() < wishes.size - len(wishes.must):
        return NoChoice(why=f"{int(allowed.sum())} colours are left for {wishes.size}")
    asker = _Asker(matrix, allowed, wishes, steps, watch)
    given = np.array(wishes.must, dtype=np.intp)
    if not asker.open_pairs[np.ix_(given, given)][np.triu_indices(len(given), 1)].all():
        return NoChoice(why="the must-haves themselves do not hold to the demands")
    pairs = count * (count - 1) // 2 if isinstance(matrix, Rows) else 0
    watch.plan(pairs + steps * _questions(count))
    try:
        if asker.ask(asker.open_pairs) is None:
            return NoChoice(why="no choice holds to all demands at once")
        asker.grow()
        asker.matrix = all_of_it = whole()
        return _settled(asker, all_of_it)
    except SpentError:
        return NoChoice(why="none was found that holds to all demands", certain=False)
    except StoppedError:
        if not watch.best:
            return NoChoice(why="the search was ended before one was found", certain=False)
        return replace(_choice(asker, watch.bound), stopped=True)


def _questions(count: int) -> int:
    """About how many questions halving asks about the differences of so many colours."""
    return 2 * max(1, count * count // 2).bit_length()


class _Asker:
    """Answers whether some choice reaches a difference."""

    def __init__(
        self, matrix: Single | Rows, allowed: Mask, wishes: Wishes, steps: int, watch: Watch
    ) -> None:
        self.matrix, self.wishes, self.watch, self.steps = matrix, wishes, watch, steps
        self.open_pairs = _open_pairs(wishes, len(matrix))
        self.allowed = allowed

    def ask(self, joined: Mask) -> tuple[int, ...] | None:
        """A choice of colours that are all joined, made better, or None if there is none.

        Raises:
            SpentError: that stays open.
            StoppedError: the whole search is to end.
        """
        purse = Purse(left=self.steps, watch=self.watch)
        places = Search(joined, self.allowed, self.wishes, purse).find()
        return None if places is None else self._improved(places)

    def grow(self) -> None:
        """Try a few good choices to start from; ``StoppedError`` as ``ask``."""
        if len(self.wishes.must) == self.wishes.size:
            return
        for places in grown(self.matrix, self.open_pairs, self.allowed, self.wishes):
            self._improved(places)
            # The rows of differences that were looked at.
            self.watch.spend(self.wishes.size * len(self.matrix))

    def _improved(self, places: tuple[int, ...]) -> tuple[int, ...]:
        parts = (self.matrix, self.open_pairs, self.allowed, self.wishes)
        better = improved(*parts, places)
        self.watch.better(better, self.reached(better))
        return better

    def reached(self, places: tuple[int, ...]) -> float:
        """The smallest difference that is not between two must-haves."""
        return reached(self.matrix, places, self.wishes.must)


def _settled(asker: _Asker, matrix: Single) -> Choice:
    """The best choice by halving, from the best that holds to the demands so far."""
    watch = asker.watch
    low = asker.reached(watch.best)
    if math.isinf(low):
        return _choice(asker, low)
    usable = asker.allowed.copy()
    usable[list(asker.wishes.must)] = True
    pairs = np.triu(asker.open_pairs & usable[:, None] & usable[None, :], 1)
    steps = np.unique(matrix[pairs & (matrix > low)])
    # Steps below `floor` are reached, from `top` on refuted, and of those from `doubt` on nothing
    # is known: first halve below it, so that what is found grows, then above, so that the bound
    # falls.
    floor, top, doubt = 0, len(steps), len(steps)
    tried = 0
    behind, asked = watch.done, 0
    while max(floor, tried) < top:
        watch.bound = float(steps[top - 1])
        below = floor < min(top, doubt)
        middle = (floor + min(top, doubt)) // 2 if below else (max(floor, tried) + top) // 2
        asked += 1
        try:
            found = asker.ask((matrix >= steps[middle]) & asker.open_pairs)
        except SpentError:
            doubt, tried = (middle, middle + 1) if below else (doubt, middle + 1)
        else:
            if found is None:
                top = middle
            else:
                low = asker.reached(found)
                floor = int(np.searchsorted(steps, np.float32(low), side="right"))
        watch.settle(behind + asked * asker.steps)
    return _choice(asker, max(low, float(steps[top - 1]) if top else low))


def _choice(asker: _Asker, bound: float) -> Choice:
    """The best choice so far."""
    places = asker.watch.best
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
