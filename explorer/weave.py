"""From a pattern to its beads: the same pattern always gives the same piece.

No search, no clock, no chance. A later version that weaves a saved pattern otherwise would change
pieces that lie half woven on someone's table, so such a change needs a new version of the file;
``tests/explorer/woven.json`` keeps digests of what saved patterns weave.
"""

from dataclasses import dataclass
from functools import lru_cache

from explorer.colouring import Colouring, paint
from explorer.design import MOST_BASE_BEADS, MOST_DANGLE_BEADS, Design, Port, Strand, Unit
from explorer.pattern import (
    NOTHING,
    BaseEdit,
    ByHand,
    Edit,
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

# Beads made and touches of a hand in one piece, all together. Chosen by us: ten times what the
# longest strip of long dangles holds that anyone wears, and woven within a second or two.
_MOST_STEPS = 400_000

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
    loom = Loom(pattern, most_steps=_MOST_STEPS)
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
    # Most columns of a piece are alike: each sort is looked at once, and kept once.
    sorts = dict.fromkeys(column for row in rows for column in row)
    bases = dict.fromkeys(column.base for column in sorts)
    used = set(bases)
    used.update(bead for column in sorts for bead in column.beads)
    used.update(links[0] + links[1])
    hung = {bead for row in motifs for column in dict.fromkeys(row) for bead in column.beads}
    beads, number = _numbered(pattern, hung, used - hung)
    pitch_mm = pattern.base.pitch_mm
    units = {one: Unit(beads=(number[one],), pitch_mm=pitch_mm) for one in bases}
    hanging = {one: tuple(number[bead] for bead in one.beads) for one in sorts}
    inner = [row for both in zip(dividers, motifs, strict=False) for row in both]
    strip = [column for row in (start, *inner, dividers[-1], end) for column in row]
    return Design(
        beads=beads,
        units=tuple(units[column.base] for column in strip),
        strands=tuple(
            Strand(starts=Port(bead=at), beads=hanging[column])
            for at, column in enumerate(strip)
            if column.beads
        ),
        motif_widths=tuple(map(len, motifs)),
        divider_widths=tuple(map(len, dividers)),
        margins=(len(start), len(end)),
        start_links=tuple(number[bead] for bead in links[0]),
        end_links=tuple(number[bead] for bead in links[1]),
        closure=pattern.ends.closure,
    )


_woven = lru_cache(_MANY)(_made)
_long_woven = lru_cache(_FEW)(_made)


def forget() -> None:
    """Let go of what is kept, so that the next piece is woven anew; for measuring."""
    _woven.cache_clear()
    _long_woven.cache_clear()


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
        most_steps: beads and touches of a hand that it may take; None for any number.
    """

    def __init__(self, pattern: Pattern, most_steps: int | None = None) -> None:
        self._pattern = pattern
        self._left = most_steps
        self._by_hand = dict(pattern.motifs)
        self._gaps = pattern.gaps_shown
        self._beside = dict(pattern.inside.beside)
        self._bead = 0

    def _takes(self, steps: int) -> None:
        """Refuse what no piece holds before it is made."""
        if self._left is not None:
            self._left -= steps
            if self._left < 0:
                raise ValueError(
                    f"a piece holds at most {_MOST_STEPS} beads and touches by hand together"
                )

    def gap(self, at: int | Part, beads: int, hung: tuple[Hung, ...]) -> tuple[_Column, ...]:
        """A divider or a margin."""
        place = at if isinstance(at, Part) else self._pattern.kept_at(at)
        by_hand = self._gaps.get(place)
        held = (Held(beads=hung),) * beads if by_hand is None else by_hand.held
        self._takes(sum(1 + len(one.beads) for one in held))
        return tuple(
            _Column(self._base(one.base, one.kind, None), tuple(map(self.hung, one.beads)))
            for one in held
        )

    def motif(self, slot: int) -> tuple[_Column, ...]:
        """The next motif."""
        by_hand = self._by_hand.get(self._pattern.kept_at(slot), NOTHING)
        dangles = self.dangles(slot, by_hand)
        bases: dict[int, tuple[Paint, BeadKind | None]] = {}
        held = by_hand.as_it_is
        if held:
            places = places_of_width(len(held), len(dangles))
            bases = {at: (held[n].base, held[n].kind) for at, n in enumerate(places)}
        for edit in () if held else by_hand.edits:
            if isinstance(edit, BaseEdit):
                for place in self._reached(edit, len(dangles)):
                    bases[place] = edit.base, edit.kind
        return tuple(
            _Column(self._base(*bases.get(place, (Relative.BASE, None)), slot), tuple(beads))
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
            self._takes(sum(len(held[place].beads) for place in places))
            return [[self.hung(bead, key) for bead in held[place].beads] for place in places]
        beside = self._beside.get(key, key)
        colouring = by_hand.colouring or pattern.inside.colouring
        both = (key,) if beside == key or colouring is Colouring.PLAIN else (key, beside)
        tip = by_hand.tip or pattern.tip
        dangles = []
        lengths = self.lengths(slot, by_hand)
        self._takes(sum(lengths))
        for painted in paint(lengths, both, colouring):
            beads = [(colour, pattern.hanging) for colour in painted]
            self._turn(beads, tip, key)
            dangles.append(beads)
        for edit in sorted(by_hand.edits, key=_breadth):
            if isinstance(edit, PaintEdit):
                for place in self._reached(edit, width):
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
                for place in self._reached(edit, width):
                    lengths[place] = edit.length
        return lengths

    def _reached(self, edit: Edit, width: int) -> range:
        """The dangles of a motif so wide that an edit reaches."""
        places = places_reached(edit.across, edit.width, width)
        self._takes(1 + len(places))
        return places

    def asleep(self, slot: int) -> tuple[Edit, ...]:
        """The edits of a motif whose place is not there now; they are back when it is."""
        by_hand = self._by_hand.get(self._pattern.kept_at(slot), NOTHING)
        if by_hand.locked or not by_hand.edits:
            return ()
        if by_hand.held:
            return by_hand.edits
        width = self._pattern.width_of(by_hand)
        lengths = self.lengths(slot, by_hand)
        gone = []
        for edit in by_hand.edits:
            along = edit.along if isinstance(edit, PaintEdit) else None
            places = self._reached(edit, width)
            if not any(along is None or along < lengths[place] for place in places):
                gone.append(edit)
        return tuple(gone)

    def _turn(self, beads: list[_Bead], tip: TipRule, own: Key) -> None:
        """Give a dangle its turning bead."""
        colour, kind = beads[-1]
        colour = colour if tip.paint is None else self._key(tip.paint, own)
        beads[-1] = (colour, tip.kind or kind)

    def _painted(self, beads: list[_Bead], edit: PaintEdit, own: Key) -> None:
        colour = self._key(edit.paint, own)
        if edit.along is None:
            self._takes(len(beads))
            beads[:] = [(colour, kind) for _, kind in beads]
        elif edit.along < len(beads):
            place = len(beads) - 1 - edit.along if edit.from_tip else edit.along
            beads[place] = (colour, beads[place][1])

    def hung(self, bead: Hung, own: Key | None = None) -> _Bead:
        """A bead that is not a dangle's."""
        return self._key(bead.paint, own), bead.kind or self._pattern.hanging

    def _base(self, painted: Paint, kind: BeadKind | None, motif: int | None) -> _Bead:
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


def places_reached(across: int, width: int, at: int) -> range:
    """The places of a motif as wide as ``at`` that a place of one as wide as ``width`` stands for.

    The other way round from ``places_of_width``, without going through all of them.
    """
    if width == at:
        return range(across, across + 1)
    if at == 1:
        return range(int(across == width // 2))
    if width == 1:
        return range(at)

    def half(place: int) -> tuple[int, int]:
        """Where a place stands among those of the half before the middle."""
        first = -(-(2 * place - 1) * (at - 1) // (2 * (width - 1)))
        beyond = -(-(2 * place + 1) * (at - 1) // (2 * (width - 1)))
        return max(0, first), beyond

    first, beyond = half(across)
    left = range(first, min(beyond, (at + 1) // 2))
    first, beyond = half(width - 1 - across)
    right = range(at - min(beyond, at // 2), at - first)
    return range(left.start if left else right.start, right.stop if right else left.stop)
