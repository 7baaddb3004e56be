"""Recipes to choose proposals from: every mixture of outline, colours and arrangement in turn."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from explorer.brief import Brief
from explorer.colouring import Colouring
from explorer.enough import enough, motif_limits
from explorer.fit import BaseBeads, Fit, Repeat
from explorer.mixture import Mixture, with_extras
from explorer.motif_looks import Mix, face_of, mix_of, suits
from explorer.order_choice import Found
from explorer.orders import Orders
from explorer.profile import Shape, profile
from explorer.recipe import Recipe, companions
from explorer.rules import Rules
from explorer.sequence_types import Arrangement, Order
from explorer.subsets import Subset

# How many candidates are tried for each proposal that is asked for. Chosen by us: at six the
# weakest of 24 picks still differs plainly from its nearest; more costs time and shows no more.
TRIES_PER_PROPOSAL = 6
# How often each comes up, chosen by us: the plain ways most, since makers use them most.
ARRANGEMENTS = (
    Arrangement.FREE,
    Arrangement.UNIT,
    Arrangement.FREE,
    Arrangement.MIRROR,
    Arrangement.FREE,
    Arrangement.RUN,
    Arrangement.FREE,
    Arrangement.BLOCKS,
)
# With fewer colours, runs and blocks are a strip in two or three parts. Chosen by us, by looking.
FEWEST_COLOURS = {Arrangement.RUN: 4, Arrangement.BLOCKS: 3}
COLOURINGS = (
    Colouring.PLAIN,
    Colouring.PLAIN,
    Colouring.TIPS,
    Colouring.PLAIN,
    Colouring.PLAIN,
    Colouring.FADE,
    Colouring.PLAIN,
    Colouring.PLAIN,
    Colouring.HEART,
    Colouring.PLAIN,
    Colouring.PLAIN,
    Colouring.BANDS,
    Colouring.PLAIN,
    Colouring.PLAIN,
    Colouring.STRIPES,
)
# The word for an outline that is no shape of ours but the maker's own.
OWN_PROFILE = "your own profile"
# Chosen by us: more neighbouring fits than these close no better.
MOST_REPEATS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A recipe with its fit and its order as found.

    Attributes:
        recipe: the choices.
        fit: its strip.
        found: its order, reckoned with motifs as they are seen.
        exact: whether every order of its colours was reckoned so to the last bead; not where
            colours inside motifs take another share of one motif than of the next.
        family: what its colours have in common.
    """

    recipe: Recipe
    fit: Fit
    found: Found
    exact: bool
    family: str

    @property
    def order(self) -> Order:
        """The order taken."""
        return self.found.order


def fits(
    brief: Brief, own: Fit, base_beads: BaseBeads = Repeat.strip_base_beads
) -> tuple[Fit, ...]:
    """The strips that proposals may use, the brief's own first, then the least slack first."""
    allowed = brief.repeats or (
        own.repeat,
        *(a.repeat for a in own.alternatives if a.repeat.divider == own.repeat.divider),
    )
    found = []
    for repeat in allowed[:MOST_REPEATS]:
        fit = replace(brief.strip, repeat=repeat).fit(brief.wearer, brief.closure, base_beads)
        if isinstance(fit, Fit):
            found.append(fit)
    return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choices:
    """What candidates are mixed from.

    Attributes:
        strips: fits to use, the brief's own first.
        groups: groups of colours to use.
        lightness: L* of each of the brief's colours.
    """

    strips: tuple[Fit, ...]
    groups: tuple[Subset, ...]
    lightness: tuple[float, ...]


def candidates(
    brief: Brief, choices: Choices, orders: Orders, rng: np.random.Generator
) -> Iterator[Candidate]:
    """Candidates of every mixture, no recipe twice; ends after counted tries.

    Args:
        brief: what is asked for.
        choices: what to mix.
        orders: finds the colour orders.
        rng: decides what meets what.
    """
    seen: set[Recipe] = set()
    shapes, ways = brief.shapes or tuple(Shape), arrangements(brief)
    for turn in range(brief.count * TRIES_PER_PROPOSAL):
        fit = choices.strips[_first_half_the_time(len(choices.strips), rng)]
        group = choices.groups[int(rng.integers(len(choices.groups)))]
        # Every shape once before any comes again.
        shape = shapes[turn] if turn < len(shapes) else shapes[int(rng.integers(len(shapes)))]
        outline, lengths = _profile(brief, fit, shape, turn, rng)
        mixed = Mixture(
            outline=outline,
            profile=lengths,
            second=_second(brief, fit, lengths, turn, rng),
            fit=fit,
            group=group,
            arrangement=_suited(ways[turn % len(ways)], group, brief),
            colouring=COLOURINGS[turn % len(COLOURINGS)],
        )
        mixed = with_extras(mixed, brief, rng)
        candidate = settled(mixed, choices, orders)
        if candidate is None and brief.stock:
            # Beads that are not enough for all of it may be for a part of it, or the plain piece.
            bare = Rules(dividers=None if brief.divider_bead is None else ())
            less = replace(mixed, colouring=Colouring.PLAIN)
            less_still = replace(mixed, rules=bare)
            plain = replace(less_still, colouring=Colouring.PLAIN, second=())
            tried = (settled(one, choices, orders) for one in (less, less_still, plain))
            candidate = next(filter(None, tried), None)
        if candidate is not None and candidate.recipe not in seen:
            seen.add(candidate.recipe)
            yield candidate


