"""Places the beads of a design's columns, each column in a frame of its own.

A frame is where a base bead sits and which way its dangle hangs; the strip, the rows and the loop
differ only in their frames.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from explorer.design import Column, Design, Place
from explorer.layout_tags import tag_of
from gallery.scene import PlacedBead, Point, Pose, Srgb1, Thread
from palettes.beads import Bead
from palettes.forms import Form
from palettes.spaces import hex_to_srgb1

# Chosen by us, because more looks careless and less looks printed.
_MOST_SWAY_DEG = 1.3
_RUFFLE_SWAY_DEG = 0.5
# The golden ratio's fraction, by definition (sqrt(5) - 1) / 2, spreads successive dangles evenly
# without a visible rhythm.
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0

# Which lies over which, chosen by us so that there is room between them.
BACK_LAYER, FRONT_LAYER, BASE_LAYER = 0, 2, 4
THREAD_LAYER = -1


class Hang(StrEnum):
    """How the dangles of a flat picture hang."""

    FREE = "free"  # each leans a little, as hand-made things do
    REGULAR = "regular"  # every one dead straight


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where a base bead sits, and the clockwise turn of its dangle from hanging straight down."""

    x_mm: float
    y_mm: float
    turn_deg: float = 0.0

    def at(self, along_mm: float, across_mm: float = 0.0) -> Point:
        """The point so far down the dangle from the base bead's centre, and so far right of it."""
        turn = math.radians(self.turn_deg)
        sine, cosine = math.sin(turn), math.cos(turn)
        return (
            self.x_mm - sine * along_mm + cosine * across_mm,
            self.y_mm + cosine * along_mm + sine * across_mm,
        )


def drop_mm(design: Design, column: Column) -> float:
    """How far a column hangs below its base bead: all pitches but the last, plus a diameter."""
    if not column.beads:
        return 0.0
    kinds = [design.beads[bead].kind for bead in column.beads]
    return sum(kind.pitch_mm for kind in kinds[:-1]) + kinds[-1].diameter_mm


@lru_cache(maxsize=1024)
def hex_colour(text: str) -> Srgb1:
    """A hex colour as a plain triple of sRGB in 0-1."""
    red, green, blue = (float(v) for v in hex_to_srgb1(text))
    return red, green, blue


def place_bead(
    bead: Bead, at: Point, turn_deg: float, tag: str, layer: int, *, pose: Pose = Pose.SIDE
) -> PlacedBead:
    """A design's bead as a picture's bead."""
    kind = bead.kind
    return PlacedBead(
        x_mm=at[0],
        y_mm=at[1],
        across_mm=kind.diameter_mm,
        along_mm=kind.pitch_mm,
        hole_mm=kind.hole_mm,
        turn_deg=turn_deg,
        form=kind.form,
        pose=pose,
        srgb1=hex_colour(bead.hex),
        finish=bead.finish,
        layer=layer,
        tag=tag,
    )


def _sway_deg(design: Design, column: Column, number: int, *, hang: Hang, ruffled: bool) -> float:
    """A lean that keeps neighbours apart where they hang free, and splays them where crowded."""
    drop = drop_mm(design, column)
    if hang is Hang.REGULAR or drop == 0.0:
        return 0.0
    spread = 2.0 * ((number * _GOLDEN) % 1.0) - 1.0
    if ruffled:
        return _RUFFLE_SWAY_DEG * spread
    widest = max(design.beads[bead].kind.diameter_mm for bead in column.beads)
    gap = max(0.0, design.units[number].pitch_mm - widest)
    return spread * min(_MOST_SWAY_DEG, math.degrees(math.atan2(gap / 2.0, drop)))


def column_beads(
    design: Design,
    place: Place,
    column: Column,
    frame: Frame,
    number: int,
    *,
    hang: Hang,
    ruffled: bool,
) -> Iterator[PlacedBead]:
    """The base bead and all that hangs from it; the turning bead shows its ring.

    Args:
        design: the piece.
        place: the column's address.
        column: the column.
        frame: where its base bead sits.
        number: the column's number along the strip, from 0.
        hang: whether it may lean.
        ruffled: whether every second dangle stands forward.
    """
    base = design.beads[column.base]
    yield place_bead(base, (frame.x_mm, frame.y_mm), frame.turn_deg, tag_of(place), BASE_LAYER)
    if not column.beads:
        return
    edge = base.kind.pitch_mm / 2.0
    hook_x, hook_y = frame.at(edge)
    turn = frame.turn_deg + _sway_deg(design, column, number, hang=hang, ruffled=ruffled)
    ahead_x, ahead_y = -math.sin(math.radians(turn)), math.cos(math.radians(turn))
    stem = tag_of(place).removesuffix("base")
    layer = FRONT_LAYER if number % 2 == 0 or not ruffled else BACK_LAYER
    depth = 0.0
    last = len(column.beads) - 1
    for at, index in enumerate(column.beads):
        bead = design.beads[index]
        # A drop's hole runs across its narrow end, so even at the tip we see it from the side.
        lies = at == last and bead.kind.form is not Form.DROP
        size = bead.kind.diameter_mm if at == last else bead.kind.pitch_mm
        middle = depth + size / 2.0
        yield place_bead(
            bead,
            (hook_x + ahead_x * middle, hook_y + ahead_y * middle),
            turn,
            f"{stem}b{at}",
            layer,
            pose=Pose.END if lies else Pose.SIDE,
        )
        depth += size


def column_thread(design: Design, column: Column, frame: Frame) -> Iterator[Thread]:
    """The thread down a dangle, from the base bead into the turning bead."""
    if column.beads:
        edge = design.beads[column.base].kind.pitch_mm / 2.0
        last = design.beads[column.beads[-1]].kind
        end = edge + drop_mm(design, column) - last.diameter_mm * 0.75
        yield Thread(points_mm=(frame.at(0.0), frame.at(end)), layer=THREAD_LAYER)


def ladder_threads(
    design: Design, columns: list[tuple[Place, Column]], frames: list[Frame]
) -> Iterator[Thread]:
    """The two runs of thread that join base beads in ladder stitch, at either rim."""
    for side in (-1.0, 1.0):
        points = tuple(
            frame.at(side * 0.47 * design.beads[column.base].kind.pitch_mm)
            for (_, column), frame in zip(columns, frames, strict=True)
        )
        if len(points) > 1:
            yield Thread(points_mm=points, layer=THREAD_LAYER)
