"""How many beads of each there are in a piece, and how many to count out."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from explorer.design import Column, Design, Part

# Chosen by us, because it is more than any bag holds.
_MOST_SPARES = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Spares:
    """The maker's rule for beads beyond the piece's own.

    Attributes:
        percent: of each bead's count, rounded up (default 10, from memory; 15-20 for children).
        least: at least so many of every bead that is used (default 5, from memory).
    """

    percent: float = 10.0
    least: int = 5

    def __post_init__(self) -> None:
        if not (math.isfinite(self.percent) and 0.0 <= self.percent <= 1000.0):
            raise ValueError(f"spares are 0 to 1000 percent; got {self.percent!r}")
        if not 0 <= self.least <= _MOST_SPARES:
            raise ValueError(f"the least spares are 0 to {_MOST_SPARES}; got {self.least!r}")

    def of(self, count: int) -> int:
        """Spares for so many beads; none where none are used."""
        if count == 0:
            return 0
        # The small step back keeps 2.2 % of 1500 at 33, whatever the float's last digit.
        return max(math.ceil(count * self.percent / 100.0 - 1e-9), self.least)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeadCount:
    """One bead's part in the piece; ``bead`` is its number in ``Design.beads``."""

    bead: int
    base: int
    dangles: int
    dividers: int
    links: int
    spares: int

    @property
    def used(self) -> int:
        """Beads in the piece."""
        return self.base + self.dangles + self.dividers + self.links

    @property
    def to_count_out(self) -> int:
        """Beads in the piece and spares."""
        return self.used + self.spares


@dataclass(frozen=True, slots=True, kw_only=True)
class MotifCount:
    """One motif: its base beads and its dangle beads as (bead number, count), first seen first."""

    motif: int
    base_beads: int
    dangles: int
    dangle_beads: tuple[tuple[int, int], ...]

    @property
    def beads(self) -> int:
        """Beads in the motif's dangles."""
        return sum(count for _, count in self.dangle_beads)


@dataclass(frozen=True, slots=True, kw_only=True)
class Counts:
    """The beads of a piece.

    Attributes:
        by_bead: one entry for every bead of the design, in its order, unused ones too.
        by_motif: one entry for every motif.
        dividers: dividers with at least one base bead.
        divider_base_beads: base beads in dividers.
        margin_base_beads: base beads in both margins.
    """

    by_bead: tuple[BeadCount, ...]
    by_motif: tuple[MotifCount, ...]
    dividers: int
    divider_base_beads: int
    margin_base_beads: int

    @property
    def base_beads(self) -> int:
        """All base beads."""
        return sum(bead.base for bead in self.by_bead)

    @property
    def dangle_beads(self) -> int:
        """All beads in motifs' dangles, turning beads included."""
        return sum(bead.dangles for bead in self.by_bead)

    @property
    def divider_beads(self) -> int:
        """All small beads that hang from dividers."""
        return sum(bead.dividers for bead in self.by_bead)

    @property
    def link_beads(self) -> int:
        """All link beads at both ends."""
        return sum(bead.links for bead in self.by_bead)

    @property
    def total(self) -> int:
        """Every bead of the piece, no spares."""
        return sum(bead.used for bead in self.by_bead)

    @property
    def spares(self) -> int:
        """Every spare bead."""
        return sum(bead.spares for bead in self.by_bead)


def counts(design: Design, spares: Spares | None = None) -> Counts:
    """Count a design's beads.

    Args:
        design: the piece.
        spares: the rule for spares; none given is 10 % and at least 5 of a bead.
    """
    rule = spares or Spares()
    base, dangles, dividers, links = ([0] * len(design.beads) for _ in range(4))
    for unit in design.units:
        for bead in unit.beads:
            base[bead] += 1
    parts = [place.part for place, _ in design.columns()]
    for strand in design.strands:
        hanging = dangles if parts[strand.starts.bead] is Part.MOTIF else dividers
        for bead in strand.beads:
            hanging[bead] += 1
    for bead in design.start_links + design.end_links:
        links[bead] += 1
    by_bead = tuple(
        BeadCount(bead=i, base=b, dangles=d, dividers=v, links=e, spares=rule.of(b + d + v + e))
        for i, (b, d, v, e) in enumerate(zip(base, dangles, dividers, links, strict=True))
    )
    return Counts(
        by_bead=by_bead,
        by_motif=tuple(_motif_count(i, motif) for i, motif in enumerate(design.motifs)),
        dividers=sum(width > 0 for width in design.divider_widths),
        divider_base_beads=sum(design.divider_widths),
        margin_base_beads=sum(design.margins),
    )


def _motif_count(number: int, motif: tuple[Column, ...]) -> MotifCount:
    tally = _tally(bead for column in motif for bead in column.beads)
    return MotifCount(motif=number, base_beads=len(motif), dangles=len(motif), dangle_beads=tally)


def _tally(beads: Iterable[int]) -> tuple[tuple[int, int], ...]:
    seen: dict[int, int] = {}
    for bead in beads:
        seen[bead] = seen.get(bead, 0) + 1
    return tuple(seen.items())
