"""A scene as other eyes, other light or another backing would have it; gallery draws the result.

Pictures and scores shall agree: a bead's colour here is the one that ``explorer.contrast_piece``
judges, and the renderer brings every bead's mean in linear light to it, whatever its finish.
"""

from dataclasses import replace

import numpy as np

from explorer.hexes import parse_colours
from gallery.scene import Ground, PlacedBead, Scene, Srgb1
from palettes.finishes import Finish, met
from palettes.spaces import FloatArray, hex_to_srgb1
from palettes.viewing import TYPICAL_DAYLIGHT, Condition, srgb1_under


def recoloured(
    scene: Scene, look: Condition = TYPICAL_DAYLIGHT, *, backing: str | None = None
) -> Scene:
    """The scene in the colours that a viewer meets in a light.

    Light acts before the eye (``palettes.viewing``). Finishes stay, so that metal still mirrors and
    a rainbow still turns; a metallic or rainbow bead is drawn about the middle of its range.

    Args:
        scene: what to show, in its daylight colours.
        look: whose eyes and which light.
        backing: the hex of what lies behind the beads. Then each bead takes the colour that
            ``palettes.finishes.met`` gives it there, and the backing becomes the ground.

    Raises:
        BriefError: the backing is no colour.
    """
    behind = None if backing is None else hex_to_srgb1(parse_colours((backing,), "backing")[0])
    ground1 = scene.ground_srgb1 if behind is None else _triple(behind)
    beads = {
        (bead.srgb1, bead.finish): _met(bead.srgb1, bead.finish, behind) for bead in scene.beads
    }
    plain = [thread.srgb1 for thread in scene.threads] + [ring.srgb1 for ring in scene.rings]
    plain += [ground1] + ([] if scene.limb is None else [scene.limb.srgb1])
    seen = _seen((*beads.values(), *plain), look)
    limb = scene.limb
    return replace(
        scene,
        beads=tuple(_with(bead, seen[beads[bead.srgb1, bead.finish]]) for bead in scene.beads),
        threads=tuple(replace(thread, srgb1=seen[thread.srgb1]) for thread in scene.threads),
        rings=tuple(replace(ring, srgb1=seen[ring.srgb1]) for ring in scene.rings),
        ground=scene.ground if behind is None else Ground.PLAIN,
        ground_srgb1=seen[ground1],
        limb=None if limb is None else replace(limb, srgb1=seen[limb.srgb1]),
    )


def _met(srgb1: Srgb1, finish: Finish, behind: FloatArray | None) -> Srgb1:
    return srgb1 if behind is None else _triple(met(srgb1, finish, behind))


def _seen(colours: tuple[Srgb1, ...], look: Condition) -> dict[Srgb1, Srgb1]:
    """Each colour under the look, all in one call, since calls cost more than colours."""
    each = tuple(dict.fromkeys(colours))
    under = srgb1_under(np.array(each), (look,))[0]
    return {colour: _triple(shown) for colour, shown in zip(each, under, strict=True)}


def _with(bead: PlacedBead, srgb1: Srgb1) -> PlacedBead:
    return bead if bead.srgb1 == srgb1 else replace(bead, srgb1=srgb1)


def _triple(srgb1: FloatArray) -> Srgb1:
    red, green, blue = (float(v) for v in srgb1)
    return red, green, blue
