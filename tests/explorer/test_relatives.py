"""A saved piece as a recipe to find relatives of."""

from dataclasses import replace

import pytest

from explorer import changes
from explorer.brief import Brief, Strip, Wearer
from explorer.commands.propose import proposal_lines
from explorer.design import Column, Design, build
from explorer.errors import BriefError
from explorer.fit import Repeat
from explorer.lift import lift
from explorer.pattern import Pattern
from explorer.profile import Shape, profile
from explorer.propose import Proposals, propose
from explorer.recipe import Recipe
from explorer.relatives import like_of, motif_beads_of
from explorer.sequence_types import Arrangement
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.difference import DISTINCT_FROM
from palettes.swatches import Swatch
from tests.explorer.columns import with_columns

KINDS = bead_kinds()
BEADS = (
    Bead(name="ground", kind=KINDS["cube 1.8"], hex="#eeeeee"),
    *(
        Bead(name=n, kind=KINDS["round 11/0"], hex=h)
        for n, h in (("a", "#aa2222"), ("b", "#2222aa"))
    ),
)


def piece(*profiles: tuple[int, ...], order: tuple[int, ...] = (2, 1, 1)) -> Design:
    return build(
        beads=BEADS,
        base=0,
        base_pitch_mm=1.95,
        profiles=profiles,
        order=order,
        divider_base_beads=2,
        margins=(1, 2),
    )


def asked(pattern: Pattern, colours: tuple[Bead, ...] = ()) -> Brief:
    """What relatives are asked for: the piece's own colours, unless others are named."""
    return Brief(
        wearer=Wearer(snug_mm=120.0),
        strip=Strip(base=BEADS[0].kind, repeat=Repeat(dangles=3, divider=2)),
        colours=colours or motif_beads_of(pattern, BEADS[1].kind),
        base_bead=BEADS[0],
        count=8,
    )


def recipe_of(design: Design) -> Recipe:
    pattern = lift(design)
    return like_of(pattern, asked(pattern)).recipe


@pytest.mark.parametrize("shape", [Shape.PEAK, Shape.VALLEY, Shape.ZIGZAG])
def test_a_plain_piece_is_read_as_what_it_was_made_from(shape: Shape) -> None:
    design = piece(profile(shape, 7, 2, 6))
    found = recipe_of(design)
    assert (found.outline, found.profile, found.second) == (
        shape.value,
        profile(shape, 7, 2, 6),
        (),
    )
    assert (found.repeat.dangles, found.repeat.divider, found.repeat.margins) == (7, 2, 3)
    # Colours count in order of first use.
    assert motif_beads_of(lift(design), BEADS[1].kind) == (BEADS[2], BEADS[1])
    assert (found.palette, found.order) == ((0, 1), (0, 1, 1))
    assert found.arrangement is Arrangement.FREE


def test_its_palette_counts_in_the_colours_that_are_asked_for() -> None:
    pattern = lift(piece((1, 3, 1)))
    like = like_of(pattern, asked(pattern, BEADS[1:]))
    assert (like.recipe.palette, like.recipe.order) == ((1, 0), (0, 1, 1))
    with pytest.raises(BriefError, match="#2222aa too"):
        like_of(pattern, asked(pattern, BEADS[1:2]))


def test_a_mirrored_order_and_two_profiles_in_turn_are_seen() -> None:
    found = recipe_of(piece((1, 3, 1), (3, 1, 3), order=(1, 2, 1, 2, 1)))
    assert found.arrangement is Arrangement.MIRROR
    assert (found.profile, found.second) == ((1, 3, 1), (3, 1, 3))
    # Where one motif alone is another, that is its own and no turn.
    assert recipe_of(piece((1, 3, 1), (3, 1, 3), order=(1, 2, 1))).second == ()
    assert recipe_of(piece((1, 3, 1), order=(1, 1, 1))).arrangement is Arrangement.FREE


def test_an_outline_of_no_shape_is_the_makers_own() -> None:
    assert recipe_of(piece((5, 1, 1, 2, 9))).outline == "your own profile"


def test_second_profiles_of_another_width_or_of_many_kinds_are_left_out() -> None:
    one, other = piece((1, 3, 1)).motifs[0], piece((2, 4)).motifs[0]
    base = piece((1, 3, 1))
    assert recipe_of(with_columns(base, motifs=(one, other, one))).second == ()


