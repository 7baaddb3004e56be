"""Core calls of shaping, counting and shopping whose results are kept."""

from explorer.app.heavy import in_turn
from explorer.app.sizing import Measured
from explorer.app.store import kept
from explorer.closest import closest_fits
from explorer.counts import Counts, Spares, counts
from explorer.design import Design, build
from explorer.fit import Fit
from explorer.layout import motif_scene
from explorer.layout_columns import Hang
from explorer.thread import ThreadPlan, thread_plan
from explorer.thread_setup import ThreadSetup
from gallery.files import to_png
from gallery.framing import framed
from gallery.raster import draw
from palettes.beads import Bead

# In megabytes, of each. Chosen by us: outlines take some 3 kB each.
_FIGURES, _OUTLINES = 4.0, 4.0
_OUTLINE_PX = (120, 90)  # by eye


@kept(_FIGURES)
def counted(design: Design, spares: Spares) -> Counts:
    """The beads of a piece with the maker's own rule for spares."""
    return counts(design, spares)


@kept(_FIGURES)
def threaded(design: Design, setup: ThreadSetup) -> ThreadPlan:
    """The thread of a piece; what cannot be woven is raised, not kept."""
    return thread_plan(design, setup)


@kept(_FIGURES)
def closest(to: Measured, *, count: int) -> tuple[Fit, ...]:
    """The fits that close best, of motifs up to two dangles narrower or wider."""
    width = to.strip.repeat.dangles
    return closest_fits(
        to.wearer, to.strip, to.closure, dangles=(max(1, width - 2), width + 2), count=count
    )


@kept(_OUTLINES)
@in_turn
def outline(profile: tuple[int, ...], hang: Bead, base: Bead, pitch_mm: float) -> bytes:
    """One motif of an outline, small."""
    design = build(
        beads=(base, hang),
        base=0,
        base_pitch_mm=pitch_mm,
        profiles=(profile,),
        order=(1,),
        divider_base_beads=0,
    )
    scene, scale = framed(motif_scene(design, 0, hang=Hang.REGULAR), *_OUTLINE_PX)
    return to_png(draw(scene, scale, clear=True), quick=True)
