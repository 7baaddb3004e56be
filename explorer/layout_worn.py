"""From a design to the scene of it being worn."""

from explorer.design import Design, Part
from explorer.layout import strip_scene
from explorer.layout_closure import links_mm
from explorer.layout_columns import Hang
from gallery.scene import Scene, Srgb1
from gallery.worn import worn


def finished_mm(design: Design) -> float:
    """The closed piece's length round: strip, link beads and closure (its extender left out)."""
    links = links_mm(design, 0) + links_mm(design, 1)
    return design.strip_mm + links + design.closure.length_mm


def worn_scene(
    design: Design,
    girth_mm: float,
    *,
    front_motif: int | None = None,
    skin_srgb1: Srgb1 | None = None,
    hang: Hang | str = Hang.FREE,
) -> Scene:
    """The piece round a wrist or an ankle, seen from the front.

    Args:
        design: the piece.
        girth_mm: round the bare limb.
        front_motif: the motif that is worn in front, from 0; the middle of the strip if None.
        skin_srgb1: the skin's colour.
        hang: whether dangles lean a little or hang dead straight.

    Raises:
        ValueError: there is no such motif, or the piece does not close round the limb.
    """
    middle = design.strip_mm / 2.0
    if front_motif is not None:
        places = [
            number
            for number, (place, _) in enumerate(design.columns())
            if place.part is Part.MOTIF and place.index == front_motif
        ]
        if not places:
            last = len(design.motifs) - 1
            raise ValueError(f"motifs are numbered 0 to {last}; got {front_motif!r}")
        middle = (design.edges_mm[places[0]] + design.edges_mm[places[-1] + 1]) / 2.0
    return worn(
        strip_scene(design, hang=hang),
        girth_mm=girth_mm,
        closed_mm=finished_mm(design),
        middle_mm=middle,
        skin_srgb1=skin_srgb1,
    )
