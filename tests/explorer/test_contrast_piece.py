from dataclasses import replace

import numpy as np
import pytest

from explorer.commands.judge import piece_lines
from explorer.contrast import judge_colours, looks_of
from explorer.contrast_compare import light_change
from explorer.contrast_piece import Meeting, judge_piece, motifs_as_seen
from explorer.contrast_words import details, reach, repeat_words, sentence, summary, who
from explorer.design import Column, Design, build, of_columns
from explorer.errors import BriefError
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.difference import verdict
from palettes.finishes import Finish
from palettes.spaces import hex_to_srgb1, linear1_to_srgb1, srgb1_to_hex, srgb1_to_linear1

ROUND, CUBE = bead_kinds()["round 11/0"], bead_kinds()["cube 1.8"]
HEXES = ("#b4463c", "#6e6e2d", "#1b2f58", "#f4f2ea")
BEADS = (
    *(Bead(name=f"c{i}", kind=ROUND, hex=text) for i, text in enumerate(HEXES)),
    Bead(name="base", kind=CUBE, hex="#202020"),
)


def piece(order: tuple[int, ...], profile: tuple[int, ...] = (1, 3, 2)) -> Design:
    return build(
        beads=BEADS,
        base=4,
        base_pitch_mm=1.95,
        profiles=(profile,),
        order=order,
        divider_base_beads=1,
    )


def striped(motifs: tuple[tuple[tuple[int, ...], ...], ...]) -> Design:
    """A piece bead by bead: motifs of dangles of bead numbers."""
    return of_columns(
        beads=BEADS,
        base_pitch_mm=1.95,
        motifs=tuple(tuple(Column(base=4, beads=d) for d in motif) for motif in motifs),
        dividers=((Column(base=4),),) * (len(motifs) + 1),
    )


def test_motifs_of_one_colour_are_judged_as_their_colours() -> None:
    order = (0, 1, 2, 3, 0, 2)
    looks = looks_of("typical,deutan", "daylight,led")
    judgement = judge_piece(piece(order), looks=looks)
    row = judge_colours([HEXES[i] for i in order], looks=looks, motif_width_mm=3 * 1.95)
    for motif in judgement.motifs:
        plain = row.pairs[motif.i]
        assert motif.by_view == plain.by_view
        assert motif.reads_apart_to_m == plain.reads_apart_to_m
    assert judgement.closure is not None
    assert row.closure_pair is not None
    assert judgement.closure.by_view == row.closure_pair.by_view
    assert judgement.within == ()
    # One colour a motif: what faces the neighbour is the motif's own colour.
    assert sorted(d.worst for d in judgement.dangles) == sorted(m.worst for m in judgement.motifs)


def test_rows_come_weakest_first() -> None:
    judgement = judge_piece(piece((0, 1, 2, 3, 1, 0)), looks=looks_of("typical,grey"))
    for rows in (judgement.motifs, judgement.dangles, judgement.base):
        assert [row.worst for row in rows] == sorted(row.worst for row in rows)
    assert judgement.weakest is not None
    assert judgement.weakest.worst == min(row.worst for row in judgement.motifs)


def test_facing_dangles_count_only_as_deep_as_both_hang() -> None:
    # The long dangle's lower beads face nothing: only its upper two meet the neighbour.
    design = striped((((0,), (0, 0, 2, 2)), ((1, 1), (1,))))
    (facing,) = judge_piece(design).dangles
    assert (facing.left_hex, facing.right_hex) == (HEXES[0], HEXES[1])
    (motif,) = judge_piece(design).motifs
    assert motif.left_hex not in HEXES


def test_the_last_dangle_of_one_motif_faces_the_first_of_the_next() -> None:
    design = striped((((0,), (1,)), ((2,), (3,)), ((1,), (0,))))
    met = {(row.i, row.j): (row.left_hex, row.right_hex) for row in judge_piece(design).dangles}
    assert met == {(0, 1): (HEXES[1], HEXES[2]), (1, 2): (HEXES[3], HEXES[1])}


def test_a_motif_farther_off_is_its_average_in_linear_light() -> None:
    design = striped((((0, 2), (2, 0)), ((1,),)))
    (motif,) = judge_piece(design).motifs
    linear1 = np.mean([srgb1_to_linear1(hex_to_srgb1(HEXES[i])) for i in (0, 2)], axis=0)
    assert motif.left_hex == srgb1_to_hex(linear1_to_srgb1(linear1))


