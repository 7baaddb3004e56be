"""A page of a document as a picture, to look at before it is printed.

The same marks as in the PDF, drawn at twice the size and made smaller, so that lines are smooth.
"""

import math
from dataclasses import replace
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from gallery.page import A4, Document, Paper
from gallery.page_beads import bead_picture
from gallery.page_blocks import foot
from gallery.page_flow import pages_of
from gallery.page_ink import (
    MM_PER_PT,
    Anchor,
    Drawing,
    Look,
    Mark,
    Oval,
    Path,
    Photo,
    Shown,
    Words,
)
from gallery.page_pen import Pen, on_white, thread_line, wire_ring
from gallery.page_text import Setting
from gallery.raster import draw
from gallery.scene import PlacedBead, Srgb1

Pixels = NDArray[np.uint8]

_FINER = 2  # chosen by us: two samples a pixel each way leave lines smooth
# Chosen by us: no screen shows a page wider.
MOST_PX = 2400
_LEAST_LINE_PX = 1
_ANCHORS = {Anchor.START: "ls", Anchor.MIDDLE: "ms", Anchor.END: "rs"}


def page_picture(
    document: Document, paper: Paper = A4, *, page: int = 0, width_px: int = 900
) -> Pixels:
    """One page as (h, w, 3) sRGB bytes.

    Args:
        document: what is printed.
        paper: what it is printed on.
        page: which page, from 0.
        width_px: how wide the picture is.

    Raises:
        ValueError: there is no such page, or no picture is so wide.
    """
    from gallery.pdf import FontMeasure

    setting = Setting(paper=paper, scale=document.scale, measure=FontMeasure())
    pages = pages_of(document, setting)
    if not 0 <= page < len(pages):
        raise ValueError(f"the document has pages 0 to {len(pages) - 1}; got {page}")
    marks = (*pages[page], *foot(document.foot, page + 1, len(pages), setting))
    return marks_picture(marks, paper.width_mm, paper.height_mm, width_px)


def drawing_picture(drawing: Drawing, width_px: int) -> Pixels:
    """A drawing on white, such as a code to scan, as (h, w, 3) sRGB bytes."""
    return marks_picture(drawing.marks, drawing.width_mm, drawing.height_mm, width_px)


def marks_picture(
    marks: tuple[Mark, ...], width_mm: float, height_mm: float, width_px: int
) -> Pixels:
    """Marks on white paper of that size."""
    if not 16 <= width_px <= MOST_PX:
        raise ValueError(f"a page is 16 to {MOST_PX} pixels wide; got {width_px}")
    scale = _FINER * width_px / width_mm
    size = (_FINER * width_px, _FINER * round(height_mm * width_px / width_mm))
    image = Image.new("RGB", size, "white")
    brush = _Brush(image, scale)
    for mark in marks:
        brush.put(mark)
    return np.asarray(image.reduce(_FINER), dtype=np.uint8)


def _ink(srgb1: Srgb1 | None) -> tuple[int, int, int] | None:
    if srgb1 is None:
        return None
    red, green, blue = (round(255.0 * part) for part in srgb1)
    return red, green, blue


@lru_cache(maxsize=64)
def _font(size_px: float, *, bold: bool) -> ImageFont.FreeTypeFont:
    name = f"SourceSansPro-{'Semibold' if bold else 'Regular'}.ttf"
    return ImageFont.truetype(str(files("font_source_sans_pro") / "files" / name), size_px)


