"""What a piece's rules are, and what was done to it by hand, in plain sentences.

Motifs, dangles and beads count from 1, as makers count them. The sentences that a change adds and
takes away tell what it did.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from explorer.colouring import Colouring
from explorer.lengths import both, millimetres
from explorer.pattern import (
    BaseEdit,
    ByHand,
    Edit,
    Gap,
    Held,
    Hung,
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
)
from explorer.sequence_types import Arrangement
from explorer.wearers import usual_wear
from explorer.weave import Loom

# So many touches of one motif are told one by one. Chosen by us, because nobody reads more.
_MOST_TOLD = 12
# And so many motifs in one sentence. Chosen by us, because it stays one line.
_FEW = 6
_ARRANGED = {
    Arrangement.FREE: "in free order",
    Arrangement.UNIT: "as a unit that repeats",
    Arrangement.MIRROR: "as a mirror",
    Arrangement.RUN: "as a fade from one to the next",
    Arrangement.BLOCKS: "in blocks",
}
_GOES_ON = {
    Way.CYCLE: "begin anew",
    Way.MIRROR: "stay mirrored about the middle",
    Way.SPREAD: "are stretched over all motifs",
}


def rules(pattern: Pattern) -> tuple[str, ...]:
    """The piece's rules, a sentence each."""
    words = _Words(pattern)
    return (
        *words.strip(),
        *words.outlines(),
        *words.colours(),
        words.tips(),
        *words.dividers(),
        *words.ends(),
        words.worn(),
    )


def by_hand(pattern: Pattern) -> tuple[str, ...]:
    """What was done by hand, a sentence for each motif, divider and end; none where nothing was."""
    words = _Words(pattern)
    motifs = (words.motif(slot) for slot in range(pattern.run.motifs))
    return (*filter(None, motifs), *words.gaps(), *beyond(pattern))


def beyond(pattern: Pattern) -> tuple[str, ...]:
    """That motifs were done by hand which the strip is too short for, where there are such."""
    shown = {pattern.kept_at(slot) for slot in range(pattern.run.motifs)}
    more = [place for place, _ in pattern.motifs if place not in shown]
    if not more:
        return ()
    waits = "waits" if len(more) == 1 else "wait"
    return (f"{_many(len(more), 'motif')} more, done by hand, {waits} for a longer strip.",)


def sleeping(pattern: Pattern) -> tuple[str, ...]:
    """What was done by hand and has no place in the piece as it is now."""
    found = []
    for slot in range(pattern.run.motifs):
        gone = Loom(pattern).asleep(slot)
        if gone:
            words = _Words(pattern)
            told = _listed([words.touch(edit, pattern.width(slot)) for edit in gone])
            found.append(f"Motif {slot + 1}: {told}.")
    return tuple(found)


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}{'' if count == 1 else 's'}"


def numbered(slots: Sequence[int]) -> str:
    """Motifs by their numbers, from 1; of many the first."""
    told = ", ".join(str(slot + 1) for slot in slots[:_FEW])
    return f"motif{'s' * (len(slots) > 1)} {told}{' and others' * (len(slots) > _FEW)}"


def _its(slots: Sequence[int]) -> str:
    return "their" if len(slots) > 1 else "its"


def _listed(parts: Sequence[str], between: str = ", ") -> str:
    more = len(parts) - _MOST_TOLD
    return between.join(parts[:_MOST_TOLD]) + (f" and {more} more" if more > 0 else "")


def _outline(outline: Outline) -> str:
    if outline.shape is None:
        return ", ".join(map(str, outline.lengths))
    if outline.least == outline.most:
        return f"{outline.shape}, {_many(outline.most, 'bead')} long"
    return f"{outline.shape}, {outline.least} to {outline.most} beads long"


