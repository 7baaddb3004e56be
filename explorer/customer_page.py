"""The customer's page: two or three proposals with size, materials, price, and a line to agree.

The price follows the maker's own rule: materials + hours + overheads (common practice, no source).
Money is counted in ``Decimal``, so that sums on paper add up to the last cent.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from explorer.buying import Purchase
from explorer.cautions import Caution, Topic, Wear, cautions
from explorer.counts import counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.layout import thumbnail_scene
from explorer.lengths import both
from explorer.piece import Piece
from explorer.sheet_care import FOR_CHILDREN, LAW, METAL, SMALL_PARTS
from explorer.sheet_letters import letter
from explorer.sitting import finished_words, sitting
from gallery.page import (
    Blanks,
    Block,
    Document,
    Facts,
    Figure,
    Figures,
    Heading,
    Note,
    Steps,
    Text,
    Title,
)

CENT = Decimal("0.01")
# Chosen by us, because a customer chooses between two or three, and three fit a page.
MOST_OFFERS = 3
_PICTURE_MM = 120.0  # by eye
# What a customer must know of a piece; the rest is the maker's own business.
_FOR_WEARERS = (Topic.SIZE, Topic.CLOSURE, Topic.DROP, Topic.FINISH)


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRule:
    """How the maker works out a price.

    Attributes:
        hourly: money for an hour.
        overheads_percent: on materials and hours together: room, tools, fees.
        currency: as it shall be printed.
        changes: how often the customer may have the design changed within the price.
    """

    hourly: Decimal
    overheads_percent: Decimal = Decimal(0)
    currency: str = ""
    changes: int = 1

    def __post_init__(self) -> None:
        for field, value in (("hourly", self.hourly), ("overheads", self.overheads_percent)):
            if not value.is_finite() or value < 0 or value > Decimal(1_000_000):
                raise BriefError(field, value, "0 to 1000000", "Give an amount of 0 or more.")
        if not 0 <= self.changes <= 20:
            raise BriefError(
                "changes", self.changes, "0 to 20", "Choose fewer: one to three are usual."
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """A price and its parts, each rounded to the cent before they are added."""

    materials: Decimal
    labour: Decimal
    overheads: Decimal

    @property
    def total(self) -> Decimal:
        """What the customer pays."""
        return self.materials + self.labour + self.overheads


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """One proposal: the piece, what its materials cost, and the hours that it takes.

    ``beads_alone`` says that thread and closure are not in what the materials cost.
    """

    piece: Piece
    materials: Decimal
    hours: Decimal
    wear: Wear = Wear.BRACELET
    beads_alone: bool = False

    def __post_init__(self) -> None:
        for field, value in (("materials", self.materials), ("hours", self.hours)):
            if not value.is_finite() or value < 0 or value > Decimal(1_000_000):
                raise BriefError(field, value, "0 to 1000000", "Give an amount of 0 or more.")


def price(offer: Offer, rule: PriceRule) -> Price:
    """The price of an offer by the maker's rule."""
    materials = offer.materials.quantize(CENT, ROUND_HALF_UP)
    labour = (offer.hours * rule.hourly).quantize(CENT, ROUND_HALF_UP)
    share = rule.overheads_percent / Decimal(100)
    overheads = ((materials + labour) * share).quantize(CENT, ROUND_HALF_UP)
    return Price(materials=materials, labour=labour, overheads=overheads)


def bead_cost(lines: Sequence[Purchase]) -> Decimal | None:
    """What the beads in a piece are worth; None where any price is not known."""
    costs = [line.used_cost for line in lines]
    known = [Decimal(str(cost)) for cost in costs if cost is not None]
    return sum(known, Decimal(0)) if len(known) == len(costs) else None