def arrangements(brief: Brief) -> tuple[Arrangement, ...]:
    """The arrangements to use; a gap leaves out those that set a colour beside itself."""
    if brief.arrangements:
        return brief.arrangements
    beside = {Arrangement.BLOCKS, Arrangement.RUN, Arrangement.MIRROR} if brief.gap else set()
    return tuple(way for way in ARRANGEMENTS if way not in beside)


def _suited(way: Arrangement, group: Subset, brief: Brief) -> Arrangement:
    """The arrangement itself, or a free order where it needs more colours to be seen as such."""
    few = len(group.places) < FEWEST_COLOURS.get(way, 1)
    return Arrangement.FREE if few and not brief.arrangements else way


def settled(
    mixed: Mixture, choices: Choices, orders: Orders, given: tuple[int, ...] = ()
) -> Candidate | None:
    """The candidate of a mixture; None where no order keeps to the brief.

    Args:
        mixed: the mixture.
        choices: what else is mixed.
        orders: finds the colour orders.
        given: an order to take whatever is found, each motif's colour as a place in the group. What
            is proved of the order that is found holds of it only where it is the same one.
    """
    group, brief, rules = mixed.group, orders.brief, mixed.rules
    lightness = [choices.lightness[place] for place in group.places]
    colouring = _colouring(mixed)
    beside = () if colouring is Colouring.PLAIN else companions(lightness, colouring)
    limits = motif_limits(brief, mixed, beside, colouring) if brief.stock else ()
    mix = mix_in(mixed.profile, beside, colouring, rules, brief)
    found = orders.find(group.places, mixed.fit.motifs, mixed.arrangement, limits, mix)
    exact = True
    if given and (found is None or found.order.order != given):
        kept = orders.kept(group.places, given, mix)
        found, exact = Found(order=kept, strongest=kept.weakest, proven=False), False
    if found is None:
        return None
    # Only colours that the order uses belong to the piece.
    used = tuple(i for i, uses in enumerate(found.order.counts) if uses)
    palette = tuple(group.places[i] for i in used)
    if beside and not given and len(used) < len(group.places):
        # What goes with a colour depends on the colours that are used: these by themselves.
        return settled(replace(mixed, group=replace(group, places=palette)), choices, orders)
    recipe = Recipe(
        outline=mixed.outline,
        profile=mixed.profile,
        second=mixed.second,
        repeat=mixed.fit.repeat,
        palette=palette,
        order=tuple(used.index(i) for i in found.order.order),
        arrangement=mixed.arrangement,
        colouring=colouring,
        companions=beside,
        rules=rules,
    )
    if brief.stock and not enough(brief, recipe):
        return None
    return Candidate(
        recipe=recipe,
        fit=mixed.fit,
        found=found,
        exact=exact and (mix is None or _even(brief, recipe)),
        family=group.family,
    )


def mix_in(
    lengths: tuple[int, ...],
    beside: tuple[int, ...],
    colouring: Colouring,
    rules: Rules,
    brief: Brief,
) -> Mix | None:
    """What of other colours motifs of these lengths hold; see ``motif_looks.mix_of``."""
    face = face_of(rules.tip_kind, brief.colours[0].kind)
    return mix_of(lengths, beside, colouring, tip=rules.tip.hex if rules.tip else "", face=face)


def _even(brief: Brief, recipe: Recipe) -> bool:
    """Whether a colour looks the same in whatever motif it stands, as the search took for granted.

    Where outlines take turns or grow, other colours inside motifs may take another share of each.
    """
    args = recipe.companions, recipe.colouring, recipe.rules, brief
    return len({mix_in(lengths, *args) for lengths in recipe.all_lengths()}) == 1


def _colouring(mixed: Mixture) -> Colouring:
    """The colouring, or none where there is one colour, or a motif has no room for two."""
    if len(mixed.group.places) > 1 and all(suits(p, mixed.colouring) for p in mixed.outlines):
        return mixed.colouring
    return Colouring.PLAIN


def _first_half_the_time(count: int, rng: np.random.Generator) -> int:
    return 0 if count == 1 or rng.random() < 0.5 else int(rng.integers(1, count))


def _profile(
    brief: Brief, fit: Fit, shape: Shape, turn: int, rng: np.random.Generator
) -> tuple[str, tuple[int, ...]]:
    """The outline's word and the dangle lengths: the maker's own where they suit the width."""
    own = [lengths for lengths in brief.profiles if len(lengths) == fit.repeat.dangles]
    if own:
        return OWN_PROFILE, own[turn % len(own)]
    least, most = reach(brief, rng)
    return shape.value, profile(shape, fit.repeat.dangles, least, most)


def _second(
    brief: Brief, fit: Fit, first: tuple[int, ...], turn: int, rng: np.random.Generator
) -> tuple[int, ...]:
    """Every second motif's profile, on every second turn where an odd number closes alike."""
    if not brief.alternate or fit.motifs % 2 == 0 or turn % 2 == 0:
        return ()
    shapes = brief.shapes or tuple(Shape)
    other = profile(shapes[int(rng.integers(len(shapes)))], len(first), *reach(brief, rng))
    return () if other == first else other


def reach(brief: Brief, rng: np.random.Generator) -> tuple[int, int]:
    """Shortest and longest dangle: at least half of the brief's reach, so that it shows."""
    span = brief.most_beads - brief.least_beads
    least = brief.least_beads + int(rng.integers(0, span // 4 + 1))
    most = brief.most_beads - int(rng.integers(0, span // 4 + 1))
    return least, most
