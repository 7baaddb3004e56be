"""Turning beads, dividers, ends and outlines changed on a piece."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.counts import counts
from explorer.design import Closure, Design, build, motif_profile
from explorer.dividers import divider_beads, has_dividers, with_divider_beads
from explorer.ends import FASTENINGS, with_link_beads
from explorer.errors import BriefError
from explorer.outlines import (
    Outlines,
    counterpart,
    outlines,
    with_outline,
    with_outlines,
)
from explorer.tips import hanging_kind, tip_bead, tip_kind, with_tips
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
ROUND, DROP, CUBE = KINDS["round 8/0"], KINDS["drop 3.4"], KINDS["cube 3"]
BEADS = (
    Bead(name="chalk", kind=CUBE, hex="#eeeeee"),
    Bead(name="brick", kind=ROUND, hex="#aa2222"),
    Bead(name="sea", kind=ROUND, hex="#2222aa"),
)
DEW = Bead(name="dew", kind=DROP, hex="#88aacc")

profiles = st.lists(st.integers(1, 9), min_size=1, max_size=7).map(tuple)


def piece(motifs: int = 4, profile: tuple[int, ...] = (1, 3, 1), divider: int = 1) -> Design:
    return build(
        beads=BEADS,
        base=0,
        base_pitch_mm=3.1,
        profiles=(profile,),
        order=tuple(1 + i % 2 for i in range(motifs)),
        divider_base_beads=divider,
        closure=Closure(length_mm=16.0),
    )


def by_name(design: Design) -> Counter[tuple[str, str]]:
    return Counter(
        {
            (design.beads[e.bead].name, design.beads[e.bead].kind.name): e.used
            for e in counts(design).by_bead
        }
    )


def test_turning_beads_of_another_kind_keep_the_motifs_colours_and_the_beads_counted() -> None:
    design = with_tips(piece(), DROP)
    # 4 motifs of 3 dangles: one turning bead each; 2 of every 5 beads of a motif are left above
    assert by_name(design) == {
        ("chalk", "cube 3"): 17,
        ("brick", "round 8/0"): 4,
        ("sea", "round 8/0"): 4,
        ("brick", "drop 3.4"): 6,
        ("sea", "drop 3.4"): 6,
    }
    assert tip_kind(design) == DROP
    assert tip_bead(design) is None
    assert hanging_kind(design) == ROUND


def test_turning_beads_of_one_look_and_back_again() -> None:
    design = piece(profile=(2, 3, 2))
    dewy = with_tips(design, DROP, DEW)
    assert by_name(dewy)["dew", "drop 3.4"] == 12
    assert tip_bead(dewy) == DEW
    assert with_tips(dewy, None) == design


def test_turning_beads_of_one_motif_alone() -> None:
    design = with_tips(piece(), DROP, DEW, motifs=(2,))
    assert by_name(design)["dew", "drop 3.4"] == 3
    assert [m == p for m, p in zip(design.motifs, piece().motifs, strict=True)] == [True] * 2 + [
        False,
        True,
    ]
    assert tip_kind(design) is None


@pytest.mark.parametrize("beads", [0, 1, 2, 3])
def test_small_beads_under_every_divider(beads: int) -> None:
    design = with_divider_beads(piece(divider=2), (DEW,) * beads)
    assert counts(design).divider_beads == 5 * 2 * beads
    assert divider_beads(design) == (DEW,) * beads
    assert with_divider_beads(design, ()) == piece(divider=2)


def test_four_small_beads_are_a_dangle_and_no_divider_none() -> None:
    with pytest.raises(BriefError, match="3 small beads"):
        with_divider_beads(piece(), (DEW,) * 4)
    bare = piece(divider=0)
    assert not has_dividers(bare)
    assert with_divider_beads(bare, (DEW,)) == bare


def test_link_beads_at_both_ends() -> None:
    linked = with_link_beads(piece(), DEW, 2)
    assert counts(linked).link_beads == 4
    assert with_link_beads(linked, DEW, 0) == piece()
    with pytest.raises(BriefError, match="links"):
        with_link_beads(piece(), DEW, 4)


def test_usual_closures_are_ranges() -> None:
    assert all(f.least_mm < f.middle_mm < f.most_mm for f in FASTENINGS)


def test_patterns_are_told_apart() -> None:
    design = piece(motifs=9)
    assert outlines(design) == Outlines(profiles=((1, 3, 1),), pattern="A")
    two = Outlines(profiles=((1, 3, 1), (3, 1, 3)), pattern="AB")
    assert outlines(with_outlines(design, two)) == two
    three = Outlines(profiles=((1, 3, 1), (3, 1, 3), (2, 2, 2)), pattern="ABCB")
    after = with_outlines(design, three)
    assert outlines(after) == three
    rows = [motif_profile(motif) for motif in after.motifs]
    assert rows == rows[::-1]
    free = with_outline(design, 3, (5, 5, 5))
    assert outlines(free).pattern == ""


def test_a_one_sided_outline_is_mirrored_past_the_middle() -> None:
    wanted = Outlines(profiles=((1, 2, 4),), pattern="A", mirrored=True)
    design = with_outlines(piece(motifs=5), wanted)
    rows = [motif_profile(motif) for motif in design.motifs]
    assert rows == [(1, 2, 4)] * 3 + [(4, 2, 1)] * 2
    assert outlines(design) == wanted


def test_a_preferred_pattern_stays_while_its_outlines_are_alike() -> None:
    design = piece(motifs=9)
    alike = outlines(design, "AB")
    assert alike == Outlines(profiles=((1, 3, 1), (1, 3, 1)), pattern="AB")


@given(profiles, st.sampled_from(["A", "AB", "ABCB"]), st.integers(1, 12), st.data())
def test_a_pattern_given_is_the_pattern_found(
    first: tuple[int, ...], pattern: str, motifs: int, data: st.DataObject
) -> None:
    more = st.lists(st.integers(1, 9), min_size=len(first), max_size=len(first)).map(tuple)
    wanted = (first, *(data.draw(more) for _ in range(len(set(pattern)) - 1)))
    design = with_outlines(
        piece(motifs=motifs, profile=first), Outlines(profiles=wanted, pattern=pattern)
    )
    found = outlines(design, pattern)
    assert found.pattern
    again = with_outlines(design, found)
    assert again == design


@given(profiles, st.data())
def test_an_outline_changes_its_motif_and_keeps_tips_and_colours(
    first: tuple[int, ...], data: st.DataObject
) -> None:
    row = data.draw(st.lists(st.integers(1, 9), min_size=len(first), max_size=len(first)))
    design = with_tips(piece(profile=first), DROP, DEW)
    after = with_outline(design, 1, row)
    assert motif_profile(after.motifs[1]) == tuple(row)
    for motif, old in zip(after.motifs, design.motifs, strict=True):
        for column, before in zip(motif, old, strict=True):
            assert after.beads[column.beads[-1]] == design.beads[before.beads[-1]] == DEW
    shape = [motif_profile(m) for i, m in enumerate(after.motifs) if i != 1]
    assert shape == [first] * 3


def test_an_outline_of_another_width_is_refused_or_leaves_the_motif_alone() -> None:
    with pytest.raises(BriefError, match="3 dangles"):
        with_outline(piece(), 0, (1, 2))
    design = piece()
    narrow = replace(design, motifs=(design.motifs[0][:2], *design.motifs[1:]))
    after = with_outlines(narrow, Outlines(profiles=((2, 2, 2),), pattern="A"))
    assert motif_profile(after.motifs[0]) == (1, 3)
    assert motif_profile(after.motifs[1]) == (2, 2, 2)


@given(profiles)
def test_a_counterpart_differs_and_turns_back(profile: tuple[int, ...]) -> None:
    other = counterpart(profile)
    assert other != profile or (sorted(profile) == sorted(other) and len(set(profile)) > 1)
    if len(set(profile)) > 1:
        assert counterpart(other) == profile
        assert (min(other), max(other)) == (min(profile), max(profile))
    assert all(length >= 1 for length in other)
