"""How well the parts of a piece stand apart: motifs as seen, and in detail all else that meets.

The measure of a piece is *neighbouring motifs as seen*: two motifs side by side, each as the
average of its hanging beads in linear light, every bead weighed by the face that it shows. The
figure of a piece is its weakest two. Neighbours made of the very same beads repeat on purpose, as
in a mirror's middle and in blocks, and are told by themselves. Facing dangles, closure, base and
backing are details.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from enum import StrEnum
from itertools import islice, pairwise

import numpy as np

from explorer.contrast import distances_with, met_colours
from explorer.contrast_compare import Apart, compare
from explorer.design import Column, Design, motif_bead
from palettes.finishes import is_range
from palettes.spaces import (
    FloatArray,
    hex_to_srgb1,
    linear1_to_srgb1,
    srgb1_to_hex,
    srgb1_to_linear1,
)
from palettes.viewing import TYPICAL_DAYLIGHT, Condition


class Meeting(StrEnum):
    """Which two parts of a piece meet."""

    DANGLES = "dangles"  # the facing dangles of two motifs, as at hand's length
    MOTIFS = "motifs"  # two motifs, each as its average, as from farther off
    CLOSURE = "closure"  # the last motif and the first
    WITHIN = "within"  # two dangles of one motif that hold different beads
    BASE = "base"  # a motif and the base beads above it
    BACKING = "backing"  # a motif and what lies behind it


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours(Apart):
    """Two parts of a piece that meet, and how far apart they look.

    Attributes:
        meeting: which kind of parts.
        i: the motif, from 0.
        j: the other motif; the same one for ``within``, ``base`` and ``backing``.
        columns: the two dangles' places within motif i, for ``within``.
        left_hex: the colour met on the one side.
        right_hex: the colour met on the other.
        alike_by_choice: both sides hold the very same beads; of motifs, the same main bead and the
            same set of beads, however many of each.
    """

    meeting: Meeting
    i: int
    j: int
    columns: tuple[int, int] | None
    left_hex: str
    right_hex: str
    alike_by_choice: bool


def weakest_of(rows: Sequence[Neighbours]) -> Neighbours | None:
    """The weakest two neighbouring motifs, the first at a tie; None where all repeat, or none is.

    Args:
        rows: neighbouring motifs as seen.
    """
    judged = (row for row in rows if not row.alike_by_choice)
    return min(judged, key=lambda row: row.worst, default=None)


def repeats_of(rows: Sequence[Neighbours]) -> tuple[tuple[int, int], ...]:
    """Places of the neighbouring motifs that repeat the same beads, in strip order."""
    return tuple(sorted((row.i, row.j) for row in rows if row.alike_by_choice))


@dataclass(frozen=True, slots=True, kw_only=True)
class MotifsAsSeen:
    """Neighbouring motifs as seen: where every contrast figure of a piece comes from.

    Attributes:
        rows: every two neighbouring motifs, in strip order; empty for one motif.
    """

    rows: tuple[Neighbours, ...]

    @property
    def weakest(self) -> Neighbours | None:
        """The weakest two; None for one motif, or where all neighbours repeat."""
        return weakest_of(self.rows)

    @property
    def repeats(self) -> tuple[tuple[int, int], ...]:
        """Places of the neighbours that repeat the same beads, in strip order."""
        return repeats_of(self.rows)

    @property
    def mean(self) -> float | None:
        """The mean CIEDE2000 of the judged neighbours; None where there are none."""
        judged = [row.worst for row in self.rows if not row.alike_by_choice]
        return sum(judged) / len(judged) if judged else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceJudgement:
    """A piece judged; every row is sorted with the weakest first.

    Attributes:
        motifs: neighbouring motifs, each as its average, those that repeat last; empty for one
            motif.
        dangles: the same neighbours by the dangles that face each other.
        closure: the last motif and the first, which meet over the closure; None for one motif.
        within: neighbouring dangles of one motif whose beads differ.
        base: motifs against the base beads above them.
        backing: motifs against what lies behind; empty if no backing was named.
        looks: the conditions judged.
    """

    motifs: tuple[Neighbours, ...]
    dangles: tuple[Neighbours, ...]
    closure: Neighbours | None
    within: tuple[Neighbours, ...]
    base: tuple[Neighbours, ...]
    backing: tuple[Neighbours, ...]
    looks: tuple[Condition, ...]

    @property
    def weakest(self) -> Neighbours | None:
        """The weakest two neighbouring motifs as seen; None for one motif, or where all repeat."""
        return weakest_of(self.motifs)

    @property
    def repeats(self) -> tuple[tuple[int, int], ...]:
        """Places of the neighbouring motifs that repeat the same beads, in strip order."""
        return repeats_of(self.motifs)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """Two sides that meet, each as the beads that make up its colour; -1 is the backing.

    Of motifs ``repeats`` says whether they are made of the same beads.
    """

    meeting: Meeting
    i: int
    j: int
    left: tuple[int, ...]
    right: tuple[int, ...]
    width_mm: float
    columns: tuple[int, int] | None = None
    repeats: bool | None = None


_BACKING = (-1,)


def motifs_as_seen(
    design: Design,
    *,
    looks: Sequence[Condition] = (TYPICAL_DAYLIGHT,),
    backing: str | None = None,
) -> MotifsAsSeen:
    """Every two neighbouring motifs as seen, by the same reckoning as ``judge_piece``.

    Args:
        design: the piece.
        looks: whose eyes and which lights.
        backing: as for ``judge_piece``.

    Raises:
        BriefError: the backing is no colour.
        ValueError: no condition.
    """
    return all_as_seen((design,), looks=looks, backing=backing)[0]


def all_as_seen(
    designs: Sequence[Design],
    *,
    looks: Sequence[Condition] = (TYPICAL_DAYLIGHT,),
    backing: str | None = None,
) -> tuple[MotifsAsSeen, ...]:
    """``motifs_as_seen`` of many pieces at once, which takes little longer than of one."""
    sides = [
        _sides(design, [p for p in _motif_pairs(design) if p.meeting is Meeting.MOTIFS], backing)
        for design in designs
    ]
    rows = iter(_compared(sides, looks, ()))
    return tuple(MotifsAsSeen(rows=tuple(islice(rows, len(side.pairs)))) for side in sides)


def judge_piece(
    design: Design,
    *,
    looks: Sequence[Condition] = (TYPICAL_DAYLIGHT,),
    backing: str | None = None,
    distance_m: float | None = None,
) -> PieceJudgement:
    """How well everything that meets on a piece stands apart.

    A side's colour is the average of its beads in linear light, each weighed by the face that it
    shows (across times along): that is what the eye takes in where single beads fuse. Dangles that
    face each other count only as deep as both hang.

    Args:
        design: the piece.
        looks: whose eyes and which lights.
        backing: the hex of skin, cloth or card behind the piece; without it every bead's colour
            counts as picked.
        distance_m: one more distance to count noticeable differences at.

    Raises:
        BriefError: the backing is no colour, or the distance cannot be.
        ValueError: no condition.
    """
    pairs = _motif_pairs(design) + _dangle_pairs(design) + _within_pairs(design)
    pairs += _ground_pairs(design, with_backing=backing is not None)
    rows = _compared([_sides(design, pairs, backing)], looks, distances_with(distance_m))
    rows.sort(key=lambda row: (row.meeting is Meeting.MOTIFS and row.alike_by_choice, row.worst))
    by_meeting = {kind: tuple(row for row in rows if row.meeting is kind) for kind in Meeting}
    return PieceJudgement(
        motifs=by_meeting[Meeting.MOTIFS],
        dangles=by_meeting[Meeting.DANGLES],
        closure=next(iter(by_meeting[Meeting.CLOSURE]), None),
        within=by_meeting[Meeting.WITHIN],
        base=by_meeting[Meeting.BASE],
        backing=by_meeting[Meeting.BACKING],
        looks=tuple(looks),
    )


@dataclass(frozen=True, slots=True)
class _Sides:
    """Pairs of one piece with both sides' colours, one end, middle and other end, (3, p, 3)."""

    pairs: list[_Pair]
    hexes: list[tuple[str, str]]
    left: FloatArray
    right: FloatArray
    play: bool


