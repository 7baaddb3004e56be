"""The web page of a document: every kind of block, and nothing but text in it."""

import re
from html.parser import HTMLParser

import pytest

from gallery.page import (
    Blanks,
    Boxes,
    Break,
    Card,
    Cards,
    Chip,
    Document,
    Facts,
    Figure,
    Figures,
    Head,
    Heading,
    Note,
    Ruler,
    Steps,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_html import drawing_svg, to_html
from gallery.page_ink import Drawing, Oval, Path, Photo, Words
from gallery.pdf import to_pdf
from gallery.scene import PlacedBead, Scene, Thread

BEAD = PlacedBead(x_mm=1.0, y_mm=1.0, across_mm=2.0, along_mm=1.5, hole_mm=0.8)
SCENE = Scene(
    left_mm=0.0,
    top_mm=0.0,
    width_mm=4.0,
    height_mm=3.0,
    beads=(BEAD,),
    threads=(Thread(points_mm=((0.0, 1.0), (4.0, 1.0))),),
)
DRAWING = Drawing(
    width_mm=20.0,
    height_mm=10.0,
    marks=(
        Path(points_mm=((0.0, 0.0), (5.0, 5.0)), dash_mm=1.0),
        Oval(x_mm=5.0, y_mm=5.0, rx_mm=2.0, ry_mm=1.0),
        Words(x_mm=1.0, y_mm=8.0, text="a < b", size_pt=8.0),
    ),
)
CHIP = Chip(letter="A", bead=BEAD)
DOCUMENT = Document(
    title="<title>",
    blocks=(
        Title(text="Name & <b>", under="under", corner=DRAWING),
        Heading(text="Head", number="1"),
        Text(text="plain"),
        Text(text="quiet", quiet=True),
        Facts(rows=(("label", "value"),)),
        Table(
            heads=(Head(text="a", share=1.0), Head(text="b", share=1.0, right=True)),
            rows=((CHIP, "1\n2"), (Boxes(count=2), DRAWING), ("sum", "3")),
            bold_last=True,
        ),
        Steps(texts=("do this",)),
        TrueSize(scene=SCENE),
        Ruler(),
        Figures(figures=(Figure(picture=DRAWING, caption="drawn"), Figure(picture=SCENE))),
        Note(title="Care", texts=("mind",)),
        Cards(cards=(Card(title="Bag", under="of", rows=((CHIP, "coral", "12"),)),)),
        Blanks(labels=("date",)),
        Break(),
    ),
    foot="foot <i>",
)


class TextReader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002
        if tag not in ("meta", "img", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.found.append(data.strip())


def test_every_kind_of_block_is_said_once_and_every_tag_is_closed() -> None:
    reader = TextReader()
    reader.feed(to_html(DOCUMENT))
    reader.close()
    assert reader.open == []
    for text in (
        "Name & <b>", "under", "Head", "plain", "quiet", "label", "value", "do this", "drawn",
        "Care", "mind", "Bag", "coral", "12", "foot <i>", "sum",
    ):  # fmt: skip
        assert reader.found.count(text) == 1, text


def test_the_same_blocks_are_printed_too() -> None:
    assert to_pdf(DOCUMENT).pages == 1


def test_a_drawing_is_true_to_size_in_svg() -> None:
    text = drawing_svg(DRAWING)
    assert 'width="20mm" height="10mm"' in text
    assert "a &lt; b" in text
    assert re.search(r'stroke-dasharray="1"', text)


def test_a_drawing_holds_lines_and_words_only() -> None:
    with pytest.raises(ValueError, match="no picture"):
        drawing_svg(
            Drawing(
                width_mm=1.0,
                height_mm=1.0,
                marks=(Photo(x_mm=0.0, y_mm=0.0, scene=SCENE, width_mm=1.0),),
            )
        )
