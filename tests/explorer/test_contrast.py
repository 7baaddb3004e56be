import math
import warnings
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from coloraide import Color
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from explorer.contrast import judge_colours, looks_of
from explorer.contrast_compare import compare
from explorer.errors import BriefError
from palettes.charts import bead_kinds
from palettes.difference import Verdict, delta_e_2000, verdict
from palettes.finishes import Finish, met_range
from palettes.lights import UNCERTAINTY, Light
from palettes.spaces import FloatArray, hex_to_srgb1, srgb1_to_lab
from palettes.viewing import TYPICAL_DAYLIGHT, conditions
from palettes.vision import VIEWERS

HEXES = st.lists(
    st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}"), min_size=1, max_size=7
)
ALL = conditions(VIEWERS, tuple(Light))


def random_palettes(count: int, size: int) -> list[tuple[str, ...]]:
    numbers = np.random.default_rng(1000).integers(0, 1 << 24, (count, size))
    # Every other palette is muted, so that near neighbours come up too.
    muted = (numbers[::2] & 0x0F0F0F) | 0x808080
    numbers[::2] = muted
    return [tuple(f"#{int(number):06x}" for number in row) for row in numbers]


def lab_by_colour_science(palettes: Sequence[Sequence[str]]) -> FloatArray:
    with warnings.catch_warnings():
        # It warns that its plotting part is missing, which nothing here uses.
        warnings.simplefilter("ignore")
        import colour
    srgb1 = np.array([[[int(h[i : i + 2], 16) for i in (1, 3, 5)] for h in p] for p in palettes])
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    return np.asarray(colour.XYZ_to_Lab(colour.sRGB_to_XYZ(srgb1 / 255), white), dtype=np.float64)


def at_the_jump(lab: FloatArray) -> NDArray[np.bool_]:
    """Neighbours whose hues stand 180 degrees apart, where CIEDE2000 itself jumps."""
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    return np.asarray(np.abs(np.abs(hue[:, :-1] - hue[:, 1:]) - 180.0) < 0.1)


def test_a_thousand_palettes_as_colour_science_judges_them() -> None:
    palettes = random_palettes(1000, 5)
    lab = lab_by_colour_science(palettes)
    import colour

    theirs = np.asarray(colour.delta_E(lab[:, :-1], lab[:, 1:], method="CIE 2000"))
    judgements = [judge_colours(palette) for palette in palettes]
    ours = np.array([[pair.delta_e_2000 for pair in j.pairs] for j in judgements])
    told = np.array([[pair.verdict.value for pair in j.pairs] for j in judgements])
    jump = at_the_jump(lab)
    assert jump.sum() < 5
    # The two convert sRGB with white points that differ in the fourth decimal.
    assert np.abs(ours - theirs)[~jump].max() < 0.02
    wanted = np.vectorize(lambda value: verdict(value).value)(theirs)
    at_an_edge = np.abs(theirs[..., None] - [2.0, 10.0, 20.0]).min(axis=-1) < 0.02
    assert (told == wanted)[~jump & ~at_an_edge].all()
    assert set(told.ravel()) == {word.value for word in Verdict}
    weakest = np.array([judgement.weakest for judgement in judgements])
    assert np.allclose(weakest, ours.min(axis=1))


def test_a_thousand_palettes_as_coloraide_shows_them_to_others() -> None:
    palettes = random_palettes(1000, 3)
    looks = looks_of("typical,protan,deutan,tritan")
    for palette in palettes:
        by_view = {}
        for name in ("typical", "protan", "deutan", "tritan"):
            seen = [Color(text) for text in palette]
            if name == "tritan":
                seen = [c.filter("tritan", 1, space="srgb-linear") for c in seen]
            elif name != "typical":
                seen = [c.filter(name, 1, space="srgb-linear", method="machado") for c in seen]
            clipped = [c.convert("srgb").clip() for c in seen]
            by_view[name] = [
                a.delta_e(b, method="2000", space="lab-d65") for a, b in pairwise(clipped)
            ]
        judgement = judge_colours(palette, looks=looks)
        for place, pair in enumerate(judgement.pairs):
            wanted = {name: values[place] for name, values in by_view.items()}
            # Close to black a small step in Lab is a large one in CIEDE2000's chroma.
            assert dict(pair.by_view) == pytest.approx(wanted, abs=0.2)
            worst = min(wanted.values())
            if min(abs(worst - edge) for edge in (2.0, 10.0, 20.0)) > 0.2:
                assert pair.worst_verdict is verdict(worst)