def test_larger_beads_weigh_by_the_face_they_show() -> None:
    big = Bead(name="big", kind=bead_kinds()["round 8/0"], hex=HEXES[2])
    beads = (BEADS[0], big, BEADS[4])
    design = of_columns(
        beads=beads,
        base_pitch_mm=3.1,
        motifs=((Column(base=2, beads=(0, 1)),), (Column(base=2, beads=(0,)),)),
        dividers=((), (), ()),
    )
    motif = judge_piece(design).motifs[0]
    faces = np.array([2.1 * 1.45, 3.0 * 2.05])
    colours = np.stack([srgb1_to_linear1(hex_to_srgb1(bead.hex)) for bead in beads[:2]])
    mean = (faces[:, None] * colours).sum(axis=0) / faces.sum()
    assert motif.left_hex == srgb1_to_hex(linear1_to_srgb1(mean))


def test_dangles_within_a_motif_are_compared_where_they_differ() -> None:
    design = striped((((0,), (0,), (1,), (1, 2)), ((3,),)))
    within = judge_piece(design).within
    assert [(row.i, row.columns) for row in within] == [(0, (1, 2))]
    assert within[0].meeting is Meeting.WITHIN


def test_base_and_backing() -> None:
    judgement = judge_piece(piece((0, 1, 2)), backing="#a07e56")
    assert [row.right_hex for row in judgement.base] == ["#202020"] * 3
    assert [row.right_hex for row in judgement.backing] == ["#a07e56"] * 3
    assert judge_piece(piece((0, 1))).backing == ()


def test_every_pair_is_as_wide_as_its_narrower_side() -> None:
    # Two motifs of three and five dangles on a pitch of 1.95 mm; an 11/0 is 2.1 mm across.
    found = judge_piece(striped((((0, 1), (0,), (1,)), ((2,),) * 5)), backing="#c9a184")
    assert [row.width_mm for row in found.motifs] == pytest.approx([3 * 1.95])
    assert found.closure is not None
    assert found.closure.width_mm == pytest.approx(3 * 1.95)
    widths = {row.i: row.width_mm for row in found.base}
    assert widths == pytest.approx({0: 3 * 1.95, 1: 5 * 1.95})
    assert {row.i: row.width_mm for row in found.backing} == pytest.approx(widths)
    for row in (*found.dangles, *found.within):
        assert row.width_mm == pytest.approx(ROUND.diameter_mm)


def test_alike_by_choice_is_told_from_alike_by_chance() -> None:
    judgement = judge_piece(piece((0, 0, 1)))
    (same,) = (row for row in judgement.motifs if row.alike_by_choice)
    assert judgement.motifs[-1] is same
    assert sentence(same) == "Motifs 1 and 2 are made of the same beads."
    assert judgement.repeats == ((0, 1),)
    # What repeats is never the weakest, and another bead of the same colour is no repeat.
    assert judgement.weakest is judgement.motifs[0]
    twin = replace(piece((0, 1, 2)), beads=(BEADS[0], replace(BEADS[1], hex=HEXES[0]), *BEADS[2:]))
    alike = judge_piece(twin)
    assert alike.repeats == ()
    assert alike.weakest is not None
    assert alike.weakest.worst == 0.0


def test_a_pair_that_looks_alike_and_reads_apart_close_by_is_told_without_a_contradiction() -> None:
    near = (replace(BEADS[0], hex="#b4463c"), replace(BEADS[1], hex="#ae4a44"), *BEADS[2:])
    alike, other = list(piece_lines(judge_piece(replace(piece((0, 1, 2)), beads=near)), ()))[1:3]
    assert alike.startswith("  Motifs 1 and 2 look alike. Looked at closely, the pair reads apart")
    assert ". The pair reads apart to" in other


def test_motifs_of_the_same_beads_repeat_whatever_their_profiles() -> None:
    # As many of each as there is room for: the same main bead, the same set of beads.
    design = striped((((0, 0, 2), (0, 2)), ((0, 0, 0), (0, 2)), ((2, 2, 0),), ((2, 0, 2),)))
    judgement = judge_piece(design)
    assert judgement.repeats == ((0, 1), (2, 3))
    assert judgement.weakest is not None
    assert (judgement.weakest.i, judgement.weakest.j) == (1, 2)
    whole = judge_piece(piece((1, 1, 1)))
    assert (whole.weakest, whole.repeats) == (None, ((0, 1), (1, 2)))
    assert summary(whole) == (
        "Motifs 1 to 3 repeat the same beads. No other neighbours are left to compare."
    )


