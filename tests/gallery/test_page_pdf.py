"""The printed file, read back with other libraries than the one that wrote it."""

import io
import shutil
import subprocess
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pypdf import PdfReader

from gallery.files import read_png
from gallery.page import (
    A4,
    LETTER,
    Block,
    Document,
    Facts,
    Head,
    Paper,
    Ruler,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_ink import Look
from gallery.pdf import FontMeasure, to_pdf
from gallery.scene import PlacedBead, Scene

PT_PER_MM = 72.0 / 25.4  # ISO 32000-1, 8.3.2.3: a user unit is 1/72 inch


def document(*blocks: Block, scale: float = 1.0) -> Document:
    return Document(title="A trial", blocks=blocks, foot="foot", scale=scale)


def text_of(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def operators(pdf: bytes) -> Iterator[tuple[bytes, list[Any], list[float]]]:
    """Every operator of every page with its operands and the matrix in force."""
    found: list[tuple[bytes, list[Any], list[float]]] = []

    def visit(operator: bytes, operands: list[Any], matrix: list[float], _: Any) -> None:
        found.append((operator, list(operands), list(matrix)))

    for page in PdfReader(io.BytesIO(pdf)).pages:
        page.extract_text(visitor_operand_before=visit)
    yield from found


def level_lines_mm(pdf: bytes) -> list[float]:
    """The lengths of all level lines of two points, in mm."""
    found, start = [], None
    for operator, operands, _ in operators(pdf):
        if operator == b"m":
            start = [float(v) for v in operands]
        elif operator == b"l" and start is not None:
            end = [float(v) for v in operands]
            if abs(end[1] - start[1]) < 1e-6:
                found.append(abs(end[0] - start[0]) / PT_PER_MM)
            start = None
    return found


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_the_paper_and_the_ruler_are_true(paper: Paper) -> None:
    pdf = to_pdf(document(Ruler()), paper).pdf
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert float(box.width) / PT_PER_MM == pytest.approx(paper.width_mm, abs=0.01)
    assert float(box.height) / PT_PER_MM == pytest.approx(paper.height_mm, abs=0.01)
    assert any(length == pytest.approx(50.0, abs=0.01) for length in level_lines_mm(pdf))


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="no pdftoppm on this machine")
def test_the_ruler_measures_50_mm_in_pixels(tmp_path: Path) -> None:
    (tmp_path / "x.pdf").write_bytes(to_pdf(document(Ruler())).pdf)
    command = ["pdftoppm", "-r", "254", "-png", "-gray", "x.pdf", "x"]
    subprocess.run(command, cwd=tmp_path, check=True)
    (picture,) = tmp_path.glob("*.png")
    dark = read_png(picture)[..., 0] < 128
    # At 254 dots per inch a pixel is a tenth of a millimetre; the longest dark run is the ruler.
    longest = 0
    for row in dark:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row.astype(int), [0]])))
        longest = max(longest, *(np.diff(edges)[::2]), 0) if len(edges) else longest
    assert longest / 10.0 == pytest.approx(50.0, abs=0.6)


LINES = ("Straße, façade, ½ in", "Ελληνικά γράμματα", "Кириллица, ґ", "<b>not bold</b> & =1+1")


def test_text_is_read_back_as_it_was_written() -> None:
    pdf = to_pdf(document(Title(text="Überschrift"), *(Text(text=line) for line in LINES))).pdf
    read = text_of(pdf)
    for line in (*LINES, "Überschrift", "page 1 of 1"):
        assert line in read


def test_fonts_are_embedded_and_nothing_else_is_needed() -> None:
    pdf = to_pdf(document(Title(text="A"), Text(text="ab Ωя"))).pdf
    for page in PdfReader(io.BytesIO(pdf)).pages:
        fonts = page["/Resources"]["/Font"]  # type: ignore[index]
        assert fonts
        for font in fonts.values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"]


def test_what_the_font_lacks_is_a_lozenge_and_told() -> None:
    printed = to_pdf(document(Text(text="name: 李 🙂")))
    assert printed.lacking == ("李", "🙂")
    read = text_of(printed.pdf)
    assert "name: ◊ ◊" in read
    assert "stands for a character that our font lacks" in read