@given(HEXES, st.sets(st.sampled_from(ALL), min_size=1, max_size=4))
def test_what_holds_for_any_row(hexes: list[str], looks: set[object]) -> None:
    chosen = [look for look in ALL if look in looks]
    judgement = judge_colours(hexes, looks=chosen)
    assert [(pair.i, pair.j) for pair in judgement.pairs] == [
        (i, i + 1) for i in range(len(hexes) - 1)
    ]
    for pair in judgement.pairs:
        assert pair.worst == min(value for _, value in pair.by_view)
        assert pair.worst == dict(pair.by_view)[str(pair.worst_look)]
        assert (pair.uncertainty == UNCERTAINTY) == (pair.worst_look.light is not Light.DAYLIGHT)
        if hexes[pair.i] == hexes[pair.j]:
            assert (pair.worst, pair.reads_apart_to_m, pair.hyab) == (0.0, 0.0, 0.0)
    if judgement.pairs:
        assert judgement.weakest == min(pair.delta_e_2000 for pair in judgement.pairs)
        assert judgement.worst == min(pair.worst for pair in judgement.pairs)


@given(HEXES.filter(lambda hexes: len(hexes) > 1))
def test_turning_the_row_round_keeps_the_numbers(hexes: list[str]) -> None:
    there, back = judge_colours(hexes), judge_colours(hexes[::-1])
    # At hues 180 degrees apart CIEDE2000 itself may take either branch.
    assume(not at_the_jump(lab_by_colour_science([hexes])).any())
    assert there.weakest == pytest.approx(back.weakest, abs=1e-9)
    assert there.closure_pair is not None
    assert (there.closure_pair.i, there.closure_pair.j) == (len(hexes) - 1, 0)


def test_one_colour_has_no_neighbours() -> None:
    judgement = judge_colours(["#123456"])
    assert judgement.pairs == ()
    assert judgement.weakest is None
    assert judgement.weakest_pair is None
    assert judgement.closure_pair is None


def test_red_and_green_run_together_for_a_deutan() -> None:
    # A brick red and an olive green of like lightness: the textbook case of red-green confusion.
    judgement = judge_colours(["#b4463c", "#6e6e2d"], looks=looks_of("typical,deutan"))
    (pair,) = judgement.pairs
    assert pair.verdict is Verdict.CLEARLY_APART
    assert pair.worst_verdict in {Verdict.SAME, Verdict.CLOSE}
    assert str(pair.worst_look) == "deutan"


def test_farther_off_and_narrower_there_is_less_to_notice() -> None:
    wide = judge_colours(["#3c78b4", "#4b87c8"], motif_width_mm=20.0, distance_m=5.0).pairs[0]
    narrow = judge_colours(["#3c78b4", "#4b87c8"], motif_width_mm=10.0).pairs[0]
    assert [distance for distance, _ in wide.steps] == [0.4, 1.0, 2.5, 5.0]
    steps = [count for _, count in wide.steps]
    assert steps == sorted(steps, reverse=True)
    assert narrow.reads_apart_to_m == pytest.approx(wide.reads_apart_to_m / 2)


def test_beyond_the_tested_range_is_said() -> None:
    # Black and white read apart much farther than marks of 1/3 degree, Stone's smallest.
    pair = judge_colours(["#000000", "#ffffff"]).pairs[0]
    assert pair.reads_apart_to_m > 2.5
    assert pair.beyond_tested


def test_backing_counts_for_transparent_beads_only() -> None:
    colours, dark = ["#7fc8c8", "#e8d9a0"], "#292420"
    glass = [Finish.TRANSPARENT] * 2
    plain = judge_colours(colours, finishes=glass)
    over = judge_colours(colours, finishes=glass, backing=dark)
    assert over.weakest != pytest.approx(plain.weakest, abs=1.0)
    assert judge_colours(colours, backing=dark).weakest == plain.weakest


def test_beyond_means_beyond_the_marks_that_were_tested() -> None:
    # Stone, Szafir and Setlur 2014 tried marks of 1/3 to 6 degrees.
    seen = set()
    for width_mm in (1.0, 14.0, 400.0):
        for other in ("#7c7c7c", "#868686", "#8a8a8a", "#909090", "#ffffff"):
            (pair,) = judge_colours(["#787878", other], motif_width_mm=width_mm).pairs
            nearest = width_mm / (2000.0 * math.tan(math.radians(6.0) / 2.0))
            farthest = width_mm / (2000.0 * math.tan(math.radians(1.0 / 3.0) / 2.0))
            reach = pair.reads_apart_to_m
            assert pair.beyond_tested == (reach > 0.0 and not nearest <= reach <= farthest)
            seen.add((pair.beyond_tested, reach > 1.0))
    assert seen == {(True, True), (True, False), (False, True), (False, False)}