def customer_page(
    offers: Sequence[Offer], rule: PriceRule, *, to_whom: str = "", dated: str = ""
) -> Document:
    """The page for the customer.

    Args:
        offers: one to three.
        rule: the maker's rule for prices.
        to_whom: the customer's name, if it shall stand on the page.
        dated: the date as it shall be printed.

    Raises:
        BriefError: no offer, or more than a customer can choose from.
    """
    if not 1 <= len(offers) <= MOST_OFFERS:
        raise BriefError(
            "offers", len(offers), f"1 to {MOST_OFFERS}", "Choose two or three to show."
        )
    prices = [price(offer, rule) for offer in offers]
    blocks: list[Block] = [
        Title(text="For you to choose", under=f"for {to_whom}" if to_whom else "")
    ]
    for at, (offer, cost) in enumerate(zip(offers, prices, strict=True)):
        blocks += _offer_blocks(at, offer, cost, rule)
    blocks += [
        Note(title="Take care", texts=(*SMALL_PARTS[:1], *_for_a_child(offers), *METAL, *LAW)),
        Heading(text="Agreed"),
        Steps(
            texts=tuple(
                f"Proposal {letter(at)}, {offer.piece.name}: {_money(cost.total, rule)}"
                for at, (offer, cost) in enumerate(zip(offers, prices, strict=True))
            )
        ),
        Text(text=_changes_words(rule.changes), quiet=True),
        Blanks(labels=("name", "date", "signature")),
    ]
    return Document(title="Proposals", blocks=tuple(blocks), foot=dated)


def _changes_words(changes: int) -> str:
    times = {0: "no change", 1: "one change"}.get(changes, f"{changes} changes")
    return f"The price holds {times} of the design before the first bead is strung."


def _offer_blocks(at: int, offer: Offer, cost: Price, rule: PriceRule) -> list[Block]:
    design, wearer = offer.piece.design, offer.piece.wearer
    hours = f"{offer.hours.normalize():f} h at {_money(rule.hourly, rule)}"
    rows = [
        ("size", _size_words(design)),
        ("made for", "" if wearer is None else f"{both(wearer.snug_mm)} round, measured snug"),
        ("closed", "" if wearer is None else finished_words(sitting(design, wearer))),
        ("materials", _material_words(design)),
        ("price", f"{_materials(offer)} {_money(cost.materials, rule)}"),
        ("", f"+ {hours} = {_money(cost.labour, rule)}"),
        ("", _overheads_words(cost, rule)),
        ("in all", _money(cost.total, rule)),
    ]
    told = [c for c in cautions(design, offer.wear, wearer) if c.topic in _FOR_WEARERS]
    scene = thumbnail_scene(design, aspect=2.2)
    return [
        Heading(number=letter(at), text=offer.piece.name),
        Figures(figures=(Figure(picture=scene, width_mm=_PICTURE_MM),)),
        Facts(rows=tuple((label, value) for label, value in rows if value)),
        *_told(told),
    ]


def _materials(offer: Offer) -> str:
    return "beads (thread and closure not counted)" if offer.beads_alone else "materials"


def _for_a_child(offers: Sequence[Offer]) -> tuple[str, ...]:
    """What whoever dresses a child must know."""
    return FOR_CHILDREN if any(offer.wear is Wear.CHILD for offer in offers) else ()


def _overheads_words(cost: Price, rule: PriceRule) -> str:
    """Overheads as a line of the sum; nothing where there are none."""
    if not rule.overheads_percent:
        return ""
    return f"+ {rule.overheads_percent:f} % overheads = {_money(cost.overheads, rule)}"


def _told(found: Sequence[Caution]) -> list[Block]:
    return [Text(text=f"{caution.words} {caution.remedy}") for caution in found]


def _size_words(design: Design) -> str:
    closure = design.closure
    words = f"{both(design.strip_mm)} of beads"
    return words + (f", {both(closure.length_mm)} {closure.name}" if closure.length_mm else "")


def _material_words(design: Design) -> str:
    found: dict[str, int] = {}
    for entry in counts(design).by_bead:
        bead = design.beads[entry.bead]
        if entry.used:
            key = f"{bead.name} ({bead.kind.name}, {bead.finish.value})"
            found[key] = found.get(key, 0) + entry.used
    return "glass seed beads: " + ", ".join(f"{count} {name}" for name, count in found.items())


def _money(amount: Decimal, rule: PriceRule) -> str:
    return f"{amount.quantize(CENT, ROUND_HALF_UP)} {rule.currency}".strip()
