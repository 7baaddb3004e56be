"""What a bead looks like but for its colour, and the bounded stores that keep work done for it."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Concatenate, ParamSpec, TypeVar, cast

from gallery.scene import Pose
from gallery.solids import Solid
from palettes.finishes import Finish
from palettes.forms import Form

# Below the first size all places within a pixel are made together, which costs little more than
# one; above the second a picture takes so much memory that few are kept. By
# trial.
SMALL_PX = 14.0
MIDDLE_PX = 64.0

# Between these sizes four samples a pixel each way can be told from three; by eye.
_TINY_PX, _MANY_PX = 6.5, 48.0

# How much wider than the bead a forward bead's picture is, with the shadow it casts; by eye.
_CAST_REACH = 1.3


@dataclass(frozen=True, slots=True)
class Look:
    """What a bead looks like but for its colour; sizes in pixels.

    ``casts`` is for beads that stand forward: they darken the beads behind them.
    """

    form: Form
    pose: Pose
    finish: Finish
    turn_deg: float
    across_px: float
    along_px: float
    hole_px: float
    casts: bool = False

    @property
    def cells(self) -> int:
        """The side of the picture in pixels, with a cell to spare for places within a pixel."""
        reach = self.solid().reach_px
        return 2 * math.ceil(reach * (_CAST_REACH if self.casts else 1.0) + 0.75)

    @property
    def fine(self) -> int:
        """Samples a pixel each way; fewer for large beads, whose edges are few, and tiny ones."""
        return 4 if _TINY_PX < self.across_px <= _MANY_PX else 3

    def solid(self) -> Solid:
        """The bead as a shape."""
        return Solid(
            form=self.form,
            pose=self.pose,
            turn_deg=self.turn_deg,
            across_px=self.across_px,
            along_px=self.along_px,
            hole_px=self.hole_px,
        )


P = ParamSpec("P")
R = TypeVar("R")


def kept_by_size(
    *, small: int, middle: int, large: int
) -> Callable[[Callable[Concatenate[Look, P], R]], Callable[Concatenate[Look, P], R]]:
    """Keeps a pure function's results by its arguments, fewer the larger the look.

    Args:
        small: how many results to keep for looks up to ``SMALL_PX`` across.
        middle: up to ``MIDDLE_PX``.
        large: beyond.
    """

    def keeper(function: Callable[Concatenate[Look, P], R]) -> Callable[Concatenate[Look, P], R]:
        # lru_cache's type asks for hashable arguments, which a parameter list cannot promise.
        plain = cast("Callable[..., R]", function)
        stores = tuple(lru_cache(maxsize=size)(plain) for size in (small, middle, large))

        def kept(look: Look, /, *args: P.args, **kwargs: P.kwargs) -> R:
            size = look.across_px
            store = stores[0 if size <= SMALL_PX else 1 if size <= MIDDLE_PX else 2]
            return cast("Callable[..., R]", store)(look, *args, **kwargs)

        return kept

    return keeper
