"""The piece as data, bead by bead: the source of picture, counts, thread and sheet.

A strip is a row of ``Unit``s in ladder stitch; from their beads hang ``Strand``s. Every bead
belongs to one unit, one strand or one end, so counting is counting what they own, drawing shows
each owned bead once, and the thread runs along the units and then through the strands in order.
Margins, dividers and motifs are views of the same beads, in columns: a base bead and what hangs
from it. Bead numbers are places in ``Design.beads``.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from itertools import accumulate
from math import floor

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
class Unit:
    """One stitch of the ladder.

    Attributes:
        beads: the numbers of its beads; one, since one row of base beads is woven yet.
        pitch_mm: the length that it adds to the strip.
    """

    beads: tuple[int, ...]
    pitch_mm: float

    def __post_init__(self) -> None:
        if len(self.beads) != 1:
            raise ValueError(f"a ladder of one row has one bead a stitch; got {len(self.beads)}")
        least_mm, most_mm = PITCHES_MM
        if not least_mm <= self.pitch_mm <= most_mm:
            raise ValueError(
                f"a base bead takes {least_mm:g} to {most_mm:g} mm; got {self.pitch_mm!r}"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Port:
    """A bead that the thread of a strand comes out of or goes into.

    Attributes:
        strand: the strand's number in ``Design.strands``; none for the base.
        bead: its place in that strand; of the base, the unit's place along the strip.
    """

    strand: int | None = None
    bead: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Strand:
    """Beads strung from one port on.

    Attributes:
        starts: where its thread comes out.
        beads: the numbers of its beads, from there on.
        ends: where its thread goes in again; none where it turns round the last bead and goes
            back the way that it came, as a dangle does.
    """

    starts: Port
    beads: tuple[int, ...]
    ends: Port | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.beads) <= MOST_DANGLE_BEADS:
            raise ValueError(
                f"a dangle holds 1 to {MOST_DANGLE_BEADS} beads; got {len(self.beads)}"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A whole strip, bead by bead.

    Attributes:
        beads: every bead in use; units, strands and links refer to them by place.
        units: the base, start to end.
        strands: what hangs, in the order of weaving: a port names the base or an earlier strand.
        motif_widths: the units of each motif.
        divider_widths: the units of each divider, one more than there are motifs.
        margins: the plain units before the first and after the last divider.
        start_links, end_links: link beads between strip and closure, from the strip outward.
        closure: the fastening.
        motifs: a view: each motif's columns, all of them with a dangle.
        dividers: a view: each divider's columns; a row may be empty, a column bare.
        start_margin, end_margin: views: the plain columns at both ends.
        edges_mm: a view: where each unit begins along the strip, and where the last one ends.
        base_pitch_mm: a view: the strip's length per base bead; their mean where pitches mix.
    """

    beads: tuple[Bead, ...]
    units: tuple[Unit, ...]
    strands: tuple[Strand, ...]
    motif_widths: tuple[int, ...]
    divider_widths: tuple[int, ...]
    margins: tuple[int, int] = (0, 0)
    start_links: tuple[int, ...] = ()
    end_links: tuple[int, ...] = ()
    closure: Closure = NO_CLOSURE
    motifs: tuple[tuple[Column, ...], ...] = field(init=False, compare=False, repr=False)
    dividers: tuple[tuple[Column, ...], ...] = field(init=False, compare=False, repr=False)
    start_margin: tuple[Column, ...] = field(init=False, compare=False, repr=False)
    end_margin: tuple[Column, ...] = field(init=False, compare=False, repr=False)
    edges_mm: tuple[float, ...] = field(init=False, compare=False, repr=False)
    base_pitch_mm: float = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        if not self.motif_widths:
            raise ValueError("a strip has at least one motif")
        if len(self.divider_widths) != len(self.motif_widths) + 1:
            raise ValueError(
                f"{len(self.motif_widths)} motifs stand between {len(self.motif_widths) + 1} "
                f"dividers; got {len(self.divider_widths)}"
            )
        if len(self.units) > MOST_BASE_BEADS:
            raise ValueError(f"a strip holds at most {MOST_BASE_BEADS} base beads")
        widths = (*self.motif_widths, *self.divider_widths, *self.margins)
        if min(widths) < 0 or sum(widths) != len(self.units):
            raise ValueError(f"{len(self.units)} base beads are not {sum(widths)} in all parts")
        if max(len(self.start_links), len(self.end_links)) > MOST_LINKS:
            raise ValueError(f"at most {MOST_LINKS} link beads stand at an end")
        self._check_ports()
        self._check_bead_numbers()
        self._look()
        self._check_parts()

    def _check_ports(self) -> None:
        for number, strand in enumerate(self.strands):
            for port in (strand.starts, strand.ends):
                if port is None:
                    continue
                if port.strand is None:
                    there = len(self.units)
                elif 0 <= port.strand < number:
                    there = len(self.strands[port.strand].beads)
                else:
                    raise ValueError(f"strand {number} names strand {port.strand}, no earlier one")
                if not 0 <= port.bead < there:
                    raise ValueError(f"strand {number} names bead {port.bead} of {there}")
            # Chosen by us: what is not yet drawn and threaded is not a piece yet.
            if strand.ends is not None or strand.starts.strand is not None:
                raise ValueError("only dangles that hang free from the base are woven yet")

    def _check_bead_numbers(self) -> None:
        used = set(self.owned())
        if used and not (min(used) >= 0 and max(used) < len(self.beads)):
            raise ValueError(
                f"bead numbers run from 0 to {len(self.beads) - 1}; got {sorted(used)}"
            )

    def _look(self) -> None:
        """Work out the views, once; frozen, so they stay true."""
        hung: dict[int, tuple[int, ...]] = {}
        for strand in self.strands:
            if strand.starts.bead in hung:
                raise ValueError("from a base bead hangs one dangle")
            hung[strand.starts.bead] = strand.beads
        known: dict[tuple[Unit, tuple[int, ...]], Column] = {}
        columns = []
        for place, unit in enumerate(self.units):
            beads = hung.get(place, ())
            column = known.get((unit, beads))
            if column is None:
                column = known[unit, beads] = Column(base=unit.beads[0], beads=beads)
            columns.append(column)
        start, dividers, motifs = self.margins[0], [], []
        for number, width in enumerate(self.divider_widths):
            dividers.append(tuple(columns[start : start + width]))
            start += width
            if number < len(self.motif_widths):
                motifs.append(tuple(columns[start : start + self.motif_widths[number]]))
                start += self.motif_widths[number]
        edges = list(accumulate((unit.pitch_mm for unit in self.units), initial=0.0))
        pitch = edges[-1] / max(1, len(self.units))
        if self._even:
            # Without the sum's rounding, so that every place is as exact as the pitch.
            pitch = self.units[0].pitch_mm
            edges = [number * pitch for number in range(len(self.units) + 1)]
        for name, view in (
            ("motifs", tuple(motifs)),
            ("dividers", tuple(dividers)),
            ("start_margin", tuple(columns[: self.margins[0]])),
            ("end_margin", tuple(columns[start:])),
            ("edges_mm", tuple(edges)),
            ("base_pitch_mm", pitch),
        ):
            object.__setattr__(self, name, view)

    def _check_parts(self) -> None:
        for motif in self.motifs:
            if not motif or not all(column.beads for column in motif):
                raise ValueError("every motif has a dangle, and every dangle a bead")
        for divider in self.dividers:
            if any(len(column.beads) > MOST_DIVIDER_BEADS for column in divider):
                raise ValueError(f"under a divider hang at most {MOST_DIVIDER_BEADS} small beads")
        if any(column.beads for column in self.start_margin + self.end_margin):
            raise ValueError("nothing hangs from a margin")

    def owned(self) -> Iterator[int]:
        """The number of every bead of the piece: the base's, then the strands', then the links'."""
        for unit in self.units:
            yield from unit.beads
        for strand in self.strands:
            yield from strand.beads
        yield from self.start_links
        yield from self.end_links

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
        return len(self.units)

    @property
    def strip_mm(self) -> float:
        """The bare strip's length, without link beads and closure."""
        return self.edges_mm[-1]

    @property
    def _even(self) -> bool:
        """Whether all units take the same length."""
        return len({unit.pitch_mm for unit in self.units}) == 1

    def along_mm(self, units: Iterable[float], start: int = 0) -> list[float]:
        """How far along the strip places are, from the beginning of the unit ``start``.

        Args:
            units: places counted in units from there: 0.5 is the middle of the first. Before the
                strip and beyond it the first and the last unit go on.
            start: the unit from which is measured.
        """
        if self._even:
            return [at * self.units[0].pitch_mm for at in units]
        found = []
        for at in units:
            whole = min(max(floor(start + at), 0), len(self.units) - 1)
            into = (start + at - whole) * self.units[whole].pitch_mm
            found.append(self.edges_mm[whole] + into - self.edges_mm[start])
        return found


