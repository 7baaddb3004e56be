"""Sizing and counting beside worked examples and charts of public pages, each named and read.

What these pages do not say - how a motif and its dividers repeat, plain base beads at both ends,
the thread of a whole fringed strip - is common practice, no source; ``test_plainly`` holds it.
"""

import math

import pytest

from explorer.design import build
from explorer.fit import Fit, Repeat, curvature_mm, fit_strip, motifs_that_fit
from explorer.thread_path import Step, path
from explorer.thread_setup import ThreadSetup
from explorer.wearers import EASES
from palettes.beads import Bead
from palettes.charts import bead_figures, bead_kinds

MM = 25.4  # an inch, by definition
BEAD = Repeat(dangles=1, divider=0)


@pytest.mark.parametrize(
    ("bead_mm", "beads"),
    [(2, 203), (3, 135), (4, 101), (5, 81), (6, 67), (7, 58), (8, 50), (9, 45), (10, 40), (12, 33)],
)
def test_beads_on_a_strand_of_sixteen_inches(bead_mm: int, beads: int) -> None:
    # Beads per inch. A UK Beaders, beads & findings guide, ebay.co.uk guide 10000000008825127.
    assert motifs_that_fit(16 * MM, bead_mm, BEAD) == beads


@pytest.mark.parametrize(
    ("length_in", "bead_mm", "beads"),
    [
        # How Many Beads?, artbeads.com/blog/how-many-beads-per-gram-and-inch: 8 in of 6 mm, 33.86,
        # "approximately (33)"; 18 in of 8 mm, 57.15, where it takes one more to be safe.
        (8.0, 6.0, 33),
        (18.0, 8.0, 57),
        # Beads Per Inch, auntiesbeads.com: a bracelet of 7 1/2 in, an inch off for the closure,
        # 6.5 * 6.25 = 40.6 beads of 4 mm, rounded down.
        (7.5 - 1.0, MM / 6.25, 40),
        # Beads per Inch and per Strand, thesprucecrafts.com, 339372: 4.2 * 16 = 67.2 of 6 mm.
        (16.0, MM / 4.2, 67),
        # How to Size Beads for Anklets, beads.co: an anklet of 10 in of 2 mm beads, "approximately
        # 127".
        (10.0, 2.0, 127),
    ],
)
def test_worked_counts_of_shops_and_teachers(length_in: float, bead_mm: float, beads: int) -> None:
    assert motifs_that_fit(length_in * MM, bead_mm, BEAD) == beads


def test_a_bracelet_less_its_closure() -> None:
    # The same page of auntiesbeads.com, as a fit: the closure is a part of the 7 1/2 in.
    fit = fit_strip(
        snug_mm=7.5 * MM,
        ease_mm=0.0,
        closure_mm=1.0 * MM,
        closure_counted=True,
        pitch_mm=MM / 6.25,
        pitch_spread=0.05,
        repeat=BEAD,
    )
    assert isinstance(fit, Fit)
    assert fit.base_beads == 40
    assert fit.slack_mm == pytest.approx(0.625 * MM / 6.25)


def test_a_band_of_repeats_ends_with_one_more() -> None:
    # Sparkling waves ladder stitch bracelet, facetjewelry.com, May 2018: a ladder's rows are
    # "divisible by three with one remainder" - repeats of two and a divider, and one more divider.
    # Its bracelet is 6 3/4 in long; 7 g of cylinders 8/0 make two such ladders two beads high.
    repeat = Repeat(dangles=2, divider=1)
    for motifs in range(1, 40):
        assert repeat.strip_base_beads(motifs) % 3 == 1
    pitch_mm = bead_kinds()["cylinder 8/0"].ladder_pitch_mm
    rows = repeat.strip_base_beads(motifs_that_fit(6.75 * MM, pitch_mm, repeat))
    # Beads per gram are from memory and a closure is in the length: a tenth more or less.
    assert 2 * 2 * rows / bead_kinds()["cylinder 8/0"].beads_per_gram == pytest.approx(7.0, rel=0.1)


def test_a_ladder_of_eleven_beads() -> None:
    # Diamond shaped earrings, monkeydoit.com: 11 beads of size 10 or 11 side by side, some 2.5 cm.
    widths = [11 * bead_kinds()[name].ladder_pitch_mm for name in ("round 11/0", "round 10/0")]
    assert min(widths) <= 25.0 <= max(widths)


def test_the_needle_goes_as_teachers_tell_it() -> None:
    # Stitches: Ladder Stitch, cainanwiebe.com: pick one up, go through the bead before it, then
    # "through the bead that you just added". Sparkling waves, facetjewelry.com: then zigzag back
    # through the entire length. Brick Stitch With Fringe Earrings, thesprucecrafts.com, 339438: a
    # base 6 beads wide gives 5 thread bridges.
    kinds = bead_kinds()
    design = build(
        beads=(
            Bead(name="base", kind=kinds["cylinder 8/0"], hex="#888888"),
            Bead(name="hanging", kind=kinds["round 11/0"], hex="#aa2222"),
        ),
        base=0,
        base_pitch_mm=3.15,
        profiles=((2,) * 6,),
        order=(1,),
        divider_base_beads=0,
    )
    legs = path(design, ThreadSetup())
    first, *stitches = [leg.visits for leg in legs if leg.step is Step.LADDER]
    assert first == ((0, 0),)
    assert stitches == [((new, 0), (new - 1, 0), (new, 0)) for new in range(1, 6)]
    assert len(stitches) == 5
    back = [leg.visits for leg in legs if leg.step is Step.STRAIGHTENING]
    assert back == [((column, 0),) for column in (4, 3, 2, 1, 0)]


