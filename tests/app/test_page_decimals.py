"""Printed pages have the maker's decimal comma in every figure, and are else the same."""

import io
import re
from datetime import date

import pytest
from pypdf import PdfReader

from explorer.app.asks import ChildAsk, ProjectAsk, SheetAsk
from explorer.app.class_kit import class_ask, read_roster
from explorer.app.decimals import Decimal
from explorer.app.demo import demo
from explorer.app.handing import Handing, sheet_options, sizes
from explorer.app.page_decimals import document_written
from explorer.child_page import Level
from explorer.kit import make_kit
from explorer.kit_pages import class_page, labels, sheets
from gallery.page import A4, Document
from gallery.pdf import to_pdf

PIECE = demo().piece
OPTIONS = sheet_options(demo(), Handing(dated=date(2026, 4, 2).isoformat()))


def _kit() -> tuple[Document, ...]:
    roster, _ = read_roster("Ada, 152.5 mm\nBo, 160 mm")
    assert roster is not None
    ask = class_ask(demo(), Handing(), roster)
    kit = make_kit(ask.learners, ask.brief)
    return class_page(kit, ask.options), labels(kit), next(iter(sheets(kit, ask.options)))


def _pages() -> dict[str, Document]:
    girths = sizes(demo(), Handing(least="200 mm", most="220 mm", step="10 mm"))
    one, two, three = _kit()
    child = ChildAsk(piece=PIECE, level=Level.HARDER, dated="today", large=False)
    project = ProjectAsk(piece=PIECE, sizes=girths, options=OPTIONS)
    sums, answers = (named.document for named in child.documents())
    return {
        "sheet": SheetAsk(piece=PIECE, options=OPTIONS).documents()[0].document,
        "sums": sums,
        "answers": answers,
        "project": project.documents()[0].document,
        "class": one,
        "labels": two,
        "learner": three,
    }


PAGES = _pages()


def _text(document: Document) -> str:
    reader = PdfReader(io.BytesIO(to_pdf(document, A4).pdf))
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("name", PAGES)
def test_every_figure_has_its_comma(name: str) -> None:
    before, found = _text(PAGES[name]), _text(document_written(PAGES[name], Decimal.COMMA))
    assert re.findall(r"\S*\d\.\d\S*", found) == []
    assert bool(re.search(r"\d,\d", found)) == bool(re.search(r"\d\.\d", before))
    assert found.replace(",", ".").split() == before.replace(",", ".").split()


def test_points_change_nothing() -> None:
    assert document_written(PAGES["sheet"], Decimal.POINT) is PAGES["sheet"]
    assert re.search(r"\d\.\d", _text(PAGES["sheet"]))
