"""Finishes that lie on the glass: metal, a rainbow film, lustre and pearl."""

import math

import numpy as np

from gallery.glass import Body
from gallery.room import Lit, diffuse
from gallery.shapes import Surface
from gallery.solids import Floats, smooth


def _two_tone(lit: Lit) -> Floats:
    """What a mirror sees: a bright upper half, a sharp dark horizon, a paler table."""
    y = lit.mirror_y
    upper = 0.55 + 0.6 * smooth(0.0, -1.0, y)
    horizon = 0.10 + 0.85 * smooth(0.12, 0.85, y)
    return np.where(y < 0.06, upper, horizon * 0.62)


def metallic(lit: Lit, face: Surface) -> Body:
    """A coat of metal: no colour of its own, a coloured mirror of the room."""
    mirror = (0.12 + _two_tone(lit)) * (0.45 + 0.55 * smooth(0.0, 0.45, face.nz))
    shade = 1.0 - 0.65 * face.touch
    flash = 2.6 * lit.window + 0.8 * lit.strip
    return Body(
        layers={1.0: mirror * shade, 0.75: flash * shade},
        white=(0.35 * lit.window * shade,),
    )


def galvanised(lit: Lit, face: Surface) -> Body:
    """A thin coat of bright metal: the same mirror, sharper and paler in the light."""
    mirror = (0.05 + 1.15 * _two_tone(lit)) * (0.35 + 0.65 * smooth(0.0, 0.4, face.nz))
    shade = 1.0 - 0.65 * face.touch
    flash = 3.6 * lit.window + 1.3 * lit.strip
    return Body(
        layers={1.15: mirror * shade, 0.6: flash * shade},
        white=(0.8 * lit.window * shade,),
    )


def rainbow(lit: Lit, face: Surface) -> Body:
    """A thin film over the body: its colour turns with the angle, as in a soap film."""
    body = diffuse(lit, face, 0.35)
    # Optical path of a film of index 1.9 and 430 nm, chosen by us so that pink, gold and green
    # follow each other from the rim inward; wavelengths in nm of the sRGB primaries (from memory).
    inside = np.sqrt(1.0 - (1.0 - np.clip(face.nz, 0.0, 1.0) ** 2) / 1.9**2)
    turn = 430.0 + 90.0 * face.nx - 70.0 * face.ny
    film = [0.5 - 0.5 * np.cos(4.0 * math.pi * 1.9 * turn * inside / w) for w in (611, 549, 464)]
    # A film mirrors what is round the bead, most of it from above and off the axis.
    room = 0.07 + 0.24 * smooth(-0.5, 0.9, -lit.mirror_y) * (1.0 - 0.55 * np.clip(face.nz, 0, 1))
    shade = (1.0 - 0.6 * face.touch) * (0.3 + 0.7 * smooth(0.0, 0.4, face.nz))
    shine = lit.gloss
    red, green, blue = ((0.75 * room * (f - 0.28) * shade + shine).astype("f4") for f in film)
    return Body(layers={1.0: body}, white=(red, green, blue))


def _veiled(lit: Lit, face: Surface, head_on: float, rim: float) -> Floats:
    """A pale film that thickens toward the rim, where one looks along it."""
    away = 1.0 - np.clip(face.nz, 0.0, 1.0)
    veil = head_on + rim * away**1.3 * (0.35 + 0.65 * smooth(-0.5, 0.8, lit.up + 0.2))
    level: Floats = veil * (1.0 - 0.7 * face.touch) * (0.5 + 0.5 * smooth(0.0, 0.3, face.nz))
    return level


def lustre(lit: Lit, face: Surface) -> Body:
    """A thin glossy film: paler toward the rim, a stronger mirror of the room."""
    veil = _veiled(lit, face, 0.03, 1.2)
    shine = 1.5 * lit.gloss + 0.16 * np.maximum(lit.facing, 0.0) ** 8 * (1.0 - face.touch)
    return Body(layers={1.0: diffuse(lit, face, 0.3), 0.35: veil}, white=(shine,))


def pearl(lit: Lit, face: Surface) -> Body:
    """A milky coat over a body that glows: a broad soft light, cool above and warm below."""
    veil = _veiled(lit, face, 0.10, 0.55)
    broad = np.maximum(lit.facing, 0.0)
    sheen = (0.42 * broad**5 + 0.25 * broad**16) * (1.0 - face.touch)
    warm = smooth(-0.6, 0.6, face.ny)
    shine = 0.35 * lit.gloss + 0.35 * sheen
    return Body(
        layers={1.0: 0.7 * diffuse(lit, face, 0.8), 0.3: veil + sheen},
        white=(
            (shine * (0.94 + 0.12 * warm)).astype("f4"),
            (shine * 0.97).astype("f4"),
            (shine * (1.07 - 0.18 * warm)).astype("f4"),
        ),
    )