def test_latin_greek_and_cyrillic_are_covered() -> None:
    # ISO 8859-1, -7 and -5 are the letters of Western European, Greek and Cyrillic writing.
    for codec in ("iso8859-1", "iso8859-2", "iso8859-7", "iso8859-5"):
        every = bytes(range(0xA1, 0x100)).decode(codec, errors="ignore").replace("\xad", "")
        # Two signs beside the letters, the drachma's and the iota's, are no letters of a name.
        every = every.replace("\u20af", "").replace("\u037a", "")
        assert to_pdf(document(Text(text=every))).lacking == (), codec


def test_the_same_document_gives_the_same_bytes() -> None:
    blocks = (Title(text="A"), Facts(rows=(("a", "b"),)), Ruler())
    assert to_pdf(document(*blocks)).pdf == to_pdf(document(*blocks)).pdf


def row_scene(beads: int, pitch_mm: float) -> Scene:
    placed = tuple(
        PlacedBead(
            x_mm=(n + 0.5) * pitch_mm, y_mm=2.0, across_mm=1.8, along_mm=1.8, hole_mm=0.8,
            srgb1=(0.2, 0.4, 0.6),
        )
        for n in range(beads)
    )  # fmt: skip
    return Scene(left_mm=0.0, top_mm=0.0, width_mm=beads * pitch_mm, height_mm=4.0, beads=placed)


def bead_places_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Where each bead's picture was put, from the matrix in force."""
    return [
        (matrix[4] / PT_PER_MM, matrix[5] / PT_PER_MM)
        for operator, operands, matrix in operators(pdf)
        # Inside a look its own picture is put at its own corner, left of nothing.
        if operator == b"Do" and matrix[4] > 0.0
    ]


@pytest.mark.parametrize("beads", [3, 91, 400])
def test_a_strip_is_printed_at_the_size_of_life_over_rows_and_pages(beads: int) -> None:
    pitch = 1.95
    breaks = tuple(n * pitch * 7 for n in range(beads // 7 + 1))
    block = TrueSize(scene=row_scene(beads, pitch), breaks_mm=breaks)
    places = bead_places_mm(to_pdf(document(block)).pdf)
    assert len(places) == beads
    for (x0, y0), (x1, y1) in pairwise(places):
        assert x1 - x0 == pytest.approx(pitch, abs=0.01) or y1 != pytest.approx(y0)
        assert A4.margin_mm <= x1 <= A4.width_mm - A4.margin_mm
    rows = len({round(y, 2) for _, y in places})
    assert rows == -(-beads // (int(180.0 / (7 * pitch)) * 7))


def test_outlines_hold_no_pictures() -> None:
    block = TrueSize(scene=row_scene(5, 2.0), look=Look.OUTLINE)
    pdf = to_pdf(document(block)).pdf
    assert bead_places_mm(pdf) == []
    curves = sum(operator in (b"h", b"s", b"b", b"B") for operator, _, _ in operators(pdf))
    assert curves >= 5


def test_a_line_is_as_wide_as_it_is_measured() -> None:
    # The font's own metrics by another reader: pypdf sums the widths in the file.
    measure = FontMeasure()
    narrow, wide = measure.width_mm("iiii", 10.0), measure.width_mm("mmmm", 10.0)
    assert 0.0 < narrow < wide
    assert measure.width_mm("iiiim", 10.0) == pytest.approx(narrow + wide / 4.0)


def test_a_table_of_two_thousand_rows_is_printed_whole() -> None:
    table = Table(heads=(Head(text="n", share=1),), rows=tuple((f"r{n}",) for n in range(2000)))
    printed = to_pdf(document(table))
    assert f"r{1999}" in PdfReader(io.BytesIO(printed.pdf)).pages[-1].extract_text()


def test_every_page_is_told_of_while_a_file_is_made() -> None:
    told: list[tuple[int, int]] = []
    blocks = tuple(Text(text=f"line {at}") for at in range(200))
    printed = to_pdf(document(*blocks), progress=lambda *now: told.append(now))
    assert printed.pages > 2
    assert told == [(page, printed.pages) for page in range(1, printed.pages + 1)]
    assert printed.pdf == to_pdf(document(*blocks)).pdf
