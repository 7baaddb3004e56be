"""The worn view against the geometry of a circle."""

import math

import numpy as np
import pytest

from gallery.raster import draw
from gallery.scene import Limb, PlacedBead, Pose, Scene
from gallery.worn import Bend, worn

CLOSED_MM = 240.0
RADIUS_MM = CLOSED_MM / math.tau


def _strip(pitch: float = 2.0, rows: int = 3) -> Scene:
    beads = tuple(
        PlacedBead(
            x_mm=(number + 0.5) * pitch,
            y_mm=1.5 * row,
            across_mm=1.8,
            along_mm=1.5,
            hole_mm=0.7,
            pose=Pose.END if row == rows - 1 else Pose.SIDE,
            tag=f"{number}.{row}",
        )
        for number in range(int(CLOSED_MM / pitch))
        for row in range(rows)
    )
    return Scene(left_mm=0, top_mm=-3, width_mm=CLOSED_MM, height_mm=10, beads=beads)


def _worn(strip: Scene | None = None) -> Scene:
    return worn(strip or _strip(), girth_mm=220.0, closed_mm=CLOSED_MM, middle_mm=CLOSED_MM / 2.0)


def test_the_hidden_share_is_that_of_a_circle_seen_from_a_point() -> None:
    # From distance E a circle of radius R shows the arc between its two tangents: arccos(R/E)/pi.
    bend = Bend(radius_mm=RADIUS_MM, middle_mm=0.0)
    strip = _strip(pitch=0.25, rows=1)
    share = len(_worn(strip).beads) / len(strip.beads)
    assert math.isclose(share, math.acos(RADIUS_MM / bend.eye_mm) / math.pi, abs_tol=0.003)
    assert math.isclose(share, bend.seen_share, abs_tol=0.003)
    assert share < 0.5


def test_arc_lengths_are_kept() -> None:
    # Undo perspective and look at the angles: equal steps along the strip are equal arcs.
    bend = Bend(radius_mm=RADIUS_MM, middle_mm=CLOSED_MM / 2.0)
    scene = _worn(_strip(rows=1))
    xs = sorted(bead.x_mm for bead in scene.beads)
    angles = []
    for seen_x in xs:
        low, high = -math.acos(RADIUS_MM / bend.eye_mm), math.acos(RADIUS_MM / bend.eye_mm)
        for _ in range(60):
            middle = (low + high) / 2.0
            at = RADIUS_MM * math.sin(middle)
            at *= bend.eye_mm / (bend.eye_mm - RADIUS_MM * math.cos(middle))
            low, high = (middle, high) if at < seen_x else (low, middle)
        angles.append((low + high) / 2.0)
    arcs = np.diff(angles) * RADIUS_MM
    assert np.allclose(arcs, 2.0, atol=1e-6)


def test_what_is_near_is_larger_and_lies_over_what_is_far() -> None:
    scene = _worn()
    front = max(scene.beads, key=lambda bead: bead.across_mm)
    assert abs(front.x_mm) < 2.0
    widths = [bead.across_mm for bead in scene.beads]
    assert widths == sorted(widths)


def test_dangles_hang_straight_down() -> None:
    scene = _worn()
    by_column: dict[str, list[PlacedBead]] = {}
    for bead in scene.beads:
        by_column.setdefault(bead.tag.split(".")[0], []).append(bead)
    for column in by_column.values():
        assert max(b.x_mm for b in column) - min(b.x_mm for b in column) < 1e-9


def test_rings_turn_away_at_the_sides() -> None:
    tips = [bead for bead in _worn().beads if bead.tag.endswith(".2")]
    poses = [bead.pose for bead in sorted(tips, key=lambda bead: bead.x_mm)]
    assert poses[0] is poses[-1] is Pose.SIDE
    assert poses[len(poses) // 2] is Pose.END


def test_the_strip_sags_toward_the_eye_that_looks_down() -> None:
    row = [bead for bead in _worn().beads if bead.tag.endswith(".0")]
    middle = min(row, key=lambda bead: abs(bead.x_mm))
    edge = max(row, key=lambda bead: bead.x_mm)
    assert middle.y_mm > edge.y_mm + 5.0


def test_the_limb_is_as_wide_as_a_cylinder_of_its_girth_looks() -> None:
    scene = _worn()
    assert scene.limb is not None
    radius, eye = 220.0 / math.tau, Bend(radius_mm=1, middle_mm=0).eye_mm
    narrowest = min(right for _, _, right in scene.limb.outline_mm)
    assert math.isclose(narrowest, radius / math.sqrt(1 - (radius / eye) ** 2))
    pixels = draw(scene, 2.0)
    assert tuple(pixels[10, 1]) == (250, 247, 241)
    assert pixels[10, pixels.shape[1] // 2, 2] < 200


@pytest.mark.parametrize(
    ("girth", "closed", "told"),
    [(250.0, 240.0, "does not close"), (0.0, 240.0, "above 0"), (220.0, 9000.0, "at most")],
)
def test_what_cannot_be_worn_is_refused(girth: float, closed: float, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        worn(_strip(), girth_mm=girth, closed_mm=closed, middle_mm=0.0)


def test_a_limb_s_outline_runs_down_and_has_a_width() -> None:
    with pytest.raises(ValueError, match="from the top down"):
        Limb(outline_mm=((5.0, -1.0, 1.0), (0.0, -1.0, 1.0)))
    with pytest.raises(ValueError, match="left"):
        Limb(outline_mm=((0.0, 1.0, -1.0), (5.0, -1.0, 1.0)))
