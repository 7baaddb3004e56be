"""How well the colours of a row stand apart, neighbour by neighbour."""

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from explorer.contrast_compare import Apart, compare
from explorer.errors import BriefError
from explorer.hexes import parse_colours
from palettes.finishes import Finish, is_range, met_range
from palettes.lights import Light, parse_light
from palettes.sizes import HAND_M, ROOM_M, TABLE_M
from palettes.spaces import FloatArray, hex_to_srgb1
from palettes.viewing import TYPICAL_DAYLIGHT, Condition, conditions
from palettes.vision import Viewer, parse_viewer

# Chosen by us: the width of seven dangles on small cubes, for colours that belong to no piece yet.
TYPICAL_MOTIF_MM = 14.0
DISTANCES_M = (HAND_M, TABLE_M, ROOM_M)
# Chosen by us: nobody judges a bead farther off than a street is wide, or closer than the eye.
NEAREST_M, FARTHEST_M = 0.05, 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PairJudgement(Apart):
    """Two neighbours and how far apart they look.

    Attributes:
        i: the place of one in the strip, from 0.
        j: the place of the other.
    """

    i: int
    j: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """Colours in strip order, judged neighbour by neighbour.

    Attributes:
        pairs: every two neighbours, in strip order; empty for one colour.
        weakest: the smallest CIEDE2000 among ``pairs`` for typical eyes in daylight; None for one
            colour.
        weakest_pair: the places of that pair, the first at a tie.
        worst: the smallest among ``pairs`` over all chosen conditions; None for one colour.
        worst_pair: the places of that pair, the first at a tie.
        worst_look: the condition that gives it.
        closure_pair: last with first, which meet over the closure; None for one colour.
    """

    pairs: tuple[PairJudgement, ...]
    weakest: float | None
    weakest_pair: tuple[int, int] | None
    worst: float | None
    worst_pair: tuple[int, int] | None
    worst_look: Condition | None
    closure_pair: PairJudgement | None


def looks_of(see: str = "typical", light: str = "daylight") -> tuple[Condition, ...]:
    """The conditions that a maker typed, such as ``typical,deutan:0.6`` and ``daylight,led``.

    Args:
        see: viewers, with commas between.
        light: lights, with commas between.

    Raises:
        BriefError: a viewer or a light that is none.
    """
    viewers: list[Viewer] = []
    lights: list[Light] = []
    try:
        viewers += [parse_viewer(text) for text in see.split(",")]
    except ValueError as error:
        wanted = "typical, protan, deutan, tritan or grey, each with a severity such as deutan:0.6"
        raise BriefError("see", see, wanted, f"Mend this: {error}.") from error
    try:
        lights += [parse_light(text) for text in light.split(",")]
    except ValueError as error:
        wanted = "daylight, lamplight, fluorescent or led"
        raise BriefError("light", light, wanted, f"Mend this: {error}.") from error
    return conditions(viewers, lights)


def checked_distance(distance_m: float, field: str = "distance") -> float:
    """A viewing distance that a maker asked for.

    Raises:
        BriefError: no number, or none between ``NEAREST_M`` and ``FARTHEST_M``.
    """
    if not NEAREST_M <= distance_m <= FARTHEST_M:
        raise BriefError(
            field,
            distance_m,
            f"{NEAREST_M:g} to {FARTHEST_M:g} m",
            "Give the distance between eye and piece, such as 1 m.",
        )
    return distance_m


def distances_with(distance_m: float | None) -> tuple[float, ...]:
    """Hand, table and room, and the maker's own distance if it is another; nearest first."""
    own = () if distance_m is None else (checked_distance(distance_m),)
    return tuple(sorted({*DISTANCES_M, *own}))


def judge_colours(
    hexes: Sequence[str],
    *,
    looks: Sequence[Condition] = (TYPICAL_DAYLIGHT,),
    finishes: Sequence[Finish] = (),
    backing: str | None = None,
    motif_width_mm: float = TYPICAL_MOTIF_MM,
    distance_m: float | None = None,
) -> Judgement:
    """How well each colour of a row stands apart from the next.

    Args:
        hexes: colours in strip order.
        looks: whose eyes and which lights.
        finishes: one a colour, or none: then all are opaque.
        backing: the hex of what lies behind the beads; without it every colour counts as it is.
        motif_width_mm: the width of each, for the distances.
        distance_m: one more distance to count noticeable differences at.

    Raises:
        BriefError: no colour, one that is none, or a width or distance that cannot be.
        ValueError: no condition; as many finishes as colours are wanted, or none.
    """
    spelled = parse_colours(hexes)
    distances_m = distances_with(distance_m)
    if not 0.5 <= motif_width_mm <= 1000.0:
        raise BriefError(
            "motif-width", motif_width_mm, "0.5 to 1000 mm", "Give a motif's width, such as 14 mm."
        )
    if finishes and len(finishes) != len(spelled):
        raise ValueError(f"{len(spelled)} colours have {len(spelled)} finishes; got {finishes!r}")
    count = len(spelled)
    if count < 2:
        return Judgement(
            pairs=(),
            weakest=None,
            weakest_pair=None,
            worst=None,
            worst_pair=None,
            worst_look=None,
            closure_pair=None,
        )
    met_srgb1 = met_colours(spelled, finishes or (Finish.OPAQUE,) * count, backing)
    following = np.roll(met_srgb1, -1, axis=1)
    results = compare(
        met_srgb1[1],
        following[1],
        widths_mm=np.full(count, motif_width_mm),
        looks=looks,
        distances_m=distances_m,
        ranges=(met_srgb1, following) if any(map(is_range, finishes)) else None,
    )
    judged = tuple(pair_judgement(result, i, (i + 1) % count) for i, result in enumerate(results))
    weakest = min(judged[:-1], key=lambda pair: pair.delta_e_2000)
    worst = min(judged[:-1], key=lambda pair: pair.worst)
    return Judgement(
        pairs=judged[:-1],
        weakest=weakest.delta_e_2000,
        weakest_pair=(weakest.i, weakest.j),
        worst=worst.worst,
        worst_pair=(worst.i, worst.j),
        worst_look=worst.worst_look,
        closure_pair=judged[-1],
    )


def met_colours(
    hexes: Sequence[str], finishes: Sequence[Finish], backing: str | None
) -> FloatArray:
    """What the eye meets on beads of these colours and finishes.

    Args:
        hexes: the picked colours.
        finishes: one a colour.
        backing: the hex of what lies behind; without it only metallic and rainbow beads differ
            from their picked colour, by their range.

    Returns:
        One end, the middle and the other end of each bead's colours as sRGB, (3, n, 3).

    Raises:
        BriefError: the backing is no colour.
    """
    behind = None if backing is None else hex_to_srgb1(parse_colours((backing,), "backing")[0])
    met: list[FloatArray] = []
    for text, finish in zip(hexes, finishes, strict=True):
        picked = hex_to_srgb1(text)
        if behind is None and not is_range(finish):
            met.append(np.stack([picked, picked, picked]))
        else:
            met.append(met_range(picked, finish, picked if behind is None else behind))
    return np.stack(met, axis=1)


def pair_judgement(apart: Apart, i: int, j: int) -> PairJudgement:
    """The numbers of a pair with the places that they belong to."""
    values = {field.name: getattr(apart, field.name) for field in fields(Apart)}
    return PairJudgement(i=i, j=j, **values)
