"""The thread's path as small drawings of our own; a mirror makes each one left-handed.

Base beads are upright boxes, dangle beads circles. The thread is green and drawn beside itself
where it passes a bead more than once; figures count the passes in their order.
"""

import math
from collections.abc import Sequence

from explorer.needle_words import DANGLE_CAPTION
from gallery.page import Figure
from gallery.page_ink import (
    GREEN,
    INK,
    QUIET,
    WHITE,
    Anchor,
    Drawing,
    Mark,
    Oval,
    Path,
    Words,
    box,
    mirrored,
)
from gallery.scene import Point, Srgb1

# Sizes in millimetres, chosen by us so that four drawings stand side by side on either paper.
WIDE = 40.0
_LOW, _HIGH = 24.0, 31.0
_BEAD_W, _BEAD_H = 8.0, 10.0
_TOP = 7.0
_LINE = 0.45
_GHOST: Srgb1 = (0.93, 0.92, 0.90)


def figures() -> tuple[Figure, ...]:
    """Every drawing twice, for right-handed and for left-handed makers."""
    named = (
        ("ladder stitch", ladder()),
        ("straightening", straightening()),
        (DANGLE_CAPTION, dangle()),
        ("the closure", closing()),
    )
    found = []
    for name, drawing in named:
        found.append(Figure(picture=drawing, caption=f"{name}, right-handed"))
        found.append(Figure(picture=mirrored(drawing), caption=f"{name}, left-handed"))
    return tuple(found)


def _base(column: int, *, new: bool = False, top: float = _TOP) -> Path:
    return box(
        1.0 + column * _BEAD_W,
        top,
        _BEAD_W - 0.4,
        _BEAD_H,
        fill=WHITE if new else _GHOST,
        stroke=INK if new else QUIET,
        line_mm=0.35 if new else 0.2,
    )


def _middle(column: int) -> float:
    return 1.0 + column * _BEAD_W + (_BEAD_W - 0.4) / 2.0


def _bow(x0: float, x1: float, y: float, rise: float) -> list[Point]:
    """A bow from (x0, y) to (x1, y), ``rise`` above it, or below where that is negative."""
    middle, reach = (x0 + x1) / 2.0, (x0 - x1) / 2.0
    return [
        (middle + reach * math.cos(a), y - rise * math.sin(a))
        for a in (math.pi * step / 12.0 for step in range(13))
    ]


def _thread(points: Sequence[Point], *, arrow: bool = True) -> list[Mark]:
    marks: list[Mark] = [Path(points_mm=tuple(points), width_mm=_LINE, stroke=GREEN)]
    if arrow:
        marks.append(_arrow(points[-2], points[-1]))
    return marks


def _arrow(start: Point, end: Point) -> Path:
    """A head at the end of a line."""
    turn = math.atan2(end[1] - start[1], end[0] - start[0])
    long, half = 2.2, 0.42
    back = [
        (end[0] - long * math.cos(turn + side), end[1] - long * math.sin(turn + side))
        for side in (half, -half)
    ]
    return Path(points_mm=(end, *back), closed=True, stroke=GREEN, fill=GREEN, width_mm=0.1)


def _figure(text: str, x: float, y: float) -> list[Mark]:
    return [
        Oval(x_mm=x, y_mm=y, rx_mm=1.5, ry_mm=1.5, fill=WHITE, stroke=GREEN, width_mm=0.25),
        Words(x_mm=x, y_mm=y + 0.85, text=text, size_pt=6.5, bold=True, anchor=Anchor.MIDDLE),
    ]


def ladder() -> Drawing:
    """A new base bead: down through it, up through the one before, down through it again."""
    top, bottom = _TOP, _TOP + _BEAD_H
    old, new = _middle(2), _middle(3)
    way: list[Point] = [(old - 1.6, bottom), (old - 1.6, top)]
    way += _bow(old - 1.6, new - 1.4, top, 4.2)
    way += _bow(new - 1.4, old + 1.6, bottom, -3.6)
    way += _bow(old + 1.6, new + 1.6, top, 2.4)
    way += [(new + 1.6, bottom), (new + 1.6, bottom + 6.0)]
    marks: list[Mark] = [*(_base(column) for column in range(3)), _base(3, new=True)]
    marks += _thread(way)
    marks += [*_figure("1", new - 1.4, 12.0), *_figure("2", old + 1.6, 14.0)]
    marks += _figure("3", new + 1.8, 15.0)
    marks.append(_words("new", new, top - 5.0))
    return Drawing(width_mm=WIDE, height_mm=_LOW, marks=tuple(marks))