class _Words:
    """Sentences about one pattern."""

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._names = Counter(colour.name for colour in pattern.colours)

    def _colour(self, key: Key) -> str:
        colour = self._pattern.colour(key)
        name = colour.name.strip()
        if not name or name == colour.hex:
            return colour.hex
        return name if self._names[colour.name] == 1 else f"{name} {colour.hex}"

    def _paint(self, paint: Paint) -> str:
        if not isinstance(paint, Relative):
            return self._colour(paint)
        return {
            Relative.OWN: "the motif's colour",
            Relative.BESIDE: "what goes with the motif's colour",
            Relative.BASE: "the base's colour",
        }[paint]

    def _keys(self, keys: Iterable[Key]) -> str:
        return ", ".join(map(self._colour, keys))

    def _hung(self, beads: Sequence[Hung]) -> str:
        hanging = self._pattern.hanging
        runs = ((bead, len([*row])) for bead, row in groupby(beads))
        return ", ".join(
            f"{f'{count} ' if count > 1 else ''}{(bead.kind or hanging).name} "
            f"in {self._paint(bead.paint)}"
            for bead, count in runs
        )

    # Rules.

    def strip(self) -> Iterator[str]:
        run, base = self._pattern.run, self._pattern.base
        yield f"{_many(run.motifs, 'motif')} of {_many(run.width, 'dangle')}{self._other_widths()}."
        last = run.divider if run.last_divider is None else run.last_divider
        between = f"{_many(run.divider, 'base bead')} between motifs and at both ends"
        yield (
            f"Dividers are {between}."
            if last == run.divider
            else f"Dividers are {between}, but for the last: {_many(last, 'base bead')}."
        )
        start, end = run.margins
        ends = (
            f"{_many(end, 'base bead')} each" if start == end else f"{start} and {end} base beads"
        )
        fill = ", to fill what is left over in every size" if run.fill else ""
        yield f"Plain ends are of {ends}{fill}." if start or end or run.fill else "No plain ends."
        measured = "as measured" if base.measured else "as usual for that bead"
        several = len(base.keys) > 1
        turn = f" in turn from {'motif to motif' if base.by_motif else 'bead to bead'}"
        yield (
            f"The base is {base.kind.name} in {self._keys(base.keys)}{turn if several else ''}, "
            f"{base.pitch_mm:g} mm a bead, {measured}."
        )
        yield f"Dangles are of {self._pattern.hanging.name}."

    def _other_widths(self) -> str:
        pattern, slots = self._pattern, range(self._pattern.run.motifs)
        told = []
        for width in sorted({*map(pattern.width, slots)} - {pattern.run.width}):
            those = numbered([slot for slot in slots if pattern.width(slot) == width])
            told.append(f"{those} of {_many(width, 'dangle')}")
        return f", but for {', '.join(told)}" if told else ""

    def outlines(self) -> Iterator[str]:
        rule = self._pattern.outlines
        if len(rule.outlines) == 1:
            yield f"Every motif's outline is {_outline(rule.outlines[0])}."
        else:
            named = "; ".join(
                f"{letter} is {_outline(one)}"
                for letter, one in zip("ABC", rule.outlines, strict=False)
            )
            turns = ", ".join(rule.letters)
            yield f"Outlines take turns from both ends inward: {turns}. {named}."
        if rule.mirrored:
            yield "Outlines past the middle are mirror images."
        if rule.growth:
            way = "longer" if rule.growth > 0 else "shorter"
            yield f"Dangles of the middle motif are {_many(abs(rule.growth), 'bead')} {way}."
        loom = Loom(self._pattern)
        own = [slot for slot in range(self._pattern.run.motifs) if self._own_outline(loom, slot)]
        locked = [slot for slot in own if self._pattern.by_hand(slot).locked]
        own = [slot for slot in own if slot not in locked]
        if own:
            yield f"That does not hold for {numbered(own)}, by an outline of {_its(own)} own."
        if locked:
            are = "are" if len(locked) > 1 else "is"
            yield f"That does not hold for {numbered(locked)}, which {are} locked."

    def _own_outline(self, loom: Loom, slot: int) -> bool:
        """Whether a motif as a whole hangs otherwise than its outlines' rule says."""
        done = self._pattern.by_hand(slot)
        if not (done.outline or done.as_it_is):
            return False
        whole = replace(done, edits=())
        ruled = loom.lengths(slot, ByHand(width=self._pattern.width(slot)))
        return [*map(len, loom.dangles(slot, whole))] != ruled

    def colours(self) -> Iterator[str]:
        order, inside = self._pattern.order, self._pattern.inside
        gap = f", no colour again within {_many(order.gap, 'motif')}" if order.gap else ""
        gap += ", which does not hold any more" if gap and not self._gap_holds() else ""
        yield (
            f"The motifs' colours stand {_ARRANGED[order.arrangement]}{gap}: "
            f"{self._keys(order.keys)}."
        )
        yield f"In another number of motifs the colours {_GOES_ON[order.way]}."
        if inside.colouring is Colouring.PLAIN:
            yield "Each motif is all of its own colour."
            return
        pairs = ", ".join(
            f"{self._colour(other)} with {self._colour(one)}" for one, other in inside.beside
        )
        yield f"Inside motifs: {inside.colouring}{f'; {pairs}' if pairs else ''}."

    def _gap_holds(self) -> bool:
        pattern = self._pattern
        own = [pattern.own_key(slot) for slot in range(pattern.run.motifs)]
        return all(key not in own[at + 1 :][: pattern.order.gap] for at, key in enumerate(own))

    def _tip(self, tip: TipRule) -> str:
        kind = "" if tip.kind is None else tip.kind.name
        paint = "" if tip.paint is None else f"in {self._paint(tip.paint)}"
        return f"{kind} {paint}".strip() or "as their dangles"

    def tips(self) -> str:
        return f"Turning beads are {self._tip(self._pattern.tip)}."

    def dividers(self) -> Iterator[str]:
        if self._pattern.divider:
            yield f"Under each bead of a divider hangs {self._hung(self._pattern.divider)}."
        else:
            yield "Dividers are bare."

    def ends(self) -> Iterator[str]:
        ends = self._pattern.ends
        closure = ends.closure
        takes = f"takes {both(closure.length_mm)}" if closure.length_mm else "is not counted"
        yield f"The closure{f' ({closure.kind})' if closure.kind else ''} {takes}."
        if ends.start or ends.end:
            awake = ends.for_motifs == self._pattern.run.motifs
            rest = "" if awake else f", in a piece of {_many(ends.for_motifs, 'motif')}"
            sides = [("start", ends.start), ("end", ends.end)]
            told = "; ".join(f"at the {side} {self._hung(row)}" for side, row in sides if row)
            yield f"Link beads: {told}{rest}."

    def worn(self) -> str:
        worn = self._pattern.worn
        snug_mm = None if worn.wearer is None else worn.wearer.snug_mm
        said = (worn.wear or usual_wear(snug_mm)).with_article
        by = "" if worn.wear else ", by its size"
        if worn.wearer is None:
            return f"It is worn as {said if worn.wear else _some(said)}, for no measurement yet."
        ease = "set by hand" if worn.own_ease else "as usual"
        return (
            f"It is worn as {said}{by}: {both(worn.wearer.snug_mm)} round the limb and "
            f"{millimetres(worn.wearer.ease_mm)} of ease, {ease}."
        )

    # By hand.

    def motif(self, slot: int) -> str:
        """What was done to a motif of the strip; empty where nothing was."""
        done = self._pattern.by_hand(slot)
        parts = [*self._done(done, self._pattern.width(slot))]
        return f"Motif {slot + 1}: {_listed(parts)}." if parts else ""

    def _done(self, done: ByHand, width: int) -> Iterator[str]:
        if done.locked is not None:
            yield "locked"
        if done.held is not None:
            yield f"kept bead by bead, by no rule ({self._columns(done.held)})"
        if done.colour is not None:
            yield f"in {self._colour(done.colour)}"
        if done.width is not None:
            yield _many(done.width, "dangle")
        if done.outline is not None:
            yield f"outline {_outline(done.outline)}"
        if done.colouring is not None:
            yield f"inside {done.colouring}"
        if done.tip is not None:
            yield f"turning beads {self._tip(done.tip)}"
        yield from (self.touch(edit, width) for edit in done.edits)

    def touch(self, edit: Edit, width: int) -> str:
        """One touch by hand, in a motif that is now so wide."""
        of = "" if edit.width == width else f" of {edit.width}"
        dangle = f"dangle {edit.across + 1}{of}"
        if isinstance(edit, LengthEdit):
            return f"{dangle} {_many(edit.length, 'bead')} long"
        if isinstance(edit, BaseEdit):
            return f"base bead {edit.across + 1}{of} in {self._paint(edit.base)}"
        return f"{self._bead(edit, dangle)} in {self._paint(edit.paint)}"

    def _bead(self, edit: PaintEdit, dangle: str) -> str:
        if edit.along is None:
            return dangle
        if not edit.from_tip:
            return f"bead {edit.along + 1} of {dangle}"
        above = "" if edit.along == 0 else f"{_many(edit.along, 'bead')} above "
        return f"{above}the turning bead of {dangle}"

    def gaps(self) -> Iterator[str]:
        places = {self._pattern.kept_at(s): s for s in reversed(range(self._pattern.run.motifs))}
        for gap in self._pattern.gaps:
            where = self._where(gap, places)
            if where:
                hung = [one for one in gap.held if one.beads]
                bare = "" if hung else ", bare"
                columns = self._columns(gap.held)
                told = f": {columns}" if columns else ""
                yield f"{where} has {_many(len(gap.held), 'base bead')}{bare}{told}."

    def _where(self, gap: Gap, places: dict[int, int]) -> str:
        if isinstance(gap.at, Part):
            return {
                Part.START: "The plain start",
                Part.LAST: "The last divider",
                Part.END: "The plain end",
            }[gap.at]
        return f"The divider before motif {places[gap.at] + 1}" if gap.at in places else ""

    def _columns(self, held: Sequence[Held]) -> str:
        """What hangs from base beads that are kept bead by bead, and their colours."""
        told, place = [], 1
        for one, row in groupby(held, lambda one: (one.base, one.beads)):
            base, beads = one
            last = place + len([*row]) - 1
            where = f"base bead {place}" if last == place else f"base beads {place} to {last}"
            if base is not Relative.BASE:
                where = f"{where} in {self._paint(base)}"
            if beads:
                told.append(f"{where}: {self._hung(beads)}")
            elif base is not Relative.BASE:
                told.append(where)
            place = last + 1
        return _listed(told, "; ")


def _some(said: str) -> str:
    return f"{said}, if nobody says otherwise"
