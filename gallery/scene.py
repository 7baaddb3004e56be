"""The types of a scene: beads, thread and metal placed in millimetres, x to the right, y down."""

import math
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import pairwise

from palettes.finishes import Finish
from palettes.forms import Form

Point = tuple[float, float]
Srgb1 = tuple[float, float, float]


class Pose(StrEnum):
    """How a bead lies to the eye."""

    SIDE = "side"  # the hole runs in the plane of the picture
    END = "end"  # the hole faces the viewer: a ring, with the thread in it


class Ground(StrEnum):
    """What the piece lies on."""

    PLAIN = "plain"  # the scene's own ground colour, even
    PAPER = "paper"
    LINEN = "linen"
    SLATE = "slate"
    SKIN = "skin"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBead:
    """One bead in its place.

    Attributes:
        x_mm, y_mm: the centre.
        across_mm: size across the hole.
        along_mm: size along the hole.
        hole_mm: the hole's diameter.
        turn_deg: clockwise turn of the hole's direction from upright (0 is upright, 90 level).
        form, pose, finish: the look.
        srgb1: the colour to draw, sRGB in 0-1; grey, chosen by us since it is nobody's colour.
        layer: later layers are drawn over earlier ones.
        tag: the caller's own name for this bead; gallery hands it back and never reads it.
    """

    x_mm: float
    y_mm: float
    across_mm: float
    along_mm: float
    hole_mm: float
    turn_deg: float = 0.0
    form: Form = Form.ROUND
    pose: Pose = Pose.SIDE
    srgb1: Srgb1 = (0.5, 0.5, 0.5)
    finish: Finish = Finish.OPAQUE
    layer: int = 0
    tag: str = ""

    def __post_init__(self) -> None:
        smallest = min(self.across_mm, self.along_mm, self.hole_mm)
        # One sum tells whether any of them is infinite or no number: a scene has many beads.
        if not (smallest > 0.0 and math.isfinite(self.across_mm + self.along_mm + self.hole_mm)):
            sizes = (self.across_mm, self.along_mm, self.hole_mm)
            raise ValueError(f"a bead's sizes are numbers above 0; got {sizes!r}")
        if not math.isfinite(self.x_mm + self.y_mm + self.turn_deg):
            raise ValueError(f"a bead's place is finite; got {(self.x_mm, self.y_mm)!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A run of thread through the given points; width and colour by eye where none are given."""

    points_mm: tuple[Point, ...]
    width_mm: float = 0.2
    srgb1: Srgb1 = (0.93, 0.91, 0.86)
    layer: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalRing:
    """A ring of wire, such as a clasp's: an ellipse about a centre; wire and colour by eye."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    wire_mm: float = 0.8
    srgb1: Srgb1 = (0.78, 0.76, 0.72)
    turn_deg: float = 0.0
    layer: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Limb:
    """A wrist or an ankle behind the piece: an upright body with a round section.

    Attributes:
        outline_mm: (y, left, right) from the top down, at least two; between them a smooth line.
        srgb1: the skin's colour; by eye where none is given.
    """

    outline_mm: tuple[tuple[float, float, float], ...]
    srgb1: Srgb1 = (0.816, 0.651, 0.545)

    def __post_init__(self) -> None:
        rows = self.outline_mm
        if len(rows) < 2 or any(low[0] >= high[0] for low, high in pairwise(rows)):
            raise ValueError(
                f"a limb's outline has two rows or more, from the top down; got {rows}"
            )
        if any(left >= right for _, left, right in rows):
            raise ValueError(f"a limb's left lies left of its right; got {rows}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """All that a picture shows, in a frame from (left, top) of the given size.

    Attributes:
        left_mm, top_mm, width_mm, height_mm: the frame.
        beads, threads, rings: what is in it, also where it sticks out of the frame.
        ground_srgb1: the ground's colour, which a textured ground varies; paper, by eye.
        ground: the ground's texture.
        limb: what wears the piece, drawn on the ground.
    """

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    beads: tuple[PlacedBead, ...] = ()
    threads: tuple[Thread, ...] = ()
    rings: tuple[MetalRing, ...] = ()
    ground_srgb1: Srgb1 = field(default=(0.980, 0.969, 0.945))
    ground: Ground = Ground.PLAIN
    limb: Limb | None = None

    def __post_init__(self) -> None:
        if not all(math.isfinite(v) and v > 0.0 for v in (self.width_mm, self.height_mm)):
            raise ValueError(f"a scene has a size; got {self.width_mm!r} x {self.height_mm!r} mm")
