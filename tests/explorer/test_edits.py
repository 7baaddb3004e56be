"""Turning beads, dividers, ends and outlines changed on a piece."""

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer import changes
from explorer.counts import counts
from explorer.design import Closure, Design, build, motif_profile
from explorer.dividers import divider_beads, has_dividers
from explorer.ends import FASTENINGS
from explorer.errors import BriefError
from explorer.lift import lift
from explorer.pattern import Outline, OutlineRule, Pattern, outline_of
from explorer.profile_alternation import alternate, counterpart
from explorer.tips import hanging_kind, tip_kind
from explorer.weave import weave
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Swatch
from tests.explorer.columns import with_columns

KINDS = bead_kinds()
ROUND, DROP, CUBE = KINDS["round 8/0"], KINDS["drop 3.4"], KINDS["cube 3"]
BEADS = (
    Bead(name="chalk", kind=CUBE, hex="#eeeeee"),
    Bead(name="brick", kind=ROUND, hex="#aa2222"),
    Bead(name="sea", kind=ROUND, hex="#2222aa"),
)
DEW = Bead(name="dew", kind=DROP, hex="#88aacc")
DEWY = Swatch(name=DEW.name, hex=DEW.hex)

profiles = st.lists(st.integers(1, 9), min_size=1, max_size=7).map(tuple)


def beads_of(motifs: int = 4, profile: tuple[int, ...] = (1, 3, 1), divider: int = 1) -> Design:
    return build(
        beads=BEADS,
        base=0,
        base_pitch_mm=3.1,
        profiles=(profile,),
        order=tuple(1 + i % 2 for i in range(motifs)),
        divider_base_beads=divider,
        closure=Closure(length_mm=16.0),
    )


def piece(motifs: int = 4, profile: tuple[int, ...] = (1, 3, 1), divider: int = 1) -> Pattern:
    return lift(beads_of(motifs, profile, divider))


def woven(changed: changes.Changed) -> Design:
    return weave(changed.pattern)


def rows_of(pattern: Pattern) -> list[tuple[int, ...]]:
    return [motif_profile(motif) for motif in weave(pattern).motifs]


def by_name(design: Design) -> Counter[tuple[str, str]]:
    return Counter(
        {
            (design.beads[e.bead].name, design.beads[e.bead].kind.name): e.used
            for e in counts(design).by_bead
        }
    )


def test_turning_beads_of_another_kind_keep_the_motifs_colours_and_the_beads_counted() -> None:
    design = woven(changes.tips(piece(), kind=DROP))
    # 4 motifs of 3 dangles: one turning bead each; 2 of every 5 beads of a motif are left above
    assert by_name(design) == {
        ("chalk", "cube 3"): 17,
        ("brick", "round 8/0"): 4,
        ("sea", "round 8/0"): 4,
        ("brick", "drop 3.4"): 6,
        ("sea", "drop 3.4"): 6,
    }
    assert tip_kind(design) == DROP
    assert hanging_kind(design) == ROUND


def test_turning_beads_of_one_look_and_back_again() -> None:
    pattern = piece(profile=(2, 3, 2))
    dewy = changes.tips(pattern, kind=DROP, swatch=DEWY).pattern
    assert by_name(weave(dewy))["dew", "drop 3.4"] == 12
    assert woven(changes.tips(dewy)) == weave(pattern)


def test_turning_beads_of_one_motif_alone() -> None:
    changed = changes.tips(piece(), kind=DROP, swatch=DEWY, motif=2)
    design = woven(changed)
    assert by_name(design)["dew", "drop 3.4"] == 3
    same = [m == p for m, p in zip(design.motifs, beads_of().motifs, strict=True)]
    assert same == [True, True, False, True]
    assert tip_kind(design) is None
    # Those of one motif are narrower than those of the piece: they stay, and that is told.
    wide = changes.tips(changed.pattern, kind=CUBE)
    assert wide.gave_up == ("Motif 3 keeps its own turning beads.",)
    assert woven(wide).motifs[2] != woven(changes.tips(piece(), kind=CUBE)).motifs[2]
    assert by_name(woven(wide))["dew", "drop 3.4"] == 3


@pytest.mark.parametrize("beads", [0, 1, 2, 3])
def test_small_beads_under_every_divider(beads: int) -> None:
    pattern = changes.divider_beads(piece(divider=2), ((DEWY, DROP),) * beads).pattern
    design = weave(pattern)
    assert counts(design).divider_beads == 5 * 2 * beads
    assert divider_beads(design) == (DEW,) * beads
    assert woven(changes.divider_beads(pattern, ())) == beads_of(divider=2)


def test_four_small_beads_are_a_dangle_and_no_divider_none() -> None:
    with pytest.raises(BriefError, match="3 small beads"):
        changes.divider_beads(piece(), ((DEWY, DROP),) * 4)
    bare = piece(divider=0)
    assert not has_dividers(weave(bare))
    assert woven(changes.divider_beads(bare, ((DEWY, DROP),))) == weave(bare)


