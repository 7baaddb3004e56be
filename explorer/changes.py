"""Every change that a maker can make to a piece, by the word that makers use.

Each is a pure function from a pattern to a ``Changed``: the pattern after it, and what it had to
give up. A change touches the rule or the part that it names and nothing else; what is narrower
stays, unless the change says that it holds everywhere. A locked motif is not changed; a change that
names one is refused, a wider one passes it by.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from math import floor

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.colouring import Colouring
from explorer.design import (
    MOST_DANGLE_BEADS,
    MOST_DIVIDER_BEADS,
    MOST_LINKS,
    Closure,
)
from explorer.design import Part as StripPart
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM, Repeat
from explorer.lengths import millimetres
from explorer.pattern import (
    MOST_COLOURS,
    MOST_EDITS,
    MOST_GROWTH,
    MOST_KEY,
    NOTHING,
    BaseEdit,
    ByHand,
    Colour,
    ColourRule,
    Edit,
    Gap,
    Held,
    Hung,
    InsideRule,
    Key,
    LengthEdit,
    Outline,
    Paint,
    PaintEdit,
    Part,
    Pattern,
    Relative,
    TipRule,
    Way,
    all_kept,
    colour_rule,
    in_way,
    once,
    outline_of,
    places_of_width,
    waiting,
    with_by_hand,
    with_each_by_hand,
)
from explorer.pattern_words import beyond
from explorer.profile import check_profile
from explorer.profile_alternation import PATTERNS, counterpart
from explorer.sequence_types import MOST_COLOURS as MOST_ORDERED
from explorer.sequence_types import MOST_MOTIFS, QUICK_STEPS, Arrangement, NoOrder, OrderBrief
from explorer.wearers import place_of, usual_ease_mm, usual_wear
from explorer.weave import Loom, places_reached, weave
from palettes.beads import BeadKind
from palettes.swatches import Swatch

# Settled motifs that are tried one by one where no order keeps its distance from all of them.
# Chosen by us, because each is a search of its own.
_MOST_BARRED = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """What a change led to.

    Attributes:
        pattern: the pattern after it.
        gave_up: what it had to give up, each a sentence.
        asleep: what was done by hand and has no place now; it is back when its place is.
        asks: what the maker should decide, each a question.
    """

    pattern: Pattern
    gave_up: tuple[str, ...] = ()
    asleep: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


class Kept(Enum):
    """What a change of several things leaves as it is, where none of it means something else."""

    AS_IT_IS = "as it is"


@dataclass(frozen=True, slots=True, kw_only=True)
class TooShort:
    """Not one motif fits a measurement; the shortest strip that has one."""

    target_mm: float
    needs_mm: float


def _changed(
    before: Pattern, after: Pattern, gave_up: Iterable[str] = (), asks: Iterable[str] = ()
) -> Changed:
    try:
        weave(after)
    except ValueError as error:
        raise BriefError(
            "piece", "this change", f"a piece that can be woven ({error})", "Ask for less of it."
        ) from error
    return Changed(
        pattern=after,
        gave_up=tuple(dict.fromkeys(gave_up)),
        asleep=_newly_asleep(before, after),
        asks=tuple(asks),
    )


def _newly_asleep(before: Pattern, after: Pattern) -> tuple[str, ...]:
    """What was done by hand and had a place before and has none now, motif by motif."""
    if all(getattr(before, part) == getattr(after, part) for part in ("motifs", "run", "outlines")):
        return ()
    words = []
    then, now = Loom(before), Loom(after)
    for slot in range(after.run.motifs):
        had = len(then.asleep(slot)) if slot < before.run.motifs else 0
        gone = len(now.asleep(slot)) - had
        if gone > 0:
            touches = "A touch" if gone == 1 else f"{gone} touches"
            words.append(f"{touches} by hand in motif {slot + 1} now {_has(gone)} no place.")
    return (*words, *(told for told in beyond(after) if told not in beyond(before)))


def _has(count: int) -> str:
    return "has" if count == 1 else "have"


# Colours of the palette.


def with_colour(pattern: Pattern, swatch: Swatch) -> tuple[Pattern, Key]:
    """The pattern with a colour in its palette, and the colour's key.

    Raises:
        BriefError: the palette is full.
    """
    for colour in pattern.colours:
        if _look(colour) == swatch:
            return pattern, colour.key
    if len(pattern.colours) >= MOST_COLOURS or pattern.next_key >= MOST_KEY:
        raise BriefError(
            "colours", len(pattern.colours) + 1, f"at most {MOST_COLOURS} colours in one piece",
            "Take a colour that the piece has, or start a new piece.",
        )  # fmt: skip
    new = Colour(key=pattern.next_key, name=swatch.name, hex=swatch.hex, finish=swatch.finish)
    pattern = replace(pattern, colours=(*pattern.colours, new), next_key=pattern.next_key + 1)
    return pattern, new.key


def with_colours(pattern: Pattern, swatches: Sequence[Swatch]) -> tuple[Pattern, tuple[Key, ...]]:
    """The pattern with colours in its palette, and their keys."""
    keys = []
    for swatch in swatches:
        pattern, key = with_colour(pattern, swatch)
        keys.append(key)
    return pattern, tuple(keys)


def swatch_of(pattern: Pattern, key: Key) -> Swatch:
    """A colour of the palette as a swatch."""
    return _look(pattern.colour(key))


def _look(colour: Colour) -> Swatch:
    """A colour as a swatch, which has a name where the colour has none."""
    return Swatch(name=colour.name.strip() or colour.hex, hex=colour.hex, finish=colour.finish)


def _lightness(pattern: Pattern, keys: Sequence[Key]) -> list[float]:
    from palettes.spaces import hexes_to_srgb1, srgb1_to_lab

    hex_of = {colour.key: colour.hex for colour in pattern.colours}
    hexes = [hex_of[key] for key in keys]
    found: list[float] = srgb1_to_lab(hexes_to_srgb1(hexes))[:, 0].tolist()
    return found


def own_keys(pattern: Pattern) -> tuple[Key, ...]:
    """The colours that motifs of the strip have as their own, in the palette's order."""
    used = {pattern.own_key(slot) for slot in range(pattern.run.motifs)}
    return tuple(colour.key for colour in pattern.colours if colour.key in used)


def _accompanied(pattern: Pattern, *, anew: bool = False) -> Pattern:
    """The pattern with something beside every colour, where colours are spread inside motifs.

    Args:
        pattern: the pattern.
        anew: whether what goes with a colour already is chosen again too.
    """
    from explorer.recipe import companions

    ways = {pattern.inside.colouring}
    ways |= {by_hand.colouring for _, by_hand in pattern.motifs if by_hand.colouring}
    colouring = next((way for way in Colouring if way in ways - {Colouring.PLAIN}), None)
    known = {} if anew else dict(pattern.inside.beside)
    # In whatever size: what goes with a colour does not hang on how many motifs there are.
    used = {*pattern.order.keys, *(by_hand.colour for _, by_hand in pattern.motifs)}
    own = [colour.key for colour in pattern.colours if colour.key in used]
    if colouring is not None and not set(own) <= set(known):
        places = companions(_lightness(pattern, own), colouring)
        found = {key: own[place] for key, place in zip(own, places, strict=True)}
        known = {**found, **known}
    # One that goes alone is written down as well: a colour that comes later is nothing to it.
    return replace(pattern, inside=replace(pattern.inside, beside=tuple(sorted(known.items()))))


# One motif, and what is in it.


def _there(pattern: Pattern, motif: int, field: str = "motif") -> None:
    """Refuse a motif that the strip has not."""
    if not 0 <= motif < pattern.run.motifs:
        raise BriefError(
            field, motif + 1, f"1 to {pattern.run.motifs}", "Choose a motif that the piece has."
        )


def _open(pattern: Pattern, motif: int) -> ByHand:
    """What was done to a motif by hand, if it may be changed."""
    _there(pattern, motif)
    by_hand = pattern.by_hand(motif)
    if by_hand.locked:
        raise BriefError(
            "motif", motif + 1, "a motif that is not locked", "Unlock it first, or choose another."
        )
    return _as_wide_as_it_is(by_hand)


def _as_wide_as_it_is(by_hand: ByHand) -> ByHand:
    """What was done to a motif; one kept bead by bead is kept at the width that it has now."""
    if not by_hand.held or by_hand.width is None:
        return by_hand
    places = places_of_width(len(by_hand.held), by_hand.width)
    return replace(by_hand, held=tuple(by_hand.held[place] for place in places), width=None)


def is_locked(pattern: Pattern, motif: int) -> bool:
    """Whether a motif of the strip is locked."""
    return pattern.by_hand(motif).locked is not None


def _place(pattern: Pattern, motif: int, dangle: int) -> int:
    width = pattern.width(motif)
    if not 0 <= dangle < width:
        raise BriefError(
            "dangle", dangle + 1, f"1 to {width}", "Choose a dangle that the motif has."
        )
    return width


