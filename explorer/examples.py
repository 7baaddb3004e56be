"""What an example piece is: a brief of our own, its piece and its view. The briefs stand apart."""

from dataclasses import dataclass, replace

from explorer import piece
from explorer.brief import Brief, Strip, Wearer
from explorer.colouring import Colouring
from explorer.design import Closure, Design
from explorer.fit import Fit, Repeat
from explorer.orders import Orders
from explorer.picture_files import View, view_scene
from explorer.piece import Piece
from explorer.profile import Shape, profile
from explorer.recipe import Recipe, companions, make
from explorer.sequence_types import Arrangement
from gallery.grounds import on_ground
from gallery.scene import Ground, Scene
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette
from palettes.difference import pairwise
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab


@dataclass(frozen=True, slots=True, kw_only=True)
class Example:
    """One example's brief.

    Attributes:
        stem: its file name without ending.
        title: what the maker calls it.
        palette: one of our palettes.
        colours: names of the colours used; none means all.
        base: the name of the base bead's colour among the palette's bases.
        base_kind, hanging_kind: kinds of bead.
        snug_mm, ease_mm: the invented wearer's measure.
        closure, closure_mm: an invented fastening and its length, closed.
        outline: the profile as a shape or as bead counts.
        reach: shortest and longest dangle, for a shape; by eye.
        divider: base beads between motifs.
        dangles: dangles to a motif, for a shape; by eye.
        arrangement, colouring: how colours are laid out.
        view, ground: how it is shown.
    """

    stem: str
    title: str
    palette: str
    base: str
    outline: Shape | tuple[int, ...]
    colours: tuple[str, ...] = ()
    base_kind: str = "cube 3"
    hanging_kind: str = "round 8/0"
    snug_mm: float = 214.0
    ease_mm: float = 25.0
    closure: str = "lobster clasp"
    closure_mm: float = 16.0
    reach: tuple[int, int] = (1, 6)
    divider: int = 1
    dangles: int = 5
    arrangement: Arrangement = Arrangement.FREE
    colouring: Colouring = Colouring.PLAIN
    view: View = View.STRIP
    ground: Ground = Ground.PAPER


def piece_of(example: Example) -> Piece:
    """The example as a piece."""
    brief = _brief(example)
    fit = brief.strip.fit(brief.wearer, brief.closure)
    if not isinstance(fit, Fit):
        raise TypeError(f"{example.stem} fits no motif: {fit!r}")
    lengths = _lengths(example)
    lab = srgb1_to_lab(hexes_to_srgb1([bead.hex for bead in brief.colours]))
    places = tuple(range(len(brief.colours)))
    found = Orders(brief, pairwise(lab)).find(places, fit.motifs, example.arrangement)
    if found is None:
        raise TypeError(f"{example.stem} has no order")
    recipe = Recipe(
        outline=str(example.outline),
        profile=lengths,
        repeat=fit.repeat,
        palette=places,
        order=found.order.order,
        arrangement=example.arrangement,
        colouring=example.colouring,
        companions=companions(lab[:, 0].tolist(), example.colouring),
    )
    return piece.piece_of(
        design=make(brief, recipe), name=example.title, wearer=brief.wearer, plain_ends=True
    )


def _lengths(example: Example) -> tuple[int, ...]:
    if isinstance(example.outline, Shape):
        return profile(example.outline, example.dangles, *example.reach)
    return example.outline


def _brief(example: Example) -> Brief:
    kinds, chosen = bead_kinds(), palette(example.palette)
    swatches = [s for s in chosen.swatches if not example.colours or s.name in example.colours]
    base = next(s for s in chosen.bases if s.name == example.base)
    hanging = kinds[example.hanging_kind]
    base_bead = Bead(
        name=base.name, kind=kinds[example.base_kind], hex=base.hex, finish=base.finish
    )
    width = len(_lengths(example))
    return Brief(
        wearer=Wearer(snug_mm=example.snug_mm, ease_mm=example.ease_mm),
        strip=Strip(
            base=kinds[example.base_kind], repeat=Repeat(dangles=width, divider=example.divider)
        ),
        colours=tuple(
            Bead(name=s.name, kind=hanging, hex=s.hex, finish=s.finish) for s in swatches
        ),
        base_bead=base_bead,
        divider_bead=replace(base_bead, kind=hanging),
        closure=Closure(kind=example.closure, length_mm=example.closure_mm),
    )


def scene_of(example: Example, design: Design) -> Scene:
    """The example's view of its design."""
    scene = view_scene(design, example.view, girth_mm=example.snug_mm)
    return scene if example.view is View.WORN else on_ground(scene, example.ground)


# The picture's longer side in pixels. Chosen by us, because it is large enough to see the glass.
LONG_STRIP_PX, LONG_PX = 1400, 760


def proportions(example: Example, scene: Scene) -> tuple[int, int]:
    """The picture's width and height in pixels."""
    most_px = LONG_STRIP_PX if example.view is View.STRIP else LONG_PX
    scale = most_px / max(scene.width_mm, scene.height_mm)
    return round(scene.width_mm * scale), round(scene.height_mm * scale)
