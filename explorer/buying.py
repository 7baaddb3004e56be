"""What to buy: grams and packs for every bead, with their uncertainty, less what the tray holds."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from explorer.buying_packs import USUAL_PACKS, Pack, choose_packs, priced
from explorer.counts import Counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.profile import whole
from palettes.beads import Bead

# Plan for a tenth either way on beads per gram (common practice, no source).
PER_GRAM_SPREAD = 0.10


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """One bead's line on the shopping list.

    Attributes:
        bead: the bead.
        used: beads in the piece.
        spares: beads beyond.
        in_stock: beads that the tray holds.
        missing: beads that it lacks.
        weight_g: what the missing beads weigh, as beads per gram are given.
        least_g: the same if the beads are lighter than thought, by the spread.
        most_g: the same if they are heavier; packs cover this weight.
        packs: packs to buy, heaviest first.
        cost: their price in the maker's money; none where prices are not known. Packs without a
            price cost what the maker's own beads cost by the gram.
        used_cost: what the beads in the piece are worth, those at hand too, spares and left-overs
            aside: by the price of a gram of the maker's own beads, else by that of packs bought for
            all of it; none where neither is known.
        gram_price: what a gram of the maker's own beads costs; none where that is not known.
    """

    bead: Bead
    used: int
    spares: int
    in_stock: int
    missing: int
    weight_g: float
    least_g: float
    most_g: float
    packs: tuple[Pack, ...]
    cost: float | None
    used_cost: float | None
    gram_price: float | None = None

    @property
    def taken(self) -> int:
        """Beads that come from those at hand."""
        return self.used + self.spares - self.missing


def buying(
    design: Design,
    counted: Counts,
    stock: Mapping[Bead, int] | None = None,
    offers: Mapping[str, Sequence[Pack]] | None = None,
    spread: float = PER_GRAM_SPREAD,
    gram_prices: Mapping[Bead, float] | None = None,
) -> tuple[Purchase, ...]:
    """The shopping list of a piece: one line for every bead in use, in the design's order.

    A bead that stands in the design twice has one line.

    Args:
        design: the piece.
        counted: its counts, spares included.
        stock: beads in the tray; a bead not named is not there.
        offers: packs by the name of the bead's kind; a kind not named has the usual packs.
        spread: how far beads per gram may be off, as a part; 0 where the maker has weighed them.
        gram_prices: what a gram of the maker's own beads costs, where that is known.

    Raises:
        BriefError: a stock that is no whole number from 0, or a spread that is none.
    """
    if not (math.isfinite(spread) and 0.0 <= spread < 1.0):
        raise BriefError(
            "spread", spread, "0 to under 1", "Give a share: 0.1 allows for a tenth either way."
        )
    held = _checked_stock(stock or {})
    needs: dict[Bead, tuple[int, int]] = {}
    for entry in counted.by_bead:
        if entry.used:
            bead = design.beads[entry.bead]
            used, spares = needs.get(bead, (0, 0))
            needs[bead] = (used + entry.used, spares + entry.spares)
    return tuple(
        _purchase(
            bead,
            need,
            held.get(bead, 0),
            (offers or {}).get(bead.kind.name, USUAL_PACKS),
            spread,
            (gram_prices or {}).get(bead),
        )
        for bead, need in needs.items()
    )


def total_cost(lines: Sequence[Purchase]) -> float | None:
    """The price of all packs; none where any of them has no price."""
    costs = [line.cost for line in lines if line.packs]
    known = [cost for cost in costs if cost is not None]
    return math.fsum(known) if len(known) == len(costs) else None


def weight_g(beads: int, bead: Bead) -> float:
    """What so many beads weigh, in grams, as beads per gram are given."""
    return beads / bead.kind.beads_per_gram


def _checked_stock(stock: Mapping[Bead, int]) -> dict[Bead, int]:
    for bead, held in stock.items():
        if not whole(held) or held < 0:
            raise BriefError(
                "stock",
                f"{held!r} of {bead.name}",
                "a whole number of beads from 0",
                "Count again, or weigh them and multiply by beads per gram.",
            )
    return dict(stock)


def _purchase(
    bead: Bead,
    need: tuple[int, int],
    in_stock: int,
    offers: Sequence[Pack],
    spread: float,
    gram_price: float | None,
) -> Purchase:
    used, spares = need
    offers = priced(offers, gram_price)
    missing = max(0, used + spares - in_stock)
    missing_g = weight_g(missing, bead)
    packs = choose_packs(missing_g / (1.0 - spread), offers)
    return Purchase(
        bead=bead,
        used=used,
        spares=spares,
        in_stock=in_stock,
        missing=missing,
        weight_g=missing_g,
        least_g=missing_g / (1.0 + spread),
        most_g=missing_g / (1.0 - spread),
        packs=packs,
        cost=_price(packs),
        used_cost=(
            _worth(weight_g(used, bead), weight_g(used + spares, bead), offers, spread)
            if gram_price is None
            else weight_g(used, bead) * gram_price
        ),
        gram_price=gram_price,
    )


def _price(packs: Sequence[Pack]) -> float | None:
    known = [pack.price for pack in packs if pack.price is not None]
    return math.fsum(known) if len(known) == len(packs) else None


def _worth(used_g: float, whole_g: float, offers: Sequence[Pack], spread: float) -> float | None:
    if any(pack.price is None for pack in offers):
        return None
    packs = choose_packs(whole_g / (1.0 - spread), offers)
    price = math.fsum(pack.price or 0.0 for pack in packs)
    return price * used_g / math.fsum(pack.weight_g for pack in packs)
