"""Whether the beads at hand are enough for a piece, and for how many motifs of each colour."""

from collections.abc import Sequence

from explorer.brief import Brief
from explorer.colouring import Colouring, paint
from explorer.counts import counts
from explorer.mixture import Mixture
from explorer.pattern import Pattern
from explorer.recipe import Recipe, all_lengths, outline_rule, pattern_of
from explorer.weave import weave
from palettes.beads import Bead


def enough(brief: Brief, recipe: Recipe) -> bool:
    """Whether a recipe's piece takes no more of any bead at hand than there is."""
    return none_overdrawn(brief, pattern_of(brief, recipe))


def none_overdrawn(brief: Brief, pattern: Pattern) -> bool:
    """Whether a pattern's piece takes no more of any bead at hand than there is."""
    design = weave(pattern)
    at_hand = dict(zip(brief.colours, brief.stock, strict=True))
    used = ((design.beads[count.bead], count.used) for count in counts(design).by_bead)
    return all(beads <= at_hand.get(bead, beads) for bead, beads in used)


def motif_limits(
    brief: Brief, mixed: Mixture, beside: Sequence[int], colouring: Colouring
) -> tuple[int, ...]:
    """For how many motifs each colour's beads are enough, all that others take of it set aside.

    What is set aside is what an even order takes; ``enough`` tells of the order that is found.

    Args:
        brief: what is asked for, with the beads at hand.
        mixed: the mixture.
        beside: what goes with each colour of its group.
        colouring: how they are spread inside motifs.
    """
    places, motifs, rules = mixed.group.places, mixed.fit.motifs, mixed.rules
    rule = outline_rule(mixed.profile, mixed.second, rules)
    own = with_it = tips = 0
    for lengths in set(all_lengths(rule, motifs, len(mixed.profile))):
        painted = paint(lengths, (0, 1) if beside else (0,), colouring)
        own = max(own, sum(dangle.count(0) for dangle in painted))
        with_it = max(with_it, sum(dangle.count(1) for dangle in painted))
        tips = max(tips, len(lengths))
    each = -(-motifs // len(places))
    aside: dict[Bead, int] = {}

    def keep(bead: Bead, beads: int) -> None:
        aside[bead] = aside.get(bead, 0) + beads

    for other in beside:
        keep(brief.colours[places[other]], with_it * each)
    if rules.tip is not None:
        keep(rules.tip, tips * (motifs - motifs // len(places)))
    usual = () if brief.divider_bead is None else (brief.divider_bead,)
    for bead in usual if rules.dividers is None else rules.dividers:
        keep(bead, mixed.fit.repeat.divider * (motifs + 1))
    bases = rules.base or (brief.base_bead,)
    for bead in bases:
        keep(bead, -(-mixed.fit.base_beads // len(bases)))
    return tuple(
        max(0, brief.stock[place] - aside.get(brief.colours[place], 0))
        // (own if rules.tip in {None, brief.colours[place]} else max(1, own - tips))
        for place in places
    )
