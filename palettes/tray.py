"""The tray: the beads that a maker owns, with what is known about each."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from palettes.beads import Bead, BeadKind
from palettes.finishes import Finish
from palettes.spaces import parse_hex

# Chosen by us: hundreds are usual, and a shop's whole range stays below.
MOST_BEADS = 5000
# Stands for an amount that is not known. Chosen by us, so that it limits nothing: a Brief takes no
# more.
NO_LIMIT = 10_000_000
# Chosen by us: more than anyone keeps at home, so a larger one is a slip of the pen.
MOST_GRAMS, MOST_PRICE = 100_000.0, 1_000_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayBead:
    """One kind of bead in one colour, as it lies in its box.

    Attributes:
        name: what the maker calls the colour.
        kind: shape and size.
        hex: the colour in daylight as lowercase ``#rrggbb``.
        finish: the finish.
        grams: how much there is, or none if it was not weighed.
        count: how many there are, or none if they were not counted.
        price: of one gram, in the maker's own money, or none.
        lot: the maker's word for the batch; two batches may differ in colour.
        kept: where it is kept.
        row: the row of the file that it was read from, counting from 0; none for a new one.
    """

    name: str
    kind: BeadKind
    hex: str
    finish: Finish = Finish.OPAQUE
    grams: float | None = None
    count: int | None = None
    price: float | None = None
    lot: str = ""
    kept: str = ""
    row: int | None = None

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a bead in a tray has a name; got none")
        if parse_hex(self.hex) != self.hex:
            raise ValueError(f"a bead's colour is spelled {parse_hex(self.hex)}; got {self.hex!r}")
        for what, value, most in (
            ("grams", self.grams, MOST_GRAMS),
            ("count", self.count, NO_LIMIT),
            ("price", self.price, MOST_PRICE),
        ):
            if value is not None and not 0.0 <= value <= most:
                raise ValueError(f"{what} lies from 0 to {most:g}; got {value!r}")

    @property
    def bead(self) -> Bead:
        """The bead itself."""
        return Bead(name=self.name, kind=self.kind, hex=self.hex, finish=self.finish)

    @property
    def key(self) -> tuple[str, str, str]:
        """What tells it from every other bead of the tray: name, kind and lot."""
        return (self.name.strip().casefold(), self.kind.name, self.lot.strip().casefold())

    @property
    def stock(self) -> int | None:
        """How many there are: as counted, else by weight, rounded down; none if not known."""
        if self.count is not None:
            return self.count
        return None if self.grams is None else int(self.grams * self.kind.beads_per_gram)

    @property
    def bead_price(self) -> float | None:
        """What one costs, or none."""
        return None if self.price is None else self.price / self.kind.beads_per_gram


@dataclass(frozen=True, slots=True, kw_only=True)
class Tray:
    """Beads at hand, no two of the same name, kind and lot."""

    beads: tuple[TrayBead, ...] = ()

    def __post_init__(self) -> None:
        if len(self.beads) > MOST_BEADS:
            raise ValueError(f"a tray holds at most {MOST_BEADS} beads; got {len(self.beads)}")
        keys = [bead.key for bead in self.beads]
        if len(set(keys)) < len(keys):
            twice = next(key for key in keys if keys.count(key) > 1)
            raise ValueError(f"{', '.join(filter(None, twice))} is in the tray twice")

    def of_kind(self, kind: BeadKind) -> "Tray":
        """The beads of one kind."""
        return Tray(beads=tuple(bead for bead in self.beads if bead.kind == kind))

    @property
    def stocks(self) -> tuple[int, ...]:
        """How many of each there are, as a brief takes it; what is not known limits nothing."""
        known = (bead.stock for bead in self.beads)
        return tuple(NO_LIMIT if stock is None else min(stock, NO_LIMIT) for stock in known)


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """What a tray lacks for a piece: places of the beads, and how many are missing of each."""

    missing: tuple[tuple[int, int], ...]


def taken_off(tray: Tray, uses: Mapping[int, int]) -> Tray | Short:
    """The tray after a piece was made.

    Args:
        tray: before.
        uses: beads used, by place in the tray.

    Returns:
        The tray with counts and weights lowered, or what it lacks, and then nothing is taken. An
        amount that is not known stays so.

    Raises:
        ValueError: a place that the tray does not have, or fewer than no beads.
    """
    for place, number in uses.items():
        if not 0 <= place < len(tray.beads) or number < 0:
            raise ValueError(f"{len(tray.beads)} beads, uses of 0 or more; got {place}: {number}")
    missing = tuple(
        (place, number - tray.stocks[place])
        for place, number in sorted(uses.items())
        if number > tray.stocks[place]
    )
    if missing:
        return Short(missing=missing)
    beads = list(tray.beads)
    for place, number in uses.items():
        beads[place] = _less(beads[place], number)
    return Tray(beads=tuple(beads))


def _less(bead: TrayBead, number: int) -> TrayBead:
    count = None if bead.count is None else bead.count - number
    if bead.grams is None:
        return replace(bead, count=count)
    # Where both were given the count rules, and the weight cannot fall below nothing. A tenth of a
    # milligram is far below what any kitchen scale shows.
    grams = max(0.0, round(bead.grams - number / bead.kind.beads_per_gram, 4))
    return replace(bead, count=count, grams=grams)
