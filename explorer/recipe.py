"""A recipe: the few choices that make a whole design, as proposals vary them."""

from collections.abc import Sequence
from dataclasses import dataclass

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
    Pattern,
    Relative,
    Run,
    Worn,
    colour_rule,
    outline_of,
)
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

    def lengths(self, motif: int) -> tuple[int, ...]:
        """The dangle lengths of that motif."""
        from_end = min(motif, len(self.order) - 1 - motif)
        return self.second if self.second and from_end % 2 else self.profile

    @property
    def beads(self) -> int:
        """Beads in all dangles."""
        return sum(sum(self.lengths(motif)) for motif in range(len(self.order)))


def pattern_of(brief: Brief, recipe: Recipe) -> Pattern:
    """The pattern of a recipe: its palette's colours, and the brief's base and divider beads."""
    palette = tuple(brief.colours[place] for place in recipe.palette)
    looks = list(dict.fromkeys(map(_look, (*palette, brief.base_bead))))
    if brief.divider_bead is not None:
        looks = list(dict.fromkeys((*looks, _look(brief.divider_bead))))
    key = {look: number for number, look in enumerate(looks, 1)}
    keys = tuple(key[_look(bead)] for bead in palette)
    base = key[_look(brief.base_bead)]
    kind = brief.colours[0].kind
    hung: tuple[Hung, ...] = ()
    if brief.divider_bead is not None:
        hangs = key[_look(brief.divider_bead)]
        own_kind = None if brief.divider_bead.kind == kind else brief.divider_bead.kind
        hung = (Hung(paint=Relative.BASE if hangs == base else hangs, kind=own_kind),)
    profiles = (recipe.profile, recipe.second) if recipe.second else (recipe.profile,)
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
            keys=(base,),
        ),
        run=Run(
            motifs=len(recipe.order),
            width=repeat.dangles,
            divider=repeat.divider,
            margins=(start, repeat.margins - start),
            fill=brief.strip.plain_ends,
        ),
        outlines=OutlineRule(
            outlines=tuple(map(outline_of, profiles)), letters="AB" if recipe.second else "A"
        ),
        order=colour_rule(
            tuple(keys[place] for place in recipe.order), recipe.arrangement, brief.gap
        ),
        inside=InsideRule(
            colouring=recipe.colouring,
            beside=() if plain else tuple(sorted(p for p in beside.items() if p[0] != p[1])),
        ),
        divider=hung,
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