def test_relatives_keep_tips_small_beads_and_what_was_done_by_hand() -> None:
    drop, dew = KINDS["drop 3.4"], Swatch(name="dew", hex="#88aacc")
    ground = Swatch(name="ground", hex="#eeeeee")
    pattern = changes.tips(lift(piece((2, 3, 2))), kind=drop, swatch=dew).pattern
    pattern = changes.divider_beads(pattern, ((dew, BEADS[1].kind),)).pattern
    pattern = changes.paint_bead(pattern, 1, 1, 0, dew).pattern
    pattern = changes.paint_base(pattern, (ground, dew)).pattern
    brief = asked(pattern)
    near = propose(brief, like=like_of(pattern, brief))
    assert isinstance(near, Proposals)
    assert len(near.proposals) > 1
    others = 0
    for proposal in near.proposals:
        design = proposal.design
        turning = {design.beads[c.beads[-1]] for motif in design.motifs for c in motif}
        under = {design.beads[n].hex for row in design.dividers for c in row for n in c.beads}
        bases = {design.beads[c.base].hex for _, c in design.columns()}
        # One rule or two may be others; which, the piece itself shows.
        changed = (
            {(bead.hex, bead.kind) for bead in turning} != {("#88aacc", drop)},
            under != {"#88aacc"},
            bases != {"#eeeeee", "#88aacc"},
        )
        assert sum(changed) <= 2
        others += any(changed)
        # Motif 2 of the three that there were, wherever a longer strip has it, and no other; in a
        # motif of two dangles there is no middle one.
        middles = [motif[len(motif) // 2] for motif in design.motifs if len(motif) % 2]
        hands = [design.beads[c.beads[0]].hex for c in middles if len(c.beads) > 1]
        assert hands.count("#88aacc") == bool(hands)
        assert proposal.reason.endswith(", keeps 1 place done by hand") or (
            "touch by hand sleeps" in proposal.reason
        )
    assert others < len(near.proposals)


def test_a_colour_that_only_a_motif_by_hand_has_stays_its_own() -> None:
    plum, red, blue = "#5a2a55", Swatch(name="a", hex="#aa2222"), Swatch(name="b", hex="#2222aa")
    pattern = changes.with_motifs(lift(piece((2, 3, 2), order=(2, 1, 2, 1, 2))), 5)
    pattern = changes.paint_motif(pattern, 1, Swatch(name="plum", hex=plum)).pattern
    brief = asked(pattern)
    assert [bead.hex for bead in brief.colours] == [blue.hex, red.hex]
    tray = (*brief.colours, *(replace(BEADS[1], name=h, hex=h) for h in (plum, "#e3c75a")))
    brief = replace(brief, colours=tray)
    near = propose(brief, like=like_of(pattern, brief))
    assert isinstance(near, Proposals)
    assert len({one.recipe.arrangement for one in near.proposals}) > 1
    for proposal in near.proposals:
        after = proposal.pattern
        keys = [after.own_key(slot) for slot in range(after.run.motifs)]
        shown = [slot for slot, key in enumerate(keys) if after.colour(key).hex == plum]
        # Carried on, it may stand at another place, but at one only.
        assert shown == [slot for slot in range(len(keys)) if after.by_hand(slot).colour]
        assert len(shown) == 1


def test_a_relative_says_in_what_it_differs_from_the_piece() -> None:
    drop, ground = KINDS["drop 3.4"], Swatch(name="ground", hex="#eeeeee")
    pattern = changes.tips(lift(piece((2, 3, 2))), kind=drop).pattern
    pattern = changes.paint_base(pattern, (ground, Swatch(name="dew", hex="#88aacc"))).pattern
    brief = replace(asked(pattern), count=24)
    near = propose(brief, like=like_of(pattern, brief))
    assert isinstance(near, Proposals)
    said = [one.reason.rsplit(", with ", 1)[1] for one in near.proposals]
    for one, words in zip(near.proposals, said, strict=True):
        after = one.pattern
        assert (after.tip == pattern.tip) is not ("tips" in words), words
        assert (after.base.keys == pattern.base.keys) is not ("base" in words), words
        assert ("plain tips" in words) is (after.tip.kind is None and after.tip.paint is None)
    assert any("base in one colour" in words for words in said)
    assert any("another outline" in words for words in said)


def test_relatives_that_look_alike_are_left_out_where_the_piece_does_not() -> None:
    pattern = lift(piece((2, 3, 2), order=(2, 1, 2, 1, 2)))
    near_red = replace(BEADS[1], name="near a", hex="#a52525")
    brief = replace(asked(pattern, (*BEADS[1:], near_red)), count=24)
    found = propose(brief, like=like_of(pattern, brief))
    assert isinstance(found, Proposals)
    assert min(one.weakest or 100.0 for one in found.proposals) >= DISTINCT_FROM
    # A piece that is no better itself still has relatives, and the command says so of each.
    alike = changes.recolour(
        pattern, [Swatch(name=bead.name, hex=bead.hex) for bead in (BEADS[1], near_red)]
    ).pattern
    brief = replace(asked(alike), count=4)
    found = propose(brief, like=like_of(alike, brief))
    assert isinstance(found, Proposals)
    assert found.proposals
    told = list(proposal_lines(found.proposals))
    assert sum("look the same" in line or "look alike" in line for line in told) == sum(
        (one.weakest or 100.0) < DISTINCT_FROM for one in found.proposals
    )
    assert any("look" in line for line in told)


@pytest.mark.parametrize("snug_mm", [80.0, 120.0, 160.0, 231.0])
def test_a_strip_with_motifs_of_widths_of_their_own_is_fitted_as_it_is(snug_mm: float) -> None:
    wide = Column(base=0, beads=(1, 1))
    design = piece((1, 3, 1), order=(2, 1, 1, 2, 1))
    motifs = (*design.motifs[:2], (wide,) * 7, *design.motifs[3:])
    pattern = lift(with_columns(design, motifs=motifs))
    brief = replace(asked(pattern), wearer=Wearer(snug_mm=snug_mm, ease_mm=10.0))
    found = propose(brief, like=like_of(pattern, brief))
    assert isinstance(found, Proposals)
    assert found.proposals
    for one in found.proposals:
        strip = one.design
        assert (strip.base_beads, len(strip.motifs)) == (one.fit.base_beads, one.fit.motifs)
        assert strip.strip_mm <= brief.wearer.target_mm(brief.closure) + 1e-6
        # One motif more would be too long, the plain ends of a filled strip aside.
        more = changes.with_motifs(one.pattern, one.fit.motifs + 1).base_beads
        assert more * 1.95 > brief.wearer.target_mm(brief.closure)
        assert any(len(motif) == 7 for motif in strip.motifs)
