"""From a brief to a spread of different pieces."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer.brief import Brief, Mood, Strip, Wearer
from explorer.commands.palette_choice import as_divider, bead, beads, best_base, swatches
from explorer.counts import counts
from explorer.design import motif_profile
from explorer.errors import BriefError
from explorer.fit import NoFit, Repeat
from explorer.profile import Shape
from explorer.propose import Proposals, front, propose
from explorer.relatives import like_of
from explorer.sequence_types import Arrangement
from explorer.variety import differences, looks
from palettes.charts import bead_kinds, palette_names
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab

KINDS = bead_kinds()


def brief(palette: str = "rockpool", snug_mm: float = 214.0) -> Brief:
    chosen, bases = swatches(palette, None)
    hanging = KINDS["round 8/0"]
    base = bead(best_base(chosen, bases), KINDS["cube 3"])
    return Brief(
        wearer=Wearer(snug_mm=snug_mm, ease_mm=20.0),
        strip=Strip(base=KINDS["cube 3"]),
        colours=beads(chosen, hanging),
        base_bead=base,
        divider_bead=as_divider(base, hanging),
    )


def found(asked: Brief) -> Proposals:
    proposals = propose(asked)
    assert isinstance(proposals, Proposals)
    return proposals


@pytest.mark.parametrize("palette", palette_names())
def test_a_full_set_of_fitting_pieces_from_every_palette(palette: str) -> None:
    asked = brief(palette)
    proposals = found(asked).proposals
    assert len(proposals) == asked.count
    for proposal in proposals:
        design = proposal.design
        assert design.strip_mm <= asked.wearer.target_mm(asked.closure) + 1e-6
        assert design.base_beads == proposal.fit.base_beads
        assert len(design.motifs) == proposal.fit.motifs
        tally = counts(design)
        assert tally.dangle_beads == proposal.beads
        assert 0.5 < proposal.weight_g < 60.0
        assert proposal.reads_apart_to_m is not None
        for motif in design.motifs:
            assert motif_profile(motif) == proposal.recipe.profile
    assert any(proposal.unbeaten for proposal in proposals)
    assert len({proposal.reason for proposal in proposals}) > len(proposals) // 2


def test_the_same_seed_gives_the_same_proposals_and_another_seed_others() -> None:
    first, again = found(brief()), found(brief())
    assert first == again
    other = found(replace(brief(), seed=2))
    assert [p.recipe for p in other.proposals] != [p.recipe for p in first.proposals]


def test_no_two_of_24_are_the_same_to_the_eye() -> None:
    proposals = found(brief()).proposals
    lab = [
        srgb1_to_lab(hexes_to_srgb1([b.hex for b in p.design.beads[: len(p.recipe.palette)]]))
        for p in proposals
    ]
    drops = [[float(n) for n in p.recipe.profile] * p.fit.motifs for p in proposals]
    seen = looks([p.recipe.order for p in proposals], lab, drops)
    for one in range(len(proposals)):
        others = np.delete(differences(seen, one), one)
        assert others.min() > 0.25, proposals[one].reason


def test_what_the_brief_fixes_stays_fixed() -> None:
    asked = replace(
        brief(),
        repeats=(Repeat(dangles=4, divider=2),),
        shapes=(Shape.VALLEY, Shape.ARCH),
        arrangements=(Arrangement.MIRROR,),
        count=5,
    )
    for proposal in found(asked).proposals:
        assert proposal.recipe.repeat == Repeat(dangles=4, divider=2)
        assert proposal.recipe.outline in {"valley", "arch"}
        assert proposal.recipe.arrangement is Arrangement.MIRROR
        assert proposal.recipe.order == proposal.recipe.order[::-1]


def test_a_kept_palette_is_used_whole() -> None:
    asked = replace(brief(), keep_palette=True, arrangements=(Arrangement.FREE,), count=4)
    for proposal in found(asked).proposals:
        assert set(proposal.recipe.order) == set(range(len(asked.colours)))


def test_the_makers_own_profile_settled_motifs_and_gap_are_kept() -> None:
    asked = replace(brief(), profiles=((2, 5, 1, 5, 2),), fixed=((0, 3), (4, 3)), gap=2, count=6)
    for proposal in found(asked).proposals:
        recipe = proposal.recipe
        if recipe.repeat.dangles == 5:
            assert recipe.profile == (2, 5, 1, 5, 2)
        used = [recipe.palette[i] for i in recipe.order]
        assert (used[0], used[4]) == (3, 3)
        for place, colour in enumerate(used):
            assert colour not in used[place + 1 : place + 3]


def test_profiles_take_turns_where_both_ends_then_close_alike() -> None:
    taken = [p for p in found(replace(brief(), alternate=True)).proposals if p.recipe.second]
    assert taken
    for proposal in taken:
        motifs = [motif_profile(motif) for motif in proposal.design.motifs]
        assert motifs[0] == motifs[-1] == proposal.recipe.profile
        assert set(motifs[1::2]) == {proposal.recipe.second}
        assert counts(proposal.design).dangle_beads == proposal.beads


def test_beads_at_hand_are_never_overdrawn() -> None:
    whole = brief()
    asked = replace(whole, stock=(60, 25, 0, 400, 90, 35, 10), count=8)
    for proposal in found(asked).proposals:
        tally = counts(proposal.design)
        for place, colour in enumerate(proposal.recipe.palette):
            assert tally.by_bead[place].dangles <= asked.stock[colour]


def test_too_few_beads_at_hand_say_so() -> None:
    with pytest.raises(BriefError) as caught:
        propose(replace(brief(), stock=(1,) * 7))
    assert caught.value.field == "stock"


def test_bolder_is_bolder_than_calmer() -> None:
    means = {}
    for mood in (Mood.BOLDER, Mood.CALMER):
        proposals = found(replace(brief("lolly-van"), mood=mood, count=8)).proposals
        means[mood] = float(np.mean([p.mean for p in proposals if p.mean is not None]))
    assert means[Mood.BOLDER] > 1.15 * means[Mood.CALMER]


def test_relatives_stay_near_what_they_are_like() -> None:
    asked = replace(brief(), count=6)
    first = found(asked).proposals[0]
    like = first.recipe
    near = propose(asked, like=like_of(first.pattern, asked))
    assert isinstance(near, Proposals)
    assert len(near.proposals) == 6
    for proposal in near.proposals:
        recipe = proposal.recipe
        assert recipe != like
        same = [
            recipe.outline == like.outline,
            recipe.palette == like.palette,
            recipe.arrangement == like.arrangement,
            recipe.colouring == like.colouring,
            recipe.repeat == like.repeat,
        ]
        assert sum(same) >= 3


def test_a_large_tray_is_thinned_but_keeps_what_is_settled() -> None:
    whole = brief()
    rng = np.random.default_rng(5)
    tray = tuple(
        replace(whole.colours[0], name=f"Bead {i}", hex=f"#{int(n):06x}")
        for i, n in enumerate(rng.integers(0, 2**24, size=300))
    )
    asked = replace(whole, colours=tray, fixed=((2, 291),), count=6)
    proposals = found(asked).proposals
    assert len(proposals) == 6
    for proposal in proposals:
        assert proposal.recipe.palette[proposal.recipe.order[2]] == 291


def test_a_limb_too_thin_gives_the_smallest_that_works() -> None:
    short = propose(replace(brief(), wearer=Wearer(snug_mm=41.0), repeats=()))
    assert isinstance(short, Proposals)
    twenty = Strip(base=KINDS["cube 4"], repeat=Repeat(dangles=20, divider=1))
    wide = replace(brief(), wearer=Wearer(snug_mm=41.0), strip=twenty)
    refused = propose(wide)
    assert isinstance(refused, NoFit)
    assert refused.snug_needs_mm == pytest.approx(22 * KINDS["cube 4"].ladder_pitch_mm)


def test_the_search_can_be_ended_early() -> None:
    calls: list[int] = []

    def three_steps(done: int, _: int) -> bool:
        calls.append(done)
        return len(calls) < 3

    proposals = propose(brief(), three_steps)
    assert isinstance(proposals, Proposals)
    assert 1 <= len(proposals.proposals) <= 3
    assert len(calls) == 3


@settings(max_examples=15)
@given(
    snug=st.floats(60.0, 400.0),
    colours=st.integers(1, 7),
    least=st.integers(1, 4),
    more=st.integers(0, 6),
    seed=st.integers(0, 2**32 - 1),
)
def test_any_brief_gives_pieces_or_says_what_would(
    snug: float, colours: int, least: int, more: int, seed: int
) -> None:
    whole = brief()
    asked = replace(
        whole,
        wearer=Wearer(snug_mm=snug),
        colours=whole.colours[:colours],
        least_beads=least,
        most_beads=least + more,
        count=6,
        seed=seed,
    )
    answer = propose(asked)
    if isinstance(answer, NoFit):
        return
    assert answer.proposals
    for proposal in answer.proposals:
        assert least <= min(proposal.recipe.profile)
        assert max(proposal.recipe.profile) <= least + more
        tally = counts(proposal.design)
        assert tally.dangle_beads == sum(motif.beads for motif in tally.by_motif)


def test_the_front_is_what_nothing_beats() -> None:
    values = np.array([[1.0, 5.0], [2.0, 4.0], [2.0, 3.0], [0.0, 6.0], [2.0, 4.0]])
    assert front(values).tolist() == [True, True, False, True, True]
