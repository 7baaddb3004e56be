"""The colour orders of one search, each found once."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from explorer.brief import Brief
from explorer.sequence import QUICK_STEPS, best_order
from explorer.sequence_types import Arrangement, NoOrder, Order, OrderBrief, balanced
from palettes.difference import CLEARLY_APART_FROM
from palettes.spaces import FloatArray

_Key = tuple[tuple[int, ...], int, Arrangement, tuple[int, ...]]
# From so many colours on, a strip shall read as many-coloured. Chosen by us, by looking at strips.
_MANY = 4
# And what of the strongest contrast it may give up for that at most. Chosen by us, likewise.
_NEARLY = 0.75


class Orders:
    """Colour orders found so far in one search, so that none is searched for twice.

    Args:
        brief: its gap, fixed motifs and stock bind every order.
        matrix: how far apart the brief's colours look, (n, n).
    """

    def __init__(self, brief: Brief, matrix: FloatArray) -> None:
        self._brief = brief
        self._matrix = matrix
        self._known: dict[_Key, Order | NoOrder] = {}

    def find(
        self,
        palette: tuple[int, ...],
        motifs: int,
        arrangement: Arrangement,
        beads_a_motif: int,
    ) -> Order | None:
        """The best order of a palette over so many motifs; None where there is none.

        Args:
            palette: places in the brief's colours; fixed colours that it lacks make it unfit.
            motifs: how many.
            arrangement: how they are laid out.
            beads_a_motif: beads of its colour that a motif takes, which stock limits.
        """
        limits = self._limits(palette, beads_a_motif)
        key = (palette, motifs, arrangement, limits)
        if key not in self._known:
            asked = self._asked(palette, motifs, arrangement, limits)
            if asked is None:
                return None
            self._known[key] = _many_coloured(self._matrix[np.ix_(palette, palette)], asked)
        found = self._known[key]
        return found if isinstance(found, Order) else None

    def refusal(self) -> NoOrder | None:
        """The first refusal, if every order asked for was refused."""
        refusals = [found for found in self._known.values() if isinstance(found, NoOrder)]
        return refusals[0] if refusals and len(refusals) == len(self._known) else None

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


def _many_coloured(matrix: FloatArray, asked: OrderBrief) -> Order | NoOrder:
    """The best order, or one more varied where the best goes back and forth between two colours.

    The other one keeps two motifs between uses of a colour, and its neighbours are still clearly
    apart or nearly as far apart as can be; contrast beyond that is given up.
    """
    best = best_order(matrix, asked)
    if isinstance(best, NoOrder) or asked.arrangement is not Arrangement.FREE:
        return best
    if len(matrix) < _MANY or best.weakest is None or best.distance is None or best.distance > 2:
        return best
    varied = best_order(matrix, replace(asked, gap=2))
    if isinstance(varied, NoOrder) or varied.weakest is None:
        return best
    enough = min(CLEARLY_APART_FROM, _NEARLY * best.weakest)
    return varied if varied.weakest >= enough else best


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
