"""Relatives of a piece: one rule or two are others, and all else is as it was."""

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
    arrangements,
    reach,
    settled,
)
from explorer.changes import at_width, settled_keys, swatch_of, with_colours, with_motifs
from explorer.colouring import Colouring
from explorer.enough import none_overdrawn
from explorer.errors import BriefError
from explorer.fit import BaseBeads, Repeat
from explorer.mixture import RULES, Choice, Mixture
from explorer.orders import Orders
from explorer.pattern import (
    Hung,
    InsideRule,
    Key,
    Outline,
    OutlineRule,
    Paint,
    Part,
    Pattern,
    Relative,
    Run,
    TipRule,
    all_kept,
    in_way,
    outline_of,
)
from explorer.profile import Shape, profile
from explorer.profile_alternation import PATTERNS
from explorer.recipe import Recipe, pattern_of
from explorer.rules import Rules
from explorer.subsets import Subset
from explorer.weave import Loom, weave
from palettes.beads import Bead, BeadKind

# What may change, each by itself or with one other.
_ASPECTS = ("outline", "reach", "colours", "arrangement", "colouring", "width", *RULES)
# A change of these finds the colours a new order; any other leaves it as it is.
_ORDERED = frozenset({"colours", "arrangement"})


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
    # What was done by hand stands at its motif, whatever way the colours will go on.
    pattern = all_kept(pattern)
    order = _ruled_keys(pattern)
    keys = list(dict.fromkeys(order))
    beside = [pattern.inside.companion(key) or key for key in keys]
    inside = pattern.inside.colouring
    if inside is Colouring.PLAIN or not set(beside) <= set(keys):
        inside, beside = Colouring.PLAIN, []
    run = pattern.run
    profiles = [outline.at(run.width) for outline in pattern.outlines.outlines]
    recipe = Recipe(
        outline=outline_word(profiles[0]),
        profile=profiles[0],
        second=profiles[1] if len(profiles) > 1 else (),
        repeat=Repeat(dangles=run.width, divider=run.divider, margins=sum(run.margins)),
        palette=tuple(brief.colours.index(bead) for bead in wanted),
        order=tuple(keys.index(key) for key in order),
        arrangement=pattern.order.arrangement,
        colouring=inside,
        companions=tuple(keys.index(key) for key in beside),
        rules=_rules_of(pattern, profiles, brief),
    )
    return Like(pattern=pattern, recipe=recipe)


def _rules_of(pattern: Pattern, profiles: list[tuple[int, ...]], brief: Brief) -> Rules:
    """The piece's rules as those of a recipe, as far as a recipe has words for them."""
    rule, base = pattern.outlines, pattern.base

    def bead(key: Key, kind: BeadKind | None) -> Bead:
        look = pattern.colour(key)
        return Bead(name=look.name, kind=kind or pattern.hanging, hex=look.hex, finish=look.finish)

    def shared(paint: Paint | None) -> Key | None:
        return base.keys[0] if paint is Relative.BASE else paint if isinstance(paint, int) else None

    tip = shared(pattern.tip.paint)
    hung = tuple(bead(shared(one.paint) or base.keys[0], one.kind) for one in pattern.divider)
    usual = () if brief.divider_bead is None else (brief.divider_bead,)
    bases = tuple(bead(key, base.kind) for key in base.keys)
    return Rules(
        third=profiles[2] if len(profiles) > 2 else (),
        letters="" if rule.letters == PATTERNS[len(profiles) - 1] else rule.letters,
        mirrored=rule.mirrored,
        growth=rule.growth,
        tip=None if tip is None else bead(tip, None),
        tip_kind=pattern.tip.kind,
        dividers=None if hung == usual else hung,
        base=() if bases == (brief.base_bead,) else bases,
        by_motif=base.by_motif,
    )


def motif_beads_of(pattern: Pattern, kind: BeadKind) -> tuple[Bead, ...]:
    """The beads that a piece's motifs take their colour from, in order of first use.

    A colour that only motifs by hand have stays theirs.
    """
    keys = dict.fromkeys(_ruled_keys(pattern))
    looks = (pattern.colour(key) for key in keys)
    return tuple(
        Bead(name=look.name, kind=kind, hex=look.hex, finish=look.finish) for look in looks
    )