def _placed(part: Part, index: int, columns: tuple[Column, ...]) -> Iterator[tuple[Place, Column]]:
    for number, column in enumerate(columns):
        yield Place(part=part, index=index, column=number), column


def of_columns(
    *,
    beads: tuple[Bead, ...],
    base_pitch_mm: float,
    motifs: tuple[tuple[Column, ...], ...],
    dividers: tuple[tuple[Column, ...], ...],
    start_margin: tuple[Column, ...] = (),
    end_margin: tuple[Column, ...] = (),
    start_links: tuple[int, ...] = (),
    end_links: tuple[int, ...] = (),
    closure: Closure = NO_CLOSURE,
) -> Design:
    """A design of one pitch from its columns; the arguments are those views of ``Design``.

    Raises:
        ValueError: the parts do not make a strip; the message says which.
    """
    units: list[Unit] = []
    strands: list[Strand] = []
    known: dict[int, Unit] = {}
    inner = [row for pair in zip(dividers, motifs, strict=False) for row in pair]
    for row in (start_margin, *inner, *dividers[len(motifs) :], end_margin):
        for column in row:
            if column.base not in known:
                known[column.base] = Unit(beads=(column.base,), pitch_mm=base_pitch_mm)
            if column.beads:
                strands.append(Strand(starts=Port(bead=len(units)), beads=column.beads))
            units.append(known[column.base])
    return Design(
        beads=beads,
        units=tuple(units),
        strands=tuple(strands),
        motif_widths=tuple(map(len, motifs)),
        divider_widths=tuple(map(len, dividers)),
        margins=(len(start_margin), len(end_margin)),
        start_links=start_links,
        end_links=end_links,
        closure=closure,
    )


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
    return of_columns(
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
