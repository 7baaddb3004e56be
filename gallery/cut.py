"""Beads with flat sides: cubes with softened edges, and facets."""

import math

import numpy as np

from gallery.scene import Pose
from gallery.solids import Floats, Local, Solid, local, smooth
from gallery.turned import ring, turning_thread

# How a cube's edges round off; by eye.
_CUBE_POWER = 4.8
# Facets in rings from one hole to the other, as (degrees from the middle, how many, share of a
# facet by which the ring is turned); by eye.
_FACET_RINGS = ((-60.0, 8, 0.5), (-22.0, 8, 0.0), (22.0, 8, 0.0), (60.0, 8, 0.5))
_FACET_DEPTH = 0.955


def cube(solid: Solid, u: Floats, v: Floats) -> Local:
    """A box with softened edges; from the end it shows its hole."""
    end = solid.pose is Pose.END
    a = solid.across_px / 2.0
    b = a if end else solid.along_px / 2.0
    p = _CUBE_POWER
    su, sv = np.abs(u) / a, np.abs(v) / b
    rest = 1.0 - su**p - sv**p
    sz = np.maximum(rest, 1e-6) ** (1.0 / p)
    normal = (
        np.sign(u) * su ** (p - 1.0) / a + 0 * v,
        np.sign(v) * sv ** (p - 1.0) / b + 0 * u,
        np.maximum(sz, 1e-3) ** (p - 1.0) / a,
    )
    hole = min(solid.hole_px / 2.0, 0.4 * a)
    if not end:
        return local(
            rest > 0.0,
            normal,
            path=sz,
            core=(1.0 - smooth(0.9, 1.05, np.abs(u) / hole)) + 0 * v,
            touch=smooth(0.8, 1.0, sv) + 0 * u,
        )
    in_hole = (np.hypot(u, v) < hole).astype(np.float32)
    thread = turning_thread(solid, u, v, hole)
    return local(rest > 0.0, normal, path=sz, core=in_hole, hole=in_hole, thread=thread)


def _planes(solid: Solid) -> list[tuple[float, float, float, float]]:
    """The facets that face the viewer, each (nu, nv, nz, distance) in pixels."""
    a, b = solid.across_px / 2.0, solid.along_px / 2.0
    planes = []
    for height, count, shift in _FACET_RINGS:
        lift = math.radians(height)
        for step in range(count):
            spin = 2.0 * math.pi * (step + shift) / count
            hu, hv = math.cos(lift) * math.sin(spin), math.sin(lift)
            hz = math.cos(lift) * math.cos(spin)
            if hz > -0.02:
                size = math.sqrt((hu * a) ** 2 + (hv * b) ** 2 + (hz * a) ** 2)
                planes.append((hu, hv, hz, size * _FACET_DEPTH))
    return planes


def faceted(solid: Solid, u: Floats, v: Floats) -> Local:
    """Flat facets in four rings: the nearest plane is the one that is seen."""
    if solid.pose is Pose.END:
        return ring(solid, u, v, 2.6, 2.2)
    a, b = solid.across_px / 2.0, solid.along_px / 2.0
    shape = np.broadcast_shapes(u.shape, v.shape)
    z = np.full(shape, np.float32(a))
    nu, nv = np.zeros(shape, np.float32), np.zeros(shape, np.float32)
    nz = np.ones(shape, np.float32)
    inside = np.abs(v) < 0.96 * b
    for pu, pv, pz, far in _planes(solid):
        if pz < 0.02:
            inside = inside & (pu * u + pv * v < far)
            continue
        height = ((far - pu * u - pv * v) / pz).astype(np.float32)
        lower = height < z
        z = np.where(lower, height, z)
        nu, nv, nz = np.where(lower, pu, nu), np.where(lower, pv, nv), np.where(lower, pz, nz)
    inside = inside & (z > 0.0)
    hole = solid.hole_px * 0.45
    return local(
        inside,
        (nu.astype("f4"), nv.astype("f4"), nz.astype("f4")),
        path=np.maximum(z, 0.0) / a,
        core=(1.0 - smooth(0.85, 1.05, np.abs(u) / hole)) + 0 * v,
        touch=smooth(0.85, 1.0, np.abs(v) / b) + 0 * u,
    )
