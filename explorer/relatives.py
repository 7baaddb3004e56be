"""Relatives of a piece: the same but for one thing or two."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from explorer.brief import Brief
from explorer.candidates import (
    COLOURINGS,
    OWN_PROFILE,
    TRIES_PER_PROPOSAL,
    Candidate,
    Choices,
    Mixture,
    arrangements,
    reach,
    settled,
)
from explorer.changes import in_own_right, swatch_of, with_colours
from explorer.colouring import Colouring
from explorer.errors import BriefError
from explorer.fit import Repeat
from explorer.orders import Orders
from explorer.pattern import Pattern, outline_of
from explorer.profile import Shape, profile
from explorer.recipe import Recipe, pattern_of
from explorer.subsets import Subset
from palettes.beads import Bead, BeadKind

# What may change, each by itself or with one other.
_ASPECTS = ("outline", "reach", "colours", "arrangement", "colouring", "width")


@dataclass(frozen=True, slots=True, kw_only=True)
class Like:
    """What relatives are wanted of.

    Attributes:
        pattern: the piece.
        recipe: what of it proposals vary; its palette counts in the brief's colours.
    """

    pattern: Pattern
    recipe: Recipe


def like_of(pattern: Pattern, brief: Brief) -> Like:
    """The piece as something to find relatives of.

    Raises:
        BriefError: the brief's colours lack one of the piece's.
    """
    kind = brief.colours[0].kind
    wanted = motif_beads_of(pattern, kind)
    missing = [bead.hex for bead in wanted if bead not in brief.colours]
    if missing:
        raise BriefError(
            "colours",
            ", ".join(bead.hex for bead in brief.colours),
            f"all colours of the piece, {', '.join(missing)} too",
            "Add what is missing, or take the piece's own colours.",
        )
    order = [pattern.own_key(slot) for slot in range(pattern.run.motifs)]
    keys = list(dict.fromkeys(order))
    beside = [pattern.inside.companion(key) or key for key in keys]
    inside = pattern.inside.colouring
    if inside is Colouring.PLAIN or not set(beside) <= set(keys):
        inside, beside = Colouring.PLAIN, []
    rule, run = pattern.outlines, pattern.run
    profiles = [outline.at(run.width) for outline in rule.outlines]
    recipe = Recipe(
        outline=outline_word(profiles[0]),
        profile=profiles[0],
        second=profiles[1] if rule.letters == "AB" else (),
        repeat=Repeat(dangles=run.width, divider=run.divider, margins=sum(run.margins)),
        palette=tuple(brief.colours.index(bead) for bead in wanted),
        order=tuple(keys.index(key) for key in order),
        arrangement=pattern.order.arrangement,
        colouring=inside,
        companions=tuple(keys.index(key) for key in beside),
    )
    return Like(pattern=pattern, recipe=recipe)


def motif_beads_of(pattern: Pattern, kind: BeadKind) -> tuple[Bead, ...]:
    """The beads that a piece's motifs take their colour from, in order of first use."""
    keys = dict.fromkeys(pattern.own_key(slot) for slot in range(pattern.run.motifs))
    looks = (pattern.colour(key) for key in keys)
    return tuple(
        Bead(name=look.name, kind=kind, hex=look.hex, finish=look.finish) for look in looks
    )


def outline_word(lengths: tuple[int, ...]) -> str:
    """The shape that gives exactly these lengths, in a word; else that they are the maker's own."""
    shape = outline_of(lengths).shape
    return OWN_PROFILE if shape is None else shape.value


