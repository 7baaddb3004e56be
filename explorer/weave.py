"""From a pattern to its beads: the same pattern always gives the same piece.

No search, no clock, no chance. A later version that weaves a saved pattern otherwise would change
pieces that lie half woven on someone's table, so such a change needs a new version of the file;
``tests/explorer/woven.json`` keeps digests of what saved patterns weave.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from explorer.colouring import Colouring, paint
from explorer.design import MOST_BASE_BEADS, MOST_DANGLE_BEADS, Column, Design
from explorer.pattern import (
    NOTHING,
    BaseEdit,
    ByHand,
    Edit,
    Gap,
    Held,
    Hung,
    Key,
    LengthEdit,
    Paint,
    PaintEdit,
    Part,
    Pattern,
    Relative,
    TipRule,
    places_of_width,
)
from palettes.beads import Bead, BeadKind

# A bead by its colour's key and its kind; numbers come last.
_Bead = tuple[Key, BeadKind]


@dataclass(frozen=True, slots=True)
class _Column:
    base: _Bead
    beads: tuple[_Bead, ...] = ()


# A page asks for the beads of one piece again and again, and of the 24 proposals beside it. Chosen
# by us, because so many are the pages of thirty learners, some 23 kB a piece; of longer strips few
# are kept, since each takes more.
_MANY, _FEW, _LONG = 1024, 24, 1000


def weave(pattern: Pattern) -> Design:
    """The piece that a pattern means; those asked for last are kept.

    Raises:
        ValueError: the pattern asks for a strip that cannot be, such as one far too long.
    """
    long = pattern.run.motifs * pattern.run.width > _LONG
    return _long_woven(pattern) if long else _woven(pattern)


def _made(pattern: Pattern) -> Design:
    if pattern.base_beads > MOST_BASE_BEADS:
        raise ValueError(f"a strip holds at most {MOST_BASE_BEADS} base beads")
    loom = Loom(pattern)
    run = pattern.run
    start = loom.gap(Part.START, run.margins[0], ())
    dividers, motifs = [], []
    for slot in range(run.motifs):
        dividers.append(loom.gap(slot, run.divider, pattern.divider))
        motifs.append(loom.motif(slot))
    last = run.divider if run.last_divider is None else run.last_divider
    dividers.append(loom.gap(Part.LAST, last, pattern.divider))
    end = loom.gap(Part.END, run.margins[1], ())
    linked = pattern.ends.for_motifs == run.motifs
    links = [
        tuple(loom.hung(bead) for bead in (side if linked else ()))
        for side in (pattern.ends.start, pattern.ends.end)
    ]
    rows = [start, end, *dividers, *motifs]
    used = {column.base for row in rows for column in row}
    used.update(bead for row in rows for column in row for bead in column.beads)
    used.update(links[0] + links[1])
    hung = {bead for row in motifs for column in row for bead in column.beads}
    beads, number = _numbered(pattern, hung, used - hung)

    def columns(row: tuple[_Column, ...]) -> tuple[Column, ...]:
        return tuple(
            Column(base=number[one.base], beads=tuple(number[bead] for bead in one.beads))
            for one in row
        )

    return Design(
        beads=beads,
        base_pitch_mm=pattern.base.pitch_mm,
        motifs=tuple(map(columns, motifs)),
        dividers=tuple(map(columns, dividers)),
        start_margin=columns(start),
        end_margin=columns(end),
        start_links=tuple(number[bead] for bead in links[0]),
        end_links=tuple(number[bead] for bead in links[1]),
        closure=pattern.ends.closure,
    )


_woven = lru_cache(_MANY)(_made)
_long_woven = lru_cache(_FEW)(_made)


def _numbered(
    pattern: Pattern, hung: set[_Bead], others: set[_Bead]
) -> tuple[tuple[Bead, ...], dict[_Bead, int]]:
    """The beads in the order of every list, and their numbers.

    Those that are listed come first, then the motifs', then the others, each by palette and kind.
    """
    listed = {listed: place for place, listed in enumerate(pattern.listed)}
    place = {colour.key: number for number, colour in enumerate(pattern.colours)}
    look = {colour.key: colour for colour in pattern.colours}

    def rank(bead: _Bead) -> tuple[int, bool, bool, int, bool, bool, str]:
        key, kind = bead
        # Of the others base beads come first; of one colour too, then the dangles' kind.
        other, base = bead in others, kind == pattern.base.kind
        of_kind = not base, kind != pattern.hanging, kind.name
        first = listed.get((key, kind.name), len(listed))
        return first, other, other and not base, place[key], *of_kind

    kinds = {kind for _, kind in hung | others}
    if len({kind.name for kind in kinds}) < len(kinds):
        raise ValueError("two kinds of bead in one piece share a name")

    made = {
        (key, kind): Bead(
            name=look[key].name, kind=kind, hex=look[key].hex, finish=look[key].finish
        )
        for key, kind in sorted(hung | others, key=rank)
    }
    # Two colours may have come to look alike; a bead is one bead all the same.
    place_of = {bead: number for number, bead in enumerate(dict.fromkeys(made.values()))}
    return tuple(place_of), {one: place_of[bead] for one, bead in made.items()}


class Loom:
    """Weaves a pattern part by part, in strip order.

    Args:
        pattern: the pattern.
    """

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._by_hand = dict(pattern.motifs)
        self._gaps: dict[int | Part, Gap] = {gap.at: gap for gap in pattern.gaps}
        self._beside = dict(pattern.inside.beside)
        self._bead = 0

    def gap(self, at: int | Part, beads: int, hung: tuple[Hung, ...]) -> tuple[_Column, ...]:
        """A divider or a margin."""
        place = at if isinstance(at, Part) else self._pattern.kept_at(at)
        by_hand = self._gaps.get(place)
        held = (Held(beads=hung),) * beads if by_hand is None else by_hand.held
        return tuple(
            _Column(self._base(one.base, None, one.kind), tuple(map(self.hung, one.beads)))
            for one in held
        )

    def motif(self, slot: int) -> tuple[_Column, ...]:
        """The next motif."""
        by_hand = self._by_hand.get(self._pattern.kept_at(slot), NOTHING)
        dangles = self.dangles(slot, by_hand)
        bases: dict[int, Paint] = {}
        kinds: dict[int, BeadKind | None] = {}
        held = by_hand.as_it_is
        if held:
            places = places_of_width(len(held), len(dangles))
            bases = {at: held[place].base for at, place in enumerate(places)}
            kinds = {at: held[place].kind for at, place in enumerate(places)}
        for edit in () if held else by_hand.edits:
            if isinstance(edit, BaseEdit):
                for place in _places(edit.across, edit.width, len(dangles)):
                    bases[place] = edit.base
        return tuple(
            _Column(
                self._base(bases.get(place, Relative.BASE), slot, kinds.get(place)), tuple(beads)
            )
            for place, beads in enumerate(dangles)
        )

    def dangles(self, slot: int, by_hand: ByHand) -> list[list[_Bead]]:
        """What hangs in a motif, from the rules down to single beads.

        Args:
            slot: which motif of the strip.
            by_hand: what was done to it by hand.
        """
        pattern = self._pattern
        key = by_hand.colour or pattern.order.key(slot, pattern.run.motifs)
        width = pattern.width_of(by_hand)
        if held := by_hand.as_it_is:
            places = places_of_width(len(held), width)
            return [[self.hung(bead, key) for bead in held[place].beads] for place in places]
        beside = self._beside.get(key, key)
        colouring = by_hand.colouring or pattern.inside.colouring
        both = (key,) if beside == key or colouring is Colouring.PLAIN else (key, beside)
        tip = by_hand.tip or pattern.tip
        dangles = []
        for painted in paint(self.lengths(slot, by_hand), both, colouring):
            beads = [(colour, pattern.hanging) for colour in painted]
            self._turn(beads, tip, key)
            dangles.append(beads)
        for edit in sorted(by_hand.edits, key=_breadth):
            if isinstance(edit, PaintEdit):
                for place in _places(edit.across, edit.width, width):
                    self._painted(dangles[place], edit, key)
                    if edit.along is None:
                        self._turn(dangles[place], tip, key)
        return dangles

    def lengths(self, slot: int, by_hand: ByHand) -> list[int]:
        """The beads of a motif's dangles."""
        rule, motifs = self._pattern.outlines, self._pattern.run.motifs
        width = self._pattern.width_of(by_hand)
        if by_hand.outline is not None:
            lengths = list(by_hand.outline.at(width))
        else:
            more = rule.more(slot, motifs)
            lengths = [
                max(1, min(length + more, MOST_DANGLE_BEADS))
                for length in rule.lengths(slot, motifs, width)
            ]
        for edit in by_hand.edits:
            if isinstance(edit, LengthEdit):
                for place in _places(edit.across, edit.width, width):
                    lengths[place] = edit.length
        return lengths

    def _turn(self, beads: list[_Bead], tip: TipRule, own: Key) -> None:
        """Give a dangle its turning bead."""
        colour, kind = beads[-1]
        colour = colour if tip.paint is None else self._key(tip.paint, own)
        beads[-1] = (colour, tip.kind or kind)

    def _painted(self, beads: list[_Bead], edit: PaintEdit, own: Key) -> None:
        colour = self._key(edit.paint, own)
        if edit.along is None:
            beads[:] = [(colour, kind) for _, kind in beads]
        elif edit.along < len(beads):
            place = len(beads) - 1 - edit.along if edit.from_tip else edit.along
            beads[place] = (colour, beads[place][1])

    def hung(self, bead: Hung, own: Key | None = None) -> _Bead:
        """A bead that is not a dangle's."""
        return self._key(bead.paint, own), bead.kind or self._pattern.hanging

    def _base(self, painted: Paint, motif: int | None, kind: BeadKind | None) -> _Bead:
        """The next base bead of the strip."""
        rule = self._pattern.base
        key = rule.key(self._bead, motif)
        if painted is not Relative.BASE:
            key = self._key(painted, key)
        self._bead += 1
        return key, kind or rule.kind

    def _key(self, painted: Paint, own: Key | None) -> Key:
        if isinstance(painted, int):
            return painted
        base = self._pattern.base.keys[0]
        if painted is Relative.BASE or own is None:
            return base
        return self._beside.get(own, own) if painted is Relative.BESIDE else own


def _breadth(edit: Edit) -> int:
    """Whole dangles before single beads, so that the narrower colour is seen; turning beads last.

    The only bead of a dangle is its turning bead.
    """
    if not isinstance(edit, PaintEdit) or edit.along is None:
        return 0
    return 2 if edit.from_tip else 1


def _places(across: int, width: int, at: int) -> Iterator[int]:
    """Where a place of a motif of one width stands in one of another."""
    if width == at:
        if across < at:
            yield across
        return
    for place, old in enumerate(places_of_width(width, at)):
        if old == across:
            yield place


def asleep(pattern: Pattern, slot: int) -> tuple[Edit, ...]:
    """The edits of a motif whose place is not there now; they are back when it is."""
    loom, by_hand = Loom(pattern), pattern.by_hand(slot)
    if by_hand.as_it_is:
        return by_hand.edits
    width = pattern.width_of(by_hand)
    lengths = loom.lengths(slot, by_hand)
    gone = []
    for edit in by_hand.edits:
        places = list(_places(edit.across, edit.width, width))
        along = edit.along if isinstance(edit, PaintEdit) else None
        if not any(along is None or along < lengths[place] for place in places):
            gone.append(edit)
    return tuple(gone)
