"""Relatives of a piece: the same but for one thing or two."""

from collections.abc import Iterator
from dataclasses import replace

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
from explorer.colouring import Colouring
from explorer.design import Design, motif_bead, motif_profile
from explorer.fit import Repeat
from explorer.orders import Orders
from explorer.profile import Shape, profile
from explorer.recipe import Recipe
from explorer.sequence_types import Arrangement
from explorer.subsets import Subset

# What may change, each by itself or with one other.
_ASPECTS = ("outline", "reach", "colours", "arrangement", "colouring", "width")


def recipe_of(design: Design) -> Recipe:
    """The recipe that comes nearest to a design: its first motif's profile, its motifs' colours.

    Its palette counts the motifs' beads in order of first use, so it goes with a brief whose
    colours are exactly these.
    """
    order = [motif_bead(motif) for motif in design.motifs]
    beads = list(dict.fromkeys(order))
    lengths = motif_profile(design.motifs[0])
    others = {motif_profile(motif) for motif in design.motifs[1::2]}
    second = others.pop() if len(others) == 1 else ()
    margins = len(design.start_margin) + len(design.end_margin)
    return Recipe(
        outline=outline_of(lengths),
        profile=lengths,
        second=second if second != lengths and len(second) == len(lengths) else (),
        repeat=Repeat(dangles=len(lengths), divider=len(design.dividers[0]), margins=margins),
        palette=tuple(range(len(beads))),
        order=tuple(beads.index(bead) for bead in order),
        arrangement=Arrangement.MIRROR if order == order[::-1] else Arrangement.FREE,
    )


def motif_beads_of(design: Design) -> tuple[int, ...]:
    """The bead numbers that a design's motifs take their colour from, in order of first use."""
    return tuple(dict.fromkeys(motif_bead(motif) for motif in design.motifs))


def outline_of(lengths: tuple[int, ...]) -> str:
    """The shape that gives exactly these lengths, in a word; else that they are the maker's own."""
    for shape in Shape:
        if profile(shape, len(lengths), min(lengths), max(lengths)) == lengths:
            return shape.value
    return OWN_PROFILE


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