def related(brief: Brief, like: Like, recipe: Recipe) -> Pattern:
    """The piece with what a recipe changes of it, and all else as it was.

    Turning beads, small beads, the base's rhythm, ends, and what was done by hand stay.

    Args:
        brief: what is asked for.
        like: the piece.
        recipe: what becomes of it.
    """
    base, made = like.pattern, pattern_of(brief, recipe)
    base = replace(
        base,
        base=replace(made.base, keys=base.base.keys, by_motif=base.base.by_motif),
        hanging=made.hanging,
        ends=replace(base.ends, closure=brief.closure),
    )
    after, keys = with_colours(base, [swatch_of(made, colour.key) for colour in made.colours])
    key = {colour.key: new for colour, new in zip(made.colours, keys, strict=True)}
    old = like.recipe
    if recipe.repeat != old.repeat or len(recipe.order) != len(old.order):
        after = replace(after, run=replace(made.run, fill=base.run.fill))
    if (recipe.palette, recipe.order) != (old.palette, old.order):
        order = replace(made.order, keys=tuple(key[one] for one in made.order.keys))
        if order.way is not after.order.way and after.kept:
            # Else what was done by hand would go on as the new order does, to other motifs.
            after, _ = in_own_right(after)
        after = replace(after, order=order)
    if (recipe.profile, recipe.second) != (old.profile, old.second):
        rule = replace(
            base.outlines, outlines=made.outlines.outlines, letters=made.outlines.letters
        )
        after = replace(after, outlines=rule)
    if (recipe.colouring, recipe.companions) != (old.colouring, old.companions) or (
        recipe.colouring is not Colouring.PLAIN
    ):
        beside = tuple(sorted((key[one], key[two]) for one, two in made.inside.beside))
        after = replace(after, inside=replace(made.inside, beside=beside))
    return after


def relatives(
    brief: Brief, like: Recipe, choices: Choices, orders: Orders, rng: np.random.Generator
) -> Iterator[Candidate]:
    """Candidates that differ from a recipe in one thing or two, no recipe twice.

    Args:
        brief: what is asked for.
        like: the recipe to stay near; its palette refers to the brief's colours.
        choices: what else to mix in.
        orders: finds the colour orders.
        rng: decides what changes.
    """
    wanted = (like.repeat.dangles, like.repeat.divider)
    home = next(
        (fit for fit in choices.strips if (fit.repeat.dangles, fit.repeat.divider) == wanted),
        choices.strips[0],
    )
    base = Mixture(
        outline=like.outline,
        profile=like.profile,
        second=like.second,
        fit=home,
        group=Subset(places=like.palette, family="like"),
        arrangement=like.arrangement,
        colouring=like.colouring,
    )
    seen = {like}
    for _ in range(brief.count * TRIES_PER_PROPOSAL):
        mixed = base
        for aspect in rng.choice(_ASPECTS, size=int(rng.integers(1, 3)), replace=False):
            mixed = _changed(mixed, str(aspect), brief, choices, rng)
        candidate = settled(_widened(mixed), choices, orders)
        if candidate is not None and candidate.recipe not in seen:
            seen.add(candidate.recipe)
            yield candidate


def _changed(
    mixed: Mixture, aspect: str, brief: Brief, choices: Choices, rng: np.random.Generator
) -> Mixture:
    width = len(mixed.profile)
    match aspect:
        case "outline":
            shapes = brief.shapes or tuple(Shape)
            shape = shapes[int(rng.integers(len(shapes)))]
            lengths = profile(shape, width, min(mixed.profile), max(mixed.profile))
            return replace(mixed, outline=shape.value, profile=lengths)
        case "reach":
            return _reached(mixed, width, brief, rng)
        case "colours":
            group = choices.groups[int(rng.integers(len(choices.groups)))]
            return replace(mixed, group=group)
        case "arrangement":
            ways = arrangements(brief)
            return replace(mixed, arrangement=ways[int(rng.integers(len(ways)))])
        case "colouring":
            colouring = COLOURINGS[int(rng.integers(len(COLOURINGS)))]
            return replace(mixed, colouring=Colouring.PLAIN if brief.stock else colouring)
        case _:
            return replace(mixed, fit=choices.strips[int(rng.integers(len(choices.strips)))])


def _reached(mixed: Mixture, width: int, brief: Brief, rng: np.random.Generator) -> Mixture:
    least, most = reach(brief, rng)
    if mixed.outline == OWN_PROFILE:
        return mixed
    return replace(mixed, profile=profile(Shape(mixed.outline), width, least, most))


def _widened(mixed: Mixture) -> Mixture:
    """The mixture with a profile as wide as its fit wants."""
    width = mixed.fit.repeat.dangles
    if len(mixed.profile) == width:
        return mixed
    shape = Shape.PEAK if mixed.outline == OWN_PROFILE else Shape(mixed.outline)
    least, most = min(mixed.profile), max(mixed.profile)
    lengths = profile(shape, width, least, most)
    return replace(mixed, outline=shape.value, profile=lengths, second=())
