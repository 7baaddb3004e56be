"""A bead as a solid to be looked at, in its own axes: u across the hole, v along it, z to us."""

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from gallery.scene import Pose
from palettes.forms import Form

# float32 throughout; the alias is wider because numpy's stubs lose the width in mixed sums.
Floats = NDArray[np.floating[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A bead to be looked at: form, pose, turn, and sizes in pixels."""

    form: Form
    pose: Pose
    turn_deg: float
    across_px: float
    along_px: float
    hole_px: float

    @property
    def reach_px(self) -> float:
        """The farthest that any part of the picture lies from the centre."""
        if self.pose is Pose.END and self.form is not Form.CUBE:
            return self.across_px / 2.0
        return math.hypot(self.across_px, self.along_px) / 2.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Local:
    """A surface in the bead's own axes, before it is turned."""

    cover: Floats
    nu: Floats
    nv: Floats
    nz: Floats
    path: Floats
    core: Floats
    touch: Floats
    hole: Floats
    thread: Floats


def smooth(low: float, high: float, x: Floats) -> Floats:
    """A soft step from 0 at ``low`` to 1 at ``high``."""
    t = (x - np.float32(low)) / np.float32(high - low)
    t = np.minimum(np.maximum(t, np.float32(0.0)), np.float32(1.0))
    step: Floats = t * t * (3.0 - 2.0 * t)
    return step


def local(
    inside: NDArray[np.bool_], normal: tuple[Floats, Floats, Floats], **maps: Floats
) -> Local:
    """A surface from where it is, its normals of any length, and its maps; those left out are 0."""
    nu, nv, nz = normal
    size = np.sqrt(nu * nu + nv * nv + nz * nz) + np.float32(1e-9)
    zero = np.zeros(inside.shape, np.float32)
    full = {"core": zero, "touch": zero, "hole": zero, "thread": zero} | maps
    return Local(cover=inside.astype(np.float32), nu=nu / size, nv=nv / size, nz=nz / size, **full)