def test_link_beads_at_both_ends() -> None:
    linked = changes.links(piece(), DEWY, DROP, 2).pattern
    assert counts(weave(linked)).link_beads == 4
    assert woven(changes.links(linked, DEWY, DROP, 0)) == beads_of()
    for count in (4, -1):
        with pytest.raises(BriefError, match="links"):
            changes.links(piece(), DEWY, DROP, count)


def test_usual_closures_are_ranges() -> None:
    assert all(f.least_mm < f.middle_mm < f.most_mm for f in FASTENINGS)


def test_outlines_in_turn_are_told_apart() -> None:
    pattern = piece(motifs=9)
    one, two, three = outline_of((1, 3, 1)), outline_of((3, 1, 3)), outline_of((2, 2, 2))
    assert pattern.outlines == OutlineRule(outlines=(one,))
    after = changes.alternation(pattern, "AB", (one, two)).pattern
    assert lift(weave(after)).outlines == OutlineRule(outlines=(one, two), letters="AB")
    after = changes.alternation(pattern, "ABCB", (one, two, three)).pattern
    assert lift(weave(after)).outlines == OutlineRule(outlines=(one, two, three), letters="ABCB")
    assert rows_of(after) == rows_of(after)[::-1]


@pytest.mark.parametrize("motifs", [1, 9])
def test_a_motif_that_goes_its_own_way_leaves_the_others_by_their_rule(motifs: int) -> None:
    pattern, own = piece(motifs=motifs), motifs // 3
    free = changes.outline(pattern, outline_of((5, 5, 5)), motif=own).pattern
    assert free.outlines == pattern.outlines
    assert rows_of(free) == [(5, 5, 5) if at == own else (1, 3, 1) for at in range(motifs)]
    if motifs > 1:
        assert lift(weave(free)).outlines == pattern.outlines


def test_a_one_sided_outline_is_mirrored_past_the_middle() -> None:
    wanted = OutlineRule(outlines=(outline_of((1, 2, 4)),), mirrored=True)
    after = changes.alternation(piece(motifs=5), "A", wanted.outlines, mirrored=True).pattern
    assert rows_of(after) == [(1, 2, 4)] * 3 + [(4, 2, 1)] * 2
    assert lift(weave(after)).outlines == wanted


def test_turns_stay_while_their_outlines_are_alike() -> None:
    alike = (outline_of((1, 3, 1)),) * 2
    after = changes.alternation(piece(motifs=9), "AB", alike).pattern
    assert after.outlines == OutlineRule(outlines=alike, letters="AB")
    assert weave(after) == beads_of(motifs=9)


@given(profiles, st.sampled_from(["A", "AB", "ABCB"]), st.integers(1, 12), st.booleans(), st.data())
def test_turns_given_are_the_turns_woven(
    first: tuple[int, ...], letters: str, motifs: int, mirrored: bool, data: st.DataObject
) -> None:
    more = st.lists(st.integers(1, 9), min_size=len(first), max_size=len(first)).map(tuple)
    wanted = (first, *(data.draw(more) for _ in range(len(set(letters)) - 1)))
    outlines = tuple(map(outline_of, wanted))
    after = changes.alternation(
        piece(motifs=motifs, profile=first), letters, outlines, mirrored=mirrored
    ).pattern
    assert tuple(rows_of(after)) == alternate(wanted, motifs, letters, mirrored).profiles
    assert changes.alternation(after, letters).pattern == after
    assert weave(lift(weave(after))) == weave(after)


@given(profiles, st.data())
def test_an_outline_changes_its_motif_and_keeps_tips_and_colours(
    first: tuple[int, ...], data: st.DataObject
) -> None:
    row = data.draw(st.lists(st.integers(1, 9), min_size=len(first), max_size=len(first)))
    pattern = changes.tips(piece(profile=first), kind=DROP, swatch=DEWY).pattern
    design, after = weave(pattern), woven(changes.outline(pattern, outline_of(tuple(row)), motif=1))
    assert motif_profile(after.motifs[1]) == tuple(row)
    for motif, old in zip(after.motifs, design.motifs, strict=True):
        for column, before in zip(motif, old, strict=True):
            assert after.beads[column.beads[-1]] == design.beads[before.beads[-1]] == DEW
    shape = [motif_profile(m) for i, m in enumerate(after.motifs) if i != 1]
    assert shape == [first] * 3


def test_an_outline_of_another_width_is_refused_or_leaves_the_motif_alone() -> None:
    with pytest.raises(BriefError, match="3 dangles"):
        changes.outline(piece(), Outline(lengths=(1, 2)), motif=0)
    design = beads_of()
    narrow = lift(with_columns(design, motifs=(design.motifs[0][:2], *design.motifs[1:])))
    after = changes.outline(narrow, outline_of((2, 2, 2)))
    assert rows_of(after.pattern) == [(1, 3)] + [(2, 2, 2)] * 3
    assert after.gave_up == ("Motif 1 keeps an outline of its own.",)


@given(profiles)
def test_a_counterpart_differs_and_turns_back(profile: tuple[int, ...]) -> None:
    other = counterpart(profile)
    assert other != profile or (sorted(profile) == sorted(other) and len(set(profile)) > 1)
    if len(set(profile)) > 1:
        assert counterpart(other) == profile
        assert (min(other), max(other)) == (min(profile), max(profile))
    assert all(length >= 1 for length in other)
