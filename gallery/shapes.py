"""The surface of one bead as the eye meets it: cover, normals and the way light takes inside.

Everything is worked out on those samples of a fine grid (``Look.fine`` a pixel each way) that it
covers, in its own axes: u across the hole, v along it (down when it is upright), z to the viewer.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gallery.cut import cube, faceted
from gallery.scene import Pose
from gallery.solids import Floats, Local, Solid
from gallery.turned import cylinder, drop, round_bead
from palettes.forms import Form


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surface:
    """What one bead shows, on the samples (k,) of a fine grid that it covers, every map float32.

    Attributes:
        turn_deg: the bead's turn, for what lies inside it.
        side: samples on a side of the square grid.
        places: where the samples lie, counted row by row.
        across, along: place in the bead's own axes, -1 to 1 from rim to rim.
        nx, ny, nz: the unit normal in picture axes (x right, y down, z to the viewer).
        path: the way through the glass over the bead's radius, 0 at the rim.
        core: 1 where the lined or empty hole is seen through the glass.
        touch: 0 in the open, 1 where the next bead on the thread touches.
        hole: 1 where one looks into the hole itself.
        thread: 0 where no thread is seen, else the light on its round strand, up to 1.
    """

    turn_deg: float
    side: int
    places: NDArray[np.intp]
    across: Floats
    along: Floats
    nx: Floats
    ny: Floats
    nz: Floats
    path: Floats
    core: Floats
    touch: Floats
    hole: Floats
    thread: Floats


# No bead reaches beyond its sizes but the corners between facets, by an eighth at most
# (by trial).
_BEYOND = 1.2


def surface(solid: Solid, cells: int, fine: int) -> Surface:
    """The surface of a bead centred in a grid of ``cells`` pixels a side, ``fine`` samples each."""
    side = cells * fine
    line = ((np.arange(side, dtype=np.float32) + 0.5) / fine - cells / 2.0).astype("f4")
    x, y = line[None, :], line[:, None]
    turn = math.radians(solid.turn_deg)
    sine, cosine = np.float32(math.sin(turn)), np.float32(math.cos(turn))
    u, v = (x * cosine + y * sine).ravel(), (y * cosine - x * sine).ravel()
    wide, long = solid.across_px / 2.0, solid.along_px / 2.0
    if solid.pose is Pose.END:
        # Mostly a ring; a drop looks the same from everywhere.
        long = max(wide, long)
    # Most of the square is beside the bead: work is done only where it may be.
    near = np.flatnonzero((np.abs(u) <= _BEYOND * wide) & (np.abs(v) <= _BEYOND * long))
    u, v = u[near], v[near]
    local = _MAKERS[solid.form](solid, u, v)
    inside = np.flatnonzero(local.cover)
    nu, nv = local.nu[inside], local.nv[inside]
    return Surface(
        turn_deg=solid.turn_deg,
        side=side,
        places=near[inside],
        across=u[inside] * 2.0 / solid.across_px,
        along=v[inside] * 2.0 / solid.along_px,
        nx=nu * cosine - nv * sine,
        ny=nu * sine + nv * cosine,
        nz=local.nz[inside],
        path=local.path[inside],
        core=local.core[inside],
        touch=local.touch[inside],
        hole=local.hole[inside],
        thread=local.thread[inside],
    )


_MAKERS: dict[Form, Callable[[Solid, Floats, Floats], Local]] = {
    Form.ROUND: round_bead,
    Form.CYLINDER: cylinder,
    Form.CUBE: cube,
    Form.DROP: drop,
    Form.FACETED: faceted,
}
