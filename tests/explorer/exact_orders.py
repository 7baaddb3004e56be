"""An exact search for orders that shares nothing with ours, and a measure by another library.

It asks of a woven piece whether any order of its colours has all neighbours farther apart than a
limit: every order one after the other up to ``EVERY_ORDER`` motifs, and beyond that the same walk
with a memory of what is left to use, bounded in steps.
"""

import warnings

import numpy as np
from numpy.typing import NDArray

from explorer.design import Column, Design
from explorer.propose import Proposal
from explorer.sequence_types import Arrangement

with warnings.catch_warnings():
    # It warns that its plotting part is missing, which nothing here uses.
    warnings.simplefilter("ignore")
    import colour

EVERY_ORDER = 8
STEPS = 20_000
Matrix = NDArray[np.float64]


def motif_lab(design: Design, motif: tuple[Column, ...]) -> Matrix:
    """L*a*b* of a motif as seen, by colour-science: its beads' light weighed by their faces."""
    beads = [design.beads[number] for column in motif for number in column.beads]
    srgb = np.array(
        [[int(bead.hex[at : at + 2], 16) / 255.0 for at in (1, 3, 5)] for bead in beads]
    )
    faces = np.array([bead.kind.diameter_mm * bead.kind.pitch_mm for bead in beads])
    linear = (colour.models.eotf_sRGB(srgb) * (faces / faces.sum())[:, None]).sum(axis=0)
    space = colour.RGB_COLOURSPACES["sRGB"]
    xyz = space.matrix_RGB_to_XYZ @ linear
    return np.asarray(colour.XYZ_to_Lab(xyz, space.whitepoint), dtype=np.float64)


def apart(one: Matrix, other: Matrix) -> float:
    """CIEDE2000 by colour-science."""
    return float(colour.delta_E(one, other, method="CIE 2000"))


def weakest(design: Design) -> float | None:
    """The weakest two neighbouring motifs of a woven piece; those of the same beads left out."""
    values = []
    for one, other in zip(design.motifs, design.motifs[1:], strict=False):
        first, second = (
            [design.beads[n] for c in motif for n in c.beads] for motif in (one, other)
        )
        mains = [max(row, key=row.count) for row in (first, second)]
        if set(first) == set(second) and mains[0] == mains[1]:
            continue
        values.append(apart(motif_lab(design, one), motif_lab(design, other)))
    return min(values, default=None)


def matrix_of(proposal: Proposal) -> Matrix:
    """How far apart the piece's colours look as its motifs, from one woven motif of each."""
    order, design = proposal.recipe.order, proposal.design
    colours = len(proposal.recipe.palette)
    labs = [motif_lab(design, design.motifs[order.index(c)]) for c in range(colours)]
    return np.array([[apart(a, b) if a is not b else 0.0 for b in labs] for a in labs])


class Puzzle:
    """Places to fill: which earlier places each one meets, and which it may not repeat.

    Args:
        proposal: its number of motifs, arrangement and colours.
        gap: motifs between two uses of a colour.
        fixed: pairs of motif and colour.
        counts: exact uses a motif, or None for every colour as often as the others.
    """

    def __init__(
        self,
        proposal: Proposal,
        gap: int,
        fixed: dict[int, int],
        counts: tuple[int, ...] | None,
    ) -> None:
        motifs, self.colours = len(proposal.recipe.order), len(proposal.recipe.palette)
        way = proposal.recipe.arrangement
        if way is Arrangement.UNIT:
            shows = [i % min(self.colours, motifs) for i in range(motifs)]
        elif way is Arrangement.MIRROR:
            shows = [min(i, motifs - 1 - i) for i in range(motifs)]
        elif way is Arrangement.BLOCKS:
            shows = [i * min(self.colours, motifs) // motifs for i in range(motifs)]
        else:
            shows = list(range(motifs))
        self.places = max(shows) + 1
        self.fixed = {shows[place]: colour for place, colour in fixed.items()}
        self.near: list[set[int]] = [set() for _ in range(self.places)]
        self.differ: list[set[int]] = [set() for _ in range(self.places)]
        for step in range(1, max(1, gap) + 1):
            for i in range(motifs - step):
                low, high = sorted((shows[i], shows[i + step]))
                if low == high and way in (Arrangement.MIRROR, Arrangement.BLOCKS):
                    continue
                self.differ[high].add(low)
                if step == 1:
                    self.near[high].add(low)
        self.weights = [shows.count(place) if counts else 1 for place in range(self.places)]
        if counts:
            self.least = self.most = counts
        else:
            self.least = (self.places // self.colours,) * self.colours
            self.most = (-(-self.places // self.colours),) * self.colours
        self.reach = max(
            (high - low for high in range(self.places) for low in self.differ[high]), default=0
        )


def exists(puzzle: Puzzle, matrix: Matrix, over: float) -> bool | None:
    """Whether some order has all neighbours farther apart than a limit; None where undecided."""
    return _Walk(puzzle, matrix > over).on(0)


class _Walk:
    """Fills one place after the other, and goes back where nothing fits."""

    def __init__(self, puzzle: Puzzle, allowed: NDArray[np.bool_]) -> None:
        self.puzzle, self.allowed = puzzle, allowed
        self.filled: list[int] = []
        self.left = list(puzzle.most)
        self.failed: set[tuple[int, ...]] = set()
        self.steps = 0
        # What a place may meet is remembered whole where places far apart meet, as in a unit.
        far = puzzle.reach > puzzle.places // 2
        self.keep = puzzle.places if far else puzzle.reach

    def on(self, place: int) -> bool | None:
        """Whether the places from here on can be filled; None where the steps ran out."""
        puzzle = self.puzzle
        if place == puzzle.places:
            used = (high - rest for high, rest in zip(puzzle.most, self.left, strict=True))
            return all(a >= low for a, low in zip(used, puzzle.least, strict=True))
        state = (place, *self.left, *self.filled[max(0, place - self.keep) :])
        if puzzle.places > EVERY_ORDER:
            if state in self.failed:
                return False
            self.steps += 1
            if self.steps > STEPS:
                return None
        for chosen in filter(lambda c: self._fits(place, c), range(puzzle.colours)):
            self.filled.append(chosen)
            self.left[chosen] -= puzzle.weights[place]
            answer = self.on(place + 1)
            self.filled.pop()
            self.left[chosen] += puzzle.weights[place]
            if answer is not False:
                return answer
        self.failed.add(state)
        return False

    def _fits(self, place: int, chosen: int) -> bool:
        puzzle = self.puzzle
        settled = puzzle.fixed.get(place, chosen) == chosen
        if not settled or self.left[chosen] < puzzle.weights[place]:
            return False
        if any(self.filled[before] == chosen for before in puzzle.differ[place]):
            return False
        return all(bool(self.allowed[self.filled[p], chosen]) for p in puzzle.near[place])