def _ruled_keys(pattern: Pattern) -> list[Key]:
    """Each motif's colour by the rule; under one by hand a colour that others show.

    Where every motif has its colour by hand, these are the piece's colours.
    """
    motifs = pattern.run.motifs
    hands = settled_keys(pattern)
    if len(hands) == motifs:
        return [pattern.own_key(slot) for slot in range(motifs)]
    keys = [pattern.order.key(slot, motifs) for slot in range(motifs)]
    shown = [key for slot, key in enumerate(keys) if slot not in hands]
    return [key if key in shown else shown[0] for key in keys]


def outline_word(lengths: tuple[int, ...]) -> str:
    """The shape that gives exactly these lengths, in a word; else that they are the maker's own."""
    shape = outline_of(lengths).shape
    return OWN_PROFILE if shape is None else shape.value


def base_beads_of(like: Like) -> BaseBeads:
    """How many base beads a piece has on a strip; motifs done by hand may keep their width."""
    pattern = like.pattern
    if not _own_widths(pattern):
        return Repeat.strip_base_beads

    def count(repeat: Repeat, motifs: int) -> int:
        made = Run(
            motifs=motifs,
            width=repeat.dangles,
            divider=repeat.divider,
            margins=(repeat.margins, 0),
        )
        return replace(pattern, run=_run(like, made, motifs)).base_beads

    return count


def _own_widths(pattern: Pattern) -> bool:
    """Whether motifs, dividers or ends have widths of their own."""
    return bool(pattern.gaps) or any(one.width or one.as_it_is for _, one in pattern.motifs)


def related(brief: Brief, like: Like, recipe: Recipe) -> Pattern:
    """The piece with what a recipe changes of it, and all else as it was.

    Rules that the recipe leaves alone, ends, and what was done by hand stay.

    Args:
        brief: what is asked for.
        like: the piece.
        recipe: what becomes of it.
    """
    made, old = pattern_of(brief, recipe), like.recipe
    after, key = _with_colours(like.pattern, made, _used(made, recipe, old))
    motifs = len(recipe.order)
    own_way = order_on(like, motifs) == [recipe.palette[place] for place in recipe.order]
    if recipe.arrangement is not old.arrangement or not own_way:
        order = replace(made.order, keys=tuple(key[one] for one in made.order.keys))
        after = replace(in_way(after, order.way), order=order)
    after = replace(after, inside=_inside(like, recipe, made.inside, key))
    rules, before = recipe.rules, old.rules

    def paint(one: Paint) -> Paint:
        return key[one] if isinstance(one, int) else one

    if (rules.tip, rules.tip_kind) != (before.tip, before.tip_kind):
        colour = made.tip.paint
        tip = TipRule(kind=made.tip.kind, paint=None if colour is None else paint(colour))
        after = replace(after, tip=tip)
    if rules.dividers != before.dividers:
        hung = tuple(Hung(paint=paint(one.paint), kind=one.kind) for one in made.divider)
        after = replace(after, divider=hung)
    base = after.base
    if (rules.base, rules.by_motif) != (before.base, before.by_motif):
        keys = tuple(key[one] for one in made.base.keys)
        base = replace(base, keys=keys, by_motif=rules.by_motif)
    run = _run(like, made.run, motifs)
    if run.width != after.run.width:
        hands = ((place, at_width(one, run.width)) for place, one in after.motifs)
        after = replace(after, motifs=tuple(hands))
    return replace(
        after,
        outlines=_outlines(like, recipe),
        base=replace(made.base, keys=base.keys, by_motif=base.by_motif),
        hanging=made.hanging,
        ends=replace(after.ends, closure=brief.closure),
        run=run,
    )


