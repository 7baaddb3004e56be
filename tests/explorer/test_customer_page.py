"""The customer's page: sums to the cent, what a wearer must know, a line to agree."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.buying import buying
from explorer.buying_packs import Pack
from explorer.counts import counts
from explorer.customer_page import Offer, PriceRule, bead_cost, customer_page, price
from explorer.errors import BriefError
from explorer.piece import Piece, from_json
from gallery.page import Blanks, Facts, Figures, Note, Steps, Text, Title
from gallery.pdf import to_pdf

KEPT = Path(__file__).parent.parent / "reference" / "pieces"
PIECE = from_json((KEPT / "v1-proposed.json").read_text("utf-8"))
RULE = PriceRule(hourly=Decimal(18), overheads_percent=Decimal(15), currency="EUR", changes=2)


def offer(piece: Piece = PIECE, materials: str = "6.40", hours: str = "2.5") -> Offer:
    return Offer(piece=piece, materials=Decimal(materials), hours=Decimal(hours))


def test_a_price_worked_out_by_hand() -> None:
    # 2.5 h * 18 = 45.00; 15 % of 51.40 = 7.71; 6.40 + 45.00 + 7.71 = 59.11.
    found = price(offer(), RULE)
    assert (found.labour, found.overheads, found.total) == (
        Decimal("45.00"),
        Decimal("7.71"),
        Decimal("59.11"),
    )


cents = st.integers(0, 10**7).map(lambda n: Decimal(n) / 100)


@given(cents, st.integers(0, 10**5), cents, st.integers(0, 300))
def test_the_parts_add_up_as_printed(
    materials: Decimal, minutes: int, hourly: Decimal, percent: int
) -> None:
    rule = PriceRule(hourly=hourly, overheads_percent=Decimal(percent))
    found = price(
        Offer(piece=PIECE, materials=materials, hours=Decimal(minutes) / Decimal(60)), rule
    )
    parts = [found.materials, found.labour, found.overheads]
    assert all(part == part.quantize(Decimal("0.01")) for part in parts)
    assert found.total == sum(parts)


def test_what_beads_cost_comes_from_the_shopping_list() -> None:
    tally = counts(PIECE.design)
    offers = {kind: [Pack(weight_g=10.0, price=2.0)] for kind in ("round 8/0", "cube 3")}
    lines = buying(PIECE.design, tally, offers=offers)
    cost = bead_cost(lines)
    assert cost is not None
    assert cost == sum((Decimal(str(line.used_cost)) for line in lines), Decimal(0))
    assert bead_cost(buying(PIECE.design, tally)) is None


def test_beads_alone_are_not_called_the_materials() -> None:
    page = customer_page([offer(), replace(offer(), beads_alone=True)], RULE)
    facts = [dict(block.rows) for block in page.blocks if isinstance(block, Facts)]
    assert facts[0]["price"] == "materials 6.40 EUR"
    assert facts[1]["price"] == "beads (thread and closure not counted) 6.40 EUR"


def test_everything_that_a_customer_agrees_to_is_on_the_page() -> None:
    page = customer_page([offer(), offer(hours="4")], RULE, to_whom="Zoë", dated="2026-11-25")
    assert isinstance(page.blocks[0], Title)
    assert page.blocks[0].under == "for Zoë"
    assert sum(isinstance(block, Figures) for block in page.blocks) == 2
    facts = [dict(block.rows) for block in page.blocks if isinstance(block, Facts)]
    assert facts[0]["in all"] == "59.11 EUR"
    assert "silver-lined" in facts[0]["materials"]
    assert any(isinstance(b, Text) and "tarnish" in b.text for b in page.blocks)
    assert any(isinstance(b, Note) and "nickel" in " ".join(b.texts) for b in page.blocks)
    (choices,) = (block for block in page.blocks if isinstance(block, Steps))
    assert [text.split(":")[-1].strip() for text in choices.texts] == ["59.11 EUR", "90.16 EUR"]
    assert any(isinstance(b, Text) and "2 changes" in b.text for b in page.blocks)
    (line,) = (block for block in page.blocks if isinstance(block, Blanks))
    assert line.labels == ("name", "date", "signature")
    assert to_pdf(page).lacking == ()


@pytest.mark.parametrize("number", [0, 4])
def test_too_few_or_too_many_are_refused(number: int) -> None:
    with pytest.raises(BriefError, match="1 to 3"):
        customer_page([offer()] * number, RULE)


@pytest.mark.parametrize("amount", ["-1", "NaN", "Infinity", "1e9"])
def test_amounts_that_cannot_be_are_refused(amount: str) -> None:
    with pytest.raises(BriefError):
        offer(materials=amount)
    with pytest.raises(BriefError):
        PriceRule(hourly=Decimal(amount))
