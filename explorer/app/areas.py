"""What can be pointed at in a picture of a piece: motifs, dangles or single beads."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from explorer.design import Design, motif_bead
from explorer.layout_tags import BeadTag, Spot, parse_tag, tag_of
from gallery.scene import PlacedBead, Point, Scene

# An outline stands off its beads by so much. Chosen by us, so that a focus ring does not cover
# them.
_STAND_OFF_MM = 0.5
# Corners of the polygon that stands for a bead in a hull. Chosen by us, because twelve look round
# at any size we draw.
_CORNERS = 12
_CIRCLE = tuple(
    (math.cos(2.0 * math.pi * corner / _CORNERS), math.sin(2.0 * math.pi * corner / _CORNERS))
    for corner in range(_CORNERS)
)


class Reach(StrEnum):
    """How much of the piece a tap takes."""

    MOTIF = "motif"
    DANGLE = "dangle"
    BEAD = "bead"
    BASE = "base"


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """One thing to point at.

    Attributes:
        id: ``m3`` a motif, ``m3.c2`` a dangle, ``m3.c2.b1`` a bead, ``s7`` a base bead, numbers
            from 0.
        label: what it is, in words.
        hex: its main colour.
        length: beads of a dangle; 0 for anything else.
        outline: a polygon round it, in mm of the scene.
        beads: its beads as (x, y, half across, half along, turn in degrees).
    """

    id: str
    label: str
    hex: str
    length: int
    outline: tuple[Point, ...]
    beads: tuple[tuple[float, float, float, float, float], ...]


def areas(design: Design, scene: Scene, reach: Reach) -> tuple[Area, ...]:
    """Everything of one reach in the picture, in strip order."""
    if reach is Reach.BASE:
        return _base_areas(design, scene)
    groups: dict[str, list[PlacedBead]] = {}
    for placed in scene.beads:
        tag = parse_tag(placed.tag)
        if tag.spot is Spot.MOTIF and tag.bead is not None:
            groups.setdefault(area_id(tag, reach), []).append(placed)
    return tuple(
        _area(design, id_, sorted(groups[id_], key=_from_base))
        for id_ in sorted(groups, key=area_numbers)
    )


def _base_areas(design: Design, scene: Scene) -> tuple[Area, ...]:
    """Every base bead of the strip."""
    numbers = {tag_of(place): number for number, (place, _) in enumerate(design.columns())}
    found = sorted((numbers[placed.tag], placed) for placed in scene.beads if placed.tag in numbers)
    columns = [column for _, column in design.columns()]
    return tuple(
        Area(
            id=f"s{number}",
            label=f"Base bead {number + 1} of {len(columns)}: "
            f"{design.beads[columns[number].base].name}",
            hex=design.beads[columns[number].base].hex,
            length=0,
            outline=_outline(((b.x_mm, b.y_mm, max(b.across_mm, b.along_mm)),)),
            beads=((b.x_mm, b.y_mm, b.across_mm / 2.0, b.along_mm / 2.0, b.turn_deg),),
        )
        for number, b in found
    )


def area_id(tag: BeadTag, reach: Reach) -> str:
    """The id of the area that a hanging bead belongs to."""
    parts = (f"m{tag.index}", f"c{tag.column}", f"b{tag.bead}")
    return ".".join(parts[: {Reach.MOTIF: 1, Reach.DANGLE: 2, Reach.BEAD: 3}[reach]])


def area_numbers(id_: str) -> tuple[int, ...]:
    """Motif, dangle and bead number of an id, as many as it has; of a base bead its number.

    Raises:
        ValueError: it is no id of an area.
    """
    parts = id_.split(".")
    letters = "s" if id_[:1] == "s" else "mcb"
    if not 1 <= len(parts) <= len(letters) or any(
        not (part.startswith(letter) and part[1:].isascii() and part[1:].isdecimal())
        for part, letter in zip(parts, letters, strict=False)
    ):
        raise ValueError(
            f"{id_[:40]!r} names no part of a piece: ids look like m3, m3.c2, m3.c2.b1"
        )
    return tuple(int(part[1:]) for part in parts)


def _from_base(placed: PlacedBead) -> tuple[int, int]:
    tag = parse_tag(placed.tag)
    return tag.column, tag.bead or 0


def _area(design: Design, id_: str, placed: list[PlacedBead]) -> Area:
    motif, *rest = area_numbers(id_)
    columns = design.motifs[motif]
    label = f"Motif {motif + 1} of {len(design.motifs)}"
    length = 0
    if not rest:
        bead = design.beads[motif_bead(columns)]
        label = f"{label}: {bead.name}"
    else:
        hanging = columns[rest[0]].beads
        if len(rest) == 1:
            length = len(hanging)
            bead = design.beads[motif_bead((columns[rest[0]],))]
            words = "1 bead" if length == 1 else f"{length} beads"
            names = ", ".join(dict.fromkeys(design.beads[number].name for number in hanging))
            label = f"{label}, dangle {rest[0] + 1} of {len(columns)}: {words}, {names}"
        else:
            bead = design.beads[hanging[rest[1]]]
            label = f"{label}, dangle {rest[0] + 1}, bead {rest[1] + 1}: {bead.name}"
    return Area(
        id=id_,
        label=label,
        hex=bead.hex,
        length=length,
        outline=_outline(
            tuple(
                (bead_.x_mm, bead_.y_mm, max(bead_.across_mm, bead_.along_mm)) for bead_ in placed
            )
        ),
        beads=tuple(
            (b.x_mm, b.y_mm, b.across_mm / 2.0, b.along_mm / 2.0, b.turn_deg) for b in placed
        ),
    )


# A new colour moves no bead, so most outlines of a picture are those of the picture before it.
@lru_cache(maxsize=4096)
def _outline(placed: tuple[tuple[float, float, float], ...]) -> tuple[Point, ...]:
    """Round beads given as (x, y, largest diameter)."""
    return hull(point for bead in placed for point in _rim(*bead))


def _rim(x_mm: float, y_mm: float, diameter_mm: float) -> Iterable[Point]:
    radius = diameter_mm / 2.0 + _STAND_OFF_MM
    for across, down in _CIRCLE:
        yield round(x_mm + radius * across, 2), round(y_mm + radius * down, 2)


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The convex hull by monotone chains (A. M. Andrew 1979), counted from the leftmost point."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    lower, upper = _chain(ordered), _chain(reversed(ordered))
    return (*lower[:-1], *upper[:-1])


def _chain(points: Iterable[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in points:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0.0:
            chain.pop()
        chain.append(point)
    return chain


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