def _columns(by_hand: ByHand, width: int) -> list[Held]:
    """The columns of a motif kept bead by bead, as they stand where it is woven so wide."""
    held = by_hand.held or ()
    return [held[place] for place in places_of_width(len(held), width)]


def _lengths(pattern: Pattern, motif: int) -> tuple[int, ...]:
    """The beads of every dangle of a motif as it is woven."""
    return tuple(map(len, Loom(pattern).dangles(motif, pattern.by_hand(motif))))


def _unheld(pattern: Pattern, by_hand: ByHand) -> ByHand:
    """What was done to a motif; one kept bead by bead keeps its outline, base and kind of tips."""
    by_hand = _as_wide_as_it_is(by_hand)
    if not by_hand.held:
        return by_hand
    kinds = {dangle.beads[-1].kind for dangle in by_hand.held}
    kind = kinds.pop() if len(kinds) == 1 else None
    lengths = tuple(len(dangle.beads) for dangle in by_hand.held)
    tip = None if kind == pattern.tip.kind else replace(pattern.tip, kind=kind)
    bases = tuple(
        BaseEdit(across=across, width=len(lengths), base=one.base, kind=one.kind)
        for across, one in enumerate(by_hand.held)
        if (one.base, one.kind) != (Relative.BASE, None)
    )
    return replace(
        by_hand,
        held=None,
        edits=bases[:MOST_EDITS],
        width=len(lengths),
        outline=outline_of(lengths),
        tip=by_hand.tip or tip,
    )


def _by_rules(pattern: Pattern, motif: int) -> ByHand:
    """What was done to a motif that may be changed, as exceptions to the rules."""
    return _unheld(pattern, _open(pattern, motif))


def paint_motif(pattern: Pattern, motif: int, swatch: Swatch) -> Changed:
    """Give a motif a colour; its tips and the way colours are spread in it stay."""
    by_hand = _by_rules(pattern, motif)
    after, key = with_colour(pattern, swatch)
    # Turning beads are theirs who painted them, as those of a rule are.
    gone = [e for e in by_hand.edits if isinstance(e, PaintEdit) and not e.from_tip]
    edits = tuple(edit for edit in by_hand.edits if edit not in gone)
    after = with_by_hand(after, motif, replace(by_hand, colour=key, edits=edits))
    return _changed(pattern, _accompanied(after))


def paint_all(pattern: Pattern, swatch: Swatch) -> Changed:
    """Give every motif one colour, whatever was painted before; locked ones stay."""
    after, key = with_colour(pattern, swatch)
    order = ColourRule(keys=(key,), arrangement=Arrangement.UNIT)
    after, told = _ordered(_unpainted(after), order)
    return _changed(pattern, after, (*_lost(pattern), *told))


def _painted(by_hand: ByHand) -> bool:
    """Whether beads of a motif that is not locked were coloured by hand."""
    touched = by_hand.colour or by_hand.held
    touched = touched or any(isinstance(edit, PaintEdit) for edit in by_hand.edits)
    return bool(touched) and by_hand.locked is None


def _lost(pattern: Pattern) -> list[str]:
    """That colours given by hand go, where there are such."""
    own = [n + 1 for n in range(pattern.run.motifs) if _painted(pattern.by_hand(n))]
    seen = {pattern.kept_at(slot) for slot in range(pattern.run.motifs)}
    more = sum(place not in seen and _painted(one) for place, one in pattern.motifs)
    told = []
    if own:
        told.append(f"{_motifs(own)} {_loses(len(own))} what was coloured by hand.")
    if more:
        waits = "1 motif that waits" if more == 1 else f"{more} motifs that wait"
        what = "what was coloured by hand"
        told.append(f"{waits} for a longer strip {_loses(more)} {what}.")
    return told


def _loses(count: int) -> str:
    return "lose" if count > 1 else "loses"


def _unpainted(pattern: Pattern) -> Pattern:
    """The pattern without colours that were given to motifs, dangles and beads by hand."""
    motifs = []
    for place, by_hand in pattern.motifs:
        plain = by_hand
        if by_hand.locked is None:
            plain = _unheld(pattern, by_hand)
            edits = tuple(edit for edit in plain.edits if not isinstance(edit, PaintEdit))
            plain = replace(plain, colour=None, edits=edits)
        if plain != NOTHING:
            motifs.append((place, plain))
    return replace(pattern, motifs=tuple(motifs))


def paint_dangle(pattern: Pattern, motif: int, dangle: int, swatch: Swatch) -> Changed:
    """Give a dangle a colour; turning beads that have one of their own keep it."""
    by_hand = _open(pattern, motif)
    width = _place(pattern, motif, dangle)
    after, key = with_colour(pattern, swatch)
    if by_hand.held:
        held = _columns(by_hand, width)
        beads = tuple(replace(bead, paint=key) for bead in held[dangle].beads)
        held[dangle] = replace(held[dangle], beads=beads)
        by_hand = replace(by_hand, held=tuple(held))
    else:
        others = _unpainted_at(by_hand.edits, dangle, width)
        painted = PaintEdit(across=dangle, width=width, paint=key)
        by_hand = _with_edit(by_hand, others, painted)
    return _changed(pattern, with_by_hand(after, motif, by_hand))


def _with_edit(by_hand: ByHand, others: Iterable[Edit], edit: Edit) -> ByHand:
    """What was done to a motif, with one edit more."""
    edits = (*others, edit)
    if len(edits) > MOST_EDITS:
        raise BriefError(
            "motif", f"{len(edits)} touches by hand", f"at most {MOST_EDITS} in one motif",
            "Give whole dangles a colour, or the whole motif.",
        )  # fmt: skip
    return replace(by_hand, edits=edits)


def _unpainted_at(edits: Iterable[Edit], dangle: int, width: int) -> Iterator[Edit]:
    """The edits without what paints one dangle; one from another width goes on at its others."""
    for edit in edits:
        if not isinstance(edit, PaintEdit):
            yield edit
            continue
        reached = places_reached(edit.across, edit.width, width)
        if dangle not in reached:
            yield edit
        elif edit.width != width:
            yield from (replace(edit, across=n, width=width) for n in reached if n != dangle)


def paint_bead(pattern: Pattern, motif: int, dangle: int, bead: int, swatch: Swatch) -> Changed:
    """Give one bead of a dangle a colour; the turning bead goes with the tip, others the base."""
    by_hand = _open(pattern, motif)
    width = _place(pattern, motif, dangle)
    length = _lengths(pattern, motif)[dangle]
    if not 0 <= bead < length:
        raise BriefError("bead", bead + 1, f"1 to {length}", "Choose a bead that the dangle has.")
    after, key = with_colour(pattern, swatch)
    if by_hand.held:
        held = _columns(by_hand, width)
        beads = list(held[dangle].beads)
        beads[bead] = replace(beads[bead], paint=key)
        held[dangle] = replace(held[dangle], beads=tuple(beads))
        return _changed(pattern, with_by_hand(after, motif, replace(by_hand, held=tuple(held))))
    last = bead == length - 1
    along = 0 if last else bead
    others = tuple(
        edit
        for edit in by_hand.edits
        if not (
            isinstance(edit, PaintEdit)
            and _same(edit, dangle, width)
            and (edit.along, edit.from_tip) == (along, last)
        )
    )
    painted = PaintEdit(across=dangle, width=width, paint=key, along=along, from_tip=last)
    by_hand = _with_edit(by_hand, others, painted)
    return _changed(pattern, with_by_hand(after, motif, by_hand))


def paint_base_bead(pattern: Pattern, motif: int, dangle: int, swatch: Swatch) -> Changed:
    """Give one base bead of a motif a colour."""
    by_hand = _open(pattern, motif)
    width = _place(pattern, motif, dangle)
    after, key = with_colour(pattern, swatch)
    if by_hand.held:
        held = _columns(by_hand, width)
        held[dangle] = replace(held[dangle], base=key)
        by_hand = replace(by_hand, held=tuple(held))
    else:
        others = tuple(
            edit
            for edit in by_hand.edits
            if not (isinstance(edit, BaseEdit) and _same(edit, dangle, width))
        )
        kinds = [
            edit.kind
            for edit in by_hand.edits
            if isinstance(edit, BaseEdit)
            and dangle in places_reached(edit.across, edit.width, width)
        ]
        kind = kinds[-1] if kinds else None
        painted = BaseEdit(across=dangle, width=width, base=key, kind=kind)
        by_hand = _with_edit(by_hand, others, painted)
    return _changed(pattern, with_by_hand(after, motif, by_hand))