def test_one_reckoning_serves_the_figure_and_the_whole_judgement() -> None:
    looks = looks_of("typical,deutan", "daylight,lamplight")
    design = striped((((0, 2), (2, 0)), ((1,),), ((1,),), ((3, 2),)))
    for backing in (None, "#a07e56"):
        seen = motifs_as_seen(design, looks=looks, backing=backing)
        judgement = judge_piece(design, looks=looks, backing=backing)
        assert seen.weakest is not None
        assert judgement.weakest is not None
        assert seen.weakest.by_view == judgement.weakest.by_view
        assert (seen.weakest.i, seen.weakest.j) == (judgement.weakest.i, judgement.weakest.j)
        assert seen.repeats == judgement.repeats == ((1, 2),)


def test_matching_tips_across_a_divider_raise_no_alarm() -> None:
    # Each motif ends in a dangle of one bead, its turning bead, and these are alike everywhere.
    tips = [((2,), (main, main, main, 2), (2,)) for main in (0, 3, 0, 3)]
    judgement = judge_piece(striped(tuple(tips)))
    assert judgement.dangles[0].worst == 0.0
    assert summary(judgement) == "All neighbours stand well apart for most people by day."
    assert details(judgement)[0] == (
        "3 pairs of neighbours have facing dangles that look alike; as a whole these motifs differ."
    )


def test_repeats_in_words() -> None:
    assert repeat_words(()) == ""
    assert repeat_words(((4, 5),)) == "Motifs 5 and 6 repeat the same beads."
    assert repeat_words(((0, 1), (1, 2))) == "Motifs 1 to 3 repeat the same beads."
    assert repeat_words(((0, 1), (1, 2), (4, 5))) == (
        "Motifs 1 to 3 and 5 to 6 each repeat the same beads."
    )
    many = tuple((i, i + 1) for i in range(0, 14, 2))
    assert repeat_words(many) == "7 pairs of neighbours repeat the same beads."


def test_one_motif_has_no_neighbours() -> None:
    judgement = judge_piece(piece((1,)))
    assert judgement.weakest is None
    assert judgement.closure is None
    assert len(judgement.base) == 1
    assert summary(judgement) == "One motif has no neighbours."


def test_turning_the_strip_round_mirrors_the_judgement() -> None:
    order = (0, 1, 2, 3, 1)
    there = judge_piece(piece(order, (1, 2, 1)))
    back = judge_piece(piece(order[::-1], (1, 2, 1)))
    last = len(order) - 1
    assert {(r.i, r.j): pytest.approx(r.worst) for r in there.motifs} == {
        (last - r.j, last - r.i): r.worst for r in back.motifs
    }


def test_metallic_beads_carry_a_range() -> None:
    shiny = Bead(name="shiny", kind=ROUND, hex=HEXES[0], finish=Finish.METALLIC)
    design = build(
        beads=(shiny, *BEADS[1:]),
        base=4,
        base_pitch_mm=1.95,
        profiles=((1, 2),),
        order=(0, 1, 2),
        divider_base_beads=1,
    )
    spreads = {row.i: row.spread for row in judge_piece(design).motifs}
    assert spreads[0] is not None
    assert spreads[1] is None


def test_metallic_motifs_are_judged_as_their_colours() -> None:
    beads = tuple(replace(b, finish=Finish.METALLIC) for b in BEADS)
    design = replace(piece((0, 2, 1)), beads=beads)
    row = judge_colours([HEXES[i] for i in (0, 2, 1)], finishes=[Finish.METALLIC] * 3)
    for motif in judge_piece(design).motifs:
        assert motif.delta_e_2000 == pytest.approx(row.pairs[motif.i].delta_e_2000)


def test_words_say_to_whom_and_where() -> None:
    to_deutans = judge_piece(piece((0, 1)), looks=looks_of("typical,deutan"))
    assert summary(to_deutans) == "Motifs 1 and 2 look alike to some colour-blind people."
    assert to_deutans.weakest is not None
    assert "1 man in 45" in who(to_deutans.weakest.worst_look)
    milder = judge_piece(piece((0, 1)), looks=looks_of("deutan:0.8"))
    assert summary(milder) == "Motifs 1 and 2 look alike to some slightly colour-blind people."
    mild = judge_piece(piece((0, 1)), looks=looks_of("deutan:0.5"))
    mildly = "All neighbours can be told apart for some slightly colour-blind people."
    assert summary(mild) == mildly
    assert (
        summary(judge_piece(piece((2, 3))))
        == "All neighbours stand well apart for most people by day."
    )
    everyone = judge_piece(piece((2, 3)), looks=looks_of("typical,deutan,tritan"))
    assert summary(everyone) == "All neighbours stand well apart for everyone who was asked."


