"""Marks on a page, in millimetres from its upper left corner: lines, ovals, words, pictures."""

from dataclasses import dataclass, replace
from enum import StrEnum

from gallery.scene import PlacedBead, Point, Scene, Srgb1

# Ink and greens of the whole product, by eye; on paper the ground is the paper itself.
INK: Srgb1 = (0.165, 0.153, 0.137)
QUIET: Srgb1 = (0.384, 0.361, 0.322)
FAINT: Srgb1 = (0.80, 0.78, 0.74)
GREEN: Srgb1 = (0.122, 0.373, 0.357)
WHITE: Srgb1 = (1.0, 1.0, 1.0)

MM_PER_PT = 25.4 / 72.0  # a point is 1/72 inch (ISO 32000-1, 8.3.2.3), an inch 25.4 mm exactly


class Anchor(StrEnum):
    """Which end of a line of words stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Look(StrEnum):
    """How a scene is shown on paper."""

    GLASS = "glass"  # every bead as it looks
    OUTLINE = "outline"  # outlines only, to colour in


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A line through points, open or closed, drawn, filled or both.

    Attributes:
        points_mm: the points.
        width_mm: the line's width; by eye.
        stroke: the line's colour, or none.
        fill: the area's colour, or none.
        closed: whether the last point joins the first.
        dash_mm: length of dashes and of the gaps between them; 0 for a whole line.
    """

    points_mm: tuple[Point, ...]
    width_mm: float = 0.2
    stroke: Srgb1 | None = INK
    fill: Srgb1 | None = None
    closed: bool = False
    dash_mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Oval:
    """An ellipse about a centre, upright; its line as wide as a path's, by eye."""

    x_mm: float
    y_mm: float
    rx_mm: float
    ry_mm: float
    width_mm: float = 0.2
    stroke: Srgb1 | None = INK
    fill: Srgb1 | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of plain text; ``y_mm`` is its baseline."""

    x_mm: float
    y_mm: float
    text: str
    size_pt: float
    bold: bool = False
    srgb1: Srgb1 = INK
    anchor: Anchor = Anchor.START


@dataclass(frozen=True, slots=True, kw_only=True)
class OneBead:
    """A bead as it looks, its own place counted from (x, y)."""

    x_mm: float
    y_mm: float
    bead: PlacedBead


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A part of a scene at true size: the window's upper left corner stands at (x, y).

    Attributes:
        x_mm, y_mm: the place on the page.
        scene: what is shown; a bead is shown whole where its centre lies in the window.
        left_mm, top_mm, width_mm, height_mm: the window in the scene's own measures.
        look: glass or outlines.
    """

    x_mm: float
    y_mm: float
    scene: Scene
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    look: Look = Look.GLASS


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A scene as one picture of the given width, drawn with light and shadow."""

    x_mm: float
    y_mm: float
    scene: Scene
    width_mm: float

    @property
    def height_mm(self) -> float:
        """Its height at that width."""
        return self.width_mm * self.scene.height_mm / self.scene.width_mm


Mark = Path | Oval | Words | OneBead | Shown | Photo


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A small picture of our own: marks in a frame from (0, 0)."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


def box(
    x_mm: float,
    y_mm: float,
    width_mm: float,
    height_mm: float,
    *,
    stroke: Srgb1 | None = INK,
    fill: Srgb1 | None = None,
    line_mm: float = 0.2,
) -> Path:
    """A rectangle from its upper left corner."""
    right, bottom = x_mm + width_mm, y_mm + height_mm
    return Path(
        points_mm=((x_mm, y_mm), (right, y_mm), (right, bottom), (x_mm, bottom)),
        closed=True,
        stroke=stroke,
        fill=fill,
        width_mm=line_mm,
    )


def moved(mark: Mark, right_mm: float, down_mm: float) -> Mark:
    """The same mark elsewhere."""
    if isinstance(mark, Path):
        points = tuple((x + right_mm, y + down_mm) for x, y in mark.points_mm)
        return replace(mark, points_mm=points)
    return replace(mark, x_mm=mark.x_mm + right_mm, y_mm=mark.y_mm + down_mm)


def scaled(drawing: Drawing, factor: float) -> Drawing:
    """The drawing larger or smaller, lines and words with it."""
    return Drawing(
        width_mm=drawing.width_mm * factor,
        height_mm=drawing.height_mm * factor,
        marks=tuple(_scaled(mark, factor) for mark in drawing.marks),
    )


def _scaled(mark: Mark, factor: float) -> Mark:
    if isinstance(mark, Path):
        points = tuple((x * factor, y * factor) for x, y in mark.points_mm)
        return replace(mark, points_mm=points, width_mm=mark.width_mm * factor)
    there = moved(mark, mark.x_mm * (factor - 1.0), mark.y_mm * (factor - 1.0))
    match there:
        case Words():
            return replace(there, size_pt=there.size_pt * factor)
        case Oval():
            return replace(
                there,
                rx_mm=there.rx_mm * factor,
                ry_mm=there.ry_mm * factor,
                width_mm=there.width_mm * factor,
            )
        case _:
            raise ValueError(f"a bead or a scene keeps its size; got {type(mark).__name__}")


def mirrored(drawing: Drawing) -> Drawing:
    """The drawing left to right, its words still to be read."""
    return replace(drawing, marks=tuple(_mirrored(m, drawing.width_mm) for m in drawing.marks))


def _mirrored(mark: Mark, width_mm: float) -> Mark:
    if isinstance(mark, Path):
        points = tuple((width_mm - x, y) for x, y in mark.points_mm)
        return replace(mark, points_mm=points)
    if isinstance(mark, Words):
        turned = {Anchor.START: Anchor.END, Anchor.END: Anchor.START}
        anchor = turned.get(mark.anchor, mark.anchor)
        return replace(mark, x_mm=width_mm - mark.x_mm, anchor=anchor)
    if isinstance(mark, Oval | OneBead):
        return replace(mark, x_mm=width_mm - mark.x_mm)
    raise ValueError(f"a picture of a scene has no mirror image; got {type(mark).__name__}")
