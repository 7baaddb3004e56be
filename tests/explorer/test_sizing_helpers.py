"""Swatches, closest fits, link beads, resizing and measuring half-way."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer import changes
from explorer.brief import Strip, Wearer
from explorer.changes import Changed, TooShort, most_motifs, resize
from explorer.closest import closest_fits
from explorer.counts import counts
from explorer.design import NO_CLOSURE, build
from explorer.errors import BriefError
from explorer.fit import Fit, Repeat, curvature_mm
from explorer.links import best_links, links_mm
from explorer.pattern import Pattern
from explorer.piece import Piece, from_json, piece_of, worn_by
from explorer.remeasure import ways_on
from explorer.swatch import Swatch as Woven
from explorer.swatch import parse_swatch
from explorer.wearers import EASES, LIMBS
from explorer.weave import weave
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Swatch

KINDS = bead_kinds()
BEADS = tuple(
    Bead(name=name, kind=KINDS[kind], hex=colour)
    for name, kind, colour in (
        ("Sill", "cube 3", "#39424b"),
        ("Plum", "round 8/0", "#7a2f5c"),
        ("Straw", "round 8/0", "#e7c66b"),
        ("Reed", "round 8/0", "#3f8f6b"),
    )
)
KEPT = Path(__file__).parent.parent / "reference" / "pieces"


def anklet(order: tuple[int, ...], snug_mm: float = 214.0) -> Piece:
    design = build(
        beads=BEADS,
        base=0,
        base_pitch_mm=3.1,
        profiles=((2, 4, 2),),
        order=order,
        divider_base_beads=1,
        divider_hangs=(1,),
    )
    return piece_of(design=design, name="Anklet", wearer=Wearer(snug_mm=snug_mm))


@pytest.mark.parametrize(
    "text",
    ["20 beads measure 39.5 mm", "20 = 39.5", "20 base beads: 3.95 cm", "20 beads in 39,5 mm"],
)
def test_a_swatch_is_read_from_a_sentence(text: str) -> None:
    swatch = parse_swatch(text)
    assert swatch.pitch_mm == pytest.approx(1.975)
    assert swatch.spread == pytest.approx(0.5 / 39.5)


@pytest.mark.parametrize(
    "text", ["", "39.5 mm", "2 beads measure 4 mm", "20 beads measure 4 m", "x = 3 mm", "20 = wide"]
)
def test_what_is_no_swatch_is_told(text: str) -> None:
    with pytest.raises(BriefError) as caught:
        parse_swatch(text)
    assert caught.value.field == "swatch"


def test_more_beads_make_a_surer_pitch() -> None:
    assert Woven(beads=40, length_mm=79.0).spread < Woven(beads=10, length_mm=19.75).spread


def test_a_thick_base_needs_pi_times_its_thickness() -> None:
    # A circle of radius r + t/2 is longer than one of radius r by pi * t.
    assert curvature_mm(3.0) == pytest.approx(2 * math.pi * (30 + 1.5) - 2 * math.pi * 30)
    thick = Wearer(snug_mm=200.0, curvature_mm=curvature_mm(3.0))
    fit = Strip(base=KINDS["cube 3"]).fit(thick)
    assert isinstance(fit, Fit)
    assert fit.target_mm == pytest.approx(200.0 + 3 * math.pi)
    assert fit.finished_ease_mm == pytest.approx(fit.strip_mm - 200.0 - 3 * math.pi)


def test_the_closest_fits_leave_the_least_and_cost_no_motif() -> None:
    wearer, strip = Wearer(snug_mm=214.0), Strip(base=KINDS["cube 3"])
    fits = closest_fits(wearer, strip, NO_CLOSURE, dangles=(3, 8), count=20)
    slacks = [round(fit.slack_mm, 6) for fit in fits]
    assert slacks == sorted(slacks)
    assert slacks[0] < strip.pitch_mm
    for fit in fits:
        repeat = replace(fit.repeat, margins=0)
        bare = replace(strip, repeat=repeat, plain_ends=False).fit(wearer)
        assert isinstance(bare, Fit)
        assert bare.motifs == fit.motifs


def resized(pattern: Pattern, wearer: Wearer) -> Pattern:
    changed = resize(pattern, wearer)
    assert isinstance(changed, Changed)
    return changed.pattern


@given(st.floats(0.0, 40.0))
def test_link_beads_never_make_the_piece_too_long(slack_mm: float) -> None:
    tried = (BEADS[1], BEADS[0])
    links = best_links(slack_mm, [bead.kind.pitch_mm for bead in tried])
    swatch = Swatch(name=tried[links.bead].name, hex=tried[links.bead].hex)
    pattern = anklet((1, 2, 3)).pattern
    linked = changes.links(pattern, swatch, tried[links.bead].kind, links.each_end)
    design = weave(linked.pattern)
    assert links_mm(design) == pytest.approx(links.length_mm)
    assert links.length_mm + links.slack_mm == pytest.approx(slack_mm)
    assert counts(design).link_beads == 2 * links.each_end
    # No other number or bead leaves less.
    for bead in tried:
        for each in range(4):
            left = slack_mm - 2 * each * bead.kind.pitch_mm
            assert left < -1e-6 or left >= links.slack_mm - 2e-6


@given(
    order=st.lists(st.integers(1, 3), min_size=1, max_size=12).map(tuple),
    mirrored=st.booleans(),
    there=st.floats(60.0, 600.0),
)
def test_resizing_there_and_back_gives_the_same_piece(
    order: tuple[int, ...], mirrored: bool, there: float
) -> None:
    piece = anklet(order + order[::-1] if mirrored else order)
    exact = Wearer(snug_mm=max(40.0, piece.design.strip_mm))
    pattern = worn_by(piece, exact).pattern
    if most_motifs(pattern, exact.target_mm(piece.design.closure)) != len(piece.design.motifs):
        return
    other = resized(pattern, Wearer(snug_mm=there))
    assert weave(other).strip_mm <= there + 1e-6
    assert resized(other, exact) == pattern


def test_a_resized_piece_keeps_its_order_or_its_mirror() -> None:
    longer = resized(anklet((1, 2, 3)).pattern, Wearer(snug_mm=7 * 12.4 + 3.1))
    assert [motif[0].beads[0] for motif in weave(longer).motifs] == [1, 2, 3, 1, 2, 3, 1]
    mirrored = resized(anklet((1, 2, 3, 2, 1)).pattern, Wearer(snug_mm=4 * 12.4 + 3.1))
    assert [motif[0].beads[0] for motif in weave(mirrored).motifs] == [1, 2, 2, 1]


def test_a_limb_too_thin_for_one_motif_is_told() -> None:
    piece = from_json((KEPT / "v1-proposed.json").read_text("utf-8"))
    wide = replace(piece.pattern, base=replace(piece.pattern.base, pitch_mm=12.0))
    short = resize(wide, Wearer(snug_mm=45.0))
    assert isinstance(short, TooShort)
    assert short.needs_mm > short.target_mm


def test_measuring_half_way_offers_ways_on() -> None:
    # Twelve motifs of 3 dangles and a divider are 49 base beads: 151.9 mm as planned at 3.1 mm.
    piece = anklet((1, 2, 3) * 4)
    wearer = Wearer(snug_mm=155.0)
    same = ways_on(piece.pattern, wearer, Woven(beads=40, length_mm=124.0))
    assert [way.words for way in same] == ["Keep all motifs"]
    long = ways_on(piece.pattern, wearer, Woven(beads=24, length_mm=78.0))
    assert long[0].words.startswith("Leave out 1 motif")
    assert long[0].slack_mm >= 0.0 > long[-1].slack_mm
    assert long[0].counts.base_beads == long[0].design.base_beads == 45
    short = ways_on(piece.pattern, wearer, Woven(beads=40, length_mm=112.0))
    assert short[0].words.startswith("Add 1 motif")
    assert "link bead" in short[-1].words
    for way in (*same, *long, *short):
        assert way.strip_mm == pytest.approx(way.design.strip_mm + links_mm(way.design))
        assert way.strip_mm + way.slack_mm == pytest.approx(wearer.target_mm(piece.design.closure))


def test_starting_values_say_how_far_to_trust_them() -> None:
    assert all("measure" in limb.mark for limb in LIMBS)
    assert {ease.limb for ease in EASES} == {"wrist", "ankle"}
    # 3/8 to 1/2 in, common practice, no source.
    comfortable = next(e for e in EASES if (e.limb, e.word) == ("wrist", "comfortable"))
    assert comfortable.middle_mm == pytest.approx(7 / 16 * 25.4)
    assert Repeat(dangles=3, divider=1, margins=2).strip_base_beads(2) == 11
