"""Dangle lengths: families of profiles, each a plain shape as a function of place.

A profile is a tuple of dangle lengths in beads, from the start of a motif to its end.
"""

import math
from collections.abc import Callable, Sequence
from enum import StrEnum

from explorer.design import MOST_DANGLE_BEADS
from explorer.errors import BriefError

# Chosen by us: a motif of more dangles no longer reads as one on any strip that is worn.
MOST_WIDTH = 31
# Chosen by us: above the rounding of sines and roots, far below a bead.
_ROUNDING = 1e-9


class Shape(StrEnum):
    """The outline of a motif's lower edge, where a longer dangle reaches lower."""

    LEVEL = "level"  # all alike
    PEAK = "peak"  # straight flanks to the longest in the middle
    VALLEY = "valley"  # straight flanks to the shortest in the middle
    ARCH = "arch"  # half a circle, longest in the middle
    SCOOP = "scoop"  # half a circle, shortest in the middle
    BELL = "bell"  # soft at the ends and in the middle
    STEPS = "steps"  # stairs down to the middle, each tread two dangles wide
    TWIN_PEAKS = "twin peaks"  # two peaks with a valley between
    ZIGZAG = "zigzag"  # short and long in turn
    LONG_DROP = "long drop"  # one long in the middle of short ones
    SLOPE = "slope"  # from shortest to longest
    SWEEP = "sweep"  # a slope that starts slowly
    WAVE = "wave"  # one whole wave, so that neighbouring motifs run on


Height = Callable[[int, int], float]


def _from_middle(place: int, width: int) -> float:
    """0 at the middle place (at both of an even width), 1 at the outermost; exactly even."""
    odd = (width - 1) % 2
    outermost = width - 1 - odd
    return (abs(2 * place - (width - 1)) - odd) / outermost if outermost else 0.0


def _from_edge(place: int, width: int) -> int:
    return min(place, width - 1 - place)


def _along(place: int, width: int) -> float:
    return place / (width - 1) if width > 1 else 0.0


def _stairs(place: int, width: int) -> float:
    # Under five places there is no room for treads of two.
    tread = 2 if width >= 5 else 1
    return float(_from_edge(place, width) // tread)


def _twin(place: int, width: int) -> float:
    # Two peaks and a valley need five places; a narrower motif keeps the valley.
    d = _from_middle(place, width)
    return -abs(2.0 * d - 1.0) if width >= 5 else d


# Curves chosen by us, because each is the plainest that has its name.
_HEIGHTS: dict[Shape, Height] = {
    Shape.LEVEL: lambda _place, _width: 1.0,
    Shape.PEAK: lambda place, width: 1.0 - _from_middle(place, width),
    Shape.VALLEY: _from_middle,
    Shape.ARCH: lambda place, width: math.sqrt(1.0 - _from_middle(place, width) ** 2),
    Shape.SCOOP: lambda place, width: -math.sqrt(1.0 - _from_middle(place, width) ** 2),
    Shape.BELL: lambda place, width: math.cos(math.pi * _from_middle(place, width)),
    Shape.STEPS: _stairs,
    Shape.TWIN_PEAKS: _twin,
    Shape.ZIGZAG: lambda place, width: float(_from_edge(place, width) % 2),
    Shape.LONG_DROP: lambda place, width: float(_from_middle(place, width) == 0.0),
    Shape.SLOPE: _along,
    Shape.SWEEP: lambda place, width: _along(place, width) ** 2,
    Shape.WAVE: lambda place, width: math.sin(2.0 * math.pi * _along(place, width)),
}

# Rounding down keeps a point pointed; a curve keeps its roundness with the nearest bead.
_POINTED = frozenset({Shape.PEAK, Shape.VALLEY, Shape.TWIN_PEAKS})


def profile(shape: Shape, width: int, least: int, most: int) -> tuple[int, ...]:
    """The dangle lengths of a shape.

    The shape is stretched so that its longest dangle has ``most`` beads and its shortest
    ``least``; a length between two whole beads takes the shorter in a pointed shape and the nearer
    in a curved one. Where a shape has no two different heights (one place, or level), every dangle
    has ``most``.

    Args:
        shape: the outline.
        width: dangles in the motif, 1 to 31.
        least: beads of the shortest dangle, from 1.
        most: beads of the longest dangle, up to 200.

    Raises:
        BriefError: a number out of its range; nothing is clipped.
    """
    check_limits(width, least, most)
    heights = [_HEIGHTS[shape](place, width) for place in range(width)]
    low, high = min(heights), max(heights)
    if high - low < _ROUNDING:
        return (most,) * width
    rounding = _ROUNDING if shape in _POINTED else 0.5 + _ROUNDING
    scale = (most - least) / (high - low)
    return tuple(least + math.floor(scale * (height - low) + rounding) for height in heights)


def check_profile(lengths: Sequence[int]) -> tuple[int, ...]:
    """Dangle lengths as a maker typed them, as a profile.

    Raises:
        BriefError: no dangle, more than 31, or a length that is not 1 to 200 whole beads.
    """
    if not 1 <= len(lengths) <= MOST_WIDTH:
        raise BriefError(
            "profile",
            f"{len(lengths)} dangles",
            f"1 to {MOST_WIDTH} dangles a motif",
            "Write one number of beads for each dangle of one motif.",
        )
    for place, length in enumerate(lengths):
        if not whole(length) or not 1 <= length <= MOST_DANGLE_BEADS:
            raise BriefError(
                "profile",
                f"{length!r} for dangle {place + 1} of {len(lengths)}",
                f"whole numbers of beads from 1 to {MOST_DANGLE_BEADS}",
                "Give every dangle at least one bead, or make the motif narrower.",
            )
    return tuple(int(length) for length in lengths)


def whole(value: object) -> bool:
    """Whether a value is a whole number as a maker means it, so not True or False."""
    return isinstance(value, int) and not isinstance(value, bool)


def check_limits(width: int, least: int, most: int) -> None:
    """Refuse a width or limits that no profile can have.

    Raises:
        BriefError: as ``profile``.
    """
    if not whole(width) or not 1 <= width <= MOST_WIDTH:
        raise BriefError(
            "dangles", width, f"a whole number from 1 to {MOST_WIDTH}", "Choose another width."
        )
    if not whole(least) or not 1 <= least <= MOST_DANGLE_BEADS:
        raise BriefError(
            "least",
            least,
            f"a whole number of beads from 1 to {MOST_DANGLE_BEADS}",
            "Give the shortest dangle at least one bead.",
        )
    if not whole(most) or not least <= most <= MOST_DANGLE_BEADS:
        raise BriefError(
            "most",
            most,
            f"a whole number of beads from {least}, the shortest dangle, to {MOST_DANGLE_BEADS}",
            "Make the longest dangle at least as long as the shortest.",
        )