def test_colours_that_belong_to_no_piece_are_as_wide_as_a_usual_motif() -> None:
    (pair,) = judge_colours(["#000000", "#ffffff"]).pairs
    assert pair.width_mm == pytest.approx(7 * bead_kinds()["cube 1.8"].ladder_pitch_mm, abs=0.5)


def test_the_nearest_and_the_farthest_distance_can_be_asked_for() -> None:
    for distance_m in (0.05, 100.0):
        (pair,) = judge_colours(["#000000", "#ffffff"], distance_m=distance_m).pairs
        assert distance_m in dict(pair.steps)
    for distance_m in (0.049, 100.1):
        with pytest.raises(BriefError, match="distance"):
            judge_colours(["#000000", "#ffffff"], distance_m=distance_m)


def test_metallic_beads_are_judged_by_the_middle_of_what_they_show() -> None:
    hexes = ("#8a6d3b", "#2f4858", "#c9c9d2")
    shown = [met_range(hex_to_srgb1(h), Finish.METALLIC, hex_to_srgb1(h))[1] for h in hexes]
    found = judge_colours(hexes, finishes=[Finish.METALLIC] * 3).pairs
    for pair in found:
        middle = delta_e_2000(srgb1_to_lab(shown[pair.i]), srgb1_to_lab(shown[pair.j]))
        assert pair.delta_e_2000 == pytest.approx(float(middle))


def test_a_side_that_plays_a_little_has_a_spread_too() -> None:
    grey = np.full((3, 1, 3), 0.5)
    # Three greys less than one apart in lightness.
    slight = grey + np.array([-0.003, 0.0, 0.003])[:, None, None]
    width = {"widths_mm": np.array([14.0]), "looks": (TYPICAL_DAYLIGHT,), "distances_m": (1.0,)}
    for left, right in ((slight, grey), (grey, slight)):
        (apart,) = compare(left[1], right[1], ranges=(left, right), **width)  # type: ignore[arg-type]  # by name
        assert apart.spread is not None
        assert apart.spread[0] == 0.0 < apart.spread[1] < 1.0
    (still,) = compare(grey[1], grey[1], ranges=(grey, grey), **width)  # type: ignore[arg-type]  # by name
    assert still.spread is None


def test_metallic_beads_give_a_range() -> None:
    (pair,) = judge_colours(["#8a6d3b", "#2f4858"], finishes=[Finish.METALLIC, Finish.OPAQUE]).pairs
    assert pair.spread is not None
    assert pair.spread[0] <= pair.delta_e_2000 <= pair.spread[1]
    assert judge_colours(["#8a6d3b", "#2f4858"]).pairs[0].spread is None


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        ({"hexes": []}, "colours"),
        ({"hexes": ["#12345"]}, "colours"),
        ({"hexes": ["#123456", "teal"]}, "colours"),
        ({"hexes": ["#123", "#456"], "backing": "skin"}, "backing"),
        ({"hexes": ["#123", "#456"], "distance_m": float("nan")}, "distance"),
        ({"hexes": ["#123", "#456"], "distance_m": 0.0}, "distance"),
        ({"hexes": ["#123", "#456"], "motif_width_mm": -3.0}, "motif-width"),
        ({"hexes": ["#123", "#456"], "motif_width_mm": float("inf")}, "motif-width"),
    ],
)
def test_the_makers_fault_names_its_field(arguments: dict[str, object], field: str) -> None:
    with pytest.raises(BriefError) as caught:
        judge_colours(**arguments)  # type: ignore[arg-type]  # parametrised by name
    assert caught.value.field == field
    assert caught.value.remedy


def test_conditions_that_a_maker_typed() -> None:
    assert looks_of() == (TYPICAL_DAYLIGHT,)
    assert len(looks_of("typical, protan,deutan:0.6", "daylight,lamplight")) == 6
    for see, light, field in (
        ("typical,", "led", "see"),
        ("grey:2", "led", "see"),
        ("grey", "sun", "light"),
    ):
        with pytest.raises(BriefError) as caught:
            looks_of(see, light)
        assert caught.value.field == field


def test_as_many_finishes_as_colours() -> None:
    with pytest.raises(ValueError, match="finishes"):
        judge_colours(["#123", "#456"], finishes=[Finish.MATTE])
