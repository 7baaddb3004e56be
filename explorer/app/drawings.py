"""Pictures of pieces as the pages show them; drawn anew at each call, and knowing no session."""

import math
from dataclasses import dataclass, replace

from explorer.design import Design
from explorer.layout import motif_scene, rows_scene
from explorer.layout_columns import Hang
from explorer.layout_tags import Spot, parse_tag
from explorer.recolour import recoloured
from gallery.files import to_png
from gallery.framing import drawable, framed, scale_to_fit
from gallery.raster import draw
from gallery.scene import Pose, Scene
from gallery.squint import squint
from palettes.viewing import TYPICAL_DAYLIGHT, Condition

# Chosen by us, because three rows show an ankle's whole order on a card, at some 6 px a mm.
_ROWS = 3
_THUMBNAIL_PX = (328, 246)
# One scale for nearly all of them, chosen by us so that the small pictures of beads are drawn once
# for 24 proposals; at 4 px a mm an ankle's three rows fill the frame.
_THUMBNAIL_SCALE = 4.0
_SCALE_STEP = 1.25  # by eye
_CLOSE_UP_PX = (640, 480)  # by eye
# A picture is never asked for wider than this, whatever a browser says. Chosen by us, because wide
# screens of small pixels show a page about as wide.
_MOST_PX = 2600
# In device pixels. Chosen by us: sharp enough to compare motifs, small enough to draw twenty.
_STRIP_PX = 1200
_NARROW_STRIP_PX = 720
# A row of a strip is at most so long. Chosen by us, so that its beads can still be told apart.
_ROW_MM, _NARROW_ROW_MM = 300.0, 130.0
_PAIR_PX_PER_MM = 12.0  # by eye
# A mark round motifs stands off their beads by so much; by eye.
_STAND_OFF_MM = 0.6
# A ring round one dangle among others stands off less. Chosen by us, so that it hides little of
# those beside it.
_RING_OFF_MM = 0.15

# Left, top, width and height, as shares of a picture.
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A drawn piece: PNG bytes and the frame in mm that they show."""

    png: bytes
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A strip as someone sees it.

    Attributes:
        png: the picture.
        width, height: its size in device pixels.
        boxes: where each motif's hanging beads are.
    """

    png: bytes
    width: int
    height: int
    boxes: tuple[Box, ...]


def picture(scene: Scene, px: int) -> Picture:
    """The scene without ground, so that it lies on light and dark paper alike."""
    scale = drawable(scene, min(px, _MOST_PX) / scene.width_mm)
    return Picture(
        png=to_png(draw(scene, scale, clear=True), quick=True),
        left_mm=scene.left_mm,
        top_mm=scene.top_mm,
        width_mm=scene.width_mm,
        height_mm=scene.height_mm,
    )


def thumbnail(design: Design) -> bytes:
    """The piece in rows, its whole order and its outline on one small picture."""
    scene = _in_rows(design)
    return _at_scale(scene, _shared_scale((scene,)))


def side_by_side(designs: tuple[Design, ...]) -> tuple[bytes, ...]:
    """The pieces in rows, all at the one scale at which every one of them fits its picture."""
    scenes = tuple(_in_rows(design) for design in designs)
    scale = _shared_scale(scenes)
    return tuple(_at_scale(scene, scale) for scene in scenes)


def near(design: Design, motif: int) -> tuple[Scene, float]:
    """One motif from near with what stands beside it, all of it whole, and the scale to draw at."""
    scene = motif_scene(design, motif, hang=Hang.REGULAR, alone=True)
    return framed(scene, *_CLOSE_UP_PX)


def close_up(scene: Scene, scale: float) -> bytes:
    """A motif from near as a picture."""
    return to_png(draw(scene, scale, clear=True), quick=True)


def ring_round(scene: Scene, tags: tuple[str, ...]) -> Box | None:
    """The box round some beads of a scene; none where it shows none of them."""
    wanted = frozenset(tags)
    edges = []
    for bead in scene.beads:
        if bead.tag in wanted:
            turn = math.radians(bead.turn_deg)
            sine, cosine = abs(math.sin(turn)), abs(math.cos(turn))
            # Of a bead that lies, its ring is seen, as high as it is wide.
            along_mm = bead.across_mm if bead.pose is Pose.END else bead.along_mm
            wide = (bead.across_mm * cosine + along_mm * sine) / 2.0 + _RING_OFF_MM
            high = (bead.across_mm * sine + along_mm * cosine) / 2.0 + _RING_OFF_MM
            x, y = bead.x_mm, bead.y_mm
            edges.append((x - wide, y - high, x + wide, y + high))
    if not edges:
        return None
    lefts, tops, rights, bottoms = zip(*edges, strict=True)
    left, top = min(lefts), min(tops)
    return (
        (left - scene.left_mm) / scene.width_mm,
        (top - scene.top_mm) / scene.height_mm,
        (max(rights) - left) / scene.width_mm,
        (max(bottoms) - top) / scene.height_mm,
    )


