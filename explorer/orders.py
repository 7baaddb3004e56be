"""The colour orders of one search, each found once."""

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from explorer.brief import Brief
from explorer.motif_looks import Mix
from explorer.order_choice import Differences, Found, choose_varied_order, differences
from explorer.sequence import QUICK_STEPS
from explorer.sequence_types import Arrangement, NoOrder, Order, OrderBrief, balanced
from palettes.difference import DISTINCT_FROM, delta_e_2000, pairwise_hyab, ranked
from palettes.spaces import (
    FloatArray,
    hexes_to_srgb1,
    linear1_to_srgb1,
    srgb1_to_lab,
    srgb1_to_linear1,
)

# For a number of motifs the places and hexes of those that no order reaches.
Hands = Callable[[int], Mapping[int, str]]
_Key = tuple[tuple[int, ...], int, Arrangement, tuple[int, ...], Mix | None]


class Orders:
    """Colour orders found so far in one search, so that none is searched for twice.

    Args:
        brief: its colours, and its gap, fixed motifs and stock, which bind every order.
        matrix: how far apart the brief's colours look, (n, n).
        hands: for a number of motifs the places and hexes of those that no order reaches; their
            neighbours take no colour that looks like theirs, where that can be.
    """

    def __init__(self, brief: Brief, matrix: FloatArray, hands: Hands = lambda _: {}) -> None:
        self.brief = brief
        self._hands = hands
        self._matrix = matrix
        srgb1 = hexes_to_srgb1([bead.hex for bead in brief.colours])
        self._linear1, self._lab = srgb1_to_linear1(srgb1), srgb1_to_lab(srgb1)
        self._known: dict[_Key, Found | NoOrder] = {}

    def find(
        self,
        palette: tuple[int, ...],
        motifs: int,
        arrangement: Arrangement,
        limits: tuple[int, ...] = (),
        mix: Mix | None = None,
    ) -> Found | None:
        """The best order of a palette over so many motifs; None where there is none.

        Args:
            palette: places in the brief's colours; fixed colours that it lacks make it unfit.
            motifs: how many.
            arrangement: how they are laid out.
            limits: motifs that each colour's beads are enough for, where stock matters.
            mix: what of other colours every motif holds; motifs are compared as they are seen.
        """
        key = (palette, motifs, arrangement, limits, mix)
        if key not in self._known:
            asked = self._asked(palette, motifs, arrangement, limits)
            if asked is None:
                return None
            apart = self._apart(palette, mix)
            found = choose_varied_order(apart, asked)
            if isinstance(found, NoOrder) and asked.barred:
                found = choose_varied_order(apart, replace(asked, barred=()))
            self._known[key] = found
        found = self._known[key]
        return found if isinstance(found, Found) else None

    def refusal(self) -> NoOrder | None:
        """The first refusal, if every order asked for was refused."""
        refusals = [found for found in self._known.values() if isinstance(found, NoOrder)]
        return refusals[0] if refusals and len(refusals) == len(self._known) else None

    def kept(
        self,
        palette: tuple[int, ...],
        order: tuple[int, ...],
        mix: Mix | None = None,
    ) -> Order:
        """An order that is given, with its figures; nothing is proved of it.

        Args:
            palette: places in the brief's colours.
            order: the colour of each motif, as a place in the palette.
            mix: as for ``find``.
        """
        matrix = self._apart(palette, mix).delta_e_2000
        beside = list(itertools.pairwise(order))
        judged = [float(matrix[one, other]) for one, other in beside if one != other]
        return Order(
            order=order,
            weakest=min(judged, default=None),
            weakest_pair=None,
            proven=False,
            proven_spread=False,
            mean=sum(judged) / len(judged) if judged else None,
            counts=tuple(order.count(place) for place in range(len(palette))),
            bound=None,
            closure=None if len(order) == 1 else float(matrix[order[-1], order[0]]),
        )

    def _apart(self, palette: tuple[int, ...], mix: Mix | None) -> Differences:
        """How far apart motifs of the palette's colours look."""
        if mix is None:
            known = self._matrix[np.ix_(palette, palette)]
            return Differences(known, ranked(known, pairwise_hyab(self._lab[list(palette)])))
        own = self._linear1[list(palette)]
        seen = (1.0 - mix.share - mix.tip_share) * own
        seen += mix.share * own[list(mix.beside)] if mix.beside else 0.0
        if mix.tip:
            seen += mix.tip_share * srgb1_to_linear1(hexes_to_srgb1([mix.tip]))[0]
        return differences(srgb1_to_lab(linear1_to_srgb1(seen)))

    def _asked(
        self,
        palette: tuple[int, ...],
        motifs: int,
        arrangement: Arrangement,
        limits: tuple[int, ...],
    ) -> OrderBrief | None:
        fixed = [(place, colour) for place, colour in self.brief.fixed if place < motifs]
        if any(colour not in palette for _, colour in fixed):
            return None
        uses = limited_uses(limits, motifs) if limits else ((), ())
        if uses is None:
            return None
        return OrderBrief(
            motifs=motifs,
            least=uses[0],
            most=uses[1],
            gap=self.brief.gap,
            fixed=tuple((place, palette.index(colour)) for place, colour in fixed),
            arrangement=arrangement,
            barred=self._barred(palette, motifs),
            steps=QUICK_STEPS,
        )

    def _barred(self, palette: tuple[int, ...], motifs: int) -> tuple[tuple[int, int], ...]:
        """Motifs beside one by hand, and the colours that look like that one's."""
        hands, own = self._hands(motifs), self._lab[list(palette)]
        found = []
        for slot, hex_ in hands.items():
            near = delta_e_2000(own, srgb1_to_lab(hexes_to_srgb1([hex_]))) < DISTINCT_FROM
            beside = (n for n in (slot - 1, slot + 1) if 0 <= n < motifs and n not in hands)
            found += [(n, place) for n in beside for place in np.flatnonzero(near).tolist()]
        return tuple(dict.fromkeys(found))


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
