"""The only place that knows reportlab: pages of marks become the bytes of a PDF file.

Text is set in Source Sans Pro (Adobe, SIL Open Font License 1.1; Latin, Greek and Cyrillic), which
is embedded in every file, and can be selected and searched. The same document gives the same bytes.
"""

import io
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from reportlab import rl_config
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from gallery.files import to_png
from gallery.page import A4, Document, Paper
from gallery.page_beads import bead_picture, threads_within
from gallery.page_blocks import foot
from gallery.page_flow import Page, pages_of
from gallery.page_ink import (
    MM_PER_PT,
    Anchor,
    Look,
    Oval,
    Path,
    Photo,
    Shown,
    Words,
)
from gallery.page_pen import Pen, on_white, thread_line, wire_ring
from gallery.page_text import LACKING, Setting, printable
from gallery.raster import draw
from gallery.scene import MetalRing, PlacedBead
from gallery.steps import Progress

# Streams as plain bytes, not as text: files a fifth smaller, written faster.
rl_config.useA85 = 0

_FACES = {False: "SourceSansPro-Regular", True: "SourceSansPro-Semibold"}
# A picture with light and shadow has 200 dots per inch, chosen by us, because it
# is sharp at reading distance.
_PHOTO_PX_PER_MM = 200.0 / 25.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A printed document.

    Attributes:
        pdf: the file's bytes.
        pages: how many.
        lacking: the characters that the fonts lack; each is printed as a lozenge.
    """

    pdf: bytes
    pages: int
    lacking: tuple[str, ...]


@cache
def _face(bold: bool) -> Any:
    name = _FACES[bold]
    path = files("font_source_sans_pro") / "files" / f"{name}.ttf"
    font = TTFont(name, str(path))
    pdfmetrics.registerFont(font)
    return font.face


@cache
def _covered(bold: bool) -> frozenset[int]:
    return frozenset(_face(bold).charToGlyph)


class FontMeasure:
    """What our fonts know of widths."""

    def width_mm(self, text: str, size_pt: float, *, bold: bool = False) -> float:
        """The width of a line of text in millimetres."""
        face = _face(bold)
        plain, _ = printable(text, _covered(bold))
        widths, usual = face.charWidths, face.defaultWidth
        return float(sum(widths.get(ord(c), usual) for c in plain)) / 1000.0 * size_pt * MM_PER_PT


def to_pdf(document: Document, paper: Paper = A4, *, progress: Progress | None = None) -> Printed:
    """A document as a PDF file at true scale.

    Args:
        document: what it says.
        paper: what it is printed on.
        progress: told after every page how many are drawn, of how many.
    """
    setting = Setting(paper=paper, scale=document.scale, measure=FontMeasure())
    pages = pages_of(document, setting)
    lacking = sorted(_lacking(pages, document))
    line = document.foot
    if lacking:
        line = f"{LACKING} stands for a character that our font lacks. {line}"
    out = io.BytesIO()
    _face(False)
    canvas = Canvas(
        out,
        pagesize=(paper.width_mm / MM_PER_PT, paper.height_mm / MM_PER_PT),
        # The stubs take a font's name for a number.
        initialFontName=_FACES[False],  # type: ignore[arg-type]
        invariant=1,
        pageCompression=1,
        lang="en-GB",
    )
    canvas.setTitle(document.title)
    canvas.setCreator("Danglewise")
    hand = _Hand(canvas, paper)
    for number, page in enumerate(pages, start=1):
        for mark in (*page, *foot(line, number, len(pages), setting)):
            hand.put(mark)
        canvas.showPage()
        if progress is not None:
            progress(number, len(pages))
    canvas.save()
    return Printed(pdf=out.getvalue(), pages=len(pages), lacking=tuple(lacking))


def _lacking(pages: tuple[Page, ...], document: Document) -> set[str]:
    found = set(printable(document.foot, _covered(False))[1])
    for page in pages:
        for mark in page:
            if isinstance(mark, Words):
                found |= printable(mark.text, _covered(mark.bold))[1]
    return found


class _Hand(Pen):
    """Draws marks on a canvas whose measures are points from the lower left corner."""

    def __init__(self, canvas: Canvas, paper: Paper) -> None:
        self._canvas: Any = canvas
        self._high_mm = paper.height_mm
        self._looks: dict[tuple[object, ...], str] = {}

    def _x(self, x_mm: float) -> float:
        return x_mm / MM_PER_PT

    def _y(self, y_mm: float) -> float:
        return (self._high_mm - y_mm) / MM_PER_PT

    def _path(self, mark: Path) -> None:
        canvas = self._canvas
        path = canvas.beginPath()
        for at, (x, y) in enumerate(mark.points_mm):
            (path.moveTo if at == 0 else path.lineTo)(self._x(x), self._y(y))
        if mark.closed:
            path.close()
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        dash = mark.dash_mm / MM_PER_PT
        canvas.setDash([dash, dash] if dash else [])
        self._inks(mark)
        canvas.drawPath(path, stroke=int(mark.stroke is not None), fill=int(mark.fill is not None))
        canvas.setDash([])

    def _inks(self, mark: Path | Oval) -> None:
        if mark.stroke is not None:
            self._canvas.setLineWidth(mark.width_mm / MM_PER_PT)
            self._canvas.setStrokeColorRGB(*mark.stroke)
        if mark.fill is not None:
            self._canvas.setFillColorRGB(*mark.fill)

    def _oval(self, mark: Oval) -> None:
        self._inks(mark)
        self._canvas.ellipse(
            self._x(mark.x_mm - mark.rx_mm),
            self._y(mark.y_mm + mark.ry_mm),
            self._x(mark.x_mm + mark.rx_mm),
            self._y(mark.y_mm - mark.ry_mm),
            stroke=int(mark.stroke is not None),
            fill=int(mark.fill is not None),
        )

    def _words(self, mark: Words) -> None:
        canvas = self._canvas
        text, _ = printable(mark.text, _covered(mark.bold))
        canvas.setFont(_FACES[mark.bold], mark.size_pt)
        canvas.setFillColorRGB(*mark.srgb1)
        write = {
            Anchor.START: canvas.drawString,
            Anchor.MIDDLE: canvas.drawCentredString,
            Anchor.END: canvas.drawRightString,
        }[mark.anchor]
        write(self._x(mark.x_mm), self._y(mark.y_mm), text)

    def _bead(self, bead: PlacedBead, x_mm: float, y_mm: float) -> None:
        """A bead by its look, which the file holds once however often it is used."""
        canvas = self._canvas
        key = (
            bead.across_mm, bead.along_mm, bead.hole_mm, bead.turn_deg, bead.form, bead.pose,
            bead.srgb1, bead.finish,
        )  # fmt: skip
        if key not in self._looks:
            pixels, side_mm = bead_picture(bead)
            name, side = f"bead{len(self._looks)}", side_mm / MM_PER_PT
            canvas.beginForm(name, -side / 2.0, -side / 2.0, side / 2.0, side / 2.0)
            image = ImageReader(io.BytesIO(to_png(pixels)))
            canvas.drawImage(image, -side / 2.0, -side / 2.0, side, side, mask="auto")
            canvas.endForm()
            self._looks[key] = name
        canvas.saveState()
        canvas.translate(self._x(x_mm), self._y(y_mm))
        canvas.doForm(self._looks[key])
        canvas.restoreState()

    def _metal(self, mark: Shown, right_mm: float, down_mm: float) -> None:
        canvas = self._canvas
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(
            self._x(mark.x_mm),
            self._y(mark.y_mm + mark.height_mm),
            mark.width_mm / MM_PER_PT,
            mark.height_mm / MM_PER_PT,
        )
        canvas.clipPath(window, stroke=0, fill=0)
        if mark.look is Look.GLASS:
            for thread in threads_within(mark.scene, mark.left_mm, mark.width_mm):
                self._path(thread_line(thread, right_mm, down_mm))
        for ring in mark.scene.rings:
            for outline in _ring(ring, right_mm, down_mm):
                self._oval(outline)
        canvas.restoreState()

    def _photo(self, mark: Photo) -> None:
        scene = on_white(mark.scene)
        pixels = draw(scene, _PHOTO_PX_PER_MM * mark.width_mm / scene.width_mm)
        image = ImageReader(io.BytesIO(to_png(pixels)))
        self._canvas.drawImage(
            image,
            self._x(mark.x_mm),
            self._y(mark.y_mm + mark.height_mm),
            mark.width_mm / MM_PER_PT,
            mark.height_mm / MM_PER_PT,
        )


def _ring(ring: MetalRing, right_mm: float, down_mm: float) -> tuple[Oval, Oval]:
    """A ring of wire as a dark line with a light one on it; flat pictures turn no ring."""
    return (
        wire_ring(ring, right_mm, down_mm),
        wire_ring(ring, right_mm, down_mm, 0.5, (0.86, 0.85, 0.82)),
    )
