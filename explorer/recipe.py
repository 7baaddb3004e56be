"""A recipe: the few choices that make a whole design, as proposals vary them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from explorer.brief import Brief
from explorer.colouring import Colouring
from explorer.design import Design
from explorer.fit import Repeat
from explorer.pattern import (
    BaseRule,
    Colour,
    Ends,
    Hung,
    InsideRule,
    OutlineRule,
    Paint,
    Pattern,
    Relative,
    Run,
    TipRule,
    Worn,
    colour_rule,
    outline_of,
)
from explorer.profile_alternation import PATTERNS
from explorer.rules import NO_RULES, Rules
from explorer.sequence_types import Arrangement
from explorer.weave import weave
from palettes.beads import Bead
from palettes.finishes import Finish


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """What tells one proposal from another.

    Attributes:
        outline: the profile's shape in a word.
        profile: dangle lengths of a motif, in beads.
        second: those of every second motif, as wide, counted from both ends; none where all motifs
            are alike.
        repeat: dangles, divider and margins.
        palette: the places in ``Brief.colours`` that are used, in the brief's order.
        order: the colour of each motif, as a place in ``palette``.
        arrangement: how the colours are laid out.
        colouring: how a motif's colours are spread over its dangles.
        companions: for each place in ``palette``, what goes with it inside a motif, as places in
            ``palette``.
        rules: turning beads, dividers, base, and how outlines go over the motifs.
    """

    outline: str
    profile: tuple[int, ...]
    repeat: Repeat
    palette: tuple[int, ...]
    order: tuple[int, ...]
    arrangement: Arrangement = Arrangement.FREE
    colouring: Colouring = Colouring.PLAIN
    companions: tuple[int, ...] = ()
    second: tuple[int, ...] = ()
    rules: Rules = NO_RULES

    @property
    def outlines(self) -> OutlineRule:
        """How its outlines go over the motifs."""
        return outline_rule(self.profile, self.second, self.rules)

    def all_lengths(self) -> list[tuple[int, ...]]:
        """The dangle lengths of every motif."""
        return all_lengths(self.outlines, len(self.order), len(self.profile))

    @property
    def beads(self) -> int:
        """Beads in all dangles."""
        return sum(map(sum, self.all_lengths()))


# A search asks for the same few again and again. Chosen by us: those of some searches.
@lru_cache(maxsize=1000)
def outline_rule(profile: tuple[int, ...], second: tuple[int, ...], rules: Rules) -> OutlineRule:
    """How outlines go over the motifs: one alone, or two or three in turn."""
    rows = tuple(filter(None, (profile, second, rules.third)))
    return OutlineRule(
        outlines=tuple(map(outline_of, rows)),
        letters=rules.letters or PATTERNS[len(rows) - 1],
        mirrored=rules.mirrored,
        growth=rules.growth,
    )


def all_lengths(rule: OutlineRule, motifs: int, width: int) -> list[tuple[int, ...]]:
    """The dangle lengths of every motif, by a rule."""
    return [
        tuple(
            max(1, length + rule.more(slot, motifs)) for length in rule.lengths(slot, motifs, width)
        )
        for slot in range(motifs)
    ]


def pattern_of(brief: Brief, recipe: Recipe) -> Pattern:
    """The pattern of a recipe: its palette's colours, and the brief's base and divider beads."""
    palette = tuple(brief.colours[place] for place in recipe.palette)
    rules, kind = recipe.rules, brief.colours[0].kind
    bases = rules.base or (brief.base_bead,)
    own = () if brief.divider_bead is None else (brief.divider_bead,)
    hung = own if rules.dividers is None else rules.dividers
    tip = () if rules.tip is None else (rules.tip,)
    looks = dict.fromkeys(map(_look, (*palette, *bases, *hung, *tip)))
    key = {look: number for number, look in enumerate(looks, 1)}
    keys = tuple(key[_look(bead)] for bead in palette)
    base = key[_look(bases[0])]

    def paint(bead: Bead) -> Paint:
        return Relative.BASE if key[_look(bead)] == base else key[_look(bead)]

    repeat, start = recipe.repeat, recipe.repeat.margins // 2
    beside = {keys[one]: keys[other] for one, other in enumerate(recipe.companions)}
    plain = recipe.colouring is Colouring.PLAIN
    return Pattern(
        colours=tuple(
            Colour(key=number, name=name, hex=hex_, finish=finish)
            for (name, hex_, finish), number in key.items()
        ),
        next_key=len(key) + 1,
        hanging=kind,
        base=BaseRule(
            kind=brief.base_bead.kind,
            pitch_mm=brief.strip.pitch_mm,
            measured=brief.strip.measured_pitch_mm is not None,
            keys=tuple(key[_look(bead)] for bead in bases),
            by_motif=rules.by_motif,
        ),
        run=Run(
            motifs=len(recipe.order),
            width=repeat.dangles,
            divider=repeat.divider,
            margins=(start, repeat.margins - start),
            fill=brief.strip.plain_ends,
        ),
        outlines=recipe.outlines,
        order=colour_rule(
            tuple(keys[place] for place in recipe.order), recipe.arrangement, brief.gap
        ),
        inside=InsideRule(
            colouring=recipe.colouring,
            beside=() if plain else tuple(sorted(beside.items())),
        ),
        tip=TipRule(kind=rules.tip_kind, paint=paint(tip[0]) if tip else None),
        divider=tuple(
            Hung(paint=paint(bead), kind=None if bead.kind == kind else bead.kind) for bead in hung
        ),
        ends=Ends(closure=brief.closure),
        worn=Worn(wearer=brief.wearer),
    )


def _look(bead: Bead) -> tuple[str, str, Finish]:
    return bead.name, bead.hex, bead.finish


def make(brief: Brief, recipe: Recipe) -> Design:
    """The design of a recipe; its beads are the palette's, then base and divider bead."""
    return weave(pattern_of(brief, recipe))


def companions(lightness: Sequence[float], colouring: Colouring) -> tuple[int, ...]:
    """What goes with each colour of a palette inside a motif, as places in the palette.

    Args:
        lightness: L* of each colour.
        colouring: the pattern. An accent is the palette's lightest colour, beside itself the
            darkest, so that all motifs share it; a fade runs to the next darker colour.
    """
    places = range(len(lightness))
    darkest_first = sorted(places, key=lambda place: lightness[place])
    lightest, darkest = darkest_first[-1], darkest_first[0]
    if colouring is Colouring.FADE:
        darker = {place: darkest_first[max(0, i - 1)] for i, place in enumerate(darkest_first)}
        return tuple(darker[place] for place in places)
    return tuple(darkest if place == lightest else lightest for place in places)
