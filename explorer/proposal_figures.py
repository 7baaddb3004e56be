"""The contrast figures of a proposal: its own, judged on the woven piece, and what was possible."""

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.candidates import Candidate
from explorer.contrast_piece import MotifsAsSeen, all_as_seen
from explorer.design import Design
from explorer.order_choice import ROUNDING
from palettes.beads import Bead


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What ``explorer.propose.Proposal`` tells of contrast; its docstring says what each means."""

    weakest: float | None
    weakest_pair: tuple[int, int] | None
    mean: float | None
    reads_apart_to_m: float | None
    repeats: tuple[tuple[int, int], ...]
    strongest: float | None
    strongest_proven: bool
    gave_up_for: str

    @property
    def proven(self) -> bool:
        """Whether no order of its colours does better than its own."""
        if self.weakest is None or self.strongest is None:
            return self.strongest_proven
        return self.strongest_proven and self.weakest >= self.strongest


def figures_of(
    candidates: Sequence[Candidate], designs: Sequence[Design], colours: Sequence[Bead]
) -> list[Figures]:
    """The figures of candidates.

    The search's proof is passed on only where the search reckoned with what the woven piece shows.

    Args:
        candidates: the recipes and what was found for them.
        designs: their pieces.
        colours: the brief's, which their palettes count in.
    """
    seen = all_as_seen(designs)
    return [_figures(*one, colours) for one in zip(candidates, seen, strict=True)]


def _figures(candidate: Candidate, seen: MotifsAsSeen, colours: Sequence[Bead]) -> Figures:
    found = candidate.found
    row = seen.weakest
    weakest = None if row is None else row.delta_e_2000
    reckoned = candidate.exact and _one_bead_a_colour(candidate, colours)
    reckoned = reckoned and _same(weakest, found.order.weakest)
    strongest = found.strongest if reckoned and not _same(weakest, found.strongest) else weakest
    return Figures(
        weakest=weakest,
        weakest_pair=None if row is None else (row.i, row.j),
        mean=seen.mean,
        reads_apart_to_m=None if row is None else row.reads_apart_to_m,
        repeats=seen.repeats,
        strongest=strongest,
        strongest_proven=reckoned and found.proven,
        gave_up_for=found.gave_up_for if reckoned else "",
    )


def _one_bead_a_colour(candidate: Candidate, colours: Sequence[Bead]) -> bool:
    """Whether no bead is in the palette twice: its motifs would repeat, unknown to the search."""
    palette = candidate.recipe.palette
    return len({colours[place] for place in palette}) == len(palette)


def _same(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) < ROUNDING