def _sides(design: Design, pairs: list[_Pair], backing: str | None) -> _Sides:
    if not pairs:
        return _Sides([], [], np.empty((3, 0, 3)), np.empty((3, 0, 3)), play=False)
    ends = _face_ranges(design, pairs, backing)
    left = np.stack([ends[pair.left] for pair in pairs], axis=1)
    right = np.stack([ends[pair.right] for pair in pairs], axis=1)
    named = {beads: srgb1_to_hex(end[1]) for beads, end in ends.items()}
    hexes = [(named[pair.left], named[pair.right]) for pair in pairs]
    play = any(is_range(bead.finish) for bead in design.beads)
    return _Sides(pairs, hexes, left, right, play)


def _compared(
    sides: Sequence[_Sides], looks: Sequence[Condition], distances_m: Sequence[float]
) -> list[Neighbours]:
    """The pairs of all pieces with their figures, in their order."""
    pairs = [pair for side in sides for pair in side.pairs]
    left = np.concatenate([side.left for side in sides], axis=1)
    right = np.concatenate([side.right for side in sides], axis=1)
    results = compare(
        left[1],
        right[1],
        widths_mm=np.array([pair.width_mm for pair in pairs]),
        looks=looks,
        distances_m=distances_m,
        ranges=(left, right) if any(side.play for side in sides) else None,
    )
    hexes = [both for side in sides for both in side.hexes]
    return [_row(*one) for one in zip(pairs, results, hexes, strict=True)]


def _row(pair: _Pair, apart: Apart, hexes: tuple[str, str]) -> Neighbours:
    same = sorted(pair.left) == sorted(pair.right) if pair.repeats is None else pair.repeats
    return Neighbours(
        meeting=pair.meeting,
        i=pair.i,
        j=pair.j,
        columns=pair.columns,
        left_hex=hexes[0],
        right_hex=hexes[1],
        alike_by_choice=same,
        **{field.name: getattr(apart, field.name) for field in fields(Apart)},
    )


