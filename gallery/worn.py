"""Bends a flat strip round a limb: perspective, dangles hanging by gravity, the back hidden."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from gallery.scene import Limb, MetalRing, PlacedBead, Point, Pose, Scene, Srgb1, Thread

# The eye stands at arm's length and looks down a little; by eye.
_EYE_MM = 430.0
_LOOK_DOWN_DEG = 13.0
# A turning bead's ring faces outward: beyond this angle, chosen by eye, it is seen
# from the side.
_RING_TURNS_DEG = 48.0
# Space round the piece: beside the limb, above and below the strip; by eye.
_ASIDE_MM, _ABOVE_MM, _BELOW_MM = 16.0, 26.0, 22.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """The circle on which the strip lies, and the eye that looks at it.

    Attributes:
        radius_mm: of the strip round the limb.
        middle_mm: the place on the flat strip that comes to the front.
        eye_mm: from the limb's axis to the eye.
        down_deg: how far the eye looks down.
    """

    radius_mm: float
    middle_mm: float
    eye_mm: float = _EYE_MM
    down_deg: float = _LOOK_DOWN_DEG

    def angle(self, x_mm: float) -> float:
        """The angle in radians from the front at which a place on the strip lies."""
        return (x_mm - self.middle_mm) / self.radius_mm

    def faces(self, x_mm: float) -> bool:
        """Whether the place is on the side of the circle that the eye sees."""
        angle = self.angle(x_mm)
        return abs(angle) < math.pi and math.cos(angle) > self.radius_mm / self.eye_mm

    def at(self, x_mm: float, y_mm: float) -> tuple[Point, float]:
        """Where a place on the flat strip is seen, and how many times its size."""
        angle = self.angle(x_mm)
        near = self.radius_mm * math.cos(angle)
        grow = self.eye_mm / (self.eye_mm - near)
        down = math.radians(self.down_deg)
        seen_y = y_mm * math.cos(down) + near * math.sin(down)
        return (self.radius_mm * math.sin(angle) * grow, seen_y * grow), grow

    @property
    def seen_share(self) -> float:
        """The share of the whole circle that the eye sees: arccos(radius / eye) / pi."""
        return math.acos(self.radius_mm / self.eye_mm) / math.pi


def worn(
    flat: Scene,
    *,
    girth_mm: float,
    closed_mm: float,
    middle_mm: float,
    skin_srgb1: Srgb1 | None = None,
) -> Scene:
    """A flat strip as it looks round a wrist or an ankle, from the front.

    Args:
        flat: the strip laid flat: x along it, y down, base beads at y = 0.
        girth_mm: round the bare limb.
        closed_mm: round the closed piece, at least the girth.
        middle_mm: the place along the strip that is worn in front.
        skin_srgb1: the skin's colour.

    Returns:
        A scene of what is seen: nearer beads are drawn over farther ones, the back is left out.

    Raises:
        ValueError: the piece does not go round the limb, or a length is none.
    """
    if not (math.isfinite(girth_mm) and girth_mm > 0.0 and math.isfinite(closed_mm)):
        raise ValueError(
            f"girth and closed length are numbers above 0; got {girth_mm}, {closed_mm}"
        )
    if closed_mm < girth_mm:
        raise ValueError(f"a piece of {closed_mm} mm does not close round {girth_mm} mm")
    if closed_mm / math.tau > 0.6 * _EYE_MM:
        most = math.floor(0.6 * _EYE_MM * math.tau)
        raise ValueError(f"a worn piece is at most {most} mm round; got {closed_mm}")
    bend = Bend(radius_mm=closed_mm / math.tau, middle_mm=middle_mm)
    beads = sorted(
        (bead for bead in flat.beads if bend.faces(bead.x_mm)),
        key=lambda bead: (bead.layer, math.cos(bend.angle(bead.x_mm))),
    )
    placed = tuple(_bent_bead(bead, bend) for bead in beads)
    low = max((bead.y_mm + bead.across_mm for bead in placed), default=bend.radius_mm)
    high = min((bead.y_mm - bead.across_mm for bead in placed), default=0.0)
    limb = _limb(girth_mm, bend, high - _ABOVE_MM, low + _BELOW_MM, skin_srgb1)
    half = max(bend.radius_mm, *(right for _, _, right in limb.outline_mm)) + _ASIDE_MM
    return Scene(
        left_mm=-half,
        top_mm=high - _ABOVE_MM,
        width_mm=2.0 * half,
        height_mm=low - high + _ABOVE_MM + _BELOW_MM,
        beads=placed,
        threads=tuple(_bent_threads(flat.threads, bend)),
        rings=tuple(_bent_ring(ring, bend) for ring in flat.rings if bend.faces(ring.x_mm)),
        ground_srgb1=flat.ground_srgb1,
        ground=flat.ground,
        limb=limb,
    )


def _bent_bead(bead: PlacedBead, bend: Bend) -> PlacedBead:
    (x, y), grow = bend.at(bead.x_mm, bead.y_mm)
    aside = abs(math.degrees(bend.angle(bead.x_mm))) > _RING_TURNS_DEG
    from_side = bead.pose is Pose.END and aside
    return replace(
        bead,
        x_mm=x,
        y_mm=y,
        across_mm=bead.across_mm * grow,
        along_mm=bead.along_mm * grow,
        hole_mm=bead.hole_mm * grow,
        pose=Pose.SIDE if from_side else bead.pose,
        turn_deg=bead.turn_deg + 90.0 if from_side else bead.turn_deg,
    )


def _bent_threads(threads: tuple[Thread, ...], bend: Bend) -> Iterator[Thread]:
    for thread in threads:
        for start, end in pairwise(thread.points_mm):
            if bend.faces(start[0]) and bend.faces(end[0]):
                points = (bend.at(*start)[0], bend.at(*end)[0])
                yield replace(thread, points_mm=points)


def _bent_ring(ring: MetalRing, bend: Bend) -> MetalRing:
    (x, y), grow = bend.at(ring.x_mm, ring.y_mm)
    turned = max(0.25, abs(math.cos(bend.angle(ring.x_mm))))
    return replace(
        ring,
        x_mm=x,
        y_mm=y,
        width_mm=ring.width_mm * grow * turned,
        height_mm=ring.height_mm * grow,
        wire_mm=ring.wire_mm * grow,
    )


def _limb(girth_mm: float, bend: Bend, top: float, bottom: float, skin: Srgb1 | None) -> Limb:
    """A limb that is narrowest where the piece sits; its outline is the cylinder's, as seen."""
    radius = girth_mm / math.tau
    seen = radius / math.sqrt(1.0 - (radius / bend.eye_mm) ** 2)
    waist = bend.radius_mm * math.sin(math.radians(bend.down_deg)) * 0.5
    rows = (
        (top - 10.0, -seen * 1.12, seen * 1.10),
        (waist - 12.0, -seen * 1.03, seen * 1.02),
        (waist + 4.0, -seen, seen),
        (max(waist + 18.0, bottom - 18.0), -seen * 1.05, seen * 1.07),
        (bottom + 12.0, -seen * 1.10, seen * 1.15),
    )
    return Limb(outline_mm=rows) if skin is None else Limb(outline_mm=rows, srgb1=skin)
