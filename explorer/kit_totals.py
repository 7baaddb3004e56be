"""A class's beads together: sums, what to buy, and who lacks what when the tray is short."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from explorer.buying import PER_GRAM_SPREAD
from explorer.buying_packs import USUAL_PACKS, Pack, choose_packs, priced
from explorer.kit_sharing import share_fairly
from palettes.beads import Bead

Needs = dict[Bead, tuple[int, int]]
"""Beads in a piece and spares, by bead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Total:
    """One bead for the whole class.

    Attributes:
        bead: the bead.
        used, spares: for all pieces together.
        in_tray: how many are at hand; None where the tray does not say.
        to_buy: what the tray lacks.
        packs: packs that cover it.
    """

    bead: Bead
    used: int
    spares: int
    in_tray: int | None
    to_buy: int
    packs: tuple[Pack, ...]

    @property
    def taken(self) -> int:
        """Beads that come out of the tray."""
        return self.used + self.spares - self.to_buy


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """What one learner lacks of one bead after fair sharing.

    Attributes:
        name: the learner.
        bead: the bead.
        needed: beads in their piece.
        given: of these, what their bag holds.
        spares_lacking: spares that they go without.
    """

    name: str
    bead: Bead
    needed: int
    given: int
    spares_lacking: int

    @property
    def lacking(self) -> int:
        """Beads that the piece cannot be finished without."""
        return self.needed - self.given


def totals_of(
    needs_of: Sequence[Needs],
    held: Mapping[Bead, int | None],
    offers: Mapping[str, Sequence[Pack]] | None = None,
    spread: float = PER_GRAM_SPREAD,
    gram_prices: Mapping[Bead, float] | None = None,
) -> tuple[Total, ...]:
    """One line for every bead in use, summed over everybody.

    Args:
        needs_of: what each learner's piece takes.
        held: the tray's beads; empty where nobody has looked.
        offers: packs by the name of the bead's kind; a kind not named has the usual packs.
        spread: how far beads per gram may be off, as a part from 0 to under 1.
        gram_prices: what a gram of the beads at hand costs, for packs without a price.
    """
    sums: dict[Bead, tuple[int, int]] = {}
    for needs in needs_of:
        for bead, (used, spares) in needs.items():
            before = sums.get(bead, (0, 0))
            sums[bead] = (before[0] + used, before[1] + spares)

    def packs_of(bead: Bead) -> tuple[Pack, ...]:
        usual = (offers or {}).get(bead.kind.name, USUAL_PACKS)
        return priced(usual, (gram_prices or {}).get(bead))

    return tuple(_total(bead, need, held, packs_of(bead), spread) for bead, need in sums.items())


def packs_cost(totals: Sequence[Total]) -> float | None:
    """The price of all packs for the class; none where there are none or one has no price."""
    prices = [pack.price for total in totals for pack in total.packs]
    known = [price for price in prices if price is not None]
    return math.fsum(known) if known and len(known) == len(prices) else None


def cost_words(totals: Sequence[Total]) -> str:
    """What the packs for the class cost, and what that sum does not hold; empty if not known."""
    cost = packs_cost(totals)
    if cost is None:
        return ""
    taken = any(total.taken for total in totals)
    tray = ", nor is what comes out of the tray" if taken else ""
    words = f"The packs cost {cost:,.2f}. Thread, needles and closures are not in that{tray}."
    free = [total.bead.name for total in totals if any(not pack.price for pack in total.packs)]
    return f"{words} At a price of 0: {', '.join(free)}." if free else words


def _total(
    bead: Bead,
    need: tuple[int, int],
    held: Mapping[Bead, int | None],
    offers: Sequence[Pack],
    spread: float,
) -> Total:
    used, spares = need
    in_tray = _in_tray(bead, held)
    # A bead that lies in the tray uncounted is not bought: somebody looks first.
    uncounted = bead in held and held[bead] is None
    to_buy = 0 if uncounted else max(0, used + spares - (in_tray or 0))
    weight_g = to_buy / bead.kind.beads_per_gram / (1.0 - spread)
    return Total(
        bead=bead,
        used=used,
        spares=spares,
        in_tray=in_tray,
        to_buy=to_buy,
        packs=choose_packs(weight_g, offers),
    )


def _in_tray(bead: Bead, held: Mapping[Bead, int | None]) -> int | None:
    """How many are at hand: none of a kind that the tray knows in other colours only."""
    if bead in held:
        return held[bead]
    return 0 if any(other.kind == bead.kind for other in held) else None


def short_of(
    names: Sequence[str],
    needs_of: Sequence[Needs],
    held: Mapping[Bead, int | None],
) -> tuple[Short, ...]:
    """Who lacks what: beads of the pieces are shared first, then spares from what is left.

    Args:
        names: everybody, in the roster's order.
        needs_of: what each one's piece takes.
        held: the tray's beads.
    """
    found: list[tuple[int, Short]] = []
    for bead in dict.fromkeys(bead for needs in needs_of for bead in needs):
        supply = _in_tray(bead, held)
        if supply is None:
            continue
        used = [needs.get(bead, (0, 0))[0] for needs in needs_of]
        spares = [needs.get(bead, (0, 0))[1] for needs in needs_of]
        given = share_fairly(used, supply)
        more = share_fairly(spares, supply - sum(given))
        for place, name in enumerate(names):
            if given[place] < used[place] or more[place] < spares[place]:
                one = Short(
                    name=name,
                    bead=bead,
                    needed=used[place],
                    given=given[place],
                    spares_lacking=spares[place] - more[place],
                )
                found.append((place, one))
    return tuple(one for _, one in sorted(found, key=lambda pair: pair[0]))