def paint_strip_bead(pattern: Pattern, bead: int, swatch: Swatch) -> Changed:
    """Give one base bead of the strip a colour, wherever it is; beads count from the start."""
    columns = list(weave(pattern).columns())
    if not 0 <= bead < len(columns):
        raise BriefError(
            "base bead", bead + 1, f"1 to {len(columns)}", "Choose one that the strip has."
        )
    place, _ = columns[bead]
    if place.part is StripPart.MOTIF:
        return paint_base_bead(pattern, place.index, place.column, swatch)
    run, at = pattern.run, Part.END if place.index else Part.START
    gap: int | Part = at
    if place.part is StripPart.DIVIDER:
        gap = Part.LAST if place.index == run.motifs else all_kept(pattern).kept_at(place.index)
    after, key = with_colour(all_kept(pattern), swatch)
    held = list(_gap_held(after, gap))
    held[place.column] = replace(held[place.column], base=key)
    others = tuple(one for one in after.gaps if one.at != gap)
    return _changed(pattern, replace(after, gaps=(*others, Gap(at=gap, held=tuple(held)))))


def _gap_held(pattern: Pattern, at: int | Part) -> tuple[Held, ...]:
    """A divider or a margin as it is, column by column."""
    for gap in pattern.gaps:
        if gap.at == at:
            return gap.held
    run = pattern.run
    if at in {Part.START, Part.END}:
        return (Held(),) * run.margins[at is Part.END]
    beads = run.divider if at is not Part.LAST or run.last_divider is None else run.last_divider
    return (Held(beads=pattern.divider),) * beads


def _same(edit: Edit, dangle: int, width: int) -> bool:
    return (edit.across, edit.width) == (dangle, width)


def lengthen(
    pattern: Pattern, motif: int, dangle: int, length: int, *, everywhere: bool = False
) -> Changed:
    """Give a dangle a length in beads.

    Args:
        pattern: the pattern.
        motif: which motif.
        dangle: which of its dangles.
        length: its beads.
        everywhere: the same dangle of every motif; mirror images change in the mirror.
    """
    check_profile((length,))
    by_hand = _open(pattern, motif)
    width = _place(pattern, motif, dangle)
    if not everywhere:
        return _changed(
            pattern, with_by_hand(pattern, motif, _longer(by_hand, dangle, width, length))
        )
    rule, motifs = pattern.outlines, pattern.run.motifs
    turned = rule.turned(motif, motifs)
    wanted = max(1, min(length - rule.more(motif, motifs), MOST_DANGLE_BEADS))
    outlines = []
    for outline in rule.outlines:
        lengths = list(outline.at(width))
        lengths[width - 1 - dangle if turned else dangle] = wanted
        outlines.append(outline_of(tuple(lengths)))
    after = pattern
    # The rule is of motifs as wide as the piece's; others of that width change one by one.
    if width == pattern.run.width:
        after = replace(pattern, outlines=replace(rule, outlines=tuple(outlines)))
    then, now = Loom(pattern), Loom(after)
    changed = {}
    for slot in range(motifs):
        other = pattern.by_hand(slot)
        place = dangle if rule.turned(slot, motifs) is turned else width - 1 - dangle
        if other.locked:
            continue
        if pattern.width(slot) != width:
            changed[slot] = _as_long_as(then, now, slot, other)
        elif slot == motif and (other.held or now.lengths(slot, other)[place] != length):
            changed[slot] = _longer(by_hand, place, width, length)
        elif slot != motif and (width != pattern.run.width or _own_length(other, place, width)):
            changed[slot] = _longer(_open(pattern, slot), place, width, length)
    return _changed(pattern, with_each_by_hand(after, changed))


def _as_long_as(then: Loom, now: Loom, slot: int, by_hand: ByHand) -> ByHand:
    """What was done to a motif, with its outline by hand where its rule would give another now."""
    plain = replace(by_hand, edits=())
    had = then.lengths(slot, plain)
    if by_hand.as_it_is or now.lengths(slot, plain) == had:
        return by_hand
    return replace(by_hand, outline=outline_of(tuple(had)))


def _own_length(by_hand: ByHand, dangle: int, width: int) -> bool:
    """Whether a dangle does not go by the piece's outlines."""
    return bool(by_hand.outline or by_hand.held) or any(
        isinstance(edit, LengthEdit) and dangle in places_reached(edit.across, edit.width, width)
        for edit in by_hand.edits
    )


def _longer(by_hand: ByHand, dangle: int, width: int, length: int) -> ByHand:
    if by_hand.held:
        held = _columns(by_hand, width)
        beads = held[dangle].beads
        body, tip = beads[:-1], beads[-1]
        filler = body[-1] if body else tip
        longer = (*body, *(filler,) * (length - 1 - len(body)))[: length - 1]
        held[dangle] = replace(held[dangle], beads=(*longer, tip))
        return replace(by_hand, held=tuple(held))
    others = tuple(
        edit
        for edit in by_hand.edits
        if not (isinstance(edit, LengthEdit) and _same(edit, dangle, width))
    )
    return _with_edit(by_hand, others, LengthEdit(across=dangle, width=width, length=length))


# Outlines.


def outline(
    pattern: Pattern, wanted: Outline, *, letter: int = 0, motif: int | None = None
) -> Changed:
    """Give motifs another outline.

    Args:
        pattern: the pattern.
        wanted: the outline.
        letter: the motifs meant, by their letter from 0, where no motif is named.
        motif: one motif.
    """
    if motif is not None:
        by_hand = _open(pattern, motif)
        width = pattern.width(motif)
        if wanted.lengths and len(wanted.lengths) != width:
            raise BriefError(
                "profile",
                f"{len(wanted.lengths)} dangles",
                f"{width} dangles, as motif {motif + 1} has",
                "Write one number of beads for each dangle.",
            )
        if by_hand.held:
            for dangle, length in enumerate(wanted.at(width)):
                by_hand = _longer(by_hand, dangle, width, length)
            return _changed(pattern, with_by_hand(pattern, motif, by_hand))
        edits = tuple(edit for edit in by_hand.edits if not isinstance(edit, LengthEdit))
        by_hand = replace(by_hand, outline=None, edits=edits)
        if tuple(Loom(pattern).lengths(motif, by_hand)) != wanted.at(width):
            by_hand = replace(by_hand, outline=wanted)
        return _changed(pattern, with_by_hand(pattern, motif, by_hand))
    outlines = list(pattern.outlines.outlines)
    if not 0 <= letter < len(outlines):
        names = ", ".join("ABC"[: len(outlines)])
        raise BriefError("letter", "ABC"[letter : letter + 1] or letter, names, "Choose one.")
    outlines[letter] = wanted
    after = replace(pattern, outlines=replace(pattern.outlines, outlines=tuple(outlines)))
    return _changed(pattern, after, _own_outlines(pattern))


def _own_outlines(pattern: Pattern) -> list[str]:
    """That some motifs keep an outline of their own or are locked, where they do."""
    return _own_or_locked(
        pattern, lambda one: bool(one.outline or one.held), "an outline of {its} own"
    )


def _own_or_locked(pattern: Pattern, own: Callable[[ByHand], bool], what: str) -> list[str]:
    """Which motifs keep what is theirs against a rule, and which are locked."""
    each = [pattern.by_hand(slot) for slot in range(pattern.run.motifs)]
    theirs = [n for n, one in enumerate(each, 1) if own(one) and not one.locked]
    locked = [n for n, one in enumerate(each, 1) if one.locked]
    told = [f"{_motifs(theirs)} {_keeps(theirs)} {what.format(its=_its(theirs))}."]
    return [*(told if theirs else ()), *([_locked_words(locked)] if locked else ())]


def _motifs(numbers: Sequence[int]) -> str:
    told = ", ".join(map(str, numbers[:6])) + (" and others" if len(numbers) > 6 else "")
    return f"Motif{'s' if len(numbers) > 1 else ''} {told}"


def _keeps(numbers: Sequence[int]) -> str:
    return "keep" if len(numbers) > 1 else "keeps"


def _its(numbers: Sequence[int]) -> str:
    return "their" if len(numbers) > 1 else "its"


def alternation(
    pattern: Pattern,
    letters: str,
    outlines: Sequence[Outline] = (),
    *,
    mirrored: bool | None = None,
) -> Changed:
    """Let outlines take turns.

    Args:
        pattern: the pattern.
        letters: ``A``, ``AB`` or ``ABCB``.
        outlines: one for each letter; none are those that there are, and their counterparts.
        mirrored: whether motifs past the middle are mirror images; None for as it is.
    """
    letters = letters.upper().replace(" ", "")
    if letters not in PATTERNS:
        raise BriefError("letters", letters, f"one of {', '.join(PATTERNS)}", "Choose one of them.")
    found = list(outlines or pattern.outlines.outlines)[: len(set(letters))]
    while len(found) < len(set(letters)):
        width = pattern.run.width
        known = [one.at(width) for one in found]
        other = counterpart(known[0])
        if other in known:
            other = (round(sum(known[0]) / width),) * width
            other = other if other not in known else counterpart(other)
        found.append(outline_of(other))
    rule = replace(
        pattern.outlines,
        outlines=tuple(found),
        letters=letters,
        mirrored=pattern.outlines.mirrored if mirrored is None else mirrored,
    )
    return _changed(pattern, replace(pattern, outlines=rule), _own_outlines(pattern))


