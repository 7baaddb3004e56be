"""The steps a maker takes: sizing, colours, proposals, files."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app import steps
from explorer.app.demo import demo, tray_of
from explorer.app.refit import motif_hexes
from explorer.app.sizing import Measured, Sizing, measured
from explorer.app.state import History, changed
from explorer.bead_numbers import tidied
from explorer.brief import Brief
from explorer.cautions import Wear
from explorer.changes import lock, outline, paint_base, paint_dangle, paint_motif, paint_strip_bead
from explorer.counts import counts
from explorer.design import motif_profile
from explorer.errors import BriefError
from explorer.fit import Fit
from explorer.pattern import PaintEdit, outline_of
from explorer.piece import from_json, to_json
from explorer.propose import Proposals, propose
from palettes.charts import palette_names
from palettes.swatches import Swatch

WORK = demo()
PATTERN = WORK.piece.pattern
OTHER = WORK.tray.swatches[2]


def _fit(sizing: Sizing) -> Fit:
    to = measured(sizing)
    assert isinstance(to, Measured)
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    return fit


def test_the_demo_is_the_scenario_that_it_says() -> None:
    # Worked out by hand: 205 + 22 - 18 = 209 mm; 67 beads of 3.1 mm are 207.7, 68 are 210.8.
    fit = _fit(WORK.sizing)
    assert (fit.motifs, fit.base_beads) == (11, 67)
    assert WORK.piece.design.base_beads == 67
    assert WORK.piece.design.strip_mm == pytest.approx(207.7)


@given(
    st.integers(60, 400),
    st.integers(1, 12),
    st.integers(0, 4),
    st.sampled_from(["cube 3", "cube 1.8", "round 8/0"]),
)
def test_a_resized_piece_is_the_strip_of_its_fit(
    snug: int, dangles: int, divider: int, base: str
) -> None:
    sizing = replace(WORK.sizing, snug=f"{snug} mm", dangles=dangles, divider=divider, base=base)
    after = steps.resized(WORK, sizing)
    to = measured(sizing)
    assert isinstance(to, Measured)
    fit = to.strip.fit(to.wearer, to.closure)
    if not isinstance(fit, Fit):
        assert after.piece == WORK.piece
        return
    design = after.piece.design
    assert (len(design.motifs), design.base_beads) == (fit.motifs, fit.base_beads)
    assert design.strip_mm == pytest.approx(fit.strip_mm)
    assert counts(design).base_beads == fit.base_beads
    assert {design.beads[c.base].kind.name for _, c in design.columns()} == {base}


def test_there_and_back_is_the_same_piece() -> None:
    short = steps.resized(WORK, replace(WORK.sizing, snug="150 mm"))
    assert len(short.piece.design.motifs) < 11
    back = steps.resized(short, WORK.sizing)
    assert back.piece == WORK.piece


def test_what_another_strip_gave_up_is_told_once_and_is_no_part_of_the_work() -> None:
    touched = paint_strip_bead(PATTERN, 0, WORK.tray.swatches[3]).pattern
    work = replace(WORK, piece=replace(WORK.piece, pattern=touched))
    after = steps.resized(work, replace(WORK.sizing, dangles=7))
    assert after.told == ("Dividers and ends done by hand follow the rule now.",)
    history = changed(History(now=work), after)
    assert history.now.told == ()
    assert history.now == after
    # Another measurement gives nothing up: the touched divider is there.
    assert steps.resized(work, replace(WORK.sizing, snug="215 mm")).told == ()


# The strip's plain ends are reckoned as if every motif took the new width.
def test_plain_ends_fill_beside_a_locked_motif_of_another_width() -> None:
    work = replace(WORK, piece=replace(WORK.piece, pattern=lock(PATTERN, 3).pattern))
    after = steps.resized(work, replace(WORK.sizing, dangles=7))
    wearer, design = after.piece.wearer, after.piece.design
    assert wearer is not None
    assert after.sizing.plain_ends
    left_mm = wearer.target_mm(design.closure) - design.strip_mm
    assert 0.0 <= left_mm < 2 * design.base_pitch_mm


def test_work_by_hand_that_waits_for_a_longer_strip_is_told_with_the_size() -> None:
    touched = paint_motif(paint_dangle(PATTERN, 9, 1, OTHER).pattern, 10, OTHER).pattern
    work = steps.said(replace(WORK, piece=replace(WORK.piece, pattern=touched)), Wear.ANKLET)
    words = "2 motifs more, done by hand, wait for a longer strip."
    small = steps.resized(work, replace(WORK.sizing, snug="170 mm"))
    assert small.told == (words,)
    # What else is done in the same step does not take it away.
    assert words in steps.with_wear(small, Wear.CHILD).told
    assert words in steps.with_tray(small, tray_of("hush")).told
    assert steps.resized(replace(small, told=()), WORK.sizing).told == ()
    assert steps.resized(work, replace(WORK.sizing, snug="170 mm", divider=2)).told == (words,)


def test_another_size_asks_what_the_piece_is_worn_as_unless_that_was_said() -> None:
    to = replace(WORK.sizing, snug="170 mm")
    after = steps.resized(WORK, to)
    assert [words for words in after.told if words.endswith("Is it still an anklet?")]
    assert steps.resized(steps.said(WORK, Wear.ANKLET), to).told == ()


def test_another_palette_tells_of_a_base_that_had_two_colours() -> None:
    two = paint_base(PATTERN, WORK.tray.swatches[:2]).pattern
    work = replace(WORK, piece=replace(WORK.piece, pattern=two))
    assert steps.with_tray(work, tray_of("hush")).told == ("The base has one colour now.",)
    assert steps.with_tray(WORK, tray_of("hush")).told == ()


def test_a_box_that_makes_no_sense_keeps_the_piece_and_what_was_typed() -> None:
    after = steps.resized(WORK, replace(WORK.sizing, snug="seven"))
    assert after.piece == WORK.piece
    assert after.sizing.snug == "seven"


def test_every_faulty_box_is_named_at_once() -> None:
    faults = measured(replace(WORK.sizing, snug="40 m", ease="-3in", closure="x"))
    assert isinstance(faults, tuple)
    assert [fault.field for fault in faults] == ["snug", "ease", "closure"]


@pytest.mark.parametrize("divider", [0, 1, 2, 3])
def test_the_quick_rule_gives_its_own_number_of_base_beads(divider: int) -> None:
    sizing = replace(WORK.sizing, divider=divider, quick=True)
    fit = _fit(sizing)
    design = steps.resized(WORK, sizing).piece.design
    assert design.base_beads == fit.quick_rule.base_beads
    assert len(design.motifs) == fit.quick_rule.motifs


@given(st.lists(st.integers(1, 9), min_size=1, max_size=9), st.integers(1, 15))
def test_a_symmetric_motif_stays_symmetric_at_any_width(half: list[int], width: int) -> None:
    lengths = [*half, *half[::-1]]
    shaped = outline(PATTERN, outline_of(tuple(lengths))).pattern
    work = replace(WORK, piece=replace(WORK.piece, pattern=shaped))
    after = steps.resized(work, replace(WORK.sizing, dangles=width))
    profile = motif_profile(after.piece.design.motifs[0])
    assert len(profile) == width
    assert profile == profile[::-1]


@pytest.mark.parametrize("name", palette_names())
def test_every_palette_dresses_the_demo_and_is_used_up(name: str) -> None:
    tray = tray_of(name)
    after = steps.with_tray(WORK, tray)
    assert set(motif_hexes(after.piece.design)) == {s.hex for s in tray.swatches}
    assert counts(after.piece.design).total == counts(WORK.piece.design).total
    bases = {after.piece.design.beads[c.base].hex for _, c in after.piece.design.columns()}
    assert bases == {tray.base.hex}


def test_another_look_of_the_base_keeps_what_takes_turns_with_it() -> None:
    second, new = WORK.tray.swatches[0], Swatch(name="slate", hex="#3a4450")
    turns = paint_base(PATTERN, (WORK.tray.base, second), by_motif=True).pattern
    work = replace(WORK, piece=replace(WORK.piece, pattern=turns))
    after = steps.with_base(work, new)
    design = after.piece.design
    assert [design.beads[m[0].base].hex for m in design.motifs[:3]] == [
        new.hex,
        second.hex,
        new.hex,
    ]
    assert after.tray.base == new
    plain = steps.with_base(WORK, new).piece.design
    assert {plain.beads[column.base].hex for _, column in plain.columns()} == {new.hex}


def test_another_palette_keeps_what_was_coloured_by_hand_and_says_so() -> None:
    colours = WORK.tray.swatches
    touched = paint_dangle(PATTERN, 0, 1, colours[3]).pattern
    touched = paint_motif(touched, 5, colours[2]).pattern
    work = replace(WORK, piece=replace(WORK.piece, pattern=touched))
    after = steps.with_tray(work, tray_of("hush"))
    design = after.piece.design
    hexes = {swatch.hex for swatch in after.tray.swatches}
    assert {motif_hexes(design)[0], design.beads[design.motifs[0][1].beads[0]].hex} <= hexes
    # The dangle keeps a colour of its own, whatever the motif around it is laid out in.
    (edit,) = after.piece.pattern.by_hand(0).edits
    assert isinstance(edit, PaintEdit)
    assert isinstance(edit.paint, int)
    assert after.piece.pattern.colour(edit.paint).hex in hexes
    assert after.told == ("Motifs 1, 6 keep what was coloured by hand, in the new colours.",)


@pytest.mark.parametrize("wear", list(Wear))
def test_what_it_is_worn_as_changes_the_box_of_the_ease_with_the_ease(wear: Wear) -> None:
    pattern = replace(PATTERN, worn=replace(PATTERN.worn, own_ease=False))
    work = replace(WORK, piece=replace(WORK.piece, pattern=pattern))
    after = steps.with_wear(work, wear, lambda text: text.replace(".", ","))
    to = measured(after.sizing)
    assert isinstance(to, Measured)
    assert to.wearer == after.piece.wearer
    assert after.piece.wear is wear
    # Another box that changes later does not bring the old ease back.
    again = steps.resized(after, replace(after.sizing, closure="18 mm"))
    assert again.piece.wearer == after.piece.wearer


def test_own_colours_are_read_with_any_separator() -> None:
    tray = steps.own_tray("#1f8a83, f2c14e;d1495b #1F8A83", WORK.tray.base)
    assert [s.hex for s in tray.swatches] == ["#1f8a83", "#f2c14e", "#d1495b"]


@pytest.mark.parametrize("text", ["", " , ", "teal", "#12345"])
def test_colours_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(BriefError):
        steps.own_tray(text, WORK.tray.base)


def test_a_colour_changed_by_hand_changes_its_beads_and_nothing_else() -> None:
    after = steps.with_swatch(WORK, 3, "#123456")
    old = [h == WORK.tray.swatches[3].hex for h in motif_hexes(WORK.piece.design)]
    assert [h == "#123456" for h in motif_hexes(after.piece.design)] == old
    assert any(old)
    kept = zip(motif_hexes(WORK.piece.design), motif_hexes(after.piece.design), old, strict=True)
    assert all(a == b for a, b, was in kept if not was)


def test_a_proposal_on_the_table_brings_its_own_repeat() -> None:
    brief = steps.brief_of(WORK, seed=3, count=6)
    assert isinstance(brief, Brief)
    found = propose(brief)
    assert isinstance(found, Proposals)
    for proposal in found.proposals:
        after = steps.on_table(WORK, proposal, 3)
        assert after.piece.design == proposal.design
        assert after.piece.seed == 3
        assert _fit(after.sizing).motifs == len(proposal.design.motifs)


def test_a_saved_piece_opens_with_its_boxes_and_colours() -> None:
    piece = from_json(to_json(steps.with_tray(WORK, tray_of("hush")).piece))
    after = steps.opened(WORK, piece)
    assert after.piece == piece
    assert {s.hex for s in after.tray.swatches} == set(motif_hexes(piece.design))
    assert _fit(after.sizing).motifs == len(piece.design.motifs)


def test_tidying_changes_no_bead_that_is_seen() -> None:
    design = WORK.piece.design
    doubled = replace(design, beads=(*design.beads, design.beads[1], design.beads[2]))
    after = tidied(doubled)
    assert len(after.beads) == len(set(after.beads)) == 8
    seen = [[after.beads[b] for b in (c.base, *c.beads)] for _, c in after.columns()]
    assert seen == [[design.beads[b] for b in (c.base, *c.beads)] for _, c in design.columns()]


def test_a_plainly_other_colour_by_hand_has_another_name() -> None:
    old = Swatch(name="Stem", hex="#1e4b2e")
    assert steps.by_hand(old, "#1f4d30").name == "Stem"
    yellow = steps.by_hand(old, "#ffff00")
    assert (yellow.name, yellow.hex) == ("bright yellow", "#ffff00")
    assert steps.by_hand(old, "#ffff00", (yellow,)).name == "bright yellow 2"