def _used(made: Pattern, recipe: Recipe, old: Recipe) -> set[Key]:
    """The colours of a recipe's pattern that its relative takes; what it leaves alone has its own.

    Args:
        made: the pattern.
        recipe: its recipe.
        old: the recipe of the piece to stay near.
    """
    used = {*made.order.keys, *(key for pair in made.inside.beside for key in pair)}
    if recipe.rules.tip != old.rules.tip:
        used |= {made.tip.paint} if isinstance(made.tip.paint, int) else set()
    if recipe.rules.dividers != old.rules.dividers:
        used |= {one.paint for one in made.divider if isinstance(one.paint, int)}
    if recipe.rules.base != old.rules.base:
        used |= {*made.base.keys}
    return used


def _with_colours(
    pattern: Pattern, made: Pattern, used: set[Key]
) -> tuple[Pattern, dict[Key, Key]]:
    """The pattern with colours of another one in its palette, and their keys in it by the old."""
    order = [colour.key for colour in made.colours if colour.key in used]
    after, keys = with_colours(pattern, [swatch_of(made, key) for key in order])
    return after, dict(zip(order, keys, strict=True))


def _inside(like: Like, recipe: Recipe, made: InsideRule, key: dict[Key, Key]) -> InsideRule:
    """How colours are spread: the piece's own way where the recipe leaves it alone.

    What went with a colour goes on doing so; only a new colour needs something beside it.
    """
    beside = {key[one]: key[other] for one, other in made.beside}
    if recipe.colouring is like.recipe.colouring:
        own = like.pattern.inside
        if recipe.colouring is Colouring.PLAIN:
            return own
        had = _own_keys(like.pattern)
        more = {one: other for one, other in beside.items() if one not in had}
        return replace(own, beside=tuple(sorted((dict(own.beside) | more).items())))
    return replace(made, beside=tuple(sorted(beside.items())))


def _own_keys(pattern: Pattern) -> set[Key]:
    return {pattern.own_key(slot) for slot in range(pattern.run.motifs)}


def _run(like: Like, made: Run, motifs: int) -> Run:
    run = like.pattern.run
    same = (made.width, made.divider, sum(made.margins)) == (
        run.width,
        run.divider,
        sum(run.margins),
    )
    return run if same and motifs == run.motifs else replace(made, fill=run.fill)


def _outlines(like: Like, recipe: Recipe) -> OutlineRule:
    """The piece's outlines, or the recipe's where these are others at its width."""
    rule, made, width = like.pattern.outlines, recipe.outlines, recipe.repeat.dangles
    outlines: tuple[Outline, ...] = made.outlines
    if [one.at(width) for one in rule.outlines] == [one.at(width) for one in made.outlines]:
        outlines = rule.outlines
    return replace(made, outlines=outlines)


def change_words(like: Like, pattern: Pattern) -> str:
    """What a relative has otherwise than the piece, in a few words."""
    before = with_motifs(like.pattern, pattern.run.motifs)
    found = [*_outline_words(before, pattern), *_colour_words(before, pattern)]
    if pattern.tip != before.tip:
        found.append("plain tips" if pattern.tip == TipRule() else "other tips")
    if pattern.divider != before.divider:
        found.append("other dividers" if pattern.divider else "bare dividers")
    base, old = pattern.base.keys, before.base.keys
    if (base, pattern.base.by_motif) != (old, before.base.by_motif):
        found.append("another base" if len(base) > 1 or len(old) == 1 else "base in one colour")
    run = pattern.run
    if (run.width, run.divider) != (before.run.width, before.run.divider):
        found.append("another width of motifs or dividers")
    return f"with {' and '.join(found)}" if found else ""


def _outline_words(before: Pattern, after: Pattern) -> list[str]:
    old, new = before.outlines, after.outlines
    found = []
    if len(new.outlines) < len(old.outlines):
        found.append("outlines no longer in turn")
    elif len(new.outlines) > len(old.outlines):
        found.append("outlines in turn")
    elif old.letters != new.letters:
        found.append("outlines in another turn")
    width = after.run.width
    if new.outlines[0].at(width) != old.outlines[0].at(width):
        found.append("another outline")
    elif len(new.outlines) == len(old.outlines) and new.outlines[1:] != old.outlines[1:]:
        found.append("another second outline")
    if new.growth != old.growth:
        found.append("another growth" if new.growth else "dangles no longer growing")
    if new.mirrored != old.mirrored:
        found.append("halves mirrored" if new.mirrored else "halves not mirrored")
    return found


