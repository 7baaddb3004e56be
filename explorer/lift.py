"""From beads to the pattern that they most likely came from: how pieces of version 1 are opened.

Every rule is recognised by itself, as what most motifs keep to. A motif or a divider that the rules
do not give is tried with exceptions of its own, and is kept bead by bead where none fits: weaving
what comes out gives the same beads again, by construction.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TypeVar

from explorer.bead_numbers import tidied
from explorer.colouring import Colouring, paint
from explorer.design import Column, Design, motif_bead, motif_profile
from explorer.pattern import (
    MOST_EDITS,
    NOTHING,
    BaseEdit,
    BaseRule,
    ByHand,
    Colour,
    ColourRule,
    Edit,
    Ends,
    Gap,
    Held,
    Hung,
    InsideRule,
    Key,
    LengthEdit,
    OutlineRule,
    Paint,
    PaintEdit,
    Part,
    Pattern,
    Relative,
    Run,
    TipRule,
    Way,
    Worn,
    outline_of,
)
from explorer.profile_alternation import PATTERNS
from explorer.sequence_types import Arrangement
from explorer.tips import hanging_kind
from explorer.weave import Loom, weave
from palettes.beads import Bead, BeadKind
from palettes.finishes import Finish

# The base's colours come again after so many beads at most. Chosen by us: a longer rhythm is none.
_MOST_RHYTHM = 12
# A motif of which more than this share was painted is no longer the rule with touches of colour.
# Chosen by us, because half of its beads then say otherwise.
_MOST_PAINTED = 0.5
# So many dangles of another length are not yet another outline. Chosen by us, because one is pulled
# alone or with its mirror image.
_FEW_LENGTHS = 2

_Look = tuple[str, str, Finish]
T = TypeVar("T")


# Motif after motif has the same lengths; every one is tried in every colouring.
_roles = lru_cache(maxsize=256)(paint)


def lift(
    design: Design,
    *,
    worn: Worn | None = None,
    fill: bool = False,
    measured: bool = False,
    one_outline: bool = False,
) -> Pattern:
    """A pattern that weaves these beads.

    Args:
        design: the piece bead by bead.
        worn: whose it is.
        fill: whether plain ends fill what is left over.
        measured: whether the base pitch was measured.
        one_outline: whether one outline alone is the rule, and every other one its motif's own; a
            strip of another length then takes them in turn as it takes the colours.

    Returns:
        A pattern whose ``weave`` is the design, but for beads that nothing uses and beads listed
        twice.
    """
    found = _Lift(tidied(design), one_outline=one_outline)
    return found.pattern(worn or Worn(), fill=fill, measured=measured)


def _most(found: Iterable[T]) -> T:
    """The most frequent, the first seen at a tie."""
    return Counter(found).most_common(1)[0][0]


class _Lift:
    """One design on its way to a pattern."""

    def __init__(self, design: Design, *, one_outline: bool) -> None:
        self._design = design
        self._patterns = PATTERNS[:1] if one_outline else PATTERNS
        self._turns = (False,) if one_outline else (False, True)
        looks = dict.fromkeys(_look(bead) for bead in design.beads)
        self._key_of: dict[_Look, Key] = {look: key for key, look in enumerate(looks, 1)}
        self._keys = [self._key_of[_look(bead)] for bead in design.beads]
        self._kinds = [bead.kind for bead in design.beads]
        self._colours = tuple(
            Colour(key=key, name=name, hex=hex_, finish=finish)
            for (name, hex_, finish), key in self._key_of.items()
        )
        self._hanging = hanging_kind(design)
        self._base_kind = _most(self._kinds[column.base] for _, column in design.columns())

    def pattern(self, worn: Worn, *, fill: bool, measured: bool) -> Pattern:
        """The pattern, checked against the design part by part."""
        design = self._design
        base = self._base(measured=measured)
        hang = self._divider(base.keys[0])
        pattern = Pattern(
            colours=self._colours,
            next_key=len(self._colours) + 1,
            hanging=self._hanging,
            base=base,
            run=self._run(fill=fill),
            outlines=self._outlines(),
            order=ColourRule(keys=(1,) * len(design.motifs)),
            tip=self._tip(),
            divider=hang,
            ends=Ends(
                closure=design.closure,
                start=tuple(self._link(n, base.keys[0]) for n in design.start_links),
                end=tuple(self._link(n, base.keys[0]) for n in design.end_links),
                for_motifs=len(design.motifs),
            ),
            worn=worn,
            kept=len(design.motifs),
        )
        pattern = self._coloured(pattern)
        if self._mirrored():
            pattern = replace(pattern, order=_mirror(pattern.order))
        pattern = self._with_exceptions(pattern)
        return self._listed(pattern)

    def _mirrored(self) -> bool:
        motifs = self._design.motifs
        return len(motifs) > 1 and motifs == motifs[::-1]

    def _hung(self, number: int, base: Key) -> Hung:
        key, kind = self._keys[number], self._kinds[number]
        return Hung(
            paint=Relative.BASE if key == base else key,
            kind=None if kind == self._hanging else kind,
        )

    def _link(self, number: int, base: Key) -> Hung:
        return replace(self._hung(number, base), kind=self._kinds[number])

    # Rules, each by itself.

    def _base(self, *, measured: bool) -> BaseRule:
        design = self._design
        columns = [column for _, column in design.columns()]
        keys = [self._keys[column.base] for column in columns]
        rule = BaseRule(
            kind=self._base_kind, pitch_mm=design.base_pitch_mm, measured=measured,
            keys=(_most(keys),),
        )  # fmt: skip
        by_motif = self._by_motif(rule)
        # The shorter rhythm is the one that was meant.
        most = len(by_motif.keys) if by_motif else _MOST_RHYTHM
        for length in range(1, min(most, len(keys) // 2) + 1):
            if all(keys[i] == keys[i % length] for i in range(len(keys))):
                return replace(rule, keys=tuple(keys[:length]))
        return by_motif or rule

    def _by_motif(self, rule: BaseRule) -> BaseRule | None:
        """The rule with colours from motif to motif, where the base keeps to one."""
        design = self._design
        others = [
            c for row in (*design.dividers, design.start_margin, design.end_margin) for c in row
        ]
        plain = {self._keys[column.base] for column in others}
        each = [{self._keys[column.base] for column in motif} for motif in design.motifs]
        if len(plain) > 1 or any(len(one) > 1 for one in each):
            return None
        keys = [one.pop() for one in each]
        for length in range(2, min(_MOST_RHYTHM, len(keys) // 2) + 1):
            if (not plain or keys[0] in plain) and all(
                keys[i] == keys[i % length] for i in range(len(keys))
            ):
                return replace(rule, keys=tuple(keys[:length]), by_motif=True)
        return None

    def _run(self, *, fill: bool) -> Run:
        design = self._design
        between = [len(divider) for divider in design.dividers]
        divider = _most(between[:-1] or between)
        return Run(
            motifs=len(design.motifs),
            width=_most(map(len, design.motifs)),
            divider=divider,
            last_divider=None if between[-1] == divider else between[-1],
            margins=(len(design.start_margin), len(design.end_margin)),
            fill=fill,
        )

    def _divider(self, base: Key) -> tuple[Hung, ...]:
        hangs = [column.beads for divider in self._design.dividers for column in divider]
        if not hangs:
            return ()
        return tuple(self._hung(number, base) for number in _most(hangs))

    def _outlines(self) -> OutlineRule:
        """The letters that most motifs keep to, the simplest at a tie."""
        rows = [motif_profile(motif) for motif in self._design.motifs]
        width = _most(map(len, rows))
        best, found = -1, OutlineRule(outlines=(outline_of(rows[0]),))
        for letters in self._patterns:
            for mirrored in self._turns:
                rule = _lettered(rows, letters, width, mirrored=mirrored)
                if rule is None:
                    continue
                fits = sum(
                    len(row) == width and rule.lengths(slot, len(rows), width) == row
                    for slot, row in enumerate(rows)
                )
                # A second letter for the sake of one motif is that motif's own outline.
                if fits > best + (1 if letters != "A" and best > 0 else 0):
                    best, found = fits, rule
        return found

    def _tip(self) -> TipRule:
        """The kind and the colour that turning beads have and the beads above them have not."""
        tips = [column.beads[-1] for motif in self._design.motifs for column in motif]
        kind = _most(self._kinds[n] for n in tips)
        looks = Counter(self._keys[n] for n in tips)
        key, times = looks.most_common(1)[0]
        bodies = {self._keys[n] for m in self._design.motifs for c in m for n in c.beads[:-1]}
        shared = 2 * times > len(tips) and len(bodies - {key}) > 0 and len(self._design.motifs) > 1
        others = {self._body_key(m) for m in self._design.motifs} - {key}
        return TipRule(
            kind=None if kind == self._hanging else kind,
            paint=key if shared and others else None,
        )

    def _body_key(self, motif: tuple[Column, ...]) -> Key:
        keys = Counter(self._keys[n] for column in motif for n in column.beads[:-1])
        return keys.most_common(1)[0][0] if keys else self._keys[motif_bead(motif)]

    # Colours, motif by motif.

    def _coloured(self, pattern: Pattern) -> Pattern:
        """The pattern with the colouring, and the colours of the motifs, that give most of them."""
        best: tuple[int, int] | None = None
        found = pattern
        paints: tuple[Paint | None, ...] = (pattern.tip.paint, None, Relative.OWN)
        for tip in (replace(pattern.tip, paint=turn) for turn in dict.fromkeys(paints)):
            for rank, colouring in enumerate(Colouring):
                trial, fits = self._painted(replace(pattern, tip=tip), colouring)
                score = fits, -rank
                if best is None or score > best:
                    best, found = score, trial
        return found

    def _painted(self, pattern: Pattern, colouring: Colouring) -> tuple[Pattern, int]:
        """The pattern in a colouring, and how many motifs it gives bead by bead."""
        pairs: list[tuple[Key, Key] | None] = [
            self._own(motif, pattern.tip, colouring) for motif in self._design.motifs
        ]
        partners: dict[Key, Counter[Key]] = {}
        for pair in pairs:
            if pair is not None and pair[0] != pair[1]:
                partners.setdefault(pair[0], Counter())[pair[1]] += 1
        beside = {own: tally.most_common(1)[0][0] for own, tally in partners.items()}
        if beside:
            # A colour that goes alone goes on alone when others come.
            beside.update((own, own) for own, _ in filter(None, pairs) if own not in beside)
        fits = sum(pair is not None and beside.get(pair[0], pair[0]) == pair[1] for pair in pairs)
        if colouring is not Colouring.PLAIN and not beside:
            fits = 0
        keys = tuple(
            pair[0] if pair is not None else self._body_key(motif)
            for pair, motif in zip(pairs, self._design.motifs, strict=True)
        )
        inside = InsideRule(colouring=colouring, beside=tuple(sorted(beside.items())))
        return replace(pattern, inside=inside, order=ColourRule(keys=keys)), fits

    def _own(
        self, motif: tuple[Column, ...], tip: TipRule, colouring: Colouring
    ) -> tuple[Key, Key] | None:
        """The motif's own colour and its companion in a colouring, if they give its beads."""
        wanted = [[self._keys[n] for n in column.beads] for column in motif]
        painted = _roles(motif_profile(motif), (0, 1), colouring)
        roles: dict[int, set[Key]] = {0: set(), 1: set()}
        for have, roles_of in zip(wanted, painted, strict=True):
            if tip.paint is Relative.OWN:
                roles[0].add(have[-1])
            elif tip.paint is not None and have[-1] != tip.paint:
                return None
            # What the rule for turning beads paints tells nothing of the motif.
            body = len(have) - (tip.paint is not None)
            for key, role in zip(have[:body], roles_of[:body], strict=True):
                roles[role].add(key)
        if len(roles[0]) > 1 or len(roles[1]) > 1:
            return None
        if not roles[0] and not roles[1]:
            return None
        own = next(iter(roles[0]), None) or next(iter(roles[1]))
        return own, next(iter(roles[1]), own)

    # What the rules do not give.

    def _with_exceptions(self, pattern: Pattern) -> Pattern:
        design, woven = self._design, weave(pattern)
        gaps = []
        rows: list[tuple[int | Part, tuple[Column, ...], tuple[Column, ...]]] = [
            (Part.START, design.start_margin, woven.start_margin),
            (Part.END, design.end_margin, woven.end_margin),
            (Part.LAST, design.dividers[-1], woven.dividers[-1]),
        ]
        rows += [
            (slot, mine, theirs)
            for slot, (mine, theirs) in enumerate(
                zip(design.dividers[:-1], woven.dividers[:-1], strict=True)
            )
        ]
        for at, mine, theirs in rows:
            if self._row(mine) != _row(woven, theirs):
                gaps.append(Gap(at=at, held=self._held(mine, pattern.base)))
        loom = Loom(pattern)
        held: list[tuple[int, ByHand]] = []
        for slot, motif in enumerate(design.motifs):
            if self._row(motif) != _row(woven, woven.motifs[slot]):
                bases = [woven.beads[column.base] for column in woven.motifs[slot]]
                by_hand = self._by_hand(pattern, loom, slot)
                held.append((slot, self._with_bases(motif, by_hand, bases)))
        pattern = replace(pattern, motifs=tuple(one for one in held if one[1] != NOTHING))
        return self._held_where_needed(replace(pattern, gaps=tuple(gaps)))

    def _with_bases(
        self, motif: tuple[Column, ...], by_hand: ByHand, bases: Sequence[Bead]
    ) -> ByHand:
        """What was done by hand, with base beads unlike those that their rule gives."""
        if by_hand.held or len(bases) != len(motif):
            return by_hand
        edits = tuple(
            BaseEdit(
                across=across,
                width=len(motif),
                base=self._keys[column.base],
                kind=self._base_kind_of(column),
            )
            for across, (column, base) in enumerate(zip(motif, bases, strict=True))
            if self._design.beads[column.base] != base
        )
        if len(by_hand.edits) + len(edits) > MOST_EDITS:
            return by_hand
        return replace(by_hand, edits=by_hand.edits + edits)

    def _held_where_needed(self, pattern: Pattern) -> Pattern:
        """The pattern with every motif held bead by bead that still differs."""
        woven = weave(pattern)
        held = dict(pattern.motifs)
        for slot, motif in enumerate(self._design.motifs):
            if self._row(motif) != _row(woven, woven.motifs[slot]):
                held[slot] = ByHand(held=self._held(motif, pattern.base))
        return replace(pattern, motifs=tuple(sorted(held.items())))

    def _by_hand(self, pattern: Pattern, loom: Loom, slot: int) -> ByHand:
        """The fewest exceptions that give a motif's dangles, else all its beads."""
        motif = self._design.motifs[slot]
        by_hand = NOTHING
        if len(motif) != pattern.run.width:
            by_hand = replace(by_hand, width=len(motif))
        lengths = motif_profile(motif)
        usual = loom.lengths(slot, by_hand)
        other = [at for at, length in enumerate(lengths) if length != usual[at]]
        if len(other) <= _FEW_LENGTHS and 2 * len(other) < len(lengths):
            edits = (LengthEdit(across=at, width=len(lengths), length=lengths[at]) for at in other)
            by_hand = replace(by_hand, edits=tuple(edits))
        elif other:
            by_hand = replace(by_hand, outline=outline_of(lengths))
        for trial in (by_hand, *self._trials(pattern, motif, by_hand)):
            if self._gives(loom, slot, trial):
                return trial
        touched = self._touched(pattern, loom, slot, by_hand)
        if touched is not None and self._gives(loom, slot, touched):
            return touched
        return ByHand(held=self._held(motif, pattern.base))

    def _trials(
        self, pattern: Pattern, motif: tuple[Column, ...], by_hand: ByHand
    ) -> Iterator[ByHand]:
        kinds = {self._kinds[column.beads[-1]] for column in motif}
        kind = kinds.pop() if len(kinds) == 1 else None
        tip_kind = None if kind in {None, self._hanging} else kind
        tips = {self._keys[column.beads[-1]] for column in motif}
        paints: list[Paint | None] = [pattern.tip.paint, None, *(tips if len(tips) == 1 else ())]
        for turn in dict.fromkeys(paints):
            tip = TipRule(kind=tip_kind, paint=turn)
            own_tip = None if tip == pattern.tip else tip
            for colouring in dict.fromkeys((pattern.inside.colouring, *Colouring)):
                pair = self._own(motif, tip, colouring)
                if pair is None:
                    continue
                usual = colouring is pattern.inside.colouring
                yield replace(
                    by_hand,
                    colour=pair[0],
                    colouring=None if usual else colouring,
                    tip=own_tip,
                )

    def _touched(self, pattern: Pattern, loom: Loom, slot: int, by_hand: ByHand) -> ByHand | None:
        """The motif with a few dangles or beads painted by hand."""
        motif = self._design.motifs[slot]
        own, width = self._body_key(motif), len(motif)
        usual = own == pattern.order.key(slot, pattern.run.motifs)
        by_hand = replace(by_hand, colour=None if usual else own)
        whole = []
        for across, (column, theirs) in enumerate(
            zip(motif, loom.dangles(slot, by_hand), strict=True)
        ):
            keys = {self._keys[n] for n in column.beads[:-1]} or {self._keys[column.beads[-1]]}
            if len(keys) == 1 and keys.isdisjoint(key for key, _ in theirs):
                whole.append(PaintEdit(across=across, width=width, paint=keys.pop()))
        if len(by_hand.edits) + len(whole) > MOST_EDITS:
            return None
        by_dangles = replace(by_hand, edits=(*by_hand.edits, *whole))
        tries = [
            (*one.edits, *self._beads(motif, loom.dangles(slot, one)))
            for one in (by_dangles, by_hand)
        ]
        best = min(tries, key=len)
        beads = sum(len(column.beads) for column in motif)
        few = min(MOST_EDITS, _MOST_PAINTED * beads + 1 + len(by_hand.edits))
        return replace(by_hand, edits=best) if len(best) <= few else None

    def _beads(
        self, motif: tuple[Column, ...], hangs: Sequence[Sequence[tuple[Key, object]]]
    ) -> Iterator[Edit]:
        """What to paint, bead by bead, so that what hangs there looks like a motif."""
        for across, (column, theirs) in enumerate(zip(motif, hangs, strict=True)):
            last = len(column.beads) - 1
            for along, (one, (key, _)) in enumerate(zip(column.beads, theirs, strict=True)):
                if self._keys[one] != key:
                    yield PaintEdit(
                        across=across,
                        width=len(motif),
                        paint=self._keys[one],
                        along=0 if along == last else along,
                        from_tip=along == last,
                    )

    def _gives(self, loom: Loom, slot: int, by_hand: ByHand) -> bool:
        hangs = [
            [(self._keys[n], self._kinds[n]) for n in column.beads]
            for column in self._design.motifs[slot]
        ]
        return loom.dangles(slot, by_hand) == hangs

    def _held(self, columns: Sequence[Column], rule: BaseRule) -> tuple[Held, ...]:
        return tuple(
            Held(
                base=Relative.BASE if self._keys[c.base] == rule.keys[0] else self._keys[c.base],
                beads=tuple(
                    Hung(
                        paint=self._keys[n],
                        kind=None if self._kinds[n] == self._hanging else self._kinds[n],
                    )
                    for n in c.beads
                ),
                kind=self._base_kind_of(c),
            )
            for c in columns
        )

    def _base_kind_of(self, column: Column) -> BeadKind | None:
        kind = self._kinds[column.base]
        return None if kind == self._base_kind else kind

    def _row(self, columns: Sequence[Column]) -> list[tuple[object, ...]]:
        return _row(self._design, columns)

    def _listed(self, pattern: Pattern) -> Pattern:
        """The pattern with the design's own order of beads, where it is not the usual one."""
        woven = weave(pattern)
        if woven.beads == self._design.beads:
            return pattern
        listed = tuple((key, kind.name) for key, kind in zip(self._keys, self._kinds, strict=True))
        return replace(pattern, listed=listed)