def _in_rows(design: Design) -> Scene:
    return rows_scene(design, rows=_ROWS, hang=Hang.REGULAR)


def _shared_scale(scenes: tuple[Scene, ...]) -> float:
    """The usual scale, or a step smaller, and another, where a piece is too large for it."""
    fits = min(scale_to_fit(scene, *_THUMBNAIL_PX) for scene in scenes)
    scale = _THUMBNAIL_SCALE
    while scale > fits:
        scale /= _SCALE_STEP
    return scale


def _at_scale(scene: Scene, scale: float) -> bytes:
    """The scene in the middle of a thumbnail, every bead alike, so that looks are shared."""
    width, height = (px / scale for px in _THUMBNAIL_PX)
    framed_scene = replace(
        scene,
        left_mm=scene.left_mm - (width - scene.width_mm) / 2.0,
        top_mm=scene.top_mm - (height - scene.height_mm) / 2.0,
        width_mm=width,
        height_mm=height,
    )
    return to_png(draw(framed_scene, scale, seed=None, clear=True), quick=True)


def seen_strip(design: Design, look: Condition, backing: str | None, narrow: bool) -> Seen:
    """The strip without its closure, in rows where it is long, all beads hanging straight."""
    longest = _NARROW_ROW_MM if narrow else _ROW_MM
    rows = max(1, math.ceil(design.strip_mm / longest))
    scene = rows_scene(design, rows=rows, hang=Hang.REGULAR)
    # Quarter steps of scale share beads between pieces of nearly equal length.
    wanted = (_NARROW_STRIP_PX if narrow else _STRIP_PX) / scene.width_mm
    scale = drawable(scene, max(1.0, math.floor(4.0 * wanted) / 4.0))
    pixels = draw(recoloured(scene, look, backing=backing), scale, seed=None, clear=backing is None)
    boxes = motif_boxes(scene)
    return Seen(
        png=to_png(pixels, quick=True),
        width=pixels.shape[1],
        height=pixels.shape[0],
        boxes=tuple(boxes[motif] for motif in range(len(design.motifs))),
    )


def pair_seen(design: Design, first: int, look: Condition, backing: str | None) -> bytes:
    """Two neighbouring motifs as someone sees them, without those beside them."""
    shown, scale = _pair(design, first, look, backing)
    return to_png(draw(shown, scale, clear=backing is None), quick=True)


def pair_from(design: Design, first: int, backing: str | None, distance_m: float) -> bytes:
    """The same two motifs by daylight, as blurred as an ordinary eye has them from there."""
    shown, scale = _pair(design, first, TYPICAL_DAYLIGHT, backing)
    return to_png(squint(draw(shown, scale), scale, 1000.0 * distance_m), quick=True)


def _pair(design: Design, first: int, look: Condition, backing: str | None) -> tuple[Scene, float]:
    scene = _cropped(motif_scene(design, first, 2, hang=Hang.REGULAR), (first, first + 1))
    return recoloured(scene, look, backing=backing), drawable(scene, _PAIR_PX_PER_MM)


def _cropped(scene: Scene, motifs: tuple[int, int]) -> Scene:
    boxes = motif_boxes(scene)
    left = min(boxes[motif][0] for motif in motifs)
    right = max(boxes[motif][0] + boxes[motif][2] for motif in motifs)
    return replace(
        scene,
        left_mm=scene.left_mm + left * scene.width_mm,
        width_mm=(right - left) * scene.width_mm,
    )


def motif_boxes(scene: Scene) -> dict[int, Box]:
    """Where the hanging beads of each motif lie that is in the scene, or partly so."""
    edges: dict[int, tuple[float, float, float, float]] = {}
    for bead in scene.beads:
        tag = parse_tag(bead.tag)
        if tag.spot is not Spot.MOTIF or tag.bead is None:
            continue
        reach = max(bead.across_mm, bead.along_mm) / 2.0 + _STAND_OFF_MM
        x, y = bead.x_mm, bead.y_mm
        left, top, right, bottom = edges.get(tag.index, (x, y, x, y))
        edges[tag.index] = (
            min(left, x - reach),
            min(top, y - reach),
            max(right, x + reach),
            max(bottom, y + reach),
        )
    return {
        motif: (
            (left - scene.left_mm) / scene.width_mm,
            (top - scene.top_mm) / scene.height_mm,
            (right - left) / scene.width_mm,
            (bottom - top) / scene.height_mm,
        )
        for motif, (left, top, right, bottom) in edges.items()
    }
