"""What is printed for a piece reckons with the maker's own figures, as the Counting page does."""

import io
import math
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest
from pypdf import PdfReader

from explorer.app.asks import ProjectAsk, SheetAsk
from explorer.app.assumed import reckoned, with_box
from explorer.app.choosing import Choosing
from explorer.app.class_kit import class_ask, read_roster
from explorer.app.demo import demo
from explorer.app.handing import Handing, sheet_options, sizes
from explorer.app.offers import candidates, offer
from explorer.app.state import Work
from explorer.counts import Spares, counts
from explorer.kit import Kit, make_kit
from explorer.kit_pages import class_page, sheets
from explorer.kit_totals import packs_cost
from explorer.thread import thread_plan
from gallery.page import A4, Document
from gallery.pdf import to_pdf

OWN = {
    "spares": "40",
    "least": "9",
    "per_gram": "0",
    "thread": "0.3 mm",
    "needle": "0,41 mm",
    "working": "900 mm",
    "tail": "120 mm",
    "rounds": "3",
    "slack": "1",
    "allowance": "15",
    "pace": "30",
}
PACK_G, PACK_PRICE = 10.0, 4.0


def with_figures(work: Work, figures: dict[str, str]) -> Work:
    assumed = work.assumed
    for box, text in figures.items():
        assumed = with_box(assumed, box, text)
    return replace(work, assumed=assumed)


def with_prices(work: Work) -> Work:
    kinds = {bead.kind.name for bead in work.piece.design.beads}
    return with_figures(work, {f"packs:{kind}": "10 g 4,00" for kind in kinds})


def printed(document: Document) -> str:
    reader = PdfReader(io.BytesIO(to_pdf(document, A4).pdf))
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


def sheet(work: Work) -> Document:
    return (
        SheetAsk(piece=work.piece, options=sheet_options(work, Handing())).documents()[0].document
    )


def project(work: Work) -> Document:
    ask = ProjectAsk(
        piece=work.piece,
        sizes=sizes(work, Handing(least="200 mm", most="220 mm", step="10 mm")),
        options=sheet_options(work, Handing()),
    )
    return ask.documents()[0].document


def kit_of(work: Work) -> tuple[Kit, Document, Document]:
    roster, _ = read_roster("Ada, 152 mm\nBo, 200 mm")
    assert roster is not None
    ask = class_ask(work, Handing(), roster)
    kit = make_kit(ask.learners, ask.brief)
    return kit, class_page(kit, ask.options), next(sheets(kit, ask.options))


def test_the_boxes_make_sense() -> None:
    known = reckoned(with_figures(demo(), OWN).assumed)
    assert known.faults == ()
    assert (known.setup.thread_mm, known.setup.needle_mm, known.setup.rounds) == (0.3, 0.41, 3)


@pytest.mark.parametrize("document", [sheet, project], ids=["sheet", "project"])
def test_a_sheet_and_a_project_print_the_makers_thread(
    document: Callable[[Work], Document],
) -> None:
    work = with_figures(demo(), OWN)
    text = printed(document(work))
    plan = thread_plan(work.piece.design, reckoned(work.assumed).setup)
    assert "0.3 mm thick" in text
    assert "0.41 mm thick" in text
    assert f"{plan.length_mm / 1000.0:.2f} m" in text
    assert "one bead of slack" in text
    assert "Do this 3 times" in text


def test_the_sheet_counts_out_the_makers_spares_and_takes_the_makers_time() -> None:
    work = with_figures(demo(), OWN)
    text = printed(sheet(work))
    tally = counts(work.piece.design, Spares(percent=40.0, least=9))
    assert str(tally.total + tally.spares) in text
    assert "at 30 seconds a bead" in text
    assert "a guess" not in text


@pytest.mark.parametrize(
    "box", ["spares", "thread", "needle", "working", "rounds", "slack", "pace"]
)
def test_each_figure_changes_the_sheet(box: str) -> None:
    assert sheet(with_figures(demo(), {box: OWN[box]})) != sheet(demo())


@pytest.mark.parametrize("box", ["thread", "needle", "working", "rounds", "slack", "allowance"])
def test_each_figure_of_the_thread_changes_the_project(box: str) -> None:
    assert project(with_figures(demo(), {box: OWN[box]})) != project(demo())


def test_a_customer_pays_by_the_makers_prices_and_hours() -> None:
    work = with_prices(with_figures(demo(), OWN))
    found = candidates(work, Choosing(), {})["table"]
    made = offer(work, Handing(), "table", found)
    design = work.piece.design
    # One size of pack, so that a bead's worth is its weight times the price of a gram.
    worth = math.fsum(
        entry.used / design.beads[entry.bead].kind.beads_per_gram * PACK_PRICE / PACK_G
        for entry in counts(design).by_bead
    )
    assert float(made.materials) == pytest.approx(worth, abs=0.005)
    hours = counts(design).total * 30.0 / 3600.0
    assert made.hours == Decimal(f"{hours:.1f}")


def test_a_class_kit_takes_the_makers_thread_spares_packs_and_prices() -> None:
    work = with_prices(with_figures(demo(), OWN))
    kit, page, learners_sheet = kit_of(work)
    setup = reckoned(work.assumed).setup
    for one in kit.learners:
        design = one.piece.design
        assert one.plan == thread_plan(design, setup)
        assert one.counts == counts(design, Spares(percent=40.0, least=9))
    bought = [pack for total in kit.totals for pack in total.packs]
    assert {pack.weight_g for pack in bought} == {PACK_G}
    # Weighed by the maker, so no more packs than the weight as given needs.
    for total in kit.totals:
        weight_g = total.to_buy / total.bead.kind.beads_per_gram
        assert len(total.packs) == math.ceil(weight_g / PACK_G - 1e-9)
    cost = PACK_PRICE * len(bought)
    assert packs_cost(kit.totals) == pytest.approx(cost)
    text = printed(page)
    assert f"The packs cost {cost:.2f}." in text
    assert "30 seconds a bead" in text
    assert "0.3 mm thick" in printed(learners_sheet)


def test_a_class_kit_without_prices_tells_no_cost() -> None:
    kit, page, _ = kit_of(demo())
    assert packs_cost(kit.totals) is None
    assert "The packs cost" not in printed(page)


def test_a_childs_kit_has_more_spares_until_the_maker_says_how_many() -> None:
    usual, *_ = kit_of(demo())
    assert usual.brief.spares == Spares(percent=15.0, least=5)
    own, *_ = kit_of(with_figures(demo(), {"spares": "12"}))
    assert own.brief.spares == Spares(percent=12.0, least=5)
