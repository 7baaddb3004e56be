"""Core calls whose results are kept, so that a rerun computes nothing twice.

Every argument is a small frozen value and every result depends on nothing else, so one session can
never see anything of another's here but what it asked for itself. Results are frozen, so they are
handed out as they are, without the copies and the hashing that the framework's own cache takes its
time for: a page asks some forty times in a run. Each store is bounded by the memory that it takes.
"""

from explorer.app import drawings, making
from explorer.app.areas import Area, Reach, areas
from explorer.app.drawings import Box, Picture
from explorer.app.heavy import in_turn
from explorer.app.making import Stitch
from explorer.app.sizing import Measured, Sizing, measured
from explorer.app.store import kept
from explorer.brief import Brief
from explorer.contrast_piece import MotifsAsSeen, motifs_as_seen
from explorer.design import Design
from explorer.errors import BriefError
from explorer.fit import Fit, NoFit
from explorer.layout import loop_scene, rows_scene, strip_scene
from explorer.piece import Piece, from_json
from explorer.propose import Proposals, propose
from explorer.relatives import Like
from explorer.thread_setup import ThreadSetup
from gallery.files import to_png
from gallery.raster import draw
from gallery.scene import PlacedBead, Scene
from palettes.beads import BeadKind
from palettes.difference import pairwise
from palettes.spaces import hex_to_srgb1, hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch

# In megabytes, of each. Chosen by us: figures are small; a class of thirty looks at some sixty
# pictures of up to a quarter of a megabyte, and at a few hundred thumbnails; together they stay
# well below what the libraries take.
_FIGURES, _PICTURES, _SCENES, _FOUND = 4.0, 24.0, 12.0, 16.0


@kept(_FIGURES)
def sized(sizing: Sizing) -> Measured | tuple[BriefError, ...]:
    """What the boxes of the Size page mean."""
    return measured(sizing)


@kept(_FIGURES)
def fitted(to: Measured) -> Fit | NoFit:
    """The strip for a measurement."""
    return to.strip.fit(to.wearer, to.closure)


@kept(_FIGURES)
def as_seen(design: Design) -> MotifsAsSeen:
    """Neighbouring motifs as seen, for typical eyes in daylight."""
    return motifs_as_seen(design)


@kept(_FIGURES)
def read_piece(document: str) -> Piece:
    """A saved piece."""
    return from_json(document, "the saved piece")


@kept(_FIGURES)
def differences(hexes: tuple[str, ...]) -> tuple[tuple[float, ...], ...]:
    """CIEDE2000 between all pairs."""
    matrix = pairwise(srgb1_to_lab(hexes_to_srgb1(list(hexes))))
    return tuple(tuple(float(value) for value in row) for row in matrix)


# Picture, areas and lit beads of one step share a scene.
@kept(_SCENES)
def _scene(design: Design, layout: str) -> Scene:
    if layout == "loop":
        return loop_scene(design)
    return rows_scene(design, rows=2) if layout == "rows" else strip_scene(design)


@kept(_PICTURES)
def picture(design: Design, layout: str, px: int) -> Picture:
    """The piece drawn without ground, so that it lies on light and dark paper alike."""
    return in_turn(drawings.picture)(_scene(design, layout), px)


@kept(_PICTURES)
@in_turn
def thumbnail(design: Design) -> bytes:
    """The piece in rows, its whole order and its outline on one small picture."""
    return drawings.thumbnail(design)


@kept(_SCENES)
def pointed(design: Design, layout: str, reach: Reach) -> tuple[Area, ...]:
    """What can be pointed at in that picture."""
    return areas(design, _scene(design, layout), reach)


@kept(_FIGURES)
def lit(design: Design, layout: str, tags: tuple[str, ...]) -> tuple[tuple[float, ...], ...]:
    """Where beads lie in that picture, as (x, y, half across, half along, turn in degrees)."""
    wanted = frozenset(tags)
    return tuple(
        (b.x_mm, b.y_mm, b.across_mm / 2.0, b.along_mm / 2.0, b.turn_deg)
        for b in (_scene(design, layout).beads if wanted else ())
        if b.tag in wanted
    )


@kept(_SCENES)
def stitches(design: Design, setup: ThreadSetup) -> tuple[Stitch, ...]:
    """The needle's way through a piece, in words."""
    return making.stitches(design, setup)


# Every step of a motif rings other beads of the same scene.
@kept(_SCENES)
def _near(design: Design, motif: int) -> tuple[Scene, float]:
    return drawings.near(design, motif)


@kept(_PICTURES)
def close_up(design: Design, motif: int) -> bytes:
    """One motif from near."""
    return in_turn(drawings.close_up)(*_near(design, motif))


@kept(_FIGURES)
def ringed(design: Design, motif: int, tags: tuple[str, ...]) -> Box | None:
    """Where some beads lie in that picture, as shares of it."""
    return drawings.ring_round(_near(design, motif)[0], tags)


@kept(_PICTURES)
@in_turn
def side_by_side(designs: tuple[Design, ...]) -> tuple[bytes, ...]:
    """The pieces in rows, all at the one scale at which every one of them fits its picture."""
    return drawings.side_by_side(designs)


@kept(_FOUND)
def proposals(brief: Brief, like: Like | None) -> Proposals | NoFit:
    """Proposals for a brief, or relatives of a piece.

    Raises:
        BriefError: the colour demands cannot stand together.
    """
    return propose(brief, like=like)


@kept(_PICTURES)
@in_turn
def bead_row(swatches: tuple[Swatch, ...], kind: BeadKind, bead_px: int) -> bytes:
    """A row of loose beads in those colours, lying as they hang.

    Args:
        swatches: the colours, from the left.
        kind: the bead.
        bead_px: how wide one is drawn, in device pixels.
    """
    step = kind.diameter_mm * 1.3
    beads = tuple(
        _loose(swatch, kind, (number + 0.5) * step) for number, swatch in enumerate(swatches)
    )
    # Room for the shadow, which falls down and to the right.
    height = max(kind.diameter_mm, kind.pitch_mm) + 1.8
    scene = Scene(
        left_mm=-0.1,
        top_mm=-max(kind.diameter_mm, kind.pitch_mm) / 2.0 - 0.2,
        width_mm=step * len(swatches) + 0.8,
        height_mm=height,
        beads=beads,
    )
    return to_png(draw(scene, bead_px / kind.diameter_mm, clear=True))


def _loose(swatch: Swatch, kind: BeadKind, x_mm: float) -> PlacedBead:
    return PlacedBead(
        x_mm=x_mm,
        y_mm=0.0,
        across_mm=kind.diameter_mm,
        along_mm=kind.pitch_mm,
        hole_mm=kind.hole_mm,
        form=kind.form,
        srgb1=_srgb1(swatch.hex),
        finish=swatch.finish,
    )


def _srgb1(text: str) -> tuple[float, float, float]:
    red, green, blue = (float(v) for v in hex_to_srgb1(text))
    return red, green, blue
