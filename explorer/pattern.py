"""A piece as its maker meant it: the rules, and what was done by hand. Beads follow from it.

``explorer.weave`` derives the beads, without search, clock or chance; ``explorer.changes`` holds
every change that a maker can make. Whatever was searched for, such as an order of colours, is kept
here as data, so that a half-woven piece never changes because a formula did.

The narrowest rule wins: a bead, a dangle, a motif, the outline's letter, the piece. What is done by
hand stands inside the motif that it belongs to, so that it goes wherever the motif goes; an edit
whose place is gone sleeps until the place is back.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.colouring import Colouring
from explorer.design import (
    MOST_BASE_BEADS,
    MOST_DANGLE_BEADS,
    MOST_DIVIDER_BEADS,
    MOST_LINKS,
    NO_CLOSURE,
    PITCHES_MM,
    Closure,
)
from explorer.profile import MOST_WIDTH, Shape, profile
from explorer.sequence_types import MOST_MOTIFS, Arrangement
from palettes.beads import BeadKind
from palettes.finishes import Finish
from palettes.spaces import parse_hex

# Chosen by us: far more than any piece holds, and a bound on what a file can ask for.
MOST_EDITS = 2000
MOST_COLOURS = 5000
MOST_KEY = 10**9
# Chosen by us, because no piece is said to alternate by more letters.
_MOST_LETTERS = 12
# Chosen by us: a dangle that much longer in the middle than at the ends is no fringe any more.
MOST_GROWTH = 60

# A colour's number in the palette; once given it is never given to another colour.
Key = int


class Relative(StrEnum):
    """A colour that follows a rule instead of naming one."""

    OWN = "own"  # the motif's own
    BESIDE = "beside"  # what goes with the motif's own
    BASE = "base"  # the base's


Paint = Key | Relative


class Way(StrEnum):
    """How a row that was made for one number of motifs goes on at another."""

    CYCLE = "cycle"  # from its start again
    MIRROR = "mirror"  # from both ends toward the middle
    SPREAD = "spread"  # stretched over all


def shown(way: Way, slot: int, motifs: int, kept: int) -> int:
    """Which place of a row stands at a slot.

    Args:
        way: how the row goes on.
        slot: which motif of the strip, from 0.
        motifs: how many the strip has.
        kept: places in the row, at least 1.
    """
    if motifs == kept:
        return slot
    if way is Way.CYCLE:
        return slot % kept
    if way is Way.SPREAD:
        # By middles, so that both ends fare alike and a row that was stretched shrinks to itself.
        return (2 * slot + 1) * kept // (2 * motifs)
    from_end = min(slot, motifs - 1 - slot) % ((kept + 1) // 2)
    return from_end if 2 * slot < motifs else kept - 1 - from_end


def places_of_width(width: int, at: int) -> tuple[int, ...]:
    """For each place of a motif as wide as ``at`` the place of one as wide as ``width``.

    Places lie at the same height and are mirrored about the middle, so that a symmetric motif stays
    symmetric.
    """
    if width == at:
        return tuple(range(width))
    if at == 1:
        return (width // 2,)
    half = [(2 * place * (width - 1) + at - 1) // (2 * (at - 1)) for place in range(at)]
    return tuple(half[p] if 2 * p < at else width - 1 - half[at - 1 - p] for p in range(at))


def _check(what: str, value: float, least: float, most: float) -> None:
    if not least <= value <= most:
        raise ValueError(f"{what}: {least} to {most}; got {value!r}")


def _check_place(across: int, width: int) -> None:
    _check("dangles of a motif", width, 1, MOST_BASE_BEADS)
    _check("a dangle of a motif", across, 0, width - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Colour:
    """One colour of the piece, of no particular kind of bead."""

    key: Key
    name: str
    hex: str
    finish: Finish = Finish.OPAQUE

    def __post_init__(self) -> None:
        _check("a colour's key", self.key, 1, MOST_KEY)
        if parse_hex(self.hex) != self.hex:
            raise ValueError(f"a colour is spelled {parse_hex(self.hex)}; got {self.hex!r}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A bead that is not a dangle's: under a divider, a link, or in a part kept bead by bead.

    Attributes:
        paint: its colour.
        kind: its kind; none for the dangles' own.
    """

    paint: Paint
    kind: BeadKind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A base bead and what hangs from it, kept bead by bead.

    Attributes:
        base: the base bead's colour.
        beads: what hangs from it.
        kind: the base bead's kind; none for that of the others.
    """

    base: Paint = Relative.BASE
    beads: tuple[Hung, ...] = ()
    kind: BeadKind | None = None

    def __post_init__(self) -> None:
        _check("beads of a dangle", len(self.beads), 0, MOST_DANGLE_BEADS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """Dangle lengths of a motif, by a shape or one by one.

    Attributes:
        shape: the shape; none where the lengths are the maker's own.
        least, most: beads of the shape's shortest and longest dangle.
        lengths: the maker's own, for the width that they have.
    """

    shape: Shape | None = None
    least: int = 1
    most: int = 1
    lengths: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if (self.shape is None) == (not self.lengths):
            raise ValueError(f"an outline is a shape or lengths; got {self!r}")
        for length in (self.least, self.most, *self.lengths):
            _check("beads of a dangle", length, 1, MOST_DANGLE_BEADS)
        if self.most < self.least:
            raise ValueError(f"the longest dangle is no shorter than the shortest; got {self!r}")

    def at(self, width: int) -> tuple[int, ...]:
        """The lengths of a motif so wide."""
        if self.shape is not None and width <= MOST_WIDTH:
            return profile(self.shape, width, self.least, self.most)
        lengths = self.lengths or profile(self.shape or Shape.LEVEL, 1, self.least, self.most)
        return tuple(lengths[place] for place in places_of_width(len(lengths), width))


def outline_of(lengths: tuple[int, ...]) -> Outline:
    """The outline with these lengths: a shape where one gives exactly them."""
    if len(lengths) <= MOST_WIDTH:
        least, most = min(lengths), max(lengths)
        for shape in Shape:
            if profile(shape, len(lengths), least, most) == lengths:
                return Outline(shape=shape, least=least, most=most)
    return Outline(lengths=lengths)


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineRule:
    """How outlines go over the motifs.

    Attributes:
        outlines: the different ones, called A, B, C.
        letters: which in turn, counted from both ends inward; see ``profile_alternation``.
        mirrored: whether motifs past the middle are mirror images.
        growth: beads that a dangle of the middle motif has more than one of the first; below 0
            fewer.
    """

    outlines: tuple[Outline, ...]
    letters: str = "A"
    mirrored: bool = False
    growth: int = 0

    def __post_init__(self) -> None:
        _check("outlines", len(self.outlines), 1, 3)
        _check("letters", len(self.letters), 1, _MOST_LETTERS)
        if set(self.letters) != set("ABC"[: len(self.outlines)]):
            raise ValueError(
                f"letters name each of {len(self.outlines)} outlines; got {self.letters!r}"
            )
        _check("growth", self.growth, -MOST_GROWTH, MOST_GROWTH)

    def letter(self, slot: int, motifs: int) -> int:
        """Which outline a motif has, from 0."""
        return "ABC".index(self.letters[min(slot, motifs - 1 - slot) % len(self.letters)])

    def turned(self, slot: int, motifs: int) -> bool:
        """Whether a motif is a mirror image."""
        return self.mirrored and slot >= (motifs + 1) // 2

    def more(self, slot: int, motifs: int) -> int:
        """Beads that a motif's dangles have more, or fewer, than their outline says."""
        from_end, middle = min(slot, motifs - 1 - slot), (motifs - 1) // 2
        # Halves away from nought, so that growing and shrinking are each other's mirror image.
        if not middle:
            return 0
        steps = (2 * abs(self.growth) * from_end + middle) // (2 * middle)
        return steps if self.growth > 0 else -steps

    def lengths(self, slot: int, motifs: int, width: int) -> tuple[int, ...]:
        """The dangle lengths of a motif so wide."""
        lengths = self.outlines[self.letter(slot, motifs)].at(width)
        return lengths[::-1] if self.turned(slot, motifs) else lengths


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourRule:
    """The motifs' own colours.

    Attributes:
        keys: in strip order, as they were found or given for so many motifs.
        way: how they go on at another number.
        arrangement: as what they were asked for.
        gap: within so many motifs no colour was to come again.
        among: the colours that were laid out, also those that the arrangement left out; none for
            those of the motifs.
    """

    keys: tuple[Key, ...]
    way: Way = Way.CYCLE
    arrangement: Arrangement = Arrangement.FREE
    gap: int = 0
    among: tuple[Key, ...] = ()

    def __post_init__(self) -> None:
        _check("colours in an order", len(self.keys), 1, MOST_MOTIFS)
        _check("motifs between a colour and itself", self.gap, 0, MOST_MOTIFS)
        _check("colours to lay out", len(self.among), 0, MOST_MOTIFS)

    def key(self, slot: int, motifs: int) -> Key:
        """A motif's own colour."""
        return self.keys[shown(self.way, slot, motifs, len(self.keys))]


