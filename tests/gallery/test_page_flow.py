"""Pages: paper sizes against their standards, text in lines, pieces on pages."""

import math
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gallery.page import (
    A4,
    LETTER,
    Document,
    Facts,
    Figure,
    Figures,
    Head,
    Heading,
    Ruler,
    Steps,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_flow import Piece, filled, pages_of, room_high_mm
from gallery.page_ink import Drawing, Oval, Path, Words, box, mirrored
from gallery.page_strips import windows
from gallery.page_text import LACKING, Setting, printable
from gallery.scene import Scene


class Even:
    """A font in which every letter is half its size wide."""

    def width_mm(self, text: str, size_pt: float, *, bold: bool = False) -> float:
        return len(text) * size_pt * (0.6 if bold else 0.5) * 25.4 / 72.0


SETTING = Setting(paper=A4, scale=1.0, measure=Even())


def test_a4_follows_its_standard() -> None:
    # ISO 216: sides of An are 2^(-1/4 - n/2) and 2^(1/4 - n/2) m, rounded down to whole mm.
    assert A4.width_mm == math.floor(1000.0 * 2.0 ** (-0.25 - 2.0))
    assert A4.height_mm == math.floor(1000.0 * 2.0 ** (0.25 - 2.0))


def test_letter_follows_its_standard() -> None:
    # ANSI/ASME Y14.1, size A: 8.5 by 11 inches.
    assert pytest.approx(8.5 * 25.4) == LETTER.width_mm
    assert pytest.approx(11.0 * 25.4) == LETTER.height_mm


@given(st.text(max_size=200), st.floats(12.0, 180.0))
def test_lines_fit_the_room_and_lose_no_letter(text: str, room_mm: float) -> None:
    lines = SETTING.wrapped(text, 10.0, room_mm)
    for line in lines:
        assert len(line) <= 1 or SETTING.measure.width_mm(line, 10.0) <= room_mm + 1e-9
    assert "".join("".join(lines).split()) == "".join(text.split())


@given(st.text(max_size=80), st.floats(5.0, 60.0))
def test_a_shortened_line_fits(text: str, room_mm: float) -> None:
    short = SETTING.shortened(text, 10.0, room_mm)
    plain = " ".join(text.split())
    if short != plain:
        assert short.endswith("…")
        assert plain.startswith(short[:-1].rstrip())
    assert SETTING.measure.width_mm(short, 10.0) <= room_mm or short == "…"


pieces = st.lists(
    st.builds(
        lambda high, gap, keep, opens: Piece(
            height_mm=high,
            gap_mm=gap,
            keep=keep,
            opens=opens,
            marks=(box(0.0, 0.0, 5.0, high),),
        ),
        st.floats(1.0, 120.0),
        st.floats(0.0, 8.0),
        st.booleans(),
        st.booleans(),
    ),
    max_size=30,
)


@given(pieces)
def test_every_piece_stands_once_and_above_the_foot(given_pieces: list[Piece]) -> None:
    pages = filled(given_pieces, SETTING)
    drawn = [mark for page in pages for mark in page if isinstance(mark, Path)]
    heights = [max(y for _, y in m.points_mm) - min(y for _, y in m.points_mm) for m in drawn]
    assert heights == pytest.approx([piece.height_mm for piece in given_pieces])
    lowest = A4.margin_mm + room_high_mm(SETTING) + 1e-6
    for page in pages:
        edges = [[y for _, y in m.points_mm] for m in page if isinstance(m, Path)]
        assert all(max(ys) <= lowest for ys in edges)
        # From the top down, one after the other.
        tops = [min(ys) for ys in edges]
        assert tops == sorted(tops)


def test_what_is_kept_goes_to_the_next_page_together() -> None:
    high = room_high_mm(SETTING)
    first = Piece(height_mm=high - 20.0, marks=(box(0.0, 0.0, 1.0, 1.0),))
    head = Piece(height_mm=10.0, keep=True, marks=(box(0.0, 0.0, 2.0, 2.0),))
    body = Piece(height_mm=30.0, marks=(box(0.0, 0.0, 3.0, 3.0),))
    assert [len(page) for page in filled([first, head, body], SETTING)] == [1, 2]


def words_of(document: Document) -> list[list[str]]:
    pages = pages_of(document, SETTING)
    return [[mark.text for mark in page if isinstance(mark, Words)] for page in pages]


def test_a_tables_head_stands_on_every_page() -> None:
    table = Table(heads=(Head(text="number", share=1),), rows=tuple((str(n),) for n in range(120)))
    pages = words_of(Document(title="x", blocks=(table,)))
    assert len(pages) > 2
    assert all(page[0] == "number" for page in pages)
    said = [text for page in pages for text in page if text != "number"]
    assert said == [str(n) for n in range(120)]


def filler(lines: int) -> Text:
    """So many lines, each too long to stand beside another."""
    return Text(text=" ".join("x" * 70 for _ in range(lines)))


def pages_with(document: Document, words: list[str]) -> set[int]:
    """The pages on which some of the words stand."""
    return {at for at, page in enumerate(words_of(document)) if set(page) & set(words)}


def numbered(count: int) -> list[str]:
    return [f"step {n}" for n in range(count)]


@pytest.mark.parametrize("lines", range(30, 62))
def test_what_leads_stays_with_what_follows(lines: int) -> None:
    few, drawing = numbered(3), Drawing(width_mm=40.0, height_mm=30.0, marks=())
    for lead in (
        Facts(rows=(("fact", "so it is"),), leads=True),
        Text(text="so it is", leads=True),
    ):
        cuts = Document(
            title="x", blocks=(filler(lines), Heading(text="head"), lead, Steps(texts=tuple(few)))
        )
        # Few steps are not parted either.
        assert len(pages_with(cuts, ["head", "so it is", *few])) == 1
        shown = tuple(Figure(picture=drawing, caption=f"figure {n}") for n in range(8))
        drawn = Document(title="x", blocks=(filler(lines), lead, Figures(figures=shown)))
        captions = [figure.caption for figure in shown]
        assert len(pages_with(drawn, ["so it is", *captions])) == 1


@pytest.mark.parametrize("lines", range(30, 62))
def test_no_step_and_no_row_stands_alone_on_a_page(lines: int) -> None:
    many = numbered(9)
    table = Table(heads=(Head(text="number", share=1),), rows=tuple((text,) for text in many))
    for block in (Steps(texts=tuple(many)), table):
        pages = words_of(Document(title="x", blocks=(filler(lines), block)))
        counts = [sum(text in many for text in page) for page in pages]
        assert sum(counts) == 9
        assert 1 not in counts


@given(
    st.lists(st.floats(3.0, 60.0), min_size=1, max_size=30),
    st.floats(80.0, 200.0),
)
def test_rows_of_a_strip_are_few_and_alike(widths: list[float], room_mm: float) -> None:
    breaks = tuple(accumulate(widths))
    scene = Scene(left_mm=0.0, top_mm=0.0, width_mm=breaks[-1], height_mm=10.0)
    rows = windows(TrueSize(scene=scene, breaks_mm=breaks), room_mm)
    # Each begins where the one before ends, at a break, and none is wider than the paper's room.
    assert [left for left, _ in rows[1:]] == [right for _, right in rows[:-1]]
    assert (rows[0][0], rows[-1][1]) == (0.0, breaks[-1])
    assert all(right in breaks for _, right in rows)
    wide = [right - left for left, right in rows]
    assert max(wide) <= room_mm + 1e-6
    # As few as filling one row after the other gives, and the widest no wider than it must be.
    filling, used = 1, 0.0
    for width in widths:
        filling, used = (filling, used + width) if used + width <= room_mm else (filling + 1, width)
    assert len(rows) <= filling
    even = breaks[-1] / len(rows)
    assert max(wide) <= even + max(widths) + 1e-3


def test_no_motif_stands_alone_on_a_second_row() -> None:
    breaks = tuple(20.0 * n for n in range(1, 10))
    scene = Scene(left_mm=0.0, top_mm=0.0, width_mm=180.0, height_mm=10.0)
    rows = windows(TrueSize(scene=scene, breaks_mm=breaks), 170.0)
    assert rows == [(0.0, 100.0), (100.0, 180.0)]


def test_large_type_takes_more_room() -> None:
    blocks = (Title(text="A"), Heading(text="B"), Text(text="word " * 900), Steps(texts=("do it",)))
    plain = Document(title="x", blocks=blocks)
    large = Document(title="x", blocks=blocks, scale=1.5)
    assert len(pages_of(plain, SETTING)) < len(
        pages_of(large, Setting(paper=A4, scale=1.5, measure=Even()))
    )


def test_a_ruler_is_as_long_as_it_says() -> None:
    (page,) = pages_of(Document(title="x", blocks=(Ruler(),)), SETTING)
    level = [m for m in page if isinstance(m, Path) and m.points_mm[0][1] == m.points_mm[1][1]]
    (line,) = level
    assert line.points_mm[1][0] - line.points_mm[0][0] == pytest.approx(50.0)
    ticks = sorted({m.points_mm[0][0] for m in page if isinstance(m, Path) and m not in level})
    assert ticks == pytest.approx([A4.margin_mm + mm for mm in range(51)])


def test_rows_of_another_width_are_refused() -> None:
    with pytest.raises(ValueError, match="2 cells"):
        Table(heads=(Head(text="", share=1),) * 2, rows=(("one",),))


def test_a_mirror_turns_twice_into_itself() -> None:
    drawing = Drawing(
        width_mm=40.0,
        height_mm=10.0,
        marks=(
            Path(points_mm=((1.0, 2.0), (5.0, 6.0))),
            Oval(x_mm=7.0, y_mm=3.0, rx_mm=1.0, ry_mm=2.0),
            Words(x_mm=3.0, y_mm=4.0, text="a", size_pt=7.0),
        ),
    )
    once = mirrored(drawing)
    assert once != drawing
    assert mirrored(once) == drawing


def test_what_a_font_lacks_is_replaced_and_told() -> None:
    covered = frozenset(map(ord, "abc é"))
    assert printable("e\u0301", covered) == ("é", frozenset())
    assert printable("a漢b", covered) == (f"a{LACKING}b", frozenset("漢"))
    assert printable("a\nb", covered)[0] == "a b"
