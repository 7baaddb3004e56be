"""The colour orders of one search, each found once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from explorer.arrangements import uses_of
from explorer.brief import Brief
from explorer.motif_looks import Mix
from explorer.sequence import QUICK_STEPS, best_order
from explorer.sequence_types import Arrangement, NoOrder, Order, OrderBrief, balanced
from palettes.difference import CLEARLY_APART_FROM, pairwise
from palettes.spaces import (
    FloatArray,
    hexes_to_srgb1,
    linear1_to_srgb1,
    srgb1_to_lab,
    srgb1_to_linear1,
)

_Key = tuple[tuple[int, ...], int, Arrangement, tuple[int, ...], Mix]
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
        order: the order taken.
        strongest: the strongest weakest neighbour that its colours, their uses, the gap, the
            settled motifs and the arrangement allow, as far as was found; None without neighbours.
        proven: whether no such order does better than ``strongest``.
        varied: whether some of that was given up for an order that reads as more varied.
    """

    order: Order
    strongest: float | None
    proven: bool
    varied: bool = False


class Orders:
    """Colour orders found so far in one search, so that none is searched for twice.

    Args:
        brief: its colours, and its gap, fixed motifs and stock, which bind every order.
        matrix: how far apart the brief's colours look, (n, n).
    """

    def __init__(self, brief: Brief, matrix: FloatArray) -> None:
        self._brief = brief
        self._matrix = matrix
        self._linear1 = srgb1_to_linear1(hexes_to_srgb1([bead.hex for bead in brief.colours]))
        self._known: dict[_Key, Found | NoOrder] = {}

    def find(
        self,
        palette: tuple[int, ...],
        motifs: int,
        arrangement: Arrangement,
        beads_a_motif: int,
        mix: Mix = (),
    ) -> Found | None:
        """The best order of a palette over so many motifs; None where there is none.

        Args:
            palette: places in the brief's colours; fixed colours that it lacks make it unfit.
            motifs: how many.
            arrangement: how they are laid out.
            beads_a_motif: beads of its colour that a motif takes, which stock limits.
            mix: what of other colours every motif holds; motifs are compared as they are seen.
        """
        limits = self._limits(palette, beads_a_motif)
        key = (palette, motifs, arrangement, limits, mix)
        if key not in self._known:
            asked = self._asked(palette, motifs, arrangement, limits)
            if asked is None:
                return None
            self._known[key] = _many_coloured(self._apart(palette, mix), asked)
        found = self._known[key]
        return found if isinstance(found, Found) else None

    def refusal(self) -> NoOrder | None:
        """The first refusal, if every order asked for was refused."""
        refusals = [found for found in self._known.values() if isinstance(found, NoOrder)]
        return refusals[0] if refusals and len(refusals) == len(self._known) else None

    def _apart(self, palette: tuple[int, ...], mix: Mix) -> FloatArray:
        """How far apart motifs of the palette's colours look, (k, k)."""
        if not mix:
            return self._matrix[np.ix_(palette, palette)]
        own = self._linear1[list(palette)]
        other = own[[place for place, _ in mix]]
        share = np.array([part for _, part in mix])[:, None]
        return pairwise(srgb1_to_lab(linear1_to_srgb1((1.0 - share) * own + share * other)))

    def _limits(self, palette: tuple[int, ...], beads_a_motif: int) -> tuple[int, ...]:
        stock = self._brief.stock
        return tuple(stock[place] // beads_a_motif for place in palette) if stock else ()

    def _asked(
        self,
        palette: tuple[int, ...],
        motifs: int,
        arrangement: Arrangement,
        limits: tuple[int, ...],
    ) -> OrderBrief | None:
        fixed = [(place, colour) for place, colour in self._brief.fixed if place < motifs]
        if any(colour not in palette for _, colour in fixed):
            return None
        uses = limited_uses(limits, motifs) if limits else ((), ())
        if uses is None:
            return None
        return OrderBrief(
            motifs=motifs,
            least=uses[0],
            most=uses[1],
            gap=self._brief.gap,
            fixed=tuple((place, palette.index(colour)) for place, colour in fixed),
            arrangement=arrangement,
            steps=QUICK_STEPS,
        )


def _many_coloured(matrix: FloatArray, asked: OrderBrief) -> Found | NoOrder:
    """The best order, or one more varied where the best goes back and forth between two colours.

    The other one keeps two motifs between uses of a colour, and its neighbours are still clearly
    apart or nearly as far apart as can be; contrast beyond that is given up, and told. What is
    proved of the best order stays the best order's.
    """
    if asked.arrangement is not Arrangement.FREE or len(matrix) < _MANY or asked.gap >= _BETWEEN:
        return _best(matrix, asked)
    strong = best_order(matrix, replace(asked, spread=False))
    if isinstance(strong, NoOrder):
        return strong
    varied = best_order(matrix, replace(asked, gap=_BETWEEN))
    if isinstance(varied, NoOrder) or varied.weakest is None or strong.weakest is None:
        return _best(matrix, asked)
    if varied.weakest < min(CLEARLY_APART_FROM, _NEARLY * strong.weakest):
        return _best(matrix, asked)
    return _with_strongest(matrix, asked, varied, strong)


def _best(matrix: FloatArray, asked: OrderBrief) -> Found | NoOrder:
    """The best order, its repeats spread."""
    best = best_order(matrix, asked)
    if isinstance(best, NoOrder):
        return best
    # A run is the gentlest one; nobody looked for the run whose weakest step is largest.
    proven = best.proven and asked.arrangement is not Arrangement.RUN
    return Found(order=best, strongest=best.weakest, proven=proven)


def _with_strongest(matrix: FloatArray, asked: OrderBrief, varied: Order, best: Order) -> Found:
    """A varied order with the strongest that its own colours allow.

    Args:
        matrix: how far apart all colours look, (k, k).
        asked: what both orders keep to.
        varied: the order taken.
        best: the strongest order of all colours.
    """
    if any(uses and not kept for uses, kept in zip(best.counts, varied.counts, strict=True)):
        # The strongest order takes colours that are not in this piece.
        least, most = uses_of(asked, len(matrix))
        most = tuple(high if uses else 0 for high, uses in zip(most, varied.counts, strict=True))
        again = best_order(matrix, replace(asked, least=least, most=most, spread=False))
        if isinstance(again, NoOrder):
            return Found(order=varied, strongest=varied.weakest, proven=False)
        best = again
    if varied.weakest is None or best.weakest is None or best.bound is None:
        return Found(order=varied, strongest=varied.weakest, proven=False)
    strongest = max(best.weakest, varied.weakest)
    return Found(
        order=varied,
        strongest=strongest,
        proven=best.bound <= strongest,
        varied=varied.weakest < strongest - ROUNDING,
    )


def limited_uses(
    limits: Sequence[int], motifs: int
) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
    """Fewest and most uses of each colour: balanced as far as the beads at hand allow.

    Args:
        limits: motifs that each colour's beads are enough for.
        motifs: how many there are.

    Returns:
        Both, or None where all beads together are not enough.
    """
    if sum(limits) < motifs:
        return None
    least, most = balanced(len(limits), motifs)
    more = 0
    while sum(min(limit, high + more) for limit, high in zip(limits, most, strict=True)) < motifs:
        more += 1
    return (
        tuple(min(limit, low) for limit, low in zip(limits, least, strict=True)),
        tuple(min(limit, high + more) for limit, high in zip(limits, most, strict=True)),
    )
