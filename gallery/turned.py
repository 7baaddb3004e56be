"""Beads turned about their hole: round ones, cylinders and drops, from the side and the end."""

import numpy as np

from gallery.scene import Pose
from gallery.solids import Floats, Local, Solid, local, smooth

# How the outline of a round bead rounds off: across the hole, and along it. Tried by eye against
# photographs of seed beads: flatter at the hole than a sphere, with soft shoulders.
_ROUND_ACROSS, _ROUND_ALONG = 2.1, 2.45
_CYLINDER_ACROSS, _CYLINDER_ALONG = 2.0, 14.0


def barrel(solid: Solid, u: Floats, v: Floats, across: float, along: float) -> Local:
    """A turned body seen from the side: its radius falls from the belly to the hole's rim."""
    a, b, hole = solid.across_px / 2.0, solid.along_px / 2.0, solid.hole_px * 0.44
    t = np.minimum(np.abs(v) / b, np.float32(0.9995))
    base = 1.0 - t**along
    radius = hole + (a - hole) * base ** (1.0 / across)
    slope = -(a - hole) * along / (across * b) * base ** (1.0 / across - 1.0) * t ** (along - 1.0)
    slope = np.maximum(slope, np.float32(-6.0)) * np.sign(v)
    inside = (np.abs(v) <= b) & (np.abs(u) < radius)
    z = np.sqrt(np.maximum(radius * radius - u * u, 0.0))
    core = np.sqrt(np.maximum(hole * hole - u * u, 0.0))
    return local(
        inside,
        (u + 0 * v, -radius * slope, np.maximum(z, np.float32(1e-3))),
        path=(z - core) / a,
        core=(1.0 - smooth(0.9, 1.02, np.abs(u) / hole)) + 0 * v,
        touch=smooth(0.72, 1.0, t) + 0 * u,
    )


def ring(solid: Solid, u: Floats, v: Floats, across: float, along: float) -> Local:
    """A turned body seen down its hole: a ring, the hole dark, the thread coming out over it."""
    a, b, hole = solid.across_px / 2.0, solid.along_px / 2.0, solid.hole_px / 2.0
    hole = min(hole, 0.4 * a)
    rho = np.hypot(u, v)
    s = np.clip((rho - hole) / (a - hole), 0.0005, 0.9995)
    # The outer wall falls as the barrel's side does; the inner lip is rounded off as well.
    outer = (1.0 - s**across) ** (1.0 / along)
    fall = -(across / along) * s ** (across - 1.0) * (1.0 - s**across) ** (1.0 / along - 1.0)
    lip = 1.0 - np.clip((rho - hole) / (0.34 * (a - hole)), 0.0, 1.0)
    slope = np.clip(fall * b / (a - hole), -8.0, 0.0) + 1.6 * lip * lip
    safe = np.maximum(rho, np.float32(1e-4))
    in_hole = (rho < hole).astype(np.float32)
    thread = turning_thread(solid, u, v, hole)
    return local(
        rho <= a,
        (-slope * u / safe, -slope * v / safe, np.ones_like(rho)),
        path=outer * b / a,
        core=in_hole,
        hole=in_hole,
        thread=thread,
    )


def turning_thread(solid: Solid, u: Floats, v: Floats, hole: float) -> Floats:
    """The loop of thread from the bead above over the ring's upper edge into its hole."""
    width = 0.07 * solid.across_px
    strand = (np.abs(u) < width / 2.0) & (v < -0.45 * hole) & (v > -solid.across_px / 2.0)
    # A round strand, lit from the left, that darkens where it dips into the hole.
    lit = 1.0 - 0.75 * np.clip(2.0 * u / width + 0.35, -1.0, 1.0) ** 2
    dip = 1.0 - 0.7 * smooth(-1.1 * hole, -0.45 * hole, v)
    return np.where(strand, np.maximum(lit * dip, 0.02), 0.0).astype(np.float32)


def round_bead(solid: Solid, u: Floats, v: Floats) -> Local:
    """A seed bead: a plump ring, about two thirds as long as it is wide."""
    shape = ring if solid.pose is Pose.END else barrel
    return shape(solid, u, v, _ROUND_ACROSS, _ROUND_ALONG)


def cylinder(solid: Solid, u: Floats, v: Floats) -> Local:
    """A cut tube with straight sides and short, sharp shoulders."""
    if solid.pose is Pose.END:
        return ring(solid, u, v, 4.0, 3.0)
    return barrel(solid, u, v, _CYLINDER_ACROSS, _CYLINDER_ALONG)


def drop(solid: Solid, u: Floats, v: Floats) -> Local:
    """A teardrop: its hole runs across the narrow end, its belly hangs."""
    a, b = solid.across_px / 2.0, solid.along_px / 2.0
    w = np.clip(v / b, -0.9995, 0.9995)
    tilt = 0.42
    round_off = np.sqrt(1.0 - w * w)
    widest = 0.5 * (1.0 + tilt * 0.34)
    radius = a * round_off * (0.5 + 0.5 * tilt * w) / widest
    slope = (
        (a / widest)
        * (0.5 * tilt * round_off - (0.5 + 0.5 * tilt * w) * w / np.maximum(round_off, 0.04))
        / b
    )
    z = np.sqrt(np.maximum(radius * radius - u * u, 0.0))
    inside = (np.abs(v) <= b) & (np.abs(u) < radius)
    across_hole = np.abs(v + 0.52 * b) < solid.hole_px * 0.4
    return local(
        inside,
        (u + 0 * v, -radius * slope, np.maximum(z, 1e-3)),
        path=z / a,
        core=across_hole.astype(np.float32) + 0 * u,
        touch=smooth(0.8, 1.0, -v / b) + 0 * u,
    )