def test_details_name_what_the_neighbours_leave_out() -> None:
    # Beads 0 and 1 are alike to some only; here they meet over the closure.
    looks = looks_of("typical,deutan")
    judgement = judge_piece(piece((0, 2, 1)), looks=looks)
    assert summary(judgement) == "All neighbours stand well apart for everyone who was asked."
    (over,) = details(judgement)
    assert over == (
        "Over the closure: the last motif and the first (3 and 1) look alike to some colour-blind "
        "people."
    )
    # The same beads at both ends are meant.
    assert details(judge_piece(piece((0, 2, 0)), looks=looks)) == ()


def test_details_name_motifs_that_look_like_base_or_backing() -> None:
    design = piece((0, 2, 0, 3))
    like = replace(design.beads[0], kind=design.beads[-1].kind)
    base = {column.base for _, column in design.columns()}
    beads = tuple(like if at in base else bead for at, bead in enumerate(design.beads))
    matching = judge_piece(replace(design, beads=beads), backing=design.beads[2].hex)
    assert details(matching) == (
        "Motifs 1 and 3 look like their base beads.",
        "Motif 2 looks like what lies behind it.",
    )
    assert summary(matching) == "All neighbours stand well apart for most people by day."
    assert details(judge_piece(design)) == ()


def test_words_for_every_meeting() -> None:
    design = striped((((0,), (2,)), ((1,), (3,)), ((0,),)))
    judgement = judge_piece(design, backing="#a07e56", looks=looks_of("grey", "lamplight"))
    assert judgement.closure is not None
    rows = (
        judgement.motifs[0],
        judgement.dangles[0],
        judgement.closure,
        judgement.within[0],
        judgement.base[0],
        judgement.backing[0],
    )
    said = {sentence(row) for row in rows}
    assert len(said) == 6
    assert all(text[0].isupper() and text.endswith(".") for text in said)


def test_reach_in_words() -> None:
    row = judge_piece(piece((2, 3))).motifs[0]
    assert reach(row).endswith("and more (beyond the tested range)")
    same = judge_piece(piece((2, 2))).motifs[0]
    assert reach(same) == "does not read apart at any distance"
    # Red and olive of one lightness: nothing to see for those who see no colour.
    grey = judge_piece(piece((0, 1)), looks=looks_of("typical,grey")).motifs[0]
    assert reach(grey) == "does not read apart at any distance in a grey photo"
    # Two colours that only a close look tells apart: the model says from where.
    pair = judge_colours(["#6f8f6f", "#7f8f6f"], motif_width_mm=14.0).pairs[0]
    assert reach(pair) == f"reads apart to {pair.reads_apart_to_m:.1f} m"


def test_changes_below_the_uncertainty_are_none() -> None:
    assert light_change(10.0, 11.9) == 0.0
    assert light_change(10.0, 7.5) == -2.5


def test_a_light_is_blamed_only_for_what_it_changes() -> None:
    design = piece((0, 1))
    row = judge_piece(design, looks=looks_of("grey", "daylight,led")).motifs[0]

    def with_views(daylight: float, led: float) -> str:
        views = tuple(zip(("grey", "grey in LED light"), (daylight, led), strict=True))
        verdicts = {"worst": led, "worst_verdict": verdict(led), "worst_look": led_look}
        return sentence(replace(row, by_view=views, **verdicts))  # type: ignore[arg-type]  # by name

    led_look = looks_of("grey", "led")[0]
    assert with_views(12.5, 9.0).endswith("look alike in a grey photo under an LED lamp.")
    assert with_views(9.0, 8.0).endswith("look alike in a grey photo.")
    assert " may look alike in a grey photo under an LED lamp." in with_views(11.0, 9.5)
    assert "told apart" in with_views(13.0, 12.0)


def test_the_makers_fault() -> None:
    with pytest.raises(BriefError, match="backing"):
        judge_piece(piece((0, 1)), backing="skin")
    with pytest.raises(BriefError, match="distance"):
        judge_piece(piece((0, 1)), distance_m=-1.0)