def _mirror(order: ColourRule) -> ColourRule:
    """The order as a mirror, which one colour alone is not."""
    several = len(set(order.keys)) > 1
    arrangement = Arrangement.MIRROR if several else Arrangement.FREE
    return replace(order, way=Way.MIRROR, arrangement=arrangement)


def _lettered(
    rows: Sequence[tuple[int, ...]], letters: str, width: int, *, mirrored: bool
) -> OutlineRule | None:
    """The outlines that most motifs of each letter have; none where a letter has no motif."""
    count = len(rows)
    each: dict[int, Counter[tuple[int, ...]]] = {}
    trial = OutlineRule(
        outlines=(outline_of((1,)),) * len(set(letters)), letters=letters, mirrored=mirrored
    )
    for slot, row in enumerate(rows):
        if len(row) == width:
            turned = row[::-1] if trial.turned(slot, count) else row
            each.setdefault(trial.letter(slot, count), Counter())[turned] += 1
    if len(each) < len(set(letters)):
        return None
    return replace(
        trial,
        outlines=tuple(
            outline_of(each[letter].most_common(1)[0][0]) for letter in range(len(each))
        ),
    )


def _row(design: Design, columns: Sequence[Column]) -> list[tuple[object, ...]]:
    """Columns as beads, independent of how they are numbered."""
    return [tuple(design.beads[n] for n in (c.base, *c.beads)) for c in columns]


def _look(bead: Bead) -> _Look:
    return bead.name, bead.hex, bead.finish
