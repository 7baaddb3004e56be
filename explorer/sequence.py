"""The best order of colours over a strip of motifs, and the proof that there is no better one.

Best means: the two neighbours that differ least differ as much as possible; and at that, repeats of
a colour are spread as evenly as possible, so that a strip reads as many colours and not as pairs
going back and forth.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from explorer.arrangements import Layout, lay_out, neighbours, uses_of
from explorer.sequence_alike import any_order
from explorer.sequence_budget import Budget, KeepGoing, Verdict
from explorer.sequence_conflicts import refusal
from explorer.sequence_even import spread_evenly
from explorer.sequence_places import usable
from explorer.sequence_run import VISIBLE_STEP, ends_of, gentlest_run, held
from explorer.sequence_spread import least_distance, shortfall
from explorer.sequence_strongest import lowered, strongest
from explorer.sequence_types import (
    DEFAULT_STEPS,
    MOST_COLOURS,
    QUICK_STEPS,
    Arrangement,
    Change,
    NoOrder,
    Order,
    OrderBrief,
    balanced,
)

__all__ = [
    "DEFAULT_STEPS",
    "QUICK_STEPS",
    "Arrangement",
    "Change",
    "NoOrder",
    "Order",
    "OrderBrief",
    "balanced",
    "best_order",
]


def best_order(
    matrix: NDArray[np.float64], brief: OrderBrief, keep_going: KeepGoing | None = None
) -> Order | NoOrder:
    """The order whose weakest neighbours differ most, its repeats spread as evenly as can be.

    Args:
        matrix: difference of every two colours, (k, k), symmetric, at least 0; the diagonal is not
            read. Colours that are the same to the eye may be given twice.
        brief: what is asked.
        keep_going: called now and then with the steps spent; False ends the search with the best
            found so far.

    Returns:
        The order, or why there is none.

    Raises:
        ValueError: the matrix or the brief's uses and colours do not belong together.
    """
    checked = checked_matrix(matrix)
    budget = Budget(limit=brief.steps, keep_going=keep_going, quick=brief.steps <= QUICK_STEPS)
    least, most = uses_of(brief, len(checked))
    fits = all(a <= b for a, b in zip(least, most, strict=True))
    if not fits or not sum(least) <= brief.motifs <= sum(most):
        return refusal(brief, len(checked))
    if brief.arrangement is Arrangement.RUN and usable(most).bit_count() > 1:
        return _run(checked, brief)
    layout = lay_out(brief, len(checked))
    if is_alike(checked, most):
        return _alike(checked, brief, layout)
    best = strongest(checked, layout.places, budget)
    if isinstance(best, Verdict):
        return refusal(brief, len(checked), proven=best is Verdict.IMPOSSIBLE)
    bound = best.bound if layout.judged else None
    best = lowered(checked, layout.places, best, brief.give)
    filling, proven_spread = best.order, False
    if brief.spread:
        filling, proven_spread = spread_evenly(layout.places, filling, best.adjacent, budget)
    return described(checked, layout, filling, bound=bound, proven_spread=proven_spread)


def checked_matrix(matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """The differences, tidied: exactly symmetric, nothing on the diagonal.

    Raises:
        ValueError: they are no square, symmetric, finite differences of a few colours.
    """
    given = np.asarray(matrix, dtype=float)
    if given.ndim != 2 or given.shape[0] != given.shape[1] or not given.shape[0]:
        raise ValueError(f"differences are a square matrix; got shape {given.shape}")
    if len(given) > MOST_COLOURS:
        raise ValueError(f"an order takes at most {MOST_COLOURS} colours; got {len(given)}")
    off = given[~np.eye(len(given), dtype=bool)]
    if not np.isfinite(off).all() or (off < 0).any():
        raise ValueError(f"differences are finite and at least 0; got {off.min()} to {off.max()}")
    if not np.allclose(given, given.T, rtol=0.0, atol=1e-9):
        raise ValueError("differences are the same both ways; got an asymmetric matrix")
    tidy: NDArray[np.float64] = np.minimum(given, given.T)
    np.fill_diagonal(tidy, 0.0)
    return tidy


def is_alike(matrix: NDArray[np.float64], most: tuple[int, ...]) -> bool:
    """Whether all usable colours are one to the eye."""
    colours = [c for c, high in enumerate(most) if high]
    return not matrix[np.ix_(colours, colours)].any()


def _alike(matrix: NDArray[np.float64], brief: OrderBrief, layout: Layout) -> Order | NoOrder:
    """One colour, or several that look it, is a wish that always can be, but for a gap."""
    filling = any_order(layout.places)
    if filling is None or (brief.gap and brief.motifs > 1):
        return refusal(brief, len(matrix))
    order = described(matrix, layout, filling, bound=None, proven_spread=True)
    if not order.meant:
        return order
    # Alike everywhere: pairs that the arrangement means are no exception worth naming.
    return described(matrix, replace(layout, judged=(), meant=()), filling, bound=None)


def _run(matrix: NDArray[np.float64], brief: OrderBrief) -> Order | NoOrder:
    least, most = (0,) * len(matrix), (brief.motifs,) * len(matrix)
    least, most = brief.least or least, brief.most or most
    begin, end = ends_of(matrix, brief, usable(most))
    inside = [place for place, _ in brief.fixed if 0 < place < brief.motifs - 1]
    if inside:
        return _no_run("fixed", f"A run settles its first and last motif; got place {inside[0]}.")
    if begin == end or brief.motifs < 2:
        return _no_run("ends", "A run goes from one colour to another over two motifs or more.")
    path = gentlest_run(matrix, begin, end, min(brief.motifs, len(matrix)), usable(most))
    if path is None:
        return _no_run(
            "ends",
            f"No steps of at least {VISIBLE_STEP:g}, which can be seen, lead from colour {begin} "
            f"to colour {end}.",
        )
    if brief.gap and len(path) < brief.motifs:
        return _no_run(
            "gap", f"A run of {len(path)} colours over {brief.motifs} motifs holds each for some."
        )
    missed = [c for c, low in enumerate(least) if low and c not in path]
    order = None if missed else held(path, brief.motifs, least, most)
    if order is None:
        return _no_run("least", f"The uses asked do not suit the run, which takes colours {path}.")
    return described(matrix, _run_layout(brief, order), order, bound=None, proven_spread=True)


def _run_layout(brief: OrderBrief, order: tuple[int, ...]) -> Layout:
    free = lay_out(replace(brief, arrangement=Arrangement.FREE, least=(), most=(), fixed=()), 1)
    beside = neighbours(brief.motifs, ring=False)
    meant = [(i, j) for i, j in beside if order[i] == order[j]]
    if brief.ring and brief.motifs > 2:
        # Where a run ends it meets its beginning: the jump is the arrangement's, not a weakness.
        meant.append((brief.motifs - 1, 0))
    judged = tuple(pair for pair in beside if pair not in meant)
    return replace(free, judged=judged, meant=tuple(meant))


def _no_run(demand: str, why: str) -> NoOrder:
    change = Change(field="arrangement", to=Arrangement.FREE, words="Take a free arrangement.")
    return NoOrder(demands=(demand, "arrangement"), why=why, changes=(change,))


def described(
    matrix: NDArray[np.float64],
    layout: Layout,
    filling: tuple[int, ...],
    *,
    bound: float | None,
    proven_spread: bool = False,
) -> Order:
    """An order with all that is said of it.

    Args:
        matrix: difference of every two colours, (k, k).
        layout: the puzzle that was solved.
        filling: the colour of each place.
        bound: no order has a stronger weakest pair; None when this one is known to be the best.
        proven_spread: whether its repeats are proved to be spread best.
    """
    order = layout.motifs(filling)
    pairs = layout.judged
    values = [float(matrix[order[i], order[j]]) for i, j in pairs]
    weakest = min(values, default=None)
    ring = bool(pairs) and pairs[-1] == (len(order) - 1, 0)
    return Order(
        order=order,
        weakest=weakest,
        weakest_pair=None if weakest is None else pairs[values.index(weakest)],
        proven=bound is None or (weakest is not None and weakest >= bound),
        proven_spread=proven_spread,
        mean=sum(values) / len(values) if values else None,
        counts=tuple(order.count(c) for c in range(len(matrix))),
        bound=weakest if bound is None else bound,
        closure=float(matrix[order[-1], order[0]]) if len(order) > 1 else None,
        strongest=max(values, default=None),
        distance=least_distance(order, ring=ring),
        shortfall=float(shortfall(order, ring=ring)),
        meant=layout.meant,
    )