def turn_outlines(pattern: Pattern, *, mirrored: bool) -> Changed:
    """Turn the motifs past the middle into mirror images, or all the same way."""
    rule = replace(pattern.outlines, mirrored=mirrored)
    return _changed(pattern, replace(pattern, outlines=rule), _own_outlines(pattern))


def grow(pattern: Pattern, beads: int) -> Changed:
    """Let dangles grow toward the middle of the strip by so many beads; below 0 they shrink."""
    if not -MOST_GROWTH <= beads <= MOST_GROWTH:
        wanted = f"{-MOST_GROWTH} to {MOST_GROWTH} beads"
        raise BriefError("growth", beads, wanted, "Choose less.")
    rule = replace(pattern.outlines, growth=beads)
    return _changed(pattern, replace(pattern, outlines=rule), _own_outlines(pattern))


# Colours inside motifs, turning beads, dividers and base.


def spread_colours(pattern: Pattern, colouring: Colouring, *, motif: int | None = None) -> Changed:
    """Spread the colours inside motifs in another way, or inside one."""
    if motif is None:
        after = replace(pattern, inside=InsideRule(colouring=colouring))
        return _changed(pattern, _accompanied(after, anew=True), _hidden(colouring, pattern.tip))
    by_hand = _by_rules(pattern, motif)
    own = None if colouring is pattern.inside.colouring else colouring
    tip = by_hand.tip or pattern.tip
    after = with_by_hand(pattern, motif, replace(by_hand, colouring=own))
    key = after.own_key(motif)
    if pattern.inside.companion(key) == key:
        # It went alone, where now something is asked for beside it.
        beside = tuple(pair for pair in pattern.inside.beside if pair[0] != key)
        after = replace(after, inside=replace(after.inside, beside=beside))
    return _changed(pattern, _accompanied(after), _hidden(colouring, tip))


def _hidden(colouring: Colouring, tip: TipRule) -> list[str]:
    """That an accent at the tips lies under the turning beads' own colour, where it does."""
    if colouring is not Colouring.TIPS or tip.paint is None:
        return []
    lies = "The turning beads have a colour of their own, which lies over the accent"
    return [f"{lies}: give them that of their dangles to see it."]


def tips(
    pattern: Pattern,
    *,
    kind: BeadKind | Kept | None = None,
    swatch: Swatch | Kept | None = None,
    motif: int | None = None,
) -> Changed:
    """Give dangles other turning beads.

    Args:
        pattern: the pattern.
        kind: their kind; none for that of the dangles.
        swatch: their colour; none for what each dangle gives.
        motif: one motif; none for the piece, where motifs with tips of their own keep them.
    """
    after, paint = (
        (pattern, swatch) if not isinstance(swatch, Swatch) else with_colour(pattern, swatch)
    )
    kind = None if kind == pattern.hanging else kind
    if motif is not None:
        by_hand = _open(pattern, motif)
        if by_hand.held:
            by_hand = replace(by_hand, held=_tipped(by_hand.held, kind, paint))
            return _changed(pattern, with_by_hand(after, motif, by_hand))
        rule = _tip_rule(by_hand.tip or pattern.tip, kind, paint)
        by_hand = replace(by_hand, tip=None if rule == pattern.tip else rule)
        return _changed(pattern, with_by_hand(after, motif, by_hand))
    told = _own_or_locked(pattern, lambda one: bool(one.tip or one.held), "{its} own turning beads")
    return _changed(pattern, replace(after, tip=_tip_rule(pattern.tip, kind, paint)), told)


def _tip_rule(now: TipRule, kind: BeadKind | Kept | None, paint: Key | Kept | None) -> TipRule:
    return TipRule(
        kind=now.kind if isinstance(kind, Kept) else kind,
        paint=now.paint if isinstance(paint, Kept) else paint,
    )


def _tipped(
    held: tuple[Held, ...], kind: BeadKind | Kept | None, paint: Key | Kept | None
) -> tuple[Held, ...]:
    def tipped(one: Held) -> Held:
        above, tip = one.beads[-2:][0], one.beads[-1]
        tip = replace(tip, kind=tip.kind if isinstance(kind, Kept) else kind)
        if not isinstance(paint, Kept):
            tip = replace(tip, paint=above.paint if paint is None else paint)
        return replace(one, beads=(*one.beads[:-1], tip))

    return tuple(map(tipped, held))


def check_divider_beads(count: int, field: str) -> None:
    """``BriefError`` for more beads than may hang from a base bead of a divider."""
    if count > MOST_DIVIDER_BEADS:
        raise BriefError(
            field,
            count,
            f"nought to {MOST_DIVIDER_BEADS} small beads",
            "More of them are a dangle: make it a motif of one.",
        )


def divider_beads(pattern: Pattern, beads: Sequence[tuple[Swatch, BeadKind]]) -> Changed:
    """Hang small beads under every base bead of the dividers, from the base down; none for bare.

    Raises:
        BriefError: more than three.
    """
    check_divider_beads(len(beads), "divider_beads")
    after, hung = pattern, []
    for swatch, kind in beads:
        after, bead = _hung(after, swatch, kind)
        hung.append(bead)
    return _changed(pattern, replace(after, divider=tuple(hung)), _own_gaps(pattern))


def _own_gaps(pattern: Pattern) -> list[str]:
    own = sum(1 for gap in pattern.gaps if gap.at not in {Part.START, Part.END})
    dividers = "One divider keeps" if own == 1 else f"{own} dividers keep"
    return [f"{dividers} what was done by hand."] if own else []


def _hung(pattern: Pattern, swatch: Swatch, kind: BeadKind) -> tuple[Pattern, Hung]:
    """A bead that is not a dangle's; one in the base's colour goes on following the base."""
    paint: Paint = Relative.BASE
    if swatch_of(pattern, pattern.base.keys[0]) != swatch:
        pattern, paint = with_colour(pattern, swatch)
    return pattern, Hung(paint=paint, kind=None if kind == pattern.hanging else kind)


def paint_base(pattern: Pattern, swatches: Sequence[Swatch], *, by_motif: bool = False) -> Changed:
    """Give the base beads one colour, or several in turn.

    Args:
        pattern: the pattern.
        swatches: the colours in turn.
        by_motif: whether they change from motif to motif; else from bead to bead.
    """
    if not swatches:
        raise BriefError("base", "no colour", "one colour or more", "Choose a colour.")
    after, keys = with_colours(pattern, swatches)
    base = replace(pattern.base, keys=keys, by_motif=by_motif and len(keys) > 1)
    return _changed(pattern, replace(after, base=base))


def links(pattern: Pattern, swatch: Swatch, kind: BeadKind, each_end: int) -> Changed:
    """Put so many link beads at each end.

    Raises:
        BriefError: more than three, or fewer than none.
    """
    if not 0 <= each_end <= MOST_LINKS:
        raise BriefError(
            "links", each_end, f"nought to {MOST_LINKS} at each end", "Choose fewer link beads."
        )
    after, bead = _hung(pattern, swatch, kind)
    # A link bead stays as it is where the dangles become others.
    row = (replace(bead, kind=kind),) * each_end
    ends = replace(pattern.ends, start=row, end=row, for_motifs=pattern.run.motifs)
    return _changed(pattern, replace(after, ends=ends))


# The order of colours.


def arrange(
    pattern: Pattern,
    arrangement: Arrangement,
    swatches: Sequence[Swatch] = (),
    *,
    length: int = 0,
    gap: int = 0,
    everywhere: bool = False,
) -> Changed:
    """Lay the motifs' colours out anew, in the order that stands apart best in that arrangement.

    Args:
        pattern: the pattern.
        arrangement: free, a repeating unit, a mirror, a run from colour to colour, or blocks.
        swatches: the colours; none for those that were laid out last, or that the motifs have.
        length: motifs in a unit or a block; 0 leaves it to the arrangement.
        gap: within so many motifs no colour comes again.
        everywhere: motifs that were coloured by hand too.

    Raises:
        BriefError: no order of these colours keeps to it, or they are too many for one.
    """
    from explorer.demands import refused
    from explorer.order_choice import choose_order
    from explorer.order_seen import seen

    after, keys = _laid_out_with(pattern, swatches, everywhere=everywhere)
    if len(keys) > MOST_ORDERED:
        wanted = f"at most {MOST_ORDERED} colours to lay out"
        raise BriefError("colours", len(keys), wanted, "Name fewer colours.")
    for field, asked in (("length", length), ("gap", gap)):
        if not 0 <= asked <= MOST_MOTIFS:
            raise BriefError(field, asked, f"0 to {MOST_MOTIFS} motifs", "Choose one of these.")
    settled = settled_keys(after)
    hung = seen(_with_order(after, keys), keys)
    brief = OrderBrief(motifs=pattern.run.motifs, arrangement=arrangement, length=length, gap=gap)
    places: tuple[int, ...] | None = None
    if arrangement is Arrangement.FREE:
        places = hung.order(brief, settled)
    if places is None:
        plain = hung.apart(settled)
        barred = _barred(after, brief, keys, settled)
        found = choose_order(plain, replace(brief, barred=sum(barred, ())))
        if isinstance(found, NoOrder) and barred:
            # As many of them as can be, one by one.
            taken: tuple[tuple[int, int], ...] = ()
            for more in barred[:_MOST_BARRED]:
                tried = replace(brief, barred=(*taken, *more), steps=QUICK_STEPS)
                taken += () if isinstance(choose_order(plain, tried), NoOrder) else more
            found = choose_order(plain, replace(brief, barred=taken))
        if isinstance(found, NoOrder):
            raise refused(found)
        places = found.order.order
    # Under a colour given by hand lies one of those that are laid out.
    order = tuple(keys[max(0, place)] for place in places)
    ways = (order, order[::-1]) if arrangement is Arrangement.RUN else (order,)
    rules = [replace(colour_rule(way, arrangement, gap), among=keys) for way in ways]
    return _changed(pattern, *_ordered(after, _apart(after, rules)))


