"""The piece as data: the single source of truth for picture, counts, thread and sheet.

A strip is a row of base beads in ladder stitch. From each of them hangs nothing, a dangle or the
small beads of a divider; so everything is a row of ``Column``s, gathered into margins, dividers and
motifs. Bead numbers are places in ``Design.beads``.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from palettes.beads import Bead

# Chosen by us: more does not fit a strip that anyone wears, and keeps every array small.
MOST_DANGLE_BEADS = 200
MOST_BASE_BEADS = 20_000
MOST_LINKS = 3
MOST_DIVIDER_BEADS = 3
# Chosen by us: from half of the narrowest bead there is to wider than any.
PITCHES_MM = (0.1, 50.0)


class Part(StrEnum):
    """What a column belongs to."""

    MARGIN = "margin"
    DIVIDER = "divider"
    MOTIF = "motif"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One base bead and what hangs from it, from the base down; the last is the turning bead."""

    base: int
    beads: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if len(self.beads) > MOST_DANGLE_BEADS:
            raise ValueError(
                f"a dangle holds at most {MOST_DANGLE_BEADS} beads; got {len(self.beads)}"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a column stands: its part, which one of that part, and which column in it, from 0."""

    part: Part
    index: int
    column: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """The fastening, the one place where it is told.

    Attributes:
        kind: in the trade's word; empty where nobody has named it.
        length_mm: how long it is, closed; 0 where it is not known or not counted.
        extender_mm: the length of an extender chain.
    """

    kind: str = ""
    length_mm: float = 0.0
    extender_mm: float = 0.0

    def __post_init__(self) -> None:
        if not (0.0 <= self.length_mm < 200.0 and 0.0 <= self.extender_mm < 200.0):
            raise ValueError(
                f"a closure is 0 to 200 mm long; got {self.length_mm!r} and {self.extender_mm!r}"
            )

    @property
    def name(self) -> str:
        """What to call it in a sentence: its kind, or plainly the closure."""
        return self.kind or "closure"


# Nobody has chosen one yet, or none is counted.
NO_CLOSURE = Closure()


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole strip, bead by bead.

    Attributes:
        beads: every bead in use; columns refer to them by place.
        base_pitch_mm: the strip's length per base bead.
        motifs: each a row of columns with at least one hanging bead.
        dividers: ``len(motifs) + 1`` rows of columns; a row may be empty, a column bare.
        start_margin, end_margin: plain base beads before the first and after the last divider.
        start_links, end_links: link beads between strip and closure, from the strip outward.
        closure: the fastening.
    """

    beads: tuple[Bead, ...]
    base_pitch_mm: float
    motifs: tuple[tuple[Column, ...], ...]
    dividers: tuple[tuple[Column, ...], ...]
    start_margin: tuple[Column, ...] = ()
    end_margin: tuple[Column, ...] = ()
    start_links: tuple[int, ...] = ()
    end_links: tuple[int, ...] = ()
    closure: Closure = NO_CLOSURE

    def __post_init__(self) -> None:
        least_mm, most_mm = PITCHES_MM
        if not least_mm <= self.base_pitch_mm <= most_mm:
            raise ValueError(
                f"a base bead takes {least_mm:g} to {most_mm:g} mm; got {self.base_pitch_mm!r}"
            )
        if not self.motifs:
            raise ValueError("a strip has at least one motif")
        if len(self.dividers) != len(self.motifs) + 1:
            raise ValueError(
                f"{len(self.motifs)} motifs stand between {len(self.motifs) + 1} dividers; "
                f"got {len(self.dividers)}"
            )
        self._check_columns()
        self._check_bead_numbers()

    def _check_columns(self) -> None:
        for motif in self.motifs:
            if not motif or not all(column.beads for column in motif):
                raise ValueError("every motif has a dangle, and every dangle a bead")
        for divider in self.dividers:
            if any(len(column.beads) > MOST_DIVIDER_BEADS for column in divider):
                raise ValueError(f"under a divider hang at most {MOST_DIVIDER_BEADS} small beads")
        if any(column.beads for column in self.start_margin + self.end_margin):
            raise ValueError("nothing hangs from a margin")
        if max(len(self.start_links), len(self.end_links)) > MOST_LINKS:
            raise ValueError(f"at most {MOST_LINKS} link beads stand at an end")
        if self.base_beads > MOST_BASE_BEADS:
            raise ValueError(f"a strip holds at most {MOST_BASE_BEADS} base beads")

    def _check_bead_numbers(self) -> None:
        used = set(self.start_links) | set(self.end_links)
        for _, column in self.columns():
            used.add(column.base)
            used.update(column.beads)
        if used and not (min(used) >= 0 and max(used) < len(self.beads)):
            raise ValueError(
                f"bead numbers run from 0 to {len(self.beads) - 1}; got {sorted(used)}"
            )

    def columns(self) -> Iterator[tuple[Place, Column]]:
        """Every base bead in strip order, start to end, each with its place."""
        yield from _placed(Part.MARGIN, 0, self.start_margin)
        for index, divider in enumerate(self.dividers):
            yield from _placed(Part.DIVIDER, index, divider)
            if index < len(self.motifs):
                yield from _placed(Part.MOTIF, index, self.motifs[index])
        yield from _placed(Part.MARGIN, 1, self.end_margin)

    @property
    def base_beads(self) -> int:
        """How many base beads the strip has."""
        return (
            sum(map(len, self.motifs))
            + sum(map(len, self.dividers))
            + len(self.start_margin)
            + len(self.end_margin)
        )

    @property
    def strip_mm(self) -> float:
        """The bare strip's length, without link beads and closure."""
        return self.base_beads * self.base_pitch_mm


def _placed(part: Part, index: int, columns: tuple[Column, ...]) -> Iterator[tuple[Place, Column]]:
    for number, column in enumerate(columns):
        yield Place(part=part, index=index, column=number), column


def motif_bead(motif: tuple[Column, ...]) -> int:
    """The bead that gives a motif its colour: the most frequent, the first seen at a tie."""
    counts: dict[int, int] = {}
    for column in motif:
        for bead in column.beads:
            counts[bead] = counts.get(bead, 0) + 1
    return max(counts, key=lambda bead: counts[bead])


def motif_profile(motif: tuple[Column, ...]) -> tuple[int, ...]:
    """The lengths of a motif's dangles, in beads."""
    return tuple(len(column.beads) for column in motif)


def build(
    *,
    beads: tuple[Bead, ...],
    base: int,
    base_pitch_mm: float,
    profiles: tuple[tuple[int, ...], ...],
    order: tuple[int, ...],
    divider_base_beads: int,
    divider_hangs: tuple[int, ...] = (),
    margins: tuple[int, int] = (0, 0),
    links: tuple[tuple[int, ...], tuple[int, ...]] = ((), ()),
    closure: Closure | None = None,
) -> Design:
    """A design of motifs that are each all of one colour.

    Args:
        beads: every bead in use.
        base: the base bead's number.
        base_pitch_mm: the strip's length per base bead.
        profiles: dangle lengths in beads, taken in turn over the motifs.
        order: the bead number of each motif.
        divider_base_beads: base beads in each divider.
        divider_hangs: the small beads under each base bead of a divider.
        margins: plain base beads at start and end.
        links: link beads at start and end.
        closure: the fastening; none is one that nobody has named or measured.

    Raises:
        ValueError: the parts do not make a strip; the message says which.
    """
    motifs = tuple(
        tuple(Column(base=base, beads=(bead,) * length) for length in profiles[i % len(profiles)])
        for i, bead in enumerate(order)
    )
    divider = (Column(base=base, beads=divider_hangs),) * divider_base_beads
    plain = Column(base=base)
    return Design(
        beads=beads,
        base_pitch_mm=base_pitch_mm,
        motifs=motifs,
        dividers=(divider,) * (len(motifs) + 1),
        start_margin=(plain,) * margins[0],
        end_margin=(plain,) * margins[1],
        start_links=links[0],
        end_links=links[1],
        closure=closure or NO_CLOSURE,
    )
