"""From a design to scenes: the flat strip, the strip in rows, the loop, and a motif close up.

Everything that hangs is ``drop_mm`` below its base bead in every view, and every bead of the
design that a view shows is there once, under its own tag.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from explorer.crowding import Touch, crowding
from explorer.design import Column, Design, Part, Place
from explorer.layout_closure import EndParts, Lead, end_mm, end_parts
from explorer.layout_columns import (
    Frame,
    Hang,
    column_beads,
    column_thread,
    drop_mm,
    ladder_threads,
)
from explorer.layout_ring import ellipse, filling_aspect, loop_frames
from gallery.scene import PlacedBead, Scene, Thread
from palettes.spaces import FloatArray

# Quiet space round the piece, by eye.
_PAD_MM = 3.0
# The loop is a touch wider than high, as a strip falls on a table; by eye.
_LOOP_ASPECT = 1.06
# Where a plain tie closes the piece, its two tails overlap; share of their length, by eye.
_TIE_SHARE = 0.45

Columns = list[tuple[Place, Column]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Box:
    left: float
    top: float
    right: float
    bottom: float


def _base_reach(design: Design) -> float:
    return max(design.beads[column.base].kind.pitch_mm for _, column in design.columns()) / 2.0


def _deepest(design: Design, columns: Columns) -> float:
    """How far below the base beads' centres the longest dangle reaches."""
    return max(
        design.beads[column.base].kind.pitch_mm / 2.0 + drop_mm(design, column)
        for _, column in columns
    )


def _metal_reach(ends: Iterable[EndParts]) -> float:
    """How far the fastening's metal reaches to either side of the strip's line."""
    sizes = [max(ring.width_mm, ring.height_mm) for end in ends for ring in end.rings]
    return max(sizes, default=0.0) / 2.0


def _scene(
    box: _Box, beads: Iterable[PlacedBead], threads: Iterable[Thread], ends: Iterable[EndParts]
) -> Scene:
    ends = list(ends)
    return Scene(
        left_mm=box.left,
        top_mm=box.top,
        width_mm=box.right - box.left,
        height_mm=box.bottom - box.top,
        beads=(*beads, *(bead for end in ends for bead in end.beads)),
        threads=(*threads, *(thread for end in ends for thread in end.threads)),
        rings=tuple(ring for end in ends for ring in end.rings),
    )


def _columns_drawn(
    design: Design, columns: Columns, frames: list[Frame], hang: Hang, first_number: int = 0
) -> tuple[list[PlacedBead], list[Thread]]:
    beads: list[PlacedBead] = []
    threads = list(ladder_threads(design, columns, frames))
    ruffled = crowding(design).touch is Touch.RUFFLES
    for number, ((place, column), frame) in enumerate(zip(columns, frames, strict=True)):
        beads.extend(
            column_beads(
                design, place, column, frame, first_number + number, hang=hang, ruffled=ruffled
            )
        )
        threads.extend(column_thread(design, column, frame))
    return beads, threads


def _row_frames(design: Design, first: int, count: int, y_mm: float = 0.0) -> list[Frame]:
    """Frames of base beads side by side, from the first one on, which begins where x is 0."""
    middles = (number + 0.5 for number in range(count))
    return [Frame(x_mm=x_mm, y_mm=y_mm) for x_mm in design.along_mm(middles, first)]


def strip_scene(design: Design, *, hang: Hang | str = Hang.FREE) -> Scene:
    """The whole strip laid flat, its closure open at both ends; x is 0 where the strip begins.

    Args:
        design: the piece.
        hang: whether dangles lean a little or hang dead straight.
    """
    columns = list(design.columns())
    frames = _row_frames(design, 0, len(columns))
    beads, threads = _columns_drawn(design, columns, frames, Hang(hang))
    ends = (
        end_parts(design, 0, Lead(x_mm=0.0, y_mm=0.0, heading_deg=180.0)),
        end_parts(design, 1, Lead(x_mm=design.strip_mm, y_mm=0.0, heading_deg=0.0)),
    )
    metal = _metal_reach(ends)
    box = _Box(
        left=-end_mm(design, 0) - _PAD_MM,
        top=-max(_base_reach(design), metal) - _PAD_MM,
        right=design.strip_mm + end_mm(design, 1) + _PAD_MM,
        bottom=max(_deepest(design, columns), metal) + _PAD_MM,
    )
    return _scene(box, beads, threads, ends)