def test_a_thick_bracelet_is_three_beads_longer() -> None:
    # How do you determine the correct bracelet length?, firemountaingems.com/resources, 920b: add
    # three diameters of the bead; with tubes 3 mm thick and 5 mm long, 9 mm, so two tubes.
    for diameter_mm in (2.0, 3.0, 4.0, 8.0):
        assert curvature_mm(diameter_mm) == pytest.approx(3.0 * diameter_mm, rel=0.05)
    assert math.ceil(3 * 3.0 / 5.0) == round(curvature_mm(3.0) / 5.0) == 2


@pytest.mark.parametrize(
    ("word", "least_in", "most_in"),
    [("snug", 0.5, 1.0), ("comfortable", 1.0, 1.5), ("loose", 2.0, 2.5)],
)
def test_ease_at_the_ankle(word: str, least_in: float, most_in: float) -> None:
    # Choosing the Right Anklet Size, thesize.net/anklets.
    found = [(e.least_in, e.most_in) for e in EASES if (e.limb, e.word) == ("ankle", word)]
    assert found == [(least_in, most_in)]


def test_ease_at_the_wrist_lies_among_what_pages_say() -> None:
    # They differ: 1/4 to 1/2 in for a standard fit, 3/4 to 1 loose (Discover Your Perfect Bracelet
    # Fit, horsefeathersgifts.com); 1/4 to 1/2 snug, 3/4 to 1 comfortable, 1 1/4 loose (How to
    # Determine Your Bracelet Size, tasitreasures.com); about 1/2 for comfort (How To Measure Your
    # Wrist, lcmathewsdesigns.com); 1/2 for children up to 5 in, 3/4 above (How to Choose
    # Children's Jewelry Sizes, doverjewelry.com).
    wrist = {e.word: (e.least_in, e.most_in) for e in EASES if e.limb == "wrist"}
    assert 0.25 <= wrist["close"][0] <= wrist["close"][1] <= 0.5
    assert 0.25 <= wrist["comfortable"][0] <= wrist["comfortable"][1] <= 1.0
    assert 0.75 <= wrist["loose"][0] <= wrist["loose"][1] <= 1.25


@pytest.mark.parametrize(
    ("kind", "per_gram", "per_inch"),
    [
        # How many seed beads are in that tube?, estherbeadwork.blogspot.com, October 2013.
        ("round 15/0", 271.5, 23),
        ("round 11/0", 105.0, 17),
        ("round 8/0", 34.7, 11),
        ("round 6/0", 15.0, None),
    ],
)
def test_a_chart_of_beads_by_weight_and_inch(
    kind: str, per_gram: float, per_inch: int | None
) -> None:
    # Plan for a tenth either way (common practice, no source).
    figures = bead_figures(kind)
    assert figures["beads_per_gram"].value == pytest.approx(per_gram, rel=0.1)
    if per_inch:
        pitch = figures["pitch_mm"]
        assert 0.99 * pitch.low <= MM / per_inch <= 1.01 * pitch.high


@pytest.mark.parametrize(
    ("kind", "sizes_mm"),
    [
        # Bead Sizes, regalcrafts.com; How big is a Seed Bead?, bead-media.com/beadcount.html;
        # Beading, artplays.site/beading.
        ("round 15/0", (1.3, 1.5, 1.5)),
        ("round 13/0", (1.5, 1.7)),
        ("round 11/0", (1.8, 2.2, 2.1)),
        ("round 10/0", (2.0, 2.3, 2.3)),
        ("round 8/0", (2.5, 3.0, 2.9)),
        ("round 6/0", (3.3, 3.7, 4.1)),
    ],
)
def test_sizes_of_round_beads(kind: str, sizes_mm: tuple[float, ...]) -> None:
    diameter = bead_figures(kind)["diameter_mm"]
    assert diameter.mark == "S"
    for size_mm in sizes_mm:
        assert diameter.low - 0.1 <= size_mm <= diameter.high + 0.1


@pytest.mark.parametrize(
    ("kind", "beads", "grams"),
    [
        # Square stitch Abacus bracelet, Warren Feld, docsbay.net: what 6 1/2 to 7 in take.
        ("cube 3", 184, 11.0),
        ("round 8/0", 36, 1.0),
        ("round 6/0", 16, 1.5),
        ("drop 3.4", 120, 6.0),
    ],
)
def test_grams_of_a_published_bracelet(kind: str, beads: int, grams: float) -> None:
    # Lists round up to what is sold: ours never asks for more, and for half of it at least.
    ours = beads / bead_kinds()[kind].beads_per_gram
    assert 0.5 * grams <= ours <= grams