class _Brush(Pen):
    """Puts marks on a picture of so many pixels a millimetre."""

    def __init__(self, image: Image.Image, scale: float) -> None:
        self._image = image
        self._scale = scale
        self._draw = ImageDraw.Draw(image)
        self._looks: dict[PlacedBead, Image.Image] = {}

    def _wide(self, width_mm: float) -> int:
        return max(_LEAST_LINE_PX, round(width_mm * self._scale))

    def _path(self, mark: Path) -> None:
        points = [(x * self._scale, y * self._scale) for x, y in mark.points_mm]
        fill, stroke = _ink(mark.fill), _ink(mark.stroke)
        if fill is not None and len(points) > 2:
            self._draw.polygon(points, fill=fill)
        if stroke is None or len(points) < 2:
            return
        if mark.closed:
            points.append(points[0])
        dashes = _dashes(points, mark.dash_mm * self._scale) if mark.dash_mm else [points]
        for dash in dashes:
            self._draw.line(dash, fill=stroke, width=self._wide(mark.width_mm), joint="curve")

    def _oval(self, mark: Oval) -> None:
        # A picture's oval lies inside its frame; a page's line lies half on either side.
        more_mm = 0.0 if mark.stroke is None else mark.width_mm / 2.0
        left, right = (mark.x_mm + side * (mark.rx_mm + more_mm) for side in (-1, 1))
        top, bottom = (mark.y_mm + side * (mark.ry_mm + more_mm) for side in (-1, 1))
        frame = [value * self._scale for value in (left, top, right, bottom)]
        self._draw.ellipse(
            frame, fill=_ink(mark.fill), outline=_ink(mark.stroke), width=self._wide(mark.width_mm)
        )

    def _words(self, mark: Words) -> None:
        self._draw.text(
            (mark.x_mm * self._scale, mark.y_mm * self._scale),
            mark.text,
            font=_font(mark.size_pt * MM_PER_PT * self._scale, bold=mark.bold),
            fill=_ink(mark.srgb1),
            anchor=_ANCHORS[mark.anchor],
        )

    def _bead(self, bead: PlacedBead, x_mm: float, y_mm: float) -> None:
        look = _look(bead)
        if look not in self._looks:
            pixels, side_mm = bead_picture(look)
            side = max(1, round(side_mm * self._scale))
            self._looks[look] = Image.fromarray(pixels).resize((side, side), Image.Resampling.BOX)
        image = self._looks[look]
        left, top = (round(mm * self._scale - image.width / 2.0) for mm in (x_mm, y_mm))
        self._image.paste(image, (left, top), image)

    def _metal(self, mark: Shown, right_mm: float, down_mm: float) -> None:
        left, top = round(mark.x_mm * self._scale), round(mark.y_mm * self._scale)
        width, height = (math.ceil(mm * self._scale) for mm in (mark.width_mm, mark.height_mm))
        part = self._image.crop((left, top, left + width, top + height))
        brush = _Brush(part, self._scale)
        right, down = right_mm - left / self._scale, down_mm - top / self._scale
        if mark.look is Look.GLASS:
            for thread in mark.scene.threads:
                brush.put(thread_line(thread, right, down))
        for ring in mark.scene.rings:
            brush.put(wire_ring(ring, right, down))
        self._image.paste(part, (left, top))

    def _photo(self, mark: Photo) -> None:
        width = round(mark.width_mm * self._scale)
        pixels = draw(on_white(mark.scene), width / mark.scene.width_mm)
        size = (width, round(mark.height_mm * self._scale))
        image = Image.fromarray(pixels[..., :3]).resize(size)
        self._image.paste(image, (round(mark.x_mm * self._scale), round(mark.y_mm * self._scale)))


def _look(bead: PlacedBead) -> PlacedBead:
    """A bead wherever it lies, so that beads that look alike are drawn once."""
    return replace(bead, x_mm=0.0, y_mm=0.0, layer=0, tag="")


def _dashes(points: list[tuple[float, float]], dash_px: float) -> list[list[tuple[float, float]]]:
    """The dashes of a line, each from its start to its end."""
    found: list[list[tuple[float, float]]] = []
    for (x, y), (x_to, y_to) in pairwise(points):
        length = math.hypot(x_to - x, y_to - y)
        for number in range(math.ceil(length / (2.0 * dash_px))):
            start = 2.0 * dash_px * number / length
            end = min(1.0, start + dash_px / length)
            found.append([(x + (x_to - x) * t, y + (y_to - y) * t) for t in (start, end)])
    return found
