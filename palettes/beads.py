"""Beads as the maker holds them: a kind with its sizes, and a bead of that kind in a colour."""

import math
from dataclasses import dataclass

from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import parse_hex

# Chosen by us: from a tenth of the smallest seed bead to a bead wider than a wrist. Beyond it a
# figure is a slip, and a picture of it would have no bound.
_SIZES_MM = (0.05, 100.0)
_HOLES_MM = (0.01, 100.0)
_BEADS_PER_GRAM = (0.001, 100_000.0)


def _check(name: str, value: float, bounds: tuple[float, float]) -> None:
    if not (math.isfinite(value) and bounds[0] <= value <= bounds[1]):
        raise ValueError(f"{name} is a number from {bounds[0]:g} to {bounds[1]:g}; got {value!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadKind:
    """A shape in a size, with the figures that sizing, counting and drawing need.

    Attributes:
        name: the trade's generic name, such as ``round 11/0``.
        form: the shape.
        diameter_mm: across the hole (the side, for a cube).
        pitch_mm: along the hole, as strung beads measure.
        hole_mm: the hole's diameter.
        beads_per_gram: how many weigh a gram, give or take a tenth.
        ladder_pitch_mm: the strip's length per base bead of this kind.
    """

    name: str
    form: Form
    diameter_mm: float
    pitch_mm: float
    hole_mm: float
    beads_per_gram: float
    ladder_pitch_mm: float

    def __post_init__(self) -> None:
        for name in ("diameter_mm", "pitch_mm", "ladder_pitch_mm"):
            _check(f"{name} of {self.name}", getattr(self, name), _SIZES_MM)
        _check(f"hole_mm of {self.name}", self.hole_mm, _HOLES_MM)
        _check(f"beads_per_gram of {self.name}", self.beads_per_gram, _BEADS_PER_GRAM)
        if self.hole_mm >= self.diameter_mm:
            raise ValueError(f"the hole of {self.name} is as wide as the bead: {self.hole_mm} mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bead:
    """A bead in a colour.

    Attributes:
        name: what the maker calls the colour.
        kind: shape and size.
        hex: the colour in daylight as lowercase ``#rrggbb``.
        finish: the finish.
    """

    name: str
    kind: BeadKind
    hex: str
    finish: Finish = Finish.OPAQUE

    def __post_init__(self) -> None:
        if parse_hex(self.hex) != self.hex:
            raise ValueError(f"a bead's colour is spelled {parse_hex(self.hex)}; got {self.hex!r}")