def _hanging(motif: tuple[Column, ...]) -> tuple[int, ...]:
    return tuple(sorted(bead for column in motif for bead in column.beads))


def _repeat(design: Design, one: tuple[Column, ...], other: tuple[Column, ...]) -> bool:
    """Whether two motifs are made of the same beads, whatever their numbers and profiles."""
    main, second = motif_bead(one), motif_bead(other)
    if main != second and design.beads[main] != design.beads[second]:
        return False
    numbers, others = ({n for column in motif for n in column.beads} for motif in (one, other))
    # A bead may stand among a design's beads twice, so that its number alone does not tell.
    same = numbers == others
    return same or {design.beads[n] for n in numbers} == {design.beads[n] for n in others}


def _widths_mm(design: Design) -> list[float]:
    """How long the strip is over each motif."""
    found, at = [], design.margins[0]
    for gap, width in zip(design.divider_widths, design.motif_widths, strict=False):
        found += design.along_mm((width,), at + gap)
        at += gap + width
    return found


def _motif_pairs(design: Design) -> list[_Pair]:
    """Neighbouring motifs, and the pair over the closure."""
    faces = [_hanging(motif) for motif in design.motifs]
    widths = _widths_mm(design)
    count = len(faces)
    return [
        _Pair(
            meeting=Meeting.MOTIFS if i + 1 < count else Meeting.CLOSURE,
            i=i,
            j=(i + 1) % count,
            left=faces[i],
            right=faces[(i + 1) % count],
            width_mm=min(widths[i], widths[(i + 1) % count]),
            repeats=_repeat(design, design.motifs[i], design.motifs[(i + 1) % count]),
        )
        for i in range(count if count > 1 else 0)
    ]


def _dangle_pairs(design: Design) -> list[_Pair]:
    """The dangles of neighbouring motifs that face each other over a divider or none."""
    return [
        _facing(design, Meeting.DANGLES, (i, i + 1), first[-1], second[0], None)
        for i, (first, second) in enumerate(pairwise(design.motifs))
    ]


def _within_pairs(design: Design) -> list[_Pair]:
    """Neighbouring dangles of one motif, where they differ in beads."""
    pairs = [
        _facing(design, Meeting.WITHIN, (i, i), first, second, (place, place + 1))
        for i, motif in enumerate(design.motifs)
        if len(set(_hanging(motif))) > 1
        for place, (first, second) in enumerate(pairwise(motif))
    ]
    return [pair for pair in pairs if pair.left != pair.right]


def _facing(
    design: Design,
    meeting: Meeting,
    motifs: tuple[int, int],
    first: Column,
    second: Column,
    columns: tuple[int, int] | None,
) -> _Pair:
    deep = min(len(first.beads), len(second.beads))
    left, right = tuple(sorted(first.beads[:deep])), tuple(sorted(second.beads[:deep]))
    return _Pair(
        meeting=meeting,
        i=motifs[0],
        j=motifs[1],
        left=left,
        right=right,
        width_mm=min(design.beads[bead].kind.diameter_mm for bead in left + right),
        columns=columns,
    )


def _ground_pairs(design: Design, *, with_backing: bool) -> list[_Pair]:
    """Each motif against its base beads, and against the backing if there is one."""
    pairs = []
    for i, (motif, width_mm) in enumerate(zip(design.motifs, _widths_mm(design), strict=True)):
        grounds = [(Meeting.BASE, tuple(sorted(column.base for column in motif)))]
        if with_backing:
            grounds.append((Meeting.BACKING, _BACKING))
        pairs += [
            _Pair(
                meeting=meeting,
                i=i,
                j=i,
                left=_hanging(motif),
                right=ground,
                width_mm=width_mm,
            )
            for meeting, ground in grounds
        ]
    return pairs


def _face_ranges(
    design: Design, pairs: list[_Pair], backing: str | None
) -> dict[tuple[int, ...], FloatArray]:
    """One end, middle and other end of the colour of every side in use, (3, 3) each."""
    met = met_colours(
        [bead.hex for bead in design.beads], [bead.finish for bead in design.beads], backing
    )
    light = srgb1_to_linear1(met)
    shown = np.array([bead.kind.diameter_mm * bead.kind.pitch_mm for bead in design.beads])
    ends: dict[tuple[int, ...], FloatArray] = {}
    for beads in {side for pair in pairs for side in (pair.left, pair.right)}:
        if beads == _BACKING:
            behind = hex_to_srgb1(backing or "#000000")
            ends[beads] = np.stack([behind, behind, behind])
            continue
        numbers, counts = np.unique(beads, return_counts=True)
        weights = counts * shown[numbers]
        mean = np.einsum("n,rnc->rc", weights / weights.sum(), light[:, numbers])
        # One bead's colour stays exactly itself, free of rounding.
        ends[beads] = met[:, numbers[0]] if len(numbers) == 1 else linear1_to_srgb1(mean)
    return ends