def _colour_words(before: Pattern, after: Pattern) -> list[str]:
    old, new = _ruled_keys(before), _ruled_keys(after)
    found = []
    if set(new) != set(old):
        found.append("fewer colours" if set(new) < set(old) else "other colours")
    elif new != old:
        found.append("another order")
    if after.inside.colouring is not before.inside.colouring:
        plain = after.inside.colouring is Colouring.PLAIN
        found.append("one colour to a motif" if plain else f"{after.inside.colouring} inside")
    return found


def hand_words(like: Like, pattern: Pattern) -> str:
    """What a relative does with what was done by hand, in a few words; empty where nothing was."""

    def touches(one: Pattern) -> int:
        loom = Loom(one)
        return sum(len(loom.asleep(slot)) for slot in range(one.run.motifs))

    seen = {pattern.kept_at(slot) for slot in range(pattern.run.motifs)}
    places = [place for place, _ in pattern.motifs]
    places += [gap.at for gap in pattern.gaps if not isinstance(gap.at, Part)]
    kept = len({*places} & seen) + any(isinstance(gap.at, Part) for gap in pattern.gaps)
    waits = len({*places} - seen)
    asleep = touches(pattern) - touches(like.pattern)
    found = [f"keeps {_places(kept)} done by hand"] if kept else []
    if waits:
        wait = "waits" if waits == 1 else "wait"
        found.append(f"{_places(waits)} done by hand {wait} for a longer strip")
    if asleep > 0:
        sleep = "touch by hand sleeps" if asleep == 1 else "touches by hand sleep"
        found.append(f"{asleep} {sleep}")
    return ", ".join(found)


def _places(count: int) -> str:
    return f"{count} place{'s' * (count > 1)}"


def order_on(like: Like, motifs: int) -> list[int]:
    """The piece's own colours on a strip of so many motifs, as places in the brief's colours."""
    recipe = like.recipe
    keys = _ruled_keys(like.pattern)
    place = {key: recipe.palette[one] for key, one in zip(keys, recipe.order, strict=True)}
    # A strip of other length may show a colour that was not seen before.
    return [place.get(key, -1) for key in _ruled_keys(with_motifs(like.pattern, motifs))]


def relatives(
    brief: Brief, like: Like, choices: Choices, orders: Orders, rng: np.random.Generator
) -> Iterator[Candidate]:
    """Candidates that differ from a piece in one rule or two, no recipe twice.

    Args:
        brief: what is asked for.
        like: the piece to stay near.
        choices: what else to mix in.
        orders: finds the colour orders.
        rng: decides what changes.
    """
    recipe = like.recipe
    wanted = (recipe.repeat.dangles, recipe.repeat.divider)
    home = next(
        (fit for fit in choices.strips if (fit.repeat.dangles, fit.repeat.divider) == wanted),
        choices.strips[0],
    )
    base = Mixture(
        outline=recipe.outline,
        profile=recipe.profile,
        second=recipe.second,
        fit=home,
        group=Subset(places=recipe.palette, family="like"),
        arrangement=recipe.arrangement,
        colouring=recipe.colouring,
        rules=recipe.rules,
    )
    seen = {recipe}
    choice = Choice(brief=brief, rng=rng, keep=True)
    aspects = _aspects(like, home.motifs)
    for _ in range(brief.count * TRIES_PER_PROPOSAL):
        chosen = rng.choice(aspects, size=int(rng.integers(1, 3)), replace=False).tolist()
        mixed = base
        for aspect in chosen:
            mixed = _changed(mixed, aspect, like, choices, choice)
        ordered = bool(_ORDERED & set(chosen))
        candidate = _settled(mixed, like, choices, orders, ordered=ordered)
        if candidate is None or candidate.recipe in seen:
            continue
        # A way of colouring that does not suit would be one more rule that changes.
        if candidate.recipe.colouring is not mixed.colouring:
            continue
        seen.add(candidate.recipe)
        if brief.stock or _own_widths(like.pattern):
            pattern = related(brief, like, candidate.recipe)
            # In another way of going on the strip may show other motifs, wider or narrower ones.
            if pattern.base_beads != candidate.fit.base_beads:
                continue
            if brief.stock and not none_overdrawn(brief, pattern):
                continue
        yield candidate


