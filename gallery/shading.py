"""How each finish turns light and a bead's colour into what is seen.

A finish gives *layers*: a bead's pixel is the sum over layers of ``weight * colour ** power`` per
channel of linear light, plus white light that the colour does not touch. The powers are how Beer's
law enters: light that crosses twice the glass has the colour's square. Because everything is a
plain sum, the layers are averaged down to pixels once and then serve every colour.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from gallery.coats import galvanised, lustre, metallic, pearl, rainbow
from gallery.glass import Body, colour_lined, dyed, matte, opaque, silver_lined, transparent
from gallery.room import Lit
from gallery.shapes import Surface
from gallery.solids import Floats
from palettes.finishes import Finish

# Cotton-white thread in its own shade, and the inside of a hole; by eye.
_THREAD_LINEAR1 = (0.40, 0.385, 0.35)
_THREAD_TINT = 0.45
_HOLE_WHITE = 0.003
_HOLE_TINT = 0.085


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layers:
    """A bead's look but for its colour, on k places; every map is premultiplied by cover.

    Attributes:
        powers: the exponents of the colour, one a layer.
        weights: (layers, k).
        white: (1, k) or (3, k), light the colour does not touch, which may be scaled down for dark
            beads; one map where it is alike in all channels.
        fixed: (3, k), thread and such, drawn as they are; None where there is nothing of it.
        alpha: (k,), cover.
        glass: (k,), the part of cover that is the bead's own material.
        clear: (k,), the part of glass through which the ground can show; None for none.
    """

    powers: tuple[float, ...]
    weights: Floats
    white: Floats
    fixed: Floats | None
    alpha: Floats
    glass: Floats
    clear: Floats | None


_FINISHES: dict[Finish, Callable[[Lit, Surface], Body]] = {
    Finish.OPAQUE: opaque,
    Finish.MATTE: matte,
    Finish.DYED: dyed,
    Finish.TRANSPARENT: transparent,
    Finish.SILVER_LINED: silver_lined,
    Finish.COLOUR_LINED: colour_lined,
    Finish.METALLIC: metallic,
    Finish.GALVANISED: galvanised,
    Finish.RAINBOW: rainbow,
    Finish.LUSTRE: lustre,
    Finish.PEARL: pearl,
}


def shade(face: Surface, lit: Lit, finish: Finish) -> Layers:
    """A bead's look but for its colour, on the surface's own samples.

    Args:
        face: the surface.
        lit: the room's light on it.
        finish: its finish.

    Raises:
        ValueError: a finish that nobody taught us to draw.
    """
    if finish not in _FINISHES:
        raise ValueError(f"no way to draw {finish!r}; known are {', '.join(_FINISHES)}")
    body = _FINISHES[finish](lit, face)
    whole = np.ones(face.places.shape, np.float32)
    if not (face.hole.any() or face.thread.any()):
        return Layers(
            powers=tuple(body.layers),
            weights=np.stack(list(body.layers.values())).astype("f4"),
            white=np.stack(body.white).astype("f4"),
            fixed=None,
            alpha=whole,
            glass=whole,
            clear=body.clear,
        )
    bare = (face.thread == 0.0).astype(np.float32)
    glass, hollow = bare * (1.0 - face.hole), bare * face.hole
    layers = {power: weight * glass for power, weight in body.layers.items()}
    layers[1.0] = layers.get(1.0, 0.0) + _HOLE_TINT * hollow + _THREAD_TINT * face.thread
    fixed = np.stack([_HOLE_WHITE * hollow + level * face.thread for level in _THREAD_LINEAR1])
    return Layers(
        powers=tuple(layers),
        weights=np.stack(list(layers.values())).astype("f4"),
        white=np.stack([level * glass for level in body.white]).astype("f4"),
        fixed=fixed.astype("f4"),
        alpha=whole,
        glass=glass,
        clear=None if body.clear is None else glass * body.clear,
    )
