"""A recipe: the few choices that make a whole design, as proposals vary them."""

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.brief import Brief
from explorer.colouring import Colouring, paint
from explorer.design import Column, Design
from explorer.fit import Repeat
from explorer.sequence_types import Arrangement
from palettes.beads import Bead


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """What tells one proposal from another.

    Attributes:
        outline: the profile's shape in a word.
        profile: dangle lengths of a motif, in beads.
        second: those of every second motif, as wide; none where all motifs are alike.
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
        return self.second if self.second and motif % 2 else self.profile

    @property
    def beads(self) -> int:
        """Beads in all dangles."""
        return sum(sum(self.lengths(motif)) for motif in range(len(self.order)))


def make(brief: Brief, recipe: Recipe) -> Design:
    """The design of a recipe; its beads are the palette's, then base and divider bead."""
    palette = tuple(brief.colours[place] for place in recipe.palette)
    beads: tuple[Bead, ...] = (*palette, brief.base_bead)
    base = len(palette)
    hanging: tuple[int, ...] = ()
    if brief.divider_bead is not None:
        beads = (*beads, brief.divider_bead)
        hanging = (base + 1,)
    divider = (Column(base=base, beads=hanging),) * recipe.repeat.divider
    start = recipe.repeat.margins // 2
    return Design(
        beads=beads,
        base_pitch_mm=brief.strip.pitch_mm,
        motifs=tuple(
            _motif(base, recipe, colour, recipe.lengths(motif))
            for motif, colour in enumerate(recipe.order)
        ),
        dividers=(divider,) * (len(recipe.order) + 1),
        start_margin=(Column(base=base),) * start,
        end_margin=(Column(base=base),) * (recipe.repeat.margins - start),
        closure=brief.closure,
    )


def _motif(base: int, recipe: Recipe, colour: int, lengths: tuple[int, ...]) -> tuple[Column, ...]:
    dangles = paint(lengths, motif_beads(recipe, colour), recipe.colouring)
    return tuple(Column(base=base, beads=beads) for beads in dangles)


def motif_beads(recipe: Recipe, colour: int) -> tuple[int, ...]:
    """The beads of a motif of that colour, its own first; see ``colouring.paint``."""
    if recipe.colouring is Colouring.PLAIN or not recipe.companions:
        return (colour,)
    return (colour, recipe.companions[colour])


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