def _barred(
    pattern: Pattern, brief: OrderBrief, keys: Sequence[Key], settled: Mapping[int, Key]
) -> list[tuple[tuple[int, int], ...]]:
    """For each settled motif, which colours its neighbours may not have, by their places."""
    from explorer.arrangements import shown_places

    shows = shown_places(brief, len(keys))
    hexes = {colour.key: colour.hex for colour in pattern.colours}
    rows = []
    for slot, own in settled.items():
        beside = [n for n in (slot - 1, slot + 1) if 0 <= n < brief.motifs and n not in settled]
        alike = [place for place, key in enumerate(keys) if hexes[key] == hexes[own]]
        # What is alike on purpose may be: motifs of one block.
        rows.append(tuple((n, c) for n in beside if shows[n] != shows[slot] for c in alike))
    return [row for row in rows if row] if len(keys) > 1 else []


def _beside_its_like(pattern: Pattern) -> list[int]:
    """Settled motifs beside one of their colour that the order sets there, not as it means to."""
    order, motifs = pattern.order, pattern.run.motifs
    if len(set(order.keys)) == 1:
        return []
    alike = order.arrangement not in {Arrangement.FREE, Arrangement.UNIT}
    settled = settled_keys(pattern)
    hexes = {colour.key: colour.hex for colour in pattern.colours}

    def like(slot: int, beside: int) -> bool:
        key = order.key(beside, motifs)
        meant = alike and order.key(slot, motifs) == key
        return beside not in settled and hexes[key] == hexes[settled[slot]] and not meant

    return [
        slot
        for slot in settled
        if any(like(slot, n) for n in (slot - 1, slot + 1) if 0 <= n < motifs)
    ]


def _apart(pattern: Pattern, rules: Sequence[ColourRule]) -> ColourRule:
    """The rule that sets the fewest settled motifs beside their like, the first of several."""

    def beside(rule: ColourRule) -> int:
        return len(_beside_its_like(replace(in_way(pattern, rule.way), order=rule)))

    return min(rules, key=beside)


def settled_keys(pattern: Pattern) -> dict[int, Key]:
    """The colours of motifs that an order does not change: coloured by hand, or locked."""
    found: dict[int, Key] = {}
    for slot in range(pattern.run.motifs):
        by_hand = pattern.by_hand(slot)
        if by_hand.as_it_is:
            paints = [bead.paint for column in by_hand.as_it_is for bead in column.beads]
            keys = [paint for paint in paints if isinstance(paint, int)]
            if keys:
                found[slot] = max(dict.fromkeys(keys), key=keys.count)
        elif by_hand.colour:
            found[slot] = by_hand.colour
    return found


def _laid_out_with(
    pattern: Pattern, swatches: Sequence[Swatch], *, everywhere: bool
) -> tuple[Pattern, tuple[Key, ...]]:
    """The pattern ready to be laid out, and the colours: those given, else the motifs' own."""
    after, keys = with_colours(pattern, swatches)
    if keys:
        return _unpainted(after) if everywhere else after, tuple(dict.fromkeys(keys))
    known = () if everywhere else pattern.order.among
    # A colour that only a motif coloured by hand has stays that motif's.
    free = {
        pattern.own_key(slot)
        for slot in range(pattern.run.motifs)
        if everywhere or not pattern.by_hand(slot).colour
    }
    own = own_keys(pattern)
    keys = known or tuple(key for key in own if key in free) or own
    return _unpainted(after) if everywhere else after, keys


def _ordered(pattern: Pattern, rule: ColourRule) -> tuple[Pattern, list[str]]:
    """The pattern in an order; motifs that were coloured by hand keep their colour."""
    after, told = in_way(pattern, rule.way), list[str]()
    each = [after.by_hand(slot) for slot in range(after.run.motifs)]
    locked = [slot + 1 for slot, one in enumerate(each) if one.locked]
    own = [slot + 1 for slot, one in enumerate(each) if _painted(one)]
    if own:
        told.append(f"{_motifs(own)} {_keeps(own)} what was coloured by hand.")
    if locked:
        told.append(_locked_words(locked))
    if rule.way is not pattern.order.way:
        told += _back_words(after)
    after = _accompanied(replace(after, order=rule))
    for slot in _beside_its_like(after):
        why = "is locked" if slot + 1 in locked else "keeps the colour given by hand"
        told.append(f"Motif {slot + 1} {why} and stands beside its like.")
    return after, told


def _back_words(pattern: Pattern) -> list[str]:
    """Where motifs by hand that wait for a longer strip come back, if any do."""
    hidden = waiting(map(pattern.kept_at, range(pattern.run.motifs)), pattern.kept)
    back = [place + 1 for place, _ in pattern.motifs if place in hidden]
    if not back:
        return []
    many = len(back) > 1
    waits = f"{len(back)} motifs done by hand wait" if many else "1 motif done by hand waits"
    comes = "they come back as m" if many else "it comes back as m"
    told = f"in this order, of {pattern.kept} motifs, {comes}{_motifs(back)[1:]}"
    return [f"{waits}; {told}."]


def _locked_words(locked: Sequence[int]) -> str:
    many = len(locked) > 1
    stays = "are locked and stay as they are" if many else "is locked and stays as it is"
    return f"{_motifs(locked)} {stays}."


def in_order(
    pattern: Pattern,
    swatches: Sequence[Swatch],
    order: Sequence[int],
    arrangement: Arrangement = Arrangement.FREE,
    *,
    everywhere: bool = True,
) -> Changed:
    """Give the motifs colours in a given order.

    Args:
        pattern: the pattern.
        swatches: the colours.
        order: for each motif the place of its colour among them.
        arrangement: as what the order was asked for.
        everywhere: motifs that were coloured by hand too.
    """
    after, keys = with_colours(pattern, swatches)
    if not order or not all(0 <= place < len(keys) for place in order):
        wanted = f"for each motif one of {len(keys)} colours"
        raise BriefError("order", list(order)[:12], wanted, "Name each by its place, from 0.")
    rule = colour_rule(tuple(keys[place] for place in order), arrangement)
    after, told = _ordered(_unpainted(after) if everywhere else after, rule)
    return _changed(pattern, after, (*(_lost(pattern) if everywhere else ()), *told))


def two_in_turn(
    pattern: Pattern, swatches: Sequence[Swatch] = (), *, everywhere: bool = False
) -> Changed:
    """Let two colours take turns over the motifs: those given, else the two furthest apart.

    Args:
        pattern: the pattern.
        swatches: two colours; none for two of those that the motifs have now.
        everywhere: motifs that were coloured by hand too.
    """
    after, keys = _laid_out_with(pattern, swatches, everywhere=everywhere)
    if len(keys) < 2:
        raise BriefError(
            "colours", len(keys), "two colours", "Name two colours, or give motifs a second one."
        )
    two = _furthest(after, keys) if len(keys) > 2 else keys
    rules = [
        ColourRule(keys=turn, arrangement=Arrangement.UNIT, among=keys)
        for turn in (two, (two[1], two[0]))
    ]
    return _changed(pattern, *_ordered(after, _apart(after, rules)))


def _furthest(pattern: Pattern, keys: tuple[Key, ...]) -> tuple[Key, Key]:
    from explorer.order_seen import seen

    apart = seen(_with_order(pattern, keys), keys).apart(settled_keys(pattern)).delta_e_2000
    one, other = divmod(int(apart.argmax()), len(keys))
    return keys[min(one, other)], keys[max(one, other)]


def _with_order(pattern: Pattern, keys: tuple[Key, ...]) -> Pattern:
    """The pattern in some colours, and what goes with each inside motifs, which is seen too."""
    return _accompanied(replace(pattern, order=replace(pattern.order, keys=keys)))


