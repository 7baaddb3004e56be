"""Finishes whose colour is in the glass or behind it: opaque to lined."""

import math
from dataclasses import dataclass

import numpy as np

from gallery.room import Lit, diffuse
from gallery.shapes import Surface
from gallery.solids import Floats, smooth


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """A finish at work: layers by power, white light (one map or three), and clearness."""

    layers: dict[float, Floats]
    white: tuple[Floats, ...]
    clear: Floats | None = None


def opaque(lit: Lit, face: Surface) -> Body:
    """Glass with the colour all through: a dull body under a clear, mirroring skin."""
    return Body(layers={1.0: diffuse(lit, face, 0.32)}, white=(lit.gloss,))


def matte(lit: Lit, face: Surface) -> Body:
    """Etched glass: a wide soft sheen where the window would be, and no patch."""
    body = diffuse(lit, face, 0.62)
    sheen = 0.05 * np.maximum(lit.facing, 0.0) ** 5 * (1.0 - face.touch)
    veil = 0.03 * (1.0 - np.clip(face.nz, 0.0, 1.0)) ** 2
    return Body(layers={1.0: body}, white=((sheen + veil).astype("f4"),))


def dyed(lit: Lit, face: Surface) -> Body:
    """Dye in milky glass: light goes in and glows out again, paler where it gathers."""
    body = 0.72 * diffuse(lit, face, 0.6)
    glow = 0.34 * gathered(face)
    return Body(layers={1.0: body, 0.7: glow}, white=(0.7 * lit.gloss,))


def through(depth: Floats, light_in: Floats, powers: tuple[float, ...]) -> dict[float, Floats]:
    """Beer's law by layers: ``light * colour ** depth``, depths shared between neighbours."""
    place = np.interp(depth, powers, np.arange(len(powers))).astype("f4")
    return {
        power: light_in * np.maximum(1.0 - np.abs(place - at), 0.0)
        for at, power in enumerate(powers)
    }


def gathered(face: Surface) -> Floats:
    """Light focused on the side away from the window, as a lens does, dark just inside the rim."""
    away = -(face.nx * -0.60 + face.ny * -0.79)
    far = smooth(-0.35, 0.75, away)
    rim = smooth(0.05, 0.5, face.nz)
    level: Floats = (0.22 + 1.45 * far * far) * (0.30 + 0.70 * rim) * (1.0 - 0.45 * face.touch)
    return level


def transparent(lit: Lit, face: Surface) -> Body:
    """Clear coloured glass: the colour deepens with the way through, the hole shows."""
    inside = gathered(face)
    # The empty hole is a bright channel with dark borders; the thread in it catches light.
    border = face.core * (1.0 - face.core) * 4.0
    channel = 1.0 + 0.22 * face.core * (1.0 - face.hole) - 0.55 * border
    depth = 0.35 + 1.25 * face.path
    return Body(
        layers=through(depth, inside * channel, (0.3, 0.7, 1.1, 1.6)),
        white=(lit.gloss,),
        clear=smooth(0.05, 0.6, face.nz) * (1.0 - 0.5 * border),
    )


def _inner_mirror(face: Surface, width: float) -> tuple[Floats, Floats]:
    """The lining, which the glass magnifies to ``width`` of the bead: light on it, and its share.

    A mirror tube inside: one bright line toward the window, a darker middle, a second glint.
    """
    t = face.across / np.float32(width)
    share = 1.0 - smooth(0.82, 1.08, np.abs(t))
    lift = np.sqrt(np.maximum(1.0 - np.clip(t, -1.0, 1.0) ** 2, 0.0))
    turn = math.radians(face.turn_deg)
    # Which flank of the tube faces the window depends on how the bead is turned.
    toward = -0.46 * math.cos(turn) - 0.60 * math.sin(turn)
    facing = t * toward + 0.66 * lift
    glint = 1.25 * np.exp(-(((facing - 0.74) / 0.085) ** 2))
    second = 0.45 * np.exp(-(((t * -toward * 1.6 - 0.55) / 0.16) ** 2))
    ends = 0.35 + 0.65 * (1.0 - smooth(0.35, 1.0, np.abs(face.along)))
    level: Floats = (0.42 + 0.5 * np.maximum(facing, 0.0) + glint + second) * ends
    return level, share


def silver_lined(lit: Lit, face: Surface) -> Body:
    """A mirror round the hole, magnified by the glass; dark flanks that gather what they can."""
    mirror, share = _inner_mirror(face, 0.66)
    ringed = face.hole.any()
    if ringed:
        # Seen down the hole, the lining lights up the glass round it.
        rho = np.hypot(face.across, face.along)
        mirror = 0.55 + 1.1 * (1.0 - smooth(0.42, 0.8, rho)) * (0.65 + 0.35 * lit.facing)
        share = 1.0 - smooth(0.55, 0.95, rho)
    flank = 0.16 + 0.42 * gathered(face)
    level = (mirror * share + flank * (1.0 - share)) * (1.0 - 0.5 * face.touch)
    depth = 0.75 * share + (0.9 + 0.8 * face.path) * (1.0 - share)
    return Body(layers=through(depth, level, (0.7, 1.1, 1.7)), white=(1.1 * lit.gloss,))


def colour_lined(lit: Lit, face: Surface) -> Body:
    """A painted hole inside clear glass, which magnifies it; paler, glassy flanks."""
    heart = smooth(0.30, 0.66, face.nz) * (1.0 - 0.85 * smooth(0.62, 0.9, np.abs(face.across)))
    if face.hole.any():
        heart = 1.0 - smooth(0.5, 0.85, np.hypot(face.across, face.along))
    body = diffuse(lit, face, 0.5)
    flank = 0.25 + 0.55 * gathered(face)
    return Body(
        layers={1.0: heart * body, 0.5: (1.0 - heart) * 0.5 * flank * (1.0 - 0.5 * face.touch)},
        white=(1.05 * lit.gloss,),
    )