def _words(text: str, x: float, y: float) -> Words:
    return Words(x_mm=x, y_mm=y, text=text, size_pt=7.0, srgb1=QUIET, anchor=Anchor.MIDDLE)


def straightening() -> Drawing:
    """Back to the first base bead, up and down through one after the other."""
    top, bottom = _TOP, _TOP + _BEAD_H
    way: list[Point] = [(_middle(3), top), (_middle(3), bottom)]
    way += _bow(_middle(3), _middle(2), bottom, -3.0)
    way += _bow(_middle(2), _middle(1), top, 3.0)
    way += _bow(_middle(1), _middle(0), bottom, -3.0)
    way += [(_middle(0), top), (_middle(0), top - 6.0)]
    marks: list[Mark] = [_base(column) for column in range(4)]
    marks += _thread(way)
    marks += [_words("last", _middle(3), top - 1.2), _words("first", _middle(0) + 3.6, top - 2.5)]
    return Drawing(width_mm=WIDE, height_mm=_LOW, marks=tuple(marks))


def dangle() -> Drawing:
    """Down through base bead and dangle, once through the turning bead, and up through the rest."""
    top, bottom = 5.0, 5.0 + _BEAD_H - 2.5
    here, there, radius = _middle(1), _middle(2), 2.3
    marks: list[Mark] = [_base(column, top=5.0 - 1.0, new=column == 1) for column in range(4)]
    for row in range(3):
        y = bottom + 2.6 + radius + row * 2.0 * radius
        marks.append(
            Oval(x_mm=here, y_mm=y, rx_mm=radius + 0.6, ry_mm=radius, fill=WHITE, width_mm=0.35)
        )
    tip = bottom + 2.6 + radius + 4.0 * radius
    way: list[Point] = [(here - 1.0, top - 4.0), (here - 1.0, tip - 2.6)]
    way += [(here - 3.4, tip - 1.4), (here - 3.4, tip), (here + 3.4, tip), (here + 3.4, tip - 1.4)]
    way += [(here + 1.0, tip - 2.6), (here + 1.0, top - 1.2)]
    way += _bow(here + 1.0, there - 1.0, top - 1.2, 2.6)
    way.append((there - 1.0, bottom - 1.0))
    marks += _thread(way)
    marks.append(_words("turning bead", here + 13.5, tip + 1.0))
    return Drawing(width_mm=WIDE, height_mm=_HIGH, marks=tuple(marks))


def closing() -> Drawing:
    """Out from the last base bead, round the ring, back and twice through the end bead."""
    top, bottom = 8.0, 8.0 + _BEAD_H
    end, ring, reach = _middle(2), 33.0, 4.2
    middle = top + _BEAD_H / 2.0
    marks: list[Mark] = [*(_base(column, top=top) for column in range(2))]
    marks.append(_base(2, new=True, top=top))
    marks.append(Oval(x_mm=ring, y_mm=middle, rx_mm=reach, ry_mm=reach, stroke=QUIET, width_mm=1.0))
    wire = ring - reach
    way: list[Point] = [(end - 2.2, bottom), (end - 2.2, top)]
    way += _bow(end - 2.2, end + 5.4, top, 5.0)
    way += [(wire - 1.0, middle - 2.2), (wire + 1.2, middle), (wire - 1.0, middle + 2.2)]
    way += [(end + 5.4, bottom), *_bow(end + 5.4, end, bottom, -4.0), (end, top)]
    way += [*_bow(end, end + 2.2, top, 2.2), (end + 2.2, bottom), (end + 2.2, bottom + 7.0)]
    marks += _thread(way)
    marks += [*_figure("1", end, middle - 1.5), *_figure("2", end + 2.4, middle + 2.0)]
    marks.append(_words("ring", ring + 1.0, middle + 7.6))
    return Drawing(width_mm=WIDE, height_mm=_HIGH, marks=tuple(marks))
