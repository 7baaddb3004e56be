"""The maker's own beads as a session holds them, and the steps from one state to the next."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from explorer.brief import Brief
from explorer.counts import counts
from explorer.design import Design
from explorer.kit_tray import held_in
from palettes.beads import Bead
from palettes.tray import MOST_BEADS, NO_LIMIT, Tray, TrayBead
from palettes.tray_read import Reading, parse_tray
from palettes.tray_write import with_bead, write_tray

# Chosen by us: more steps than anyone goes back; states share what they have in common.
_MOST_STEPS = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Boxes:
    """Beads, and the table they were read from, so that it can be written back; none for new."""

    tray: Tray = field(default_factory=Tray)
    reading: Reading | None = None

    @property
    def content(self) -> bytes:
        """The beads as a CSV file."""
        return write_tray(self.tray, self.reading)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """The beads as they are, with what came before and what an undo took back, nearest last."""

    now: Boxes = field(default_factory=Boxes)
    past: tuple[Boxes, ...] = ()
    future: tuple[Boxes, ...] = ()

    @property
    def tray(self) -> Tray:
        """The beads as they are."""
        return self.now.tray


def read(content: bytes | str, name: str) -> Boxes:
    """The good rows of a table.

    Raises:
        ChartError: it is no table of beads.
    """
    reading = parse_tray(content, name)
    return Boxes(tray=reading.tray, reading=reading)


def changed(stock: Stock, now: Boxes) -> Stock:
    """The beads after a step; a step that changes nothing is none."""
    if now == stock.now:
        return stock
    return Stock(now=now, past=(*stock.past, stock.now)[-_MOST_STEPS:])


def undone(stock: Stock) -> Stock:
    """One step back; the same where there is none."""
    if not stock.past:
        return stock
    return Stock(now=stock.past[-1], past=stock.past[:-1], future=(*stock.future, stock.now))


def redone(stock: Stock) -> Stock:
    """One step forward again; the same where nothing was taken back."""
    if not stock.future:
        return stock
    return Stock(now=stock.future[-1], past=(*stock.past, stock.now), future=stock.future[:-1])


def with_new(now: Boxes, beads: Iterable[TrayBead]) -> Boxes:
    """The beads with others added; those that are there already stay as they are.

    Raises:
        ValueError: they are more than a tray holds.
    """
    keys = {bead.key for bead in now.tray.beads}
    new = tuple(replace(bead, row=None) for bead in beads if bead.key not in keys)
    if len(now.tray.beads) + len(new) > MOST_BEADS:
        raise ValueError(f"a tray holds at most {MOST_BEADS} beads")
    return replace(now, tray=Tray(beads=(*now.tray.beads, *new)))


def with_changed(now: Boxes, place: int, bead: TrayBead) -> Boxes:
    """One bead as it is now.

    Raises:
        ValueError: another one has that name, kind and lot.
    """
    return replace(now, tray=with_bead(now.tray, place, bead))


def without(now: Boxes, place: int) -> Boxes:
    """The beads but for one."""
    beads = now.tray.beads
    return replace(now, tray=Tray(beads=(*beads[:place], *beads[place + 1 :])))


def limited(brief: Brief, tray: Tray) -> Brief:
    """The brief with no more beads of each colour than are at hand, and none of any other."""
    held = {one.bead: one.count for one in held_in(tray)}
    amounts = (held.get(bead, 0) for bead in brief.colours)
    return replace(
        brief,
        stock=tuple(NO_LIMIT if count is None else min(count, NO_LIMIT) for count in amounts),
    )


def at_hand(design: Design, tray: Tray) -> dict[Bead, int]:
    """How many there are of a piece's beads, where that is known."""
    held = {one.bead: one.count for one in held_in(tray)}
    found = ((bead, held.get(bead)) for bead in design.beads)
    return {bead: count for bead, count in found if count is not None}


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A bead of a piece: how many it takes, and how many there are.

    Attributes:
        bead: the bead.
        used: beads in the piece.
        held: beads at hand; none where there is such a bead and nobody knows how many.
        there: whether there is such a bead at all.
    """

    bead: Bead
    used: int
    held: int | None
    there: bool

    @property
    def missing(self) -> int:
        """How many are wanting, as far as that is known."""
        return 0 if self.there and self.held is None else max(0, self.used - (self.held or 0))


def uses(design: Design, tray: Tray) -> tuple[Use, ...]:
    """What a piece takes of the beads at hand, spares not counted."""
    held = {one.bead: one.count for one in held_in(tray)}
    taken: dict[Bead, int] = {}
    for entry in counts(design).by_bead:
        bead = design.beads[entry.bead]
        taken[bead] = taken.get(bead, 0) + entry.used
    return tuple(
        Use(bead=bead, used=used, held=held.get(bead), there=bead in held)
        for bead, used in taken.items()
        if used
    )


def off_the_boxes(design: Design, tray: Tray) -> Mapping[int, int]:
    """How many beads making a piece takes out of each box, by its place.

    Of several lots of one bead the first gives what it has, then the next. Beads that are not at
    hand at all are left out.
    """
    taken: dict[int, int] = {}
    for use in uses(design, tray):
        left = use.used
        places = [p for p, box in enumerate(tray.beads) if box.bead == use.bead]
        for place in places:
            last = place == places[-1]
            given = left if last else min(left, tray.stocks[place])
            if given:
                taken[place] = given
            left -= given
    return taken
