from collections import Counter

import numpy as np
import pytest

from explorer import changes
from explorer.contrast import looks_of
from explorer.contrast_piece import judge_piece
from explorer.design import Column, Design, build, motif_bead, of_columns
from explorer.lift import lift
from explorer.suggest import LEAST_GAIN, Change, in_words, suggest
from explorer.weave import weave
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette

ROUND, CUBE = bead_kinds()["round 11/0"], bead_kinds()["cube 1.8"]


def beads_of(name: str) -> tuple[Bead, ...]:
    return tuple(
        Bead(name=s.name, kind=ROUND, hex=s.hex, finish=s.finish) for s in palette(name).swatches
    )


BASE = Bead(name="base", kind=CUBE, hex="#202020")


def piece(order: tuple[int, ...], name: str = "rockpool") -> Design:
    beads = (*beads_of(name), BASE)
    return build(
        beads=beads,
        base=len(beads) - 1,
        base_pitch_mm=1.95,
        profiles=((1, 3, 2),),
        order=order,
        divider_base_beads=1,
    )


@pytest.mark.parametrize("seed", range(6))
def test_every_number_is_that_of_the_changed_piece(seed: int) -> None:
    order = np.random.default_rng(seed).integers(0, 7, 12)
    design = piece(tuple(order.tolist()))
    looks = looks_of("typical,deutan", "daylight,lamplight")
    now = judge_piece(design, looks=looks).weakest
    assert now is not None
    found = suggest(lift(design), at_hand=beads_of("lolly-van"), looks=looks)
    assert found
    for suggestion in found:
        then = judge_piece(suggestion.design, looks=looks)
        assert then.weakest is not None
        assert suggestion.weakest_from == now.worst
        assert suggestion.weakest_to == then.weakest.worst >= now.worst
        rows = {(r.meeting, r.i, r.j): r.worst for r in then.motifs + then.dangles}
        assert rows[now.meeting, now.i, now.j] == suggestion.pair_to
        assert suggestion.pair_to >= suggestion.pair_from + LEAST_GAIN


def test_best_first_and_no_more_than_asked() -> None:
    found = suggest(lift(piece((4, 6, 0, 1, 5))), at_hand=beads_of("lolly-van"), most=3)
    assert len(found) == 3
    assert [s.weakest_to for s in found] == sorted((s.weakest_to for s in found), reverse=True)


def mains(design: Design) -> list[Bead]:
    return [design.beads[motif_bead(motif)] for motif in design.motifs]


def hanging(design: Design, motif: int) -> list[list[Bead]]:
    return [[design.beads[n] for n in column.beads] for column in design.motifs[motif]]


def test_a_swap_keeps_the_counts() -> None:
    design = piece((4, 6, 0, 1, 5, 2))
    swaps = [s for s in suggest(lift(design)) if s.change is Change.SWAP]
    assert swaps
    for swap in swaps:
        assert Counter(mains(swap.design)) == Counter(mains(design))
        before, after = mains(design), mains(swap.design)
        assert tuple(i for i, bead in enumerate(before) if bead != after[i]) == swap.motifs


def test_a_swap_finds_what_brute_force_finds() -> None:
    order = (4, 6, 0, 1, 5)
    design = piece(order)
    best = 0.0
    for one in (0, 1):
        for other in (2, 3, 4):
            turned = list(order)
            turned[one], turned[other] = turned[other], turned[one]
            weakest = judge_piece(piece(tuple(turned))).weakest
            assert weakest is not None
            best = max(best, weakest.worst)
    found = [s.weakest_to for s in suggest(lift(design), most=99) if s.change is Change.SWAP]
    assert max(found) == pytest.approx(best)


def test_a_new_bead_replaces_the_colour_everywhere_and_only_in_motifs() -> None:
    beads = (*beads_of("rockpool"), BASE)
    # The pale bead is base bead as well: there it stays.
    design = build(
        beads=beads,
        base=4,
        base_pitch_mm=1.95,
        profiles=((1, 2),),
        order=(4, 6, 0, 4, 6),
        divider_base_beads=1,
    )
    found = suggest(lift(design), at_hand=beads_of("lolly-van"), most=99)
    old = palette("rockpool").swatches[4]
    new = [s for s in found if s.change is Change.NEW_BEAD and s.old == old]
    assert new
    for suggestion in new:
        hanging = {
            suggestion.design.beads[bead]
            for motif in suggestion.design.motifs
            for column in motif
            for bead in column.beads
        }
        new_bead = suggestion.new
        assert new_bead is not None
        assert (new_bead.name, new_bead.hex, ROUND) in {(b.name, b.hex, b.kind) for b in hanging}
        assert beads[4] not in hanging
        assert all(
            suggestion.design.beads[column.base] == beads[4]
            for _, column in suggestion.design.columns()
        )