def colour_rule(order: tuple[Key, ...], arrangement: Arrangement, gap: int = 0) -> ColourRule:
    """An order as a rule: how it goes on is what its arrangement means."""
    way = Way.CYCLE
    if arrangement is Arrangement.MIRROR:
        way = Way.MIRROR
    elif arrangement in {Arrangement.RUN, Arrangement.BLOCKS}:
        way = Way.SPREAD
    elif arrangement is Arrangement.UNIT:
        unit = next(
            n
            for n in range(1, len(order) + 1)
            if all(k == order[i % n] for i, k in enumerate(order))
        )
        order = order[:unit]
    return ColourRule(keys=order, way=way, arrangement=arrangement, gap=gap)


@dataclass(frozen=True, slots=True, kw_only=True)
class InsideRule:
    """How colours are spread inside a motif.

    Attributes:
        colouring: the way.
        beside: for a colour, what goes with it; a colour that is not named goes alone.
    """

    colouring: Colouring = Colouring.PLAIN
    beside: tuple[tuple[Key, Key], ...] = ()

    def companion(self, key: Key) -> Key | None:
        """What goes with a colour."""
        return dict(self.beside).get(key)


@dataclass(frozen=True, slots=True, kw_only=True)
class TipRule:
    """The turning beads.

    Attributes:
        kind: none for that of the dangles.
        paint: none for what the dangle gives.
    """

    kind: BeadKind | None = None
    paint: Paint | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintEdit:
    """A colour given by hand.

    Attributes:
        across: which dangle, from 0, of a motif ``width`` wide.
        along: which bead; none for the whole dangle down to its turning bead.
        from_tip: whether beads are counted from the turning bead, else from the base; from 0.
    """

    across: int
    width: int
    paint: Paint
    along: int | None = None
    from_tip: bool = False

    def __post_init__(self) -> None:
        _check_place(self.across, self.width)
        _check("a bead of a dangle", self.along or 0, 0, MOST_DANGLE_BEADS - 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthEdit:
    """A dangle's length given by hand; places as for ``PaintEdit``."""

    across: int
    width: int
    length: int

    def __post_init__(self) -> None:
        _check_place(self.across, self.width)
        _check("beads of a dangle", self.length, 1, MOST_DANGLE_BEADS)


@dataclass(frozen=True, slots=True, kw_only=True)
class BaseEdit:
    """A base bead's colour given by hand; places as for ``PaintEdit``.

    Attributes:
        base: its colour.
        kind: its kind; none for that of the others.
    """

    across: int
    width: int
    base: Paint
    kind: BeadKind | None = None

    def __post_init__(self) -> None:
        _check_place(self.across, self.width)


Edit = PaintEdit | LengthEdit | BaseEdit


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """What was done to one motif by hand; what is none follows the piece's rules.

    Attributes:
        colour: its own colour.
        width: its dangles.
        outline: its outline.
        colouring: how its colours are spread.
        tip: its turning beads.
        edits: of its dangles and beads.
        held: the whole motif bead by bead, where no rule gives it.
        locked: the whole motif as it was when it was locked; no change reaches it until it is
            unlocked.
    """

    colour: Key | None = None
    width: int | None = None
    outline: Outline | None = None
    colouring: Colouring | None = None
    tip: TipRule | None = None
    edits: tuple[Edit, ...] = ()
    held: tuple[Held, ...] | None = None
    locked: tuple[Held, ...] | None = None

    def __post_init__(self) -> None:
        _check("edits of a motif", len(self.edits), 0, MOST_EDITS)
        if self.width is not None:
            _check("dangles of a motif", self.width, 1, MOST_BASE_BEADS)
        for held in (self.held, self.locked):
            if held is not None and not (held and all(one.beads for one in held)):
                raise ValueError("every motif has a dangle, and every dangle a bead")

    @property
    def as_it_is(self) -> tuple[Held, ...] | None:
        """The motif bead by bead, if it is kept so."""
        return self.locked or self.held


NOTHING = ByHand()


class Part(StrEnum):
    """A part between or beside motifs that has no motif behind it."""

    START = "start"  # the margin before the first divider
    LAST = "last"  # the last divider
    END = "end"  # the margin after it


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A divider or a margin done by hand.

    Attributes:
        at: the kept motif that a divider stands before, or one of the parts without such a motif.
        held: its columns.
    """

    at: int | Part
    held: tuple[Held, ...]

    def __post_init__(self) -> None:
        _check("base beads", len(self.held), 0, MOST_BASE_BEADS)
        if self.at in {Part.START, Part.END} and any(one.beads for one in self.held):
            raise ValueError("nothing hangs from a margin")
        if any(len(one.beads) > MOST_DIVIDER_BEADS for one in self.held):
            raise ValueError(f"under a divider hang at most {MOST_DIVIDER_BEADS} small beads")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What repeats along the strip.

    Attributes:
        motifs: how many.
        width: dangles of each.
        divider: base beads between them.
        last_divider: base beads of the last divider; none for as many as of the others.
        margins: plain base beads at start and end.
        fill: whether the margins fill what whole motifs leave over, also in another size.
    """

    motifs: int
    width: int
    divider: int = 0
    last_divider: int | None = None
    margins: tuple[int, int] = (0, 0)
    fill: bool = False

    def __post_init__(self) -> None:
        _check("motifs", self.motifs, 1, MOST_MOTIFS)
        _check("dangles of a motif", self.width, 1, MOST_BASE_BEADS)
        for beads in (self.divider, self.last_divider or 0, *self.margins):
            _check("base beads", beads, 0, MOST_BASE_BEADS)


@dataclass(frozen=True, slots=True, kw_only=True)
class BaseRule:
    """The base beads.

    Attributes:
        kind: their kind.
        pitch_mm: the strip's length per base bead.
        measured: whether that was measured over a swatch.
        keys: their colours in turn.
        by_motif: whether the colours change from motif to motif, dividers and margins keeping the
            first; else from bead to bead.
    """

    kind: BeadKind
    pitch_mm: float
    measured: bool = False
    keys: tuple[Key, ...]
    by_motif: bool = False

    def __post_init__(self) -> None:
        _check("colours of the base", len(self.keys), 1, MOST_BASE_BEADS)
        _check("mm of a base bead", self.pitch_mm, *PITCHES_MM)

    def key(self, bead: int, motif: int | None) -> Key:
        """A base bead's colour, by its number in the strip and its motif."""
        if self.by_motif:
            return self.keys[0 if motif is None else motif % len(self.keys)]
        return self.keys[bead % len(self.keys)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """Both ends of the strip.

    Attributes:
        closure: the fastening.
        start, end: link beads, from the strip outward.
        for_motifs: the number of motifs whose leftover they take up; a strip of another length
            starts without them.
    """

    closure: Closure = NO_CLOSURE
    start: tuple[Hung, ...] = ()
    end: tuple[Hung, ...] = ()
    for_motifs: int = 0

    def __post_init__(self) -> None:
        _check("link beads at an end", max(len(self.start), len(self.end)), 0, MOST_LINKS)
        _check("motifs", self.for_motifs, 0, MOST_MOTIFS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """Who wears it, and where.

    Attributes:
        wearer: the measurement, if one is kept.
        wear: what it is worn as, if the maker said so.
        own_ease: whether the ease was set by hand, so that it stays where the piece is worn
            elsewhere.
    """

    wearer: Wearer | None = None
    wear: Wear | None = None
    own_ease: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A piece as it was meant.

    Attributes:
        colours: the palette; dangle, base and other beads refer to its keys.
        next_key: no colour ever had this key or a higher one.
        hanging: the kind of the dangles' beads.
        base, run, outlines, order, inside, tip: the rules.
        divider: the small beads under each base bead of a divider, from the base down.
        ends: closure and link beads.
        worn: the measurement.
        kept: how many motifs what was done by hand counts in.
        repeats: whether it comes again in the motifs beyond them, as the colours do; what was done
            to one motif is that motif's alone once any is changed, or the size.
        motifs: what was done to them by hand, by their place among those kept.
        gaps: what was done to dividers and margins.
        listed: beads, each as a key and the name of a kind, that come first in every list.
    """

    colours: tuple[Colour, ...]
    next_key: Key
    hanging: BeadKind
    base: BaseRule
    run: Run
    outlines: OutlineRule
    order: ColourRule
    inside: InsideRule = InsideRule()
    tip: TipRule = TipRule()
    divider: tuple[Hung, ...] = ()
    ends: Ends = Ends()
    worn: Worn = Worn()
    kept: int = 0
    repeats: bool = True
    motifs: tuple[tuple[int, ByHand], ...] = ()
    gaps: tuple[Gap, ...] = ()
    listed: tuple[tuple[Key, str], ...] = field(default=())

    def __post_init__(self) -> None:
        _check("colours", len(self.colours), 1, MOST_COLOURS)
        _check("the key of the next colour", self.next_key, 1, MOST_KEY)
        _check("small beads under a divider", len(self.divider), 0, MOST_DIVIDER_BEADS)
        known = {colour.key for colour in self.colours}
        if len(known) != len(self.colours) or max(known) >= self.next_key:
            raise ValueError("every colour has a key of its own, below the next one to give")
        missing = sorted(set(self._keys()) - known)
        if missing:
            raise ValueError(f"the palette has no colour with the key {missing[0]}")
        places = [place for place, _ in self.motifs]
        _check("motifs that are kept", self.kept, 0, MOST_MOTIFS)
        if places != sorted(set(places)) or (
            places and not 0 <= places[0] <= places[-1] < self.kept
        ):
            raise ValueError("what was done by hand stands at places of motifs that are kept")
        parts = [gap.at for gap in self.gaps]
        at = [part for part in parts if not isinstance(part, Part)]
        if len(set(parts)) < len(parts) or (at and not 0 <= min(at) <= max(at) < self.kept):
            raise ValueError("dividers by hand stand before motifs that are kept, one before each")

    def _keys(self) -> Iterator[Key]:
        yield from self.base.keys
        yield from self.order.keys
        yield from self.order.among
        for pair in self.inside.beside:
            yield from pair
        paints: list[Paint | None] = [self.tip.paint]
        hung = [*self.divider, *self.ends.start, *self.ends.end]
        held = [one for gap in self.gaps for one in gap.held]
        for _, by_hand in self.motifs:
            paints += [by_hand.colour, by_hand.tip.paint if by_hand.tip else None]
            paints += [edit.paint for edit in by_hand.edits if isinstance(edit, PaintEdit)]
            paints += [edit.base for edit in by_hand.edits if isinstance(edit, BaseEdit)]
            held += [*(by_hand.held or ()), *(by_hand.locked or ())]
        paints += [one.base for one in held]
        hung += [bead for one in held for bead in one.beads]
        paints += [bead.paint for bead in hung]
        yield from (paint for paint in paints if isinstance(paint, int))

    def colour(self, key: Key) -> Colour:
        """The colour with a key.

        Raises:
            KeyError: there is none.
        """
        return {colour.key: colour for colour in self.colours}[key]

    def kept_at(self, slot: int) -> int:
        """The kept motif that a motif of the strip shows; itself where nothing is kept.

        One that shows none, because nothing of it is kept, gives -1.
        """
        return self._kept_in(slot, self.run.motifs)

    def _kept_in(self, slot: int, motifs: int) -> int:
        if not self.kept:
            return slot
        place = shown(self.order.way, slot, motifs, self.kept)
        if self.repeats or motifs <= self.kept:
            return place
        # It stands where a strip of the kept motifs alone would find it again.
        return place if shown(self.order.way, place, self.kept, motifs) == slot else -1

    def by_hand(self, slot: int) -> ByHand:
        """What was done by hand to a motif of the strip."""
        place = self.kept_at(slot)
        row = bisect_left(self.motifs, place, key=lambda one: one[0])
        there = row < len(self.motifs) and self.motifs[row][0] == place
        return self.motifs[row][1] if there else NOTHING

    def own_key(self, slot: int) -> Key:
        """A motif's own colour."""
        return self.by_hand(slot).colour or self.order.key(slot, self.run.motifs)

    def width(self, slot: int) -> int:
        """A motif's dangles."""
        return self.width_of(self.by_hand(slot))

    def width_of(self, by_hand: ByHand) -> int:
        """The dangles of a motif of which so much was done by hand."""
        if by_hand.locked:
            return len(by_hand.locked)
        return by_hand.width or (len(by_hand.held) if by_hand.held else self.run.width)

    @property
    def gaps_shown(self) -> dict[int | Part, Gap]:
        """What was done by hand to dividers and ends; a filled end of another length sleeps."""
        gaps = {gap.at: gap for gap in self.gaps}
        for end, beads in zip((Part.START, Part.END), self.run.margins, strict=True):
            if self.run.fill and end in gaps and len(gaps[end].held) != beads:
                del gaps[end]
        return gaps

    @property
    def base_beads(self) -> int:
        """Base beads of the whole strip."""
        return self.base_beads_with(self.run.motifs)

    def base_beads_with(self, motifs: int) -> int:
        """Base beads of the strip with so many motifs."""
        run = self.run
        widths = {place: self.width_of(by_hand) for place, by_hand in self.motifs}
        gaps = {at: len(gap.held) for at, gap in self.gaps_shown.items()}
        places = [self._kept_in(slot, motifs) for slot in range(motifs)]
        last = run.divider if run.last_divider is None else run.last_divider
        return (
            sum(widths.get(place, run.width) for place in places)
            + sum(gaps.get(place, run.divider) for place in places)
            + gaps.get(Part.LAST, last)
            + gaps.get(Part.START, run.margins[0])
            + gaps.get(Part.END, run.margins[1])
        )


def with_by_hand(pattern: Pattern, slot: int, by_hand: ByHand) -> Pattern:
    """The pattern with what was done by hand to one motif of the strip."""
    return with_each_by_hand(pattern, {slot: by_hand})


def with_each_by_hand(pattern: Pattern, by_hand: Mapping[int, ByHand]) -> Pattern:
    """The pattern with what was done by hand to motifs of the strip."""
    pattern = all_kept(pattern)
    held = dict(pattern.motifs)
    held.update((pattern.kept_at(slot), one) for slot, one in by_hand.items())
    return replace(pattern, motifs=_tidy(held))


def all_kept(pattern: Pattern) -> Pattern:
    """The pattern with every motif of the strip kept in its own right.

    A strip with more motifs than are kept may show some of them twice: a change of one of the two
    is no change of the other, nor of any in a longer strip.
    """
    pattern = replace(pattern, repeats=False)
    if pattern.kept >= pattern.run.motifs:
        return pattern
    held, slots = dict(pattern.motifs), range(pattern.run.motifs)
    now = {slot: held.get(pattern.kept_at(slot), NOTHING) for slot in slots}
    before = {gap.at: gap for gap in pattern.gaps}
    gaps = [gap for gap in pattern.gaps if isinstance(gap.at, Part)]
    shown_before = [(slot, before.get(pattern.kept_at(slot))) for slot in slots]
    gaps += [replace(gap, at=slot) for slot, gap in shown_before if gap is not None]
    return replace(pattern, kept=len(slots), motifs=_tidy(now), gaps=tuple(gaps))


def once(pattern: Pattern) -> Pattern:
    """The pattern for another size: what was done to one motif by hand is not done to another."""
    by_hand = pattern.motifs or pattern.gaps
    return all_kept(pattern) if pattern.repeats and by_hand else pattern


def in_way(pattern: Pattern, way: Way) -> Pattern:
    """The pattern with an order that goes on in another way, each motif as it is.

    What waits for a longer strip waits on, in the places that such a strip adds in that way.
    """
    if pattern.kept and way is not pattern.order.way:
        pattern = all_kept(pattern)
        old, new = (
            [
                shown(one, slot, pattern.run.motifs, pattern.kept)
                for slot in range(pattern.run.motifs)
            ]
            for one in (pattern.order.way, way)
        )
        old, new = ([*row, *waiting(row, pattern.kept)] for row in (old, new))
        to = dict(zip(old, new, strict=True))
        gaps = (g if isinstance(g.at, Part) else replace(g, at=to[g.at]) for g in pattern.gaps)
        motifs = _tidy({to[place]: one for place, one in pattern.motifs})
        pattern = replace(pattern, motifs=motifs, gaps=tuple(gaps))
    return replace(pattern, order=replace(pattern.order, way=way))


def waiting(seen: Iterable[int], kept: int) -> list[int]:
    """The kept motifs that a strip does not show, from those that it shows."""
    return sorted(set(range(kept)) - set(seen))


def _tidy(held: dict[int, ByHand]) -> tuple[tuple[int, ByHand], ...]:
    return tuple((place, held[place]) for place in sorted(held) if held[place] != NOTHING)
