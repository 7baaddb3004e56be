"""The beads at hand for a class: a tray's boxes added up by what is the same bead."""

from collections.abc import Iterable
from dataclasses import dataclass

from palettes.beads import Bead
from palettes.tray import Tray


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A bead at hand.

    Attributes:
        bead: the bead.
        count: how many there are; None where nobody counted or weighed it.
        gram_price: what a gram costs, in the maker's own money; None where that is not known.
    """

    bead: Bead
    count: int | None
    gram_price: float | None = None


def held_in(tray: Tray) -> tuple[Held, ...]:
    """Every bead of a tray once: lots of the same bead together, in the tray's order.

    A lot whose amount is not known leaves the sum unknown. Of several prices the dearest counts, so
    that nothing is told too cheap (chosen by us).
    """
    found: dict[Bead, int | None] = {}
    prices: dict[Bead, float] = {}
    for box in tray.beads:
        before, more = found.get(box.bead, 0), box.stock
        found[box.bead] = None if before is None or more is None else before + more
        if box.price is not None:
            prices[box.bead] = max(box.price, prices.get(box.bead, 0.0))
    return tuple(
        Held(bead=bead, count=count, gram_price=prices.get(bead)) for bead, count in found.items()
    )


def gram_prices(held: Iterable[Held]) -> dict[Bead, float]:
    """What a gram of each bead costs, where that is known."""
    return {one.bead: one.gram_price for one in held if one.gram_price is not None}
