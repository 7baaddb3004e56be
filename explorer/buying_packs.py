"""Which packs to buy: the least that covers a weight, for the least money."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from explorer.errors import BriefError

# Weights are compared in twentieths of a gram. Chosen by us, because that is fine enough for
# every pack on sale.
_STEPS_PER_G = 20
# Above this the best price a gram settles what to buy; below, every mix is looked at. Chosen by us,
# because no piece or class takes more of one bead.
_BULK_G = 500.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A pack as a shop offers it; the price is in the maker's own money, none if not known."""

    weight_g: float
    price: float | None = None

    def __post_init__(self) -> None:
        if not (math.isfinite(self.weight_g) and 0.05 <= self.weight_g <= 100_000.0):
            raise BriefError(
                "pack", self.weight_g, "a weight of 0.05 to 100000 g", "Give the pack in grams."
            )
        if self.price is not None and not (math.isfinite(self.price) and self.price >= 0.0):
            raise BriefError(
                "price", self.price, "a price of 0 or more", "Leave it out if unknown."
            )


# Common packs, from memory; of 20-28 g the middle.
USUAL_PACKS = tuple(Pack(weight_g=g) for g in (5.0, 7.5, 10.0, 24.0, 50.0, 100.0))


def priced(offers: Sequence[Pack], gram_price: float | None) -> tuple[Pack, ...]:
    """The offers; where none has a price, each at the price of a gram, if that is known."""
    if gram_price is None or any(pack.price is not None for pack in offers):
        return tuple(offers)
    return tuple(replace(pack, price=pack.weight_g * gram_price) for pack in offers)


def choose_packs(needed_g: float, offers: Sequence[Pack] = USUAL_PACKS) -> tuple[Pack, ...]:
    """The packs that cover a weight: cheapest, then least left over, then fewest.

    Where no price is known, least left over comes first. Above half a kilogram the pack that is
    cheapest by the gram (the largest, where no price is known) makes up the bulk.

    Args:
        needed_g: grams to cover; nothing for 0.
        offers: packs that the shop has, any number of each; all with a price or none.

    Returns:
        The packs, heaviest first.

    Raises:
        BriefError: there is no offer, or some have a price and some have none.
    """
    if not (math.isfinite(needed_g) and needed_g >= 0.0):
        raise ValueError(f"a weight to cover is 0 g or more; got {needed_g!r}")
    _check_offers(offers)
    chosen: list[Pack] = []
    if needed_g > _BULK_G:
        best = min(offers, key=_bulk_key)
        bulk = math.ceil((needed_g - _BULK_G) / best.weight_g)
        chosen = [best] * bulk
        needed_g = max(0.0, needed_g - bulk * best.weight_g)
    chosen += _exact(math.ceil(needed_g * _STEPS_PER_G - 1e-6), offers)
    return tuple(sorted(chosen, key=lambda pack: -pack.weight_g))


def _check_offers(offers: Sequence[Pack]) -> None:
    priced = sum(pack.price is not None for pack in offers)
    if not offers or priced not in (0, len(offers)):
        got = "no packs" if not offers else f"{priced} of {len(offers)} packs with a price"
        raise BriefError(
            "packs", got, "packs that all have a price, or none has", "Fill in the missing prices."
        )


def _bulk_key(pack: Pack) -> tuple[float, float]:
    by_gram = 0.0 if pack.price is None else pack.price / pack.weight_g
    return (by_gram, -pack.weight_g)


def _exact(needed: int, offers: Sequence[Pack]) -> list[Pack]:
    """The best mix for so many steps of weight, from the best mixes of every smaller weight."""
    # A pack counts for no more than it holds, so that what is chosen always covers.
    sizes = [math.floor(pack.weight_g * _STEPS_PER_G + 1e-6) for pack in offers]
    best: list[tuple[float, float, int]] = [(0.0, 0.0, 0)]
    last: list[int] = [-1]
    for weight in range(1, needed + 1):
        choices = (
            (_plus(best[max(0, weight - size)], pack), i)
            for i, (size, pack) in enumerate(zip(sizes, offers, strict=True))
        )
        value, choice = min(choices)
        best.append(value)
        last.append(choice)
    chosen: list[Pack] = []
    while needed > 0:
        chosen.append(offers[last[needed]])
        needed -= sizes[last[needed]]
    return chosen


def _plus(value: tuple[float, float, int], pack: Pack) -> tuple[float, float, int]:
    # Rounded so that sums of the same packs in another order tie.
    price, weight, packs = value
    return (
        round(price + (pack.price or 0.0), 6),
        round(weight + pack.weight_g, 6),
        packs + 1,
    )
