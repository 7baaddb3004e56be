"""Makes a choice better by exchanging one colour at a time."""

import math
from collections.abc import Iterator

import numpy as np

from palettes.choose_clique import Demands, Mask
from palettes.choose_metric import Rows, Single
from palettes.choose_types import Wishes

# Candidates looked at for one exchange. Chosen by us: with demands on groups or cost the first few
# often do not serve.
_TRIED = 40
# Starts that choices are grown from. Chosen by us: more of them rarely end better.
_STARTS = 24


def reached(matrix: Single | Rows, places: tuple[int, ...], must: tuple[int, ...]) -> float:
    """The smallest difference among pairs that are not both must-haves; infinite if there is none.

    Args:
        matrix: (n, n), or its rows.
        places: the chosen.
        must: those that were given.
    """
    return _weakest(matrix, list(places), must)[0]


def improved(
    matrix: Single | Rows, open_pairs: Mask, allowed: Mask, wishes: Wishes, places: tuple[int, ...]
) -> tuple[int, ...]:
    """A choice that no exchange of a colour of its weakest pair makes better.

    Args:
        matrix: (n, n), or its rows.
        open_pairs: pairs that may both be chosen, (n, n).
        allowed: which may be chosen besides the must-haves, (n,).
        wishes: the demands.
        places: a choice that holds to them.
    """
    demands = Demands(wishes, len(matrix))
    chosen = list(places)
    while True:
        low, pair = _weakest(matrix, chosen, wishes.must)
        for out in (place for place in pair if place not in wishes.must):
            others = [place for place in chosen if place != out]
            into = _better(matrix, open_pairs, allowed, wishes, demands, others, low)
            if into is not None:
                chosen = [*others, into]
                break
        else:
            return tuple(sorted(chosen))


def grown(
    matrix: Single | Rows, open_pairs: Mask, allowed: Mask, wishes: Wishes
) -> Iterator[tuple[int, ...]]:
    """Choices grown from a few starts by whichever colour lies farthest; from some there is none.

    Args:
        matrix: (n, n), or its rows.
        open_pairs: pairs that may both be chosen, (n, n).
        allowed: which may be chosen besides the must-haves, (n,).
        wishes: the demands; those on groups, cost and range are checked at the end.
    """
    demands = Demands(wishes, len(matrix))
    places = np.flatnonzero(allowed)
    for start in places[:: max(1, len(places) // _STARTS)].tolist():
        chosen = [*wishes.must, start]
        while len(chosen) < wishes.size:
            may = allowed & open_pairs[chosen].all(axis=0)
            nearest = np.where(may, matrix[chosen].min(axis=0), -math.inf)
            if math.isinf(nearest.max()):
                break
            chosen.append(int(nearest.argmax()))
        fits = len(chosen) == wishes.size and open_pairs[start, list(wishes.must)].all()
        if fits and demands.met(chosen):
            yield tuple(sorted(chosen))


def _weakest(
    matrix: Single | Rows, chosen: list[int], must: tuple[int, ...]
) -> tuple[float, tuple[int, ...]]:
    block = matrix[chosen][:, chosen].astype(np.float64)
    given = np.isin(chosen, must)
    block[np.tril_indices(len(chosen))] = math.inf
    block[np.ix_(given, given)] = math.inf
    at = int(block.argmin())
    i, j = divmod(at, len(chosen))
    if math.isinf(block[i, j]):
        return math.inf, ()
    return float(block[i, j]), (chosen[i], chosen[j])


def _better(
    matrix: Single | Rows,
    open_pairs: Mask,
    allowed: Mask,
    wishes: Wishes,
    demands: Demands,
    others: list[int],
    low: float,
) -> int | None:
    """A colour that lies farther than low from all others, the farthest that serves."""
    nearest = np.where(
        allowed & open_pairs[others].all(axis=0), matrix[others].min(axis=0), -math.inf
    )
    nearest[others] = -math.inf
    # Where the others are closer among themselves, no newcomer helps.
    if _weakest(matrix, others, wishes.must)[0] <= low:
        return None
    for place in np.argsort(-nearest, kind="stable")[:_TRIED].tolist():
        if nearest[place] <= low:
            return None
        if demands.met([*others, place]):
            return int(place)
    return None