def _break_rows(design: Design, rows: int) -> list[Columns]:
    """Columns in at most so many rows, each with as many motifs as the next, give or take one."""
    motifs = len(design.motifs)
    rows = min(rows, motifs)
    out: list[Columns] = [[] for _ in range(rows)]
    for place, column in design.columns():
        first = 0 if place.part is Part.MARGIN and place.index == 0 else motifs - 1
        motif = first if place.part is Part.MARGIN else min(place.index, motifs - 1)
        out[motif * rows // motifs].append((place, column))
    return out


def rows_scene(design: Design, *, rows: int, hang: Hang | str = Hang.FREE) -> Scene:
    """The strip broken into rows under one another, without its closure.

    Args:
        design: the piece.
        rows: how many, at least 1; a strip of few motifs gives fewer.
        hang: whether dangles lean a little or hang dead straight.

    Raises:
        ValueError: ``rows`` is below 1.
    """
    if rows < 1:
        raise ValueError(f"a strip lies in at least one row; got {rows!r}")
    parts = _break_rows(design, rows)
    step = _deepest(design, list(design.columns())) + _base_reach(design) + 2.0
    beads: list[PlacedBead] = []
    threads: list[Thread] = []
    number, longest = 0, 0.0
    for row, columns in enumerate(parts):
        frames = _row_frames(design, number, len(columns), row * step)
        longest = max(longest, *design.along_mm((len(columns),), number))
        more_beads, more_threads = _columns_drawn(design, columns, frames, Hang(hang), number)
        beads.extend(more_beads)
        threads.extend(more_threads)
        number += len(columns)
    box = _Box(
        left=-_PAD_MM / 2,
        top=-_base_reach(design) - _PAD_MM / 2,
        right=longest + _PAD_MM / 2,
        bottom=(len(parts) - 1) * step + _deepest(design, parts[-1]) + _PAD_MM / 2,
    )
    return _scene(box, beads, threads, ())


def motif_scene(
    design: Design,
    first: int,
    count: int = 1,
    *,
    hang: Hang | str = Hang.FREE,
    alone: bool = False,
) -> Scene:
    """A close-up of neighbouring motifs with the dividers beside them; neighbours are cropped.

    Args:
        design: the piece.
        first: the first motif's number, from 0.
        count: how many motifs.
        hang: whether dangles lean a little or hang dead straight.
        alone: whether neighbours are left out, so that nothing is cropped; a motif at an end of the
            strip has that end's margin beside it then.

    Raises:
        ValueError: there are no such motifs.
    """
    if count < 1 or not 0 <= first <= len(design.motifs) - count:
        raise ValueError(
            f"motifs {first} to {first + count - 1} are not among 0 to {len(design.motifs) - 1}"
        )
    columns = list(design.columns())
    last, ends = first + count - 1, (0, len(design.motifs) - 1)
    wanted = [
        number
        for number, (place, _) in enumerate(columns)
        if (place.part is Part.MOTIF and first <= place.index < first + count)
        or (place.part is Part.DIVIDER and first <= place.index <= first + count)
        or (alone and place.part is Part.MARGIN and (first, last)[place.index] == ends[place.index])
    ]
    beside = 0 if alone else 3
    start, end = max(0, wanted[0] - beside), min(len(columns), wanted[-1] + 1 + beside)
    frames = _row_frames(design, 0, len(columns))[start:end]
    beads, threads = _columns_drawn(design, columns[start:end], frames, Hang(hang), start)
    left, right = design.along_mm((wanted[0] - 0.7, wanted[-1] + 1.7))
    box = _Box(
        left=left,
        top=-_base_reach(design) - 1.5,
        right=right,
        bottom=_deepest(design, columns[wanted[0] : wanted[-1] + 1]) + 1.5,
    )
    return _scene(box, beads, threads, ())


def loop_scene(
    design: Design,
    *,
    aspect: float = _LOOP_ASPECT,
    square: bool = True,
    hang: Hang | str = Hang.FREE,
) -> Scene:
    """The closed piece laid in a loop: base beads on an ellipse, dangles outward, clasp on top.

    The order runs anticlockwise from the clasp, so that dangles which hang down in the flat strip
    point outward here.

    Args:
        design: the piece.
        aspect: the ellipse's width over its height.
        square: widen the frame to a square.
        hang: whether dangles lean a little or hang dead straight.
    """
    length = _loop_mm(design)
    gap = length - design.strip_mm
    way = ellipse(length, aspect)
    columns = list(design.columns())
    start = gap * end_mm(design, 0) / (end_mm(design, 0) + end_mm(design, 1))
    middles = design.along_mm(at + 0.5 for at in range(len(columns)))
    frames = loop_frames(way, [start + at_mm for at_mm in middles])
    beads, threads = _columns_drawn(design, columns, frames, Hang(hang))
    ends = _loop_ends(design, way, start)
    reach = max(_deepest(design, columns), _metal_reach(ends)) + _PAD_MM
    half_w, half_h = float(way[:, 1].max()) + reach, float(way[:, 2].max()) + reach
    if square:
        half_w = half_h = max(half_w, half_h)
    return _scene(
        _Box(left=-half_w, top=-half_h, right=half_w, bottom=half_h), beads, threads, ends
    )


def _loop_ends(design: Design, way: FloatArray, start_mm: float) -> tuple[EndParts, EndParts]:
    """Both ends bent so that they meet on the ellipse."""
    parts = []
    for side, far in ((0, start_mm), (1, start_mm + design.strip_mm)):
        close = 0.0 if side == 0 else float(way[-1, 0])
        here, meeting = loop_frames(way, [far, close])
        # Walking along the order, the dangles are on the right, so the way on is the dangle's turn.
        heading = here.turn_deg + (180.0 if side == 0 else 0.0)
        turned = (meeting.turn_deg - here.turn_deg + 180.0) % 360.0 - 180.0
        lead = Lead(
            x_mm=here.x_mm,
            y_mm=here.y_mm,
            heading_deg=heading,
            bend_deg_per_mm=turned / max(end_mm(design, side), 1e-6),
        )
        parts.append(end_parts(design, side, lead))
    return parts[0], parts[1]


def _loop_mm(design: Design) -> float:
    gap = end_mm(design, 0) + end_mm(design, 1)
    return design.strip_mm + gap * (1.0 if design.closure.length_mm else _TIE_SHARE)


def thumbnail_scene(design: Design, *, aspect: float = 2.0) -> Scene:
    """The piece small: the loop, drawn out so that it fills a frame of that width over height.

    Args:
        design: the piece.
        aspect: the frame's width over its height; below 1 the loop stays a near circle.
    """
    reach = _deepest(design, list(design.columns())) + _PAD_MM
    fill = filling_aspect(_loop_mm(design), reach, max(aspect, 1.0))
    return loop_scene(design, aspect=fill, square=False)