def test_beads_of_another_kind_are_not_offered() -> None:
    cubes = tuple(Bead(name=b.name, kind=CUBE, hex=b.hex) for b in beads_of("lolly-van"))
    assert not any(
        s.change is Change.NEW_BEAD for s in suggest(lift(piece((4, 6, 0))), at_hand=cubes, most=99)
    )


def test_a_named_pair_is_mended_rather_than_the_weakest() -> None:
    design = piece((4, 6, 0, 1, 5, 2))
    strong = judge_piece(design).motifs[-1]
    for suggestion in suggest(lift(design), pair=strong, at_hand=beads_of("lolly-van")):
        assert suggestion.pair_from == strong.worst
        assert suggestion.pair_to > strong.worst


def test_mending_one_pair_never_makes_a_weaker_one() -> None:
    design = piece((4, 6, 0))
    # To give motif 2 the third motif's bead would mend the first pair and ruin the second.
    pair = next(row for row in judge_piece(design).motifs if row.i == 0)
    for suggestion in suggest(lift(design), pair=pair, most=99):
        assert suggestion.weakest_to >= suggestion.weakest_from


def test_accents_stay_when_main_beads_swap() -> None:
    beads = (*beads_of("rockpool"), BASE)
    base = len(beads) - 1

    def motif(main: int) -> tuple[Column, ...]:
        return (Column(base=base, beads=(main, main, 2)), Column(base=base, beads=(main,)))

    design = of_columns(
        beads=beads,
        base_pitch_mm=1.95,
        motifs=tuple(motif(m) for m in (4, 6, 0, 1)),
        dividers=((Column(base=base),),) * 5,
    )
    swaps = [s for s in suggest(lift(design)) if s.change is Change.SWAP]
    assert swaps
    for swap in swaps:
        assert all(swap.design.beads[m[0].beads[2]] == beads[2] for m in swap.design.motifs)
        assert mains(swap.design) != mains(design)


def test_what_was_done_by_hand_stays_and_a_locked_motif_is_left_alone() -> None:
    hand = palette("lolly-van").swatches[0]
    pattern = changes.tips(lift(piece((4, 6, 0, 1, 5))), kind=bead_kinds()["drop 3.4"]).pattern
    pattern = changes.paint_bead(pattern, 2, 1, 0, hand).pattern
    found = suggest(pattern, at_hand=beads_of("lolly-van"), most=99)
    assert {s.change for s in found} == set(Change)
    for suggestion in found:
        design = suggestion.design
        tips = {design.beads[column.beads[-1]].kind.name for m in design.motifs for column in m}
        assert tips == {"drop 3.4"}
        # Another colour for a whole motif paints over what was painted in it.
        if suggestion.change is not Change.OWN_BEAD or suggestion.motifs != (2,):
            assert design.beads[design.motifs[2][1].beads[0]].hex == hand.hex
    weakest = judge_piece(weave(pattern)).weakest
    assert weakest is not None
    locked = changes.lock(pattern, weakest.i).pattern
    others = suggest(locked, at_hand=beads_of("lolly-van"), most=99)
    assert others
    for suggestion in others:
        kept = suggestion.changed.pattern
        assert hanging(weave(kept), weakest.i) == hanging(weave(locked), weakest.i)


@pytest.mark.parametrize("order", [(0,), (3, 3)])
def test_nothing_to_mend_or_to_mend_with(order: tuple[int, ...]) -> None:
    assert suggest(lift(piece(order))) == ()


def test_words() -> None:
    found = suggest(lift(piece((4, 6, 0, 1, 5))), at_hand=beads_of("lolly-van"), most=99)
    said = {s.change: in_words(s) for s in found}
    assert set(said) == set(Change)
    assert said[Change.SWAP].startswith("Swap motifs ")
    assert " instead of " in said[Change.NEW_BEAD]
    assert all("this pair goes from" in text for text in said.values())


@pytest.mark.parametrize("seed", range(6))
def test_no_change_hides_a_weak_pair_behind_the_same_beads(seed: int) -> None:
    # Neighbours of the same beads are not compared: setting like beside like mends nothing.
    order = tuple(np.random.default_rng(50 + seed).integers(0, 4, 9).tolist())
    design = piece(order)
    before = len(judge_piece(design).repeats)
    for suggestion in suggest(lift(design), most=99):
        assert len(judge_piece(suggestion.design).repeats) <= before
