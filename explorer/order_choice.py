"""Which of the orders of some colours is taken, and how strong the strongest of them is.

The strongest order is the one whose weakest neighbours differ most by CIEDE2000, which others can
work out again. It is taken as long as some neighbours in it are not far apart. Where all are, HyAB
decides between the orders in which all are, since CIEDE2000 jumps there; among those that are best
by HyAB the strongest is taken. A strip of many colours may give some more up for variety. What was
given up is told.
"""

from dataclasses import dataclass, replace

import numpy as np

from explorer.arrangements import neighbours, uses_of
from explorer.sequence import best_order
from explorer.sequence_types import Arrangement, NoOrder, Order, OrderBrief
from palettes.difference import (
    CLEARLY_APART_FROM,
    FAR_APART_FROM,
    HYAB,
    pairwise,
    pairwise_hyab,
    ranked,
)
from palettes.spaces import FloatArray

# What a stronger order may have been given up for, besides ``HYAB``.
VARIETY = "variety"
# From so many colours on, a strip shall read as many-coloured. Chosen by us, by looking at strips.
_MANY = 4
# Motifs between two uses of a colour in a varied strip, so that no two colours go back and forth.
# Chosen by us, because with one between them a strip still reads as pairs.
_BETWEEN = 2
# And what of the strongest contrast it may give up for that at most. Chosen by us, likewise.
_NEARLY = 0.75
# A smaller difference is one of rounding. Chosen by us, because nobody sees a millionth of a unit.
ROUNDING = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """An order, and what its colours allow.

    Attributes:
        order: the order taken; its figures are CIEDE2000.
        strongest: the strongest weakest neighbour that its colours, their uses, the gap, the
            settled motifs and the arrangement allow, as far as was found; None without neighbours.
        proven: whether no such order does better than ``strongest``.
        gave_up_for: what a part of that was given up for, ``VARIETY`` or ``HYAB``; empty for none.
    """

    order: Order
    strongest: float | None
    proven: bool
    gave_up_for: str = ""


@dataclass(frozen=True, slots=True)
class Differences:
    """How far apart colours look, (k, k) each.

    Attributes:
        delta_e_2000: CIEDE2000.
        ranks: ``palettes.difference.ranked``.
    """

    delta_e_2000: FloatArray
    ranks: FloatArray


def differences(lab: FloatArray) -> Differences:
    """How far apart colours look, from their L*a*b*, (k, 3)."""
    matrix = pairwise(lab)
    return Differences(matrix, ranked(matrix, pairwise_hyab(lab)))


def choose_order(colours: Differences, asked: OrderBrief) -> Found | NoOrder:
    """The order to take of all that keep to a brief, or why there is none."""
    best = best_order(colours.delta_e_2000, asked)
    if isinstance(best, NoOrder):
        return best
    return _compared(colours, asked, _by_hyab(colours, asked, best), best, HYAB)


def choose_varied_order(colours: Differences, asked: OrderBrief) -> Found | NoOrder:
    """As ``choose_order``, or one more varied where that goes back and forth between two colours.

    The other one keeps two motifs between uses of a colour, and its neighbours are still clearly
    apart or nearly as far apart as can be; contrast beyond that is given up, and told. What is
    proved of the best order stays the best order's.
    """
    matrix = colours.delta_e_2000
    if asked.arrangement is not Arrangement.FREE or len(matrix) < _MANY or asked.gap >= _BETWEEN:
        return choose_order(colours, asked)
    strong = best_order(matrix, replace(asked, spread=False))
    if isinstance(strong, NoOrder):
        return strong
    spaced = replace(asked, gap=_BETWEEN)
    varied = best_order(matrix, spaced)
    if isinstance(varied, NoOrder) or varied.weakest is None or strong.weakest is None:
        return choose_order(colours, asked)
    if varied.weakest < min(CLEARLY_APART_FROM, _NEARLY * strong.weakest):
        return choose_order(colours, asked)
    why = VARIETY if varied.weakest < strong.weakest - ROUNDING else HYAB
    return _compared(colours, asked, _by_hyab(colours, spaced, varied), strong, why)


def _by_hyab(colours: Differences, asked: OrderBrief, best: Order) -> Order:
    """The order that HyAB prefers where all neighbours of the best are far apart, else the best."""
    gentle = asked.arrangement is Arrangement.RUN
    if gentle or best.weakest is None or best.weakest < FAR_APART_FROM:
        return best
    beside = neighbours(len(best.order), ring=asked.ring)
    own = min(
        float(colours.ranks[best.order[i], best.order[j]])
        for i, j in beside
        if (i, j) not in best.meant
    )
    # Pairs that do no better than its own weakest are one colour to the search: fewer questions.
    better = np.where(colours.ranks > own, colours.ranks, 0.0)
    top = best_order(better, replace(asked, spread=False))
    if isinstance(top, NoOrder) or not top.weakest:
        return best
    # Among orders as good by HyAB, the strongest: pairs below their weakest are one colour to it.
    matrix = colours.delta_e_2000
    taken = best_order(np.where(colours.ranks >= top.weakest, matrix, 0.0), asked)
    if isinstance(taken, NoOrder) or not taken.weakest or best.bound is None:
        return best
    first, last = taken.order[0], taken.order[-1]
    return replace(
        taken,
        closure=None if taken.closure is None else float(matrix[last, first]),
        bound=max(best.bound, taken.weakest),
        proven=best.bound <= taken.weakest,
    )


def _compared(
    colours: Differences, asked: OrderBrief, taken: Order, best: Order, why: str
) -> Found:
    """An order taken with the strongest that its own colours allow.

    Args:
        colours: how far apart all of them look.
        asked: what both orders keep to.
        taken: the order taken.
        best: the strongest order of all colours.
        why: what ``taken`` would have given up strength for.
    """
    if any(uses and not kept for uses, kept in zip(best.counts, taken.counts, strict=True)):
        # The strongest order takes colours that are not in this piece.
        least, most = uses_of(asked, len(colours.delta_e_2000))
        most = tuple(high if uses else 0 for high, uses in zip(most, taken.counts, strict=True))
        again = best_order(
            colours.delta_e_2000, replace(asked, least=least, most=most, spread=False)
        )
        if isinstance(again, NoOrder):
            return Found(order=taken, strongest=taken.weakest, proven=False)
        best = again
    if taken.weakest is None or best.weakest is None or best.bound is None:
        proven = best.proven and asked.arrangement is not Arrangement.RUN
        return Found(order=taken, strongest=taken.weakest, proven=proven)
    strongest = max(best.weakest, taken.weakest)
    return Found(
        order=taken,
        strongest=strongest,
        # A run is the gentlest one; nobody looked for the run whose weakest step is largest.
        proven=best.bound <= strongest and asked.arrangement is not Arrangement.RUN,
        gave_up_for=why if taken.weakest < strongest - ROUNDING else "",
    )