def recolour(pattern: Pattern, swatches: Sequence[Swatch], base: Swatch | None = None) -> Changed:
    """Put the piece in other colours: the first colour seen takes the first, and so on round.

    What was painted by hand, tips, companions and dividers in a colour of the motifs take their
    places among them; locked motifs keep the colours that they have. What stays is told.

    Args:
        pattern: the pattern.
        swatches: the colours.
        base: the base's, which small beads under dividers in a colour of their own follow; none
            for base and such beads as they are.
    """
    if not swatches:
        raise BriefError("colours", "no colour", "one colour or more", "Choose a colour.")
    after, keys = with_colours(pattern, swatches)
    seen = list(dict.fromkeys((*_seen(pattern), *_unseen(pattern))))
    new = {old: keys[rank % len(keys)] for rank, old in enumerate(seen)}
    after = _with_keys(after, lambda key: new.get(key, key))
    gave_up = []
    after = _with_base_edits(after, lambda key: new.get(key, Relative.BASE))
    if base is not None:
        after, base_key = with_colour(after, base)
        after = replace(after, base=replace(after.base, keys=(base_key,), by_motif=False))
        keys = (*keys, base_key)
        gave_up = ["The base has one colour now."] if len(pattern.base.keys) > 1 else []

    def between(old: Paint) -> Paint:
        own = old if base is None else Relative.BASE
        return new.get(old, own) if isinstance(old, int) else old

    after = _with_dividers(after, between)
    locked = [slot + 1 for slot in range(pattern.run.motifs) if is_locked(pattern, slot)]
    if locked:
        gave_up.append(_locked_words(locked))
    after = _accompanied(after, anew=True)
    stays: dict[str, list[str]] = {}
    for where, swatch in _shown(after):
        if where in _OUTSIDE and swatch not in {_look(after.colour(key)) for key in keys}:
            stays.setdefault(where, []).append(swatch.name)
    gave_up += [f"{_OUTSIDE[where]} in {_and(names)}." for where, names in stays.items()]
    return _changed(pattern, after, gave_up)


