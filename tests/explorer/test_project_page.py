"""A project for others: the size table against resizing and counting, and one safe web page."""

import base64
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from explorer.changes import Changed, resize
from explorer.counts import Spares, counts
from explorer.design import Closure
from explorer.errors import BriefError
from explorer.lengths import millimetres
from explorer.piece import from_json, worn_by
from explorer.project_page import Sizes, project_page, size_rows
from explorer.sheet_facts import SheetOptions
from explorer.thread import thread_plan
from explorer.weave import weave
from gallery.page import Document, Table
from gallery.page_html import to_html
from gallery.pdf import to_pdf

KEPT = Path(__file__).parent.parent / "reference" / "pieces"
PIECE = from_json((KEPT / "v1-proposed.json").read_text("utf-8"))
SIZES = Sizes(
    least_mm=170.0, most_mm=250.0, step_mm=20.0, ease_mm=19.0, closure=Closure(length_mm=16.0)
)


def sizes_table(document: Document) -> Table:
    return next(
        b for b in document.blocks if isinstance(b, Table) and b.heads[0].text.startswith("girth")
    )


def test_the_size_table_is_resizing_and_counting() -> None:
    rows = size_rows(PIECE, SIZES, SheetOptions())
    assert [row.girth_mm for row in rows] == [170.0, 190.0, 210.0, 230.0, 250.0]
    printed = sizes_table(project_page(PIECE, SIZES)).rows
    for row, cells in zip(rows, printed, strict=True):
        found = resize(PIECE.pattern, SIZES.wearer(row.girth_mm), closure=SIZES.closure)
        assert isinstance(found, Changed)
        made = weave(found.pattern)
        assert row.design == made
        tally = counts(made, Spares(percent=0.0, least=0))
        assert row.counts == tally
        assert cells[1] == millimetres(made.strip_mm + SIZES.closure.length_mm)
        assert cells[2:4] == (str(len(made.motifs)), str(made.base_beads))
        assert sum(int(str(cell)) for cell in cells[4:-1]) == tally.total
        assert cells[-1] == f"{thread_plan(made).length_mm / 1000.0:.1f}"


def test_a_girth_below_one_motif_says_so() -> None:
    small = Sizes(least_mm=20.0, most_mm=40.0, step_mm=20.0, ease_mm=1.0)
    with pytest.raises(BriefError):
        size_rows(PIECE, small, SheetOptions())
    wide = replace(
        PIECE, pattern=replace(PIECE.pattern, base=replace(PIECE.pattern.base, pitch_mm=8.0))
    )
    rows = size_rows(
        wide, Sizes(least_mm=45.0, most_mm=45.0, step_mm=5.0, ease_mm=0.0), SheetOptions()
    )
    assert rows[0].design is None


@pytest.mark.parametrize(
    ("least", "most", "step"), [(200, 100, 5), (100, 2000, 5), (100, 200, 0.1)]
)
def test_sizes_that_cannot_be_are_refused(least: float, most: float, step: float) -> None:
    with pytest.raises(BriefError):
        Sizes(least_mm=least, most_mm=most, step_mm=step, ease_mm=0.0)


class Reader(HTMLParser):
    """Tags with their attributes, and the text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


def read(html: str) -> Reader:
    reader = Reader()
    reader.feed(html)
    reader.close()
    return reader


def test_the_web_page_is_whole_and_says_what_the_pdf_says() -> None:
    document = project_page(PIECE, SIZES, SheetOptions(link="danglewise:dw1.abc"))
    html = to_html(document)
    page = read(html)
    tags = [tag for tag, _ in page.tags]
    assert tags.count("h1") == 1
    assert not {"script", "iframe", "object", "link", "form"} & set(tags)
    for tag, attributes in page.tags:
        assert not any(name.startswith("on") for name in attributes)
        for name in ("src", "href"):
            assert (attributes.get(name) or "data:").startswith("data:image/svg+xml;base64,") or (
                name not in attributes
            ), tag
    for cells in sizes_table(document).rows:
        assert str(cells[0]) in page.text
    assert to_pdf(document).pages >= 3


def test_every_picture_of_the_web_page_is_sound_svg() -> None:
    html = to_html(project_page(PIECE, SIZES))
    pictures = re.findall(r"data:image/svg\+xml;base64,([A-Za-z0-9+/=]+)", html)
    assert len(pictures) > 10
    for text in pictures:
        root = ET.fromstring(base64.b64decode(text))  # noqa: S314 - our own text
        assert root.tag.endswith("svg")
        assert root.attrib["width"].endswith("mm")


def test_names_are_text_and_never_markup() -> None:
    nasty = "<script>alert(1)</script>\"&'><img src=x onerror=y>"
    html = to_html(project_page(replace(PIECE, name=nasty), SIZES))
    page = read(html)
    assert "script" not in [tag for tag, _ in page.tags]
    assert page.text.count(nasty) >= 2


def test_a_project_says_nothing_of_the_first_wearer() -> None:
    assert PIECE.wearer is not None
    odd = worn_by(PIECE, replace(PIECE.wearer, snug_mm=223.7))
    assert "223.7" not in read(to_html(project_page(odd, SIZES))).text