def _settled(
    mixed: Mixture, like: Like, choices: Choices, orders: Orders, *, ordered: bool
) -> Candidate | None:
    """The mixture with a new order, or the piece's own carried on or cut to its motifs."""
    if ordered:
        return settled(mixed, choices, orders)
    kept = order_on(like, mixed.fit.motifs)
    if -1 in kept:
        return None
    places = tuple(place for place in like.recipe.palette if place in kept)
    mixed = replace(mixed, group=replace(mixed.group, places=places))
    return settled(mixed, choices, orders, tuple(map(places.index, kept)))


def _aspects(like: Like, motifs: int) -> list[str]:
    """What may change of a piece.

    Motifs of a width of their own, and dividers done by hand, fit no other strip.
    """
    pattern = like.pattern
    stays = _own_widths(pattern) or motifs != pattern.run.motifs
    return [aspect for aspect in _ASPECTS if not (stays and aspect == "width")]


def reckoned(candidate: Candidate, pattern: Pattern, brief: Brief) -> Candidate:
    """The candidate, exact only where the piece hangs bead by bead what its recipe says."""
    plain, own = weave(pattern_of(brief, candidate.recipe)), weave(pattern)
    hung = [
        [[[design.beads[n] for n in column.beads] for column in motif] for motif in design.motifs]
        for design in (plain, own)
    ]
    same = hung[0] == hung[1] and not pattern.motifs
    return candidate if same else replace(candidate, exact=False)


def hands_on(like: Like, motifs: int) -> dict[int, str]:
    """The colours, as hexes, of motifs by hand, so that no order reaches them, by their places."""
    at = with_motifs(like.pattern, motifs)
    return {slot: at.colour(key).hex for slot, key in settled_keys(at).items()}


def by_hand_alone(like: Like, brief: Brief) -> tuple[int, ...]:
    """The brief's colours that only motifs by hand have: they stay theirs."""
    hands = set(hands_on(like, like.pattern.run.motifs).values())
    hands -= {brief.colours[place].hex for place in like.recipe.palette}
    return tuple(place for place, bead in enumerate(brief.colours) if bead.hex in hands)


def _changed(mixed: Mixture, aspect: str, like: Like, choices: Choices, choice: Choice) -> Mixture:
    rng, brief = choice.rng, choice.brief
    match aspect:
        case "outline":
            shape = choice.one(brief.shapes or tuple(Shape))
            return _shaped(mixed, shape, min(mixed.profile), max(mixed.profile))
        case "reach":
            if mixed.outline == OWN_PROFILE:
                return mixed
            least, most = reach(brief, rng)
            return _shaped(mixed, Shape(mixed.outline), least, most - max(0, mixed.rules.growth))
        case "colours":
            return replace(mixed, group=choice.one(choices.groups))
        case "arrangement":
            return replace(mixed, arrangement=choice.one(arrangements(brief)))
        case "colouring":
            colouring = choice.one(COLOURINGS)
            # Tips that all share would hide an accent at the tips.
            hidden = colouring is Colouring.TIPS and mixed.rules.tip is not None
            return mixed if hidden else replace(mixed, colouring=colouring)
        case "width":
            fit = choice.one(choices.strips)
            rows = [one.at(fit.repeat.dangles) for one in like.pattern.outlines.outlines]
            rows += [()] * (3 - len(rows))
            # A change of outline before this one is given up: the strip is the second change.
            return replace(
                mixed,
                fit=fit,
                outline=like.recipe.outline,
                profile=rows[0],
                second=rows[1],
                rules=replace(mixed.rules, third=rows[2]),
            )
        case _:
            return RULES[aspect](mixed, choice)


def _shaped(mixed: Mixture, shape: Shape, least: int, most: int) -> Mixture:
    """The mixture with its first outline another; the others in turn stay."""
    row = profile(shape, len(mixed.profile), least, max(least, most))
    if row in mixed.outlines:
        return mixed
    return replace(mixed, outline=shape.value, profile=row)