def _and(parts: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


# Where colours hang that are no motif's, and that they stay.
_OUTSIDE = {
    "the base": "The base stays",
    "dividers": "Dividers stay",
    "link beads": "Link beads stay",
}


def _shown(pattern: Pattern) -> Iterable[tuple[str, Swatch]]:
    """Where the strip shows which colour, each once, but for motifs that a colour can reach."""
    design, found = weave(pattern), list[tuple[str, int]]()
    for place, column in design.columns():
        found.append(("the base", column.base))
        where = "dividers"
        if place.part is StripPart.MOTIF:
            where = "beads that follow the base"
            if is_locked(pattern, place.index):
                where = f"locked motif {place.index + 1}"
        found += [(where, number) for number in column.beads]
    found += [("link beads", number) for number in (*design.start_links, *design.end_links)]
    beads = [(where, design.beads[number]) for where, number in found]
    return dict.fromkeys(
        (where, Swatch(name=b.name.strip() or b.hex, hex=b.hex, finish=b.finish))
        for where, b in beads
    )


def _with_dividers(pattern: Pattern, new: Callable[[Paint], Paint]) -> Pattern:
    """The pattern with other colours between and beside motifs, the base's own rule as it is."""

    def hung(beads: tuple[Hung, ...]) -> tuple[Hung, ...]:
        return tuple(replace(one, paint=new(one.paint)) for one in beads)

    gaps = tuple(
        replace(
            gap,
            held=tuple(replace(o, base=new(o.base), beads=hung(o.beads)) for o in gap.held),
        )
        for gap in pattern.gaps
    )
    return replace(pattern, divider=hung(pattern.divider), gaps=gaps)


def _with_base_edits(pattern: Pattern, new: Callable[[Key], Paint]) -> Pattern:
    """The pattern with other colours of base beads that were coloured by hand."""
    motifs = []
    for place, one in pattern.motifs:
        edits = [
            replace(edit, base=new(edit.base))
            if isinstance(edit, BaseEdit) and isinstance(edit.base, int)
            else edit
            for edit in one.edits
        ]
        motifs.append((place, one if one.locked else replace(one, edits=tuple(edits))))
    return replace(pattern, motifs=tuple(motifs))


def _seen(pattern: Pattern) -> Iterable[Key]:
    """The keys of everything that hangs in motifs that are not locked, in strip order."""
    loom = Loom(pattern)
    for slot in range(pattern.run.motifs):
        by_hand = pattern.by_hand(slot)
        if by_hand.locked is None:
            for dangle in loom.dangles(slot, by_hand):
                yield from (key for key, _ in dangle)


def _unseen(pattern: Pattern) -> Iterable[Key]:
    """The keys that motifs show in another size of the piece only."""
    yield from pattern.order.keys
    for _, one in pattern.motifs:
        if one.locked is None:
            paints = [one.colour, one.tip and one.tip.paint]
            paints += [edit.paint for edit in one.edits if isinstance(edit, PaintEdit)]
            paints += [bead.paint for dangle in one.held or () for bead in dangle.beads]
            yield from (paint for paint in paints if isinstance(paint, int))


def _with_keys(pattern: Pattern, new: Callable[[Key], Key]) -> Pattern:
    """The pattern with other keys in everything that motifs hang; locked ones stay."""

    def paint(old: Paint) -> Paint:
        return new(old) if isinstance(old, int) else old

    def tip(rule: TipRule) -> TipRule:
        return rule if rule.paint is None else replace(rule, paint=paint(rule.paint))

    def by_hand(old: ByHand) -> ByHand:
        if old.locked:
            return old
        edits: list[Edit] = [
            replace(edit, paint=paint(edit.paint)) if isinstance(edit, PaintEdit) else edit
            for edit in old.edits
        ]
        held = old.held and tuple(
            replace(one, beads=tuple(replace(b, paint=paint(b.paint)) for b in one.beads))
            for one in old.held
        )
        return replace(
            old,
            colour=None if old.colour is None else new(old.colour),
            tip=None if old.tip is None else tip(old.tip),
            edits=tuple(edits),
            held=held,
        )

    beside = {new(one): new(other) for one, other in pattern.inside.beside}
    return replace(
        pattern,
        order=replace(
            pattern.order,
            keys=tuple(map(new, pattern.order.keys)),
            among=tuple(dict.fromkeys(map(new, pattern.order.among))),
        ),
        inside=replace(pattern.inside, beside=tuple(sorted(beside.items()))),
        tip=tip(pattern.tip),
        motifs=tuple((place, by_hand(one)) for place, one in pattern.motifs),
    )


def restyle(pattern: Pattern, old: Swatch, new: Swatch) -> Changed:
    """Mend a colour's look by hand wherever it hangs; the base keeps the old one.

    The colour keeps its place in every list, where nothing but motifs has it.
    """
    alike = {
        colour.key
        for colour in pattern.colours
        if (colour.name, colour.hex, colour.finish) == (old.name, old.hex, old.finish)
    }
    locked = {
        bead.paint
        for _, by_hand in pattern.motifs
        for column in by_hand.locked or ()
        for bead in column.beads
    }
    if alike & ({*pattern.base.keys} | locked):
        return replace_colour(pattern, old, new)
    colours = tuple(
        replace(colour, name=new.name, hex=new.hex, finish=new.finish)
        if colour.key in alike
        else colour
        for colour in pattern.colours
    )
    return _changed(pattern, replace(pattern, colours=colours))


def replace_colour(pattern: Pattern, old: Swatch, new: Swatch) -> Changed:
    """Take another colour wherever motifs have one; what keeps the old one is told.

    Base, dividers and link beads keep theirs, and so do locked motifs.
    """
    after, key = with_colour(pattern, new)
    alike = {colour.key for colour in pattern.colours if _look(colour) == old}
    after = _with_keys(after, lambda one: key if one in alike else one)
    keeps = [where for where, swatch in _shown(after) if swatch == old != new]
    told = [f"{old.name} stays in {_and(keeps)}."] if keeps else []
    return _changed(pattern, after, told)


# Motifs as a whole.


def _free(pattern: Pattern) -> tuple[Pattern, list[str]]:
    """The pattern with every motif's colour in its own right, so that motifs can change places."""
    order, motifs = pattern.order, pattern.run.motifs
    told: list[str] = []
    pattern = all_kept(pattern)
    if order.arrangement is not Arrangement.FREE:
        told.append(f"The colours are no longer {_LAID_OUT[order.arrangement]}.")
    if order.way is Way.CYCLE:
        count = max(motifs, pattern.kept, len(order.keys))
        keys = tuple(order.key(slot, count) for slot in range(count))
    else:
        waits = waiting(map(pattern.kept_at, range(motifs)), pattern.kept)
        keys = tuple(order.key(slot, motifs) for slot in range(motifs))
        keys += tuple(order.key(place, pattern.kept) for place in waits)
        pattern = in_way(pattern, Way.CYCLE)
    return replace(pattern, order=ColourRule(keys=keys, gap=order.gap, among=order.among)), told


_LAID_OUT = {
    Arrangement.UNIT: "a repeating unit",
    Arrangement.MIRROR: "a mirror",
    Arrangement.RUN: "a run from one to the next",
    Arrangement.BLOCKS: "in blocks",
}


def _relaid(pattern: Pattern, sources: Sequence[int]) -> tuple[Pattern, list[str]]:
    """The pattern with the motifs of these slots in this order, each as it is.

    Args:
        pattern: the pattern.
        sources: for each slot after the change the slot before it that it shows.
    """
    before, told = _free(pattern)
    motifs = before.run.motifs
    held = dict(before.motifs)
    beyond = max(0, before.kept - motifs)
    places = [*sources, *range(motifs, motifs + beyond)]
    keys = before.order.keys
    after = replace(
        before,
        run=replace(before.run, motifs=len(sources)),
        kept=len(places),
        motifs=(),
        order=replace(
            before.order,
            keys=(*(keys[p] for p in sources), *keys[motifs:]),
        ),
        gaps=_gaps_along(before, places),
    )
    loom, new, own = Loom(before), Loom(after), 0
    rows = []
    for slot, source in enumerate(places):
        by_hand = held.get(source, NOTHING)
        if slot < len(sources) and not (by_hand.outline or by_hand.held):
            # Of a locked motif too, so that it is as before once it is unlocked.
            ruled = replace(by_hand, edits=(), locked=None)
            had = tuple(loom.lengths(source, ruled))
            if tuple(new.lengths(slot, ruled)) != had:
                by_hand, own = replace(by_hand, outline=outline_of(had)), own + 1
        elif slot < len(sources) and by_hand.outline and not by_hand.as_it_is:
            # What the rule gives again at this place is no outline by hand any more.
            ruled = replace(by_hand, edits=(), outline=None)
            if tuple(new.lengths(slot, ruled)) == by_hand.outline.at(before.width_of(by_hand)):
                by_hand = replace(by_hand, outline=None)
        if by_hand != NOTHING:
            rows.append((slot, by_hand))
    if own:
        told.append("Outlines no longer go by one rule: motifs keep the ones that they had.")
    return replace(after, motifs=tuple(rows)), told


def _gaps_along(pattern: Pattern, sources: Sequence[int]) -> tuple[Gap, ...]:
    at = {gap.at: gap for gap in pattern.gaps}
    gaps = [gap for gap in pattern.gaps if isinstance(gap.at, Part)]
    moved = [(slot, at.get(source)) for slot, source in enumerate(sources)]
    gaps += [replace(gap, at=slot) for slot, gap in moved if gap is not None]
    return tuple(gaps)


def swap(pattern: Pattern, one: int, other: int) -> Changed:
    """Let two motifs change places, with all that is in them."""
    for motif in (one, other):
        _open(pattern, motif)
    slots = list(range(pattern.run.motifs))
    slots[one], slots[other] = slots[other], slots[one]
    return _changed(pattern, *_relaid(pattern, slots))


def move(pattern: Pattern, motif: int, to: int) -> Changed:
    """Move a motif to another place; those between make room."""
    _open(pattern, motif)
    _there(pattern, to, "to")
    slots = list(range(pattern.run.motifs))
    slots.insert(to, slots.pop(motif))
    return _changed(pattern, *_relaid(pattern, slots))


def insert(pattern: Pattern, motif: int, swatch: Swatch | None = None) -> Changed:
    """Put one more motif behind another, like it or in a colour of its own."""
    _there(pattern, motif)
    if pattern.run.motifs >= MOST_MOTIFS:
        raise BriefError("motifs", pattern.run.motifs + 1, f"at most {MOST_MOTIFS}", "Leave it.")
    slots = list(range(pattern.run.motifs))
    slots.insert(motif + 1, motif)
    after, told = _relaid(pattern, slots)
    copy = after.by_hand(motif + 1)
    if copy.locked:
        # Like what it copies, whatever the rules have come to since that was locked.
        free = ByHand(colour=copy.colour, held=copy.locked)
        after = with_by_hand(after, motif + 1, free)
    if swatch is not None:
        after = paint_motif(after, motif + 1, swatch).pattern
    return _changed(pattern, _refilled(after), told)


def remove(pattern: Pattern, motif: int) -> Changed:
    """Take a motif out."""
    _open(pattern, motif)
    if pattern.run.motifs == 1:
        raise BriefError(
            "motif", 1, "a piece of two motifs or more", "Give it another colour instead."
        )
    slots = [slot for slot in range(pattern.run.motifs) if slot != motif]
    after, told = _relaid(pattern, slots)
    return _changed(pattern, _refilled(after), told)


def swap_colours(pattern: Pattern, one: int, other: int) -> Changed:
    """Exchange the colours of two motifs; outlines, tips and what was painted inside stay."""
    for motif in (one, other):
        _open(pattern, motif)
    first, second = pattern.own_key(one), pattern.own_key(other)
    after = pattern
    for motif, old, new in ((one, first, second), (other, second, first)):
        by_hand = after.by_hand(motif)
        if by_hand.held:
            held = tuple(
                replace(
                    column,
                    beads=tuple(
                        replace(bead, paint={old: new, new: old}.get(bead.paint, bead.paint))
                        if isinstance(bead.paint, int)
                        else bead
                        for bead in column.beads
                    ),
                )
                for column in by_hand.held
            )
            by_hand = replace(by_hand, held=held)
        after = with_by_hand(after, motif, replace(by_hand, colour=new))
    return _changed(pattern, after)


def lock(pattern: Pattern, motif: int) -> Changed:
    """Keep a motif as it is, whatever else is changed, until it is unlocked."""
    by_hand = _open(pattern, motif)
    woven = weave(pattern)
    numbers = {
        (bead.name, bead.hex, bead.finish): colour.key
        for colour in reversed(pattern.colours)
        for bead in woven.beads
        if (colour.name, colour.hex, colour.finish) == (bead.name, bead.hex, bead.finish)
    }

    def key(number: int) -> Key:
        bead = woven.beads[number]
        return numbers[bead.name, bead.hex, bead.finish]

    held = tuple(
        Held(
            base=key(column.base),
            beads=tuple(Hung(paint=key(n), kind=woven.beads[n].kind) for n in column.beads),
            kind=_unlike(woven.beads[column.base].kind, pattern.base.kind),
        )
        for column in woven.motifs[motif]
    )
    return _changed(pattern, with_by_hand(pattern, motif, replace(by_hand, locked=held)))


def _unlike(kind: BeadKind, usual: BeadKind) -> BeadKind | None:
    return None if kind == usual else kind


def unlock(pattern: Pattern, motif: int) -> Changed:
    """Let a motif follow the rules again, and what was done to it by hand."""
    _there(pattern, motif)
    by_hand = replace(pattern.by_hand(motif), locked=None)
    return _changed(pattern, with_by_hand(pattern, motif, by_hand))


# Size and what it is worn as.


def _margin(pattern: Pattern) -> int:
    """Plain base beads at each end that fill what whole motifs leave over."""
    wearer = pattern.worn.wearer
    if wearer is None:
        return pattern.run.margins[0]
    bare = replace(pattern, run=replace(pattern.run, margins=(0, 0)))
    left_mm = (
        wearer.target_mm(pattern.ends.closure)
        + TOLERANCE_MM
        - bare.base_beads * pattern.base.pitch_mm
    )
    return max(0, floor(left_mm / (2.0 * pattern.base.pitch_mm)))


def _refilled(pattern: Pattern) -> Pattern:
    """The pattern with plain ends that fill, where they are to fill."""
    if not pattern.run.fill or pattern.worn.wearer is None:
        return pattern
    margin = _margin(pattern)
    return replace(pattern, run=replace(pattern.run, margins=(margin, margin)))


def most_motifs(pattern: Pattern, target_mm: float) -> int:
    """The most motifs of a pattern whose strip is no longer than the target; 0 if none is.

    Link beads are left out of account: they are proposed anew for whatever is left over.
    """
    pitch_mm, most_mm = pattern.base.pitch_mm, target_mm + TOLERANCE_MM
    run = pattern.run
    # So many fit however wide they are, so that only the last few are tried one by one.
    widest = max((run.width, *(pattern.width_of(one) for _, one in pattern.motifs)))
    widest += max((run.divider, *(len(gap.held) for gap in pattern.gaps)))
    room = most_mm / pitch_mm - pattern.base_beads_with(0)
    motifs = max(0, min(MOST_MOTIFS, floor(room / widest)))
    while motifs < MOST_MOTIFS and pattern.base_beads_with(motifs + 1) * pitch_mm <= most_mm:
        motifs += 1
    return motifs


def with_motifs(pattern: Pattern, motifs: int) -> Pattern:
    """The pattern carried on, or cut, to so many motifs."""
    return replace(pattern, run=replace(pattern.run, motifs=motifs))


def resize(
    pattern: Pattern,
    wearer: Wearer,
    *,
    closure: Closure | None = None,
    fill: bool | None = None,
) -> Changed | TooShort:
    """Make the piece for another measurement: as many motifs as fit, by the same rules.

    What was done by hand stays at its motif; motifs that come go by the rules alone.

    Args:
        pattern: the pattern.
        wearer: the measurement.
        closure: another fastening; None for the piece's own.
        fill: whether plain base beads at both ends fill what is left over; None for as it is.

    Raises:
        BriefError: the closure takes up all of measurement and ease.
    """
    fill = pattern.run.fill if fill is None else fill
    margins = (0, 0) if fill or pattern.run.fill else pattern.run.margins
    after = replace(
        once(pattern),
        worn=replace(pattern.worn, wearer=wearer),
        ends=pattern.ends if closure is None else replace(pattern.ends, closure=closure),
        run=replace(pattern.run, fill=fill, margins=margins),
    )
    target_mm = wearer.target_mm(after.ends.closure)
    motifs = most_motifs(after, target_mm)
    if motifs == 0:
        needs_mm = with_motifs(after, 1).base_beads * pattern.base.pitch_mm
        return TooShort(target_mm=target_mm, needs_mm=needs_mm)
    found = _changed(pattern, _refilled(with_motifs(after, motifs)), asks=_by_size(after, pattern))
    belong = pattern.ends.for_motifs
    if (pattern.ends.start or pattern.ends.end) and belong == pattern.run.motifs != motifs:
        words = f"The link beads filled what {belong} motifs left over; they wait for that size."
        return replace(found, asleep=(*found.asleep, words))
    return found


def _by_size(pattern: Pattern, before: Pattern) -> list[str]:
    """Whether a piece is still worn as what its size alone said it was, and does not say now."""
    wearer, old = pattern.worn.wearer, before.worn.wearer
    if pattern.worn.wear is not None or wearer is None or old is None:
        return []
    was, now = usual_wear(old.snug_mm), usual_wear(wearer.snug_mm)
    if was is now:
        return []
    snug, ease = millimetres(wearer.snug_mm), millimetres(wearer.ease_mm)
    told = f"It was {was.with_article} by its size; by {snug} it is {now.with_article}, with {ease}"
    return [f"{told} of ease. Is it still {was.with_article}?"]


def wear_as(pattern: Pattern, wear: Wear) -> Changed:
    """Say what the piece is worn as; an ease that nobody set by hand follows."""
    worn = replace(pattern.worn, wear=wear)
    after = replace(pattern, worn=worn)
    wearer = worn.wearer
    if wearer is None:
        return _changed(pattern, after)
    usual_mm = usual_ease_mm(place_of(wear, wearer.snug_mm))
    if worn.own_ease or usual_mm == wearer.ease_mm:
        asks = []
        if usual_mm != wearer.ease_mm:
            asks.append(
                f"The ease of {wearer.ease_mm:g} mm was set by hand and stays; usual for "
                f"{wear.with_article} is {usual_mm:g} mm. Shall it be that?"
            )
        return _changed(pattern, after, asks=asks)
    found = resize(after, replace(wearer, ease_mm=usual_mm))
    if isinstance(found, Changed):
        return found
    why = f"The ease stays {wearer.ease_mm:g} mm: with the usual {usual_mm:g} mm no motif fits."
    return _changed(pattern, after, [why])


def for_wearer(
    pattern: Pattern, snug_mm: float, *, ease_mm: float | None = None, wear: Wear | None = None
) -> Changed | TooShort:
    """Make the piece for another person: by the same rules, with the ease of where it is worn.

    Args:
        pattern: the pattern.
        snug_mm: round the limb.
        ease_mm: the ease, if it is set by hand; None for the usual one, or the one set before.
        wear: what it is worn as, if that is said; None for as said before, else by the measure.
    """
    old = pattern.worn.wearer
    wear = wear or pattern.worn.wear
    own = pattern.worn.own_ease and old is not None
    asks: list[str] = []
    usual_mm = usual_ease_mm(place_of(wear or usual_wear(snug_mm), snug_mm))
    if ease_mm is None and own and old is not None:
        ease_mm = old.ease_mm
        if ease_mm != usual_mm:
            asks.append(
                f"The ease of {ease_mm:g} mm was set by hand and stays; usual there is "
                f"{usual_mm:g} mm. Shall it be that?"
            )
    own = ease_mm is not None
    taken_mm = usual_mm if ease_mm is None else ease_mm
    wearer = replace(old or Wearer(snug_mm=snug_mm), snug_mm=snug_mm, ease_mm=taken_mm)
    after = replace(pattern, worn=replace(pattern.worn, own_ease=own, wear=wear))
    found = resize(after, wearer)
    return replace(found, asks=(*found.asks, *asks)) if isinstance(found, Changed) else found


def at_width(by_hand: ByHand, width: int) -> ByHand:
    """What was done to a motif by hand, where a wider one would show a single touch twice.

    It goes to the dangle that shows it in the old width too. Touches that stand side by side are
    no single ones: they fill the wider motif as they filled the other.
    """

    def what(edit: Edit) -> tuple[object, ...]:
        along = (edit.along, edit.from_tip) if isinstance(edit, PaintEdit) else ()
        return type(edit), edit.width, along

    def beside(edit: Edit, other: Edit) -> bool:
        return abs(edit.across - other.across) == 1 and what(edit) == what(other)

    def one_place(edit: Edit) -> Edit:
        places = places_reached(edit.across, edit.width, width)
        if len(places) < 2 or any(beside(edit, other) for other in by_hand.edits):
            return edit
        nearest = places_of_width(width, edit.width)[edit.across]
        return replace(edit, across=nearest if nearest in places else places[0], width=width)

    return replace(by_hand, edits=tuple(map(one_place, by_hand.edits)))


def refit(
    pattern: Pattern,
    wearer: Wearer,
    *,
    repeat: Repeat,
    motifs: int,
    base: BeadKind,
    pitch_mm: float,
    measured: bool,
    hanging: BeadKind,
    closure: Closure,
    fill: bool,
    last_divider: int | None = None,
) -> Changed:
    """Put the piece on another strip: other widths, dividers, ends, kinds of bead or pitch.

    Turning beads and small beads of a kind of their own keep it. Every motif takes the new width.

    Args:
        pattern: the pattern.
        wearer: the measurement.
        repeat: dangles, divider and plain base beads of the strip.
        motifs: how many.
        base: the base beads' kind.
        pitch_mm: the strip's length per base bead.
        measured: whether that was measured.
        hanging: the dangles' kind.
        closure: the fastening.
        fill: whether plain ends fill in other sizes too.
        last_divider: base beads of the last divider, if not as many as of the others.
    """
    if not 1 <= motifs <= MOST_MOTIFS:
        raise BriefError("motifs", motifs, f"1 to {MOST_MOTIFS}", "Choose another size.")
    before, pattern, told = pattern, once(pattern), list[str]()
    widths = [
        (place, replace(at_width(one, repeat.dangles), width=None))
        for place, one in pattern.motifs
        if one.locked is None
    ]
    locked = [(place, one) for place, one in pattern.motifs if one.locked is not None]
    other = {pattern.width_of(one) for _, one in locked} - {repeat.dangles}
    if other or any(one.width and one.width != repeat.dangles for _, one in pattern.motifs):
        those = "Every motif that is not locked" if other else "Every motif"
        told.append(f"{those} is {repeat.dangles} dangles wide now.")
    if pattern.gaps:
        told.append("Dividers and ends done by hand follow the rule now.")
    margin = repeat.margins // 2
    held = [
        (place, replace(one, width=repeat.dangles) if one.held else one) for place, one in widths
    ]
    after = replace(
        pattern,
        hanging=hanging,
        base=replace(pattern.base, kind=base, pitch_mm=pitch_mm, measured=measured),
        run=replace(
            pattern.run,
            motifs=motifs,
            width=repeat.dangles,
            divider=repeat.divider,
            last_divider=None if last_divider == repeat.divider else last_divider,
            margins=(margin, repeat.margins - margin),
            fill=fill,
        ),
        ends=replace(pattern.ends, closure=closure),
        worn=replace(pattern.worn, wearer=wearer),
        motifs=tuple(sorted(row for row in (*held, *locked) if row[1] != NOTHING)),
        gaps=(),
    )
    if any(len(one.locked or ()) not in {0, repeat.dangles} for _, one in locked):
        # The strip was fitted with motifs of one width.
        bare = replace(after, run=replace(after.run, margins=(0, 0))) if fill else after
        fitting = most_motifs(bare, wearer.target_mm(closure))
        after = _refilled(with_motifs(after, max(1, fitting)))
    return _changed(before, after, told)
