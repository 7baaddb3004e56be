"""A free order of a piece, judged as the piece is: never below an order that asks for more."""

from collections import Counter
from dataclasses import replace

import pytest

from explorer import changes
from explorer.colouring import Colouring
from explorer.contrast_piece import MotifsAsSeen, motifs_as_seen
from explorer.errors import BriefError
from explorer.order_choice import ROUNDING
from explorer.pattern import InsideRule, Outline, OutlineRule, Pattern, TipRule
from explorer.profile import Shape
from explorer.sequence_types import Arrangement
from explorer.weave import weave
from palettes.difference import FAR_APART_FROM
from tests.explorer.patterns import KINDS, SWATCHES, chance, ruled, some


def by_many_hands(seed: int) -> Pattern:
    """A piece with tips, two motifs painted and one locked."""
    rng = chance(seed)
    pattern = ruled(rng)
    if pattern.run.motifs < 5:
        pattern = changes.with_motifs(pattern, rng.randint(6, 14))
    pattern = changes.arrange(pattern, Arrangement.FREE, some(rng, 3, 5)).pattern
    kind, swatch = rng.choice([None, *KINDS]), rng.choice([None, rng.choice(SWATCHES)])
    pattern = changes.tips(pattern, kind=kind, swatch=swatch).pattern
    for motif in rng.sample(range(pattern.run.motifs), 2):
        pattern = changes.paint_motif(pattern, motif, rng.choice(SWATCHES)).pattern
    return changes.lock(pattern, rng.randrange(pattern.run.motifs)).pattern


def seen(pattern: Pattern) -> tuple[MotifsAsSeen, float]:
    """The neighbours of a piece, and their weakest; differences beyond far apart are as good."""
    found = motifs_as_seen(weave(pattern))
    weakest = FAR_APART_FROM if found.weakest is None else found.weakest.delta_e_2000
    return found, min(weakest, FAR_APART_FROM)


@pytest.mark.parametrize("seed", [*range(12), 19, 27, 34, 36, 40, 67, 69])
def test_a_free_order_stands_apart_no_less_than_one_that_keeps_to_the_same(seed: int) -> None:
    pattern = by_many_hands(seed)
    own = [slot for slot in range(pattern.run.motifs) if changes.settled_keys(pattern).get(slot)]

    def uses(one: Pattern) -> Counter[int]:
        return Counter(one.own_key(n) for n in range(one.run.motifs) if n not in own)

    free = changes.arrange(pattern, Arrangement.FREE).pattern
    found, weakest = seen(free)
    for arrangement in set(Arrangement) - {Arrangement.FREE}:
        try:
            other = changes.arrange(pattern, arrangement).pattern
        except BriefError:
            continue
        beside, apart = seen(other)
        count = uses(other)
        even = len(count) == len(uses(free)) and max(count.values()) - min(count.values()) <= 1
        if even and set(beside.repeats) <= set(found.repeats):
            assert weakest >= apart - ROUNDING, arrangement


def test_two_in_turn_are_the_two_that_look_furthest_apart_as_they_hang() -> None:
    pattern = changes.with_motifs(replace(ruled(chance(5)), tip=TipRule()), 6)
    outline = Outline(shape=Shape.LEVEL, least=4, most=4)
    pattern = replace(pattern, outlines=OutlineRule(outlines=(outline,)))
    chalk, brick, soot = (SWATCHES[n] for n in (0, 1, 6))
    pattern = changes.in_order(pattern, (chalk, brick, soot), [0, 1, 2, 0, 1, 2]).pattern
    light, red, dark = pattern.order.keys[:3]
    # Striped with each other, light and dark are one grey from afar.
    beside = ((light, dark), (red, red), (dark, light))
    inside = InsideRule(colouring=Colouring.STRIPES, beside=tuple(sorted(beside)))
    two = changes.two_in_turn(replace(pattern, inside=inside)).pattern
    assert red in two.order.keys
    assert red not in changes.two_in_turn(replace(pattern, inside=InsideRule())).pattern.order.keys
