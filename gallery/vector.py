"""The flat view as SVG in mm: every bead one ``use`` of its look, sharp at any size."""

import math
from xml.sax.saxutils import quoteattr

import numpy as np

from gallery.scene import MetalRing, PlacedBead, Pose, Scene, Srgb1, Thread
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import linear1_to_srgb1, srgb1_to_hex, srgb1_to_linear1

_LookKey = tuple[Form, Pose, Finish, Srgb1, float, float, float]

# How strong the window's patch is on each finish that has none of full strength; by eye.
_PATCH = {Finish.MATTE: 0.0, Finish.PEARL: 0.35, Finish.DYED: 0.6}
_OUTLINE_POINTS = 24  # by eye: a smooth outline


def to_svg(scene: Scene) -> str:
    """The scene as an SVG document at true size: 1 user unit is 1 mm.

    Beads keep their tags as ``data-bead``. Shading is simpler than in ``draw``: a rounded
    gradient, the hole where it shows, and the window's patch.

    Args:
        scene: a flat scene; its limb, if any, is left out.
    """
    looks: dict[_LookKey, int] = {}
    body = [_thread(thread) for thread in scene.threads]
    items: list[tuple[int, str]] = [(ring.layer, _ring(ring)) for ring in scene.rings]
    for bead in scene.beads:
        key = _key(bead)
        number = looks.setdefault(key, len(looks))
        items.append((bead.layer, _use(bead, number)))
    body += [text for _, text in sorted(items, key=lambda item: item[0])]
    defs = [_look(key, number) for key, number in looks.items()]
    box = f"{_n(scene.left_mm)} {_n(scene.top_mm)} {_n(scene.width_mm)} {_n(scene.height_mm)}"
    ground = (
        f'<rect x="{_n(scene.left_mm)}" y="{_n(scene.top_mm)}" width="{_n(scene.width_mm)}" '
        f'height="{_n(scene.height_mm)}" fill="{srgb1_to_hex(scene.ground_srgb1)}"/>'
    )
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(scene.width_mm)}mm" '
        f'height="{_n(scene.height_mm)}mm" viewBox="{box}">'
    )
    return "\n".join([head, "<defs>", *defs, "</defs>", ground, *body, "</svg>", ""])


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")


def _key(bead: PlacedBead) -> _LookKey:
    sizes = (bead.across_mm, bead.along_mm, bead.hole_mm)
    return (bead.form, bead.pose, bead.finish, bead.srgb1, *sizes)


def _scaled(colour: Srgb1, factor: float, white: float = 0.0) -> str:
    linear = srgb1_to_linear1(colour) * factor
    return srgb1_to_hex(linear1_to_srgb1(np.clip(linear + white * (1.0 - linear), 0.0, 1.0)))


def _outline(form: Form, a: float, b: float) -> str:
    """A bead's outline from the side as a path: a superellipse by form."""
    power_u, power_v = {
        Form.ROUND: (2.3, 3.0),
        Form.CYLINDER: (7.0, 9.0),
        Form.CUBE: (5.0, 5.0),
        Form.DROP: (2.0, 2.0),
        Form.FACETED: (2.0, 2.0),
    }[form]
    points = _OUTLINE_POINTS if form is not Form.FACETED else 8
    path = []
    for step in range(points):
        turn = math.tau * (step + 0.5) / points
        cosine, sine = math.cos(turn), math.sin(turn)
        u = math.copysign(abs(cosine) ** (2.0 / power_u), cosine) * a
        v = math.copysign(abs(sine) ** (2.0 / power_v), sine) * b
        if form is Form.DROP:
            u *= 0.72 + 0.28 * v / b
        path.append(f"{_n(u)},{_n(v)}")
    return "M" + "L".join(path) + "Z"


def _look(key: _LookKey, number: int) -> str:
    form, pose, finish, colour, across, along, hole = key
    a, b = across / 2.0, (across if pose is Pose.END else along) / 2.0
    shades = (
        f'<radialGradient id="g{number}" cx="0.36" cy="0.30" r="0.85">'
        f'<stop offset="0" stop-color="{_scaled(colour, 1.25, 0.05)}"/>'
        f'<stop offset="0.45" stop-color="{_scaled(colour, 1.0)}"/>'
        f'<stop offset="1" stop-color="{_scaled(colour, 0.38)}"/></radialGradient>'
    )
    ring = pose is Pose.END and form is not Form.CUBE
    shape = (
        f'<circle r="{_n(a)}" fill="url(#g{number})"/>'
        if ring
        else f'<path d="{_outline(form, a, b)}" fill="url(#g{number})"/>'
    )
    inner = ""
    if pose is Pose.END:
        dark = _scaled(colour, 0.10)
        radius = min(hole / 2.0, 0.4 * a)
        inner = f'<circle r="{_n(radius)}" fill="{dark}"/>'
    strength = _PATCH.get(finish, 0.85)
    patch = (
        f'<ellipse cx="{_n(-0.36 * a)}" cy="{_n(-0.46 * b)}" rx="{_n(0.20 * a)}" '
        f'ry="{_n(0.15 * b)}" fill="#fff" fill-opacity="{_n(strength)}"/>'
    )
    return f'{shades}<g id="b{number}">{shape}{inner}{patch if strength else ""}</g>'


def _use(bead: PlacedBead, number: int) -> str:
    turn = f" rotate({_n(bead.turn_deg)})" if bead.turn_deg % 360.0 else ""
    tag = f" data-bead={quoteattr(bead.tag)}" if bead.tag else ""
    place = f"translate({_n(bead.x_mm)} {_n(bead.y_mm)}){turn}"
    return f'<use href="#b{number}" transform="{place}"{tag}/>'


def _thread(thread: Thread) -> str:
    points = " ".join(f"{_n(x)},{_n(y)}" for x, y in thread.points_mm)
    return (
        f'<polyline points="{points}" fill="none" stroke="{srgb1_to_hex(thread.srgb1)}" '
        f'stroke-width="{_n(thread.width_mm)}" stroke-linecap="round"/>'
    )


def _ring(ring: MetalRing) -> str:
    rx, ry = (max(size - ring.wire_mm, 0.1) / 2.0 for size in (ring.width_mm, ring.height_mm))
    place = f"translate({_n(ring.x_mm)} {_n(ring.y_mm)}) rotate({_n(ring.turn_deg)})"
    common = f'rx="{_n(rx)}" ry="{_n(ry)}" fill="none" transform="{place}"'
    dark, light = _scaled(ring.srgb1, 0.45), _scaled(ring.srgb1, 1.1, 0.2)
    return (
        f'<ellipse {common} stroke="{dark}" stroke-width="{_n(ring.wire_mm)}"/>'
        f'<ellipse {common} stroke="{light}" stroke-width="{_n(ring.wire_mm * 0.4)}"/>'
    )
