"""Every bead of a design is drawn once, in its place, in every view."""

import math
from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.crowding import FREE_UP_TO, crowding
from explorer.design import Closure, Column, Design, build, of_columns
from explorer.layout import loop_scene, motif_scene, rows_scene, strip_scene, thumbnail_scene
from explorer.layout_columns import FRONT_LAYER, drop_mm
from explorer.layout_tags import BeadTag, Spot, parse_tag
from explorer.layout_worn import finished_mm, worn_scene
from gallery.scene import PlacedBead, Pose
from palettes.beads import Bead, BeadKind
from palettes.finishes import Finish
from palettes.forms import Form

CUBE = BeadKind(
    name="cube 3", form=Form.CUBE, diameter_mm=3.0, pitch_mm=3.0, hole_mm=1.0,
    beads_per_gram=19, ladder_pitch_mm=3.1,
)  # fmt: skip
ROUND = BeadKind(
    name="round 11/0", form=Form.ROUND, diameter_mm=2.1, pitch_mm=1.45, hole_mm=0.8,
    beads_per_gram=110, ladder_pitch_mm=2.25,
)  # fmt: skip
DROP = BeadKind(
    name="drop 3.4", form=Form.DROP, diameter_mm=3.4, pitch_mm=3.4, hole_mm=0.9,
    beads_per_gram=24, ladder_pitch_mm=3.5,
)  # fmt: skip
BEADS = (
    Bead(name="chalk", kind=CUBE, hex="#f0ece2", finish=Finish.MATTE),
    Bead(name="sea", kind=ROUND, hex="#1f7a6d"),
    Bead(name="brick", kind=ROUND, hex="#b5533c", finish=Finish.LUSTRE),
    Bead(name="dew", kind=DROP, hex="#7fa7c9", finish=Finish.TRANSPARENT),
)

lengths = st.lists(st.integers(1, 6), min_size=1, max_size=5).map(tuple)


@st.composite
def designs(draw: st.DrawFn) -> Design:
    motifs = draw(st.integers(1, 7))
    return build(
        beads=BEADS,
        base=0,
        base_pitch_mm=draw(st.sampled_from([1.7, 2.2, 3.1])),
        profiles=tuple(draw(st.lists(lengths, min_size=1, max_size=2))),
        order=tuple(draw(st.integers(1, 3)) for _ in range(motifs)),
        divider_base_beads=draw(st.integers(0, 2)),
        divider_hangs=draw(st.sampled_from([(), (1,), (2, 3)])),
        margins=(draw(st.integers(0, 2)), draw(st.integers(0, 2))),
        links=draw(st.sampled_from([((), ()), ((1,), (2, 3))])),
        closure=draw(st.sampled_from([None, Closure(length_mm=16.0, extender_mm=25.0)])),
    )


def _expected(design: Design) -> Counter[int]:
    counts = Counter((*design.start_links, *design.end_links))
    for _, column in design.columns():
        counts[column.base] += 1
        counts.update(column.beads)
    return counts


def _bead_number(design: Design, tag: BeadTag) -> int:
    if tag.spot is Spot.LINK:
        return (design.end_links if tag.index else design.start_links)[tag.column]
    rows: dict[Spot, tuple[tuple[Column, ...], ...]] = {
        Spot.MOTIF: design.motifs,
        Spot.DIVIDER: design.dividers,
        Spot.MARGIN: (design.start_margin, design.end_margin),
    }
    column = rows[tag.spot][tag.index][tag.column]
    return column.base if tag.bead is None else column.beads[tag.bead]


@given(designs())
def test_counts_are_the_drawn_beads_in_every_whole_view(design: Design) -> None:
    scenes = {
        "strip": strip_scene(design),
        "loop": loop_scene(design),
        "thumbnail": thumbnail_scene(design),
    }
    for name, scene in scenes.items():
        tags = [parse_tag(bead.tag) for bead in scene.beads]
        assert len(set(tags)) == len(tags), name
        assert Counter(_bead_number(design, tag) for tag in tags) == _expected(design), name
    rows = rows_scene(design, rows=3)
    links = len(design.start_links) + len(design.end_links)
    assert len({bead.tag for bead in rows.beads}) == sum(_expected(design).values()) - links


@given(designs())
def test_a_bead_looks_as_the_design_says(design: Design) -> None:
    for placed in strip_scene(design).beads:
        bead = design.beads[_bead_number(design, parse_tag(placed.tag))]
        assert (placed.form, placed.finish) == (bead.kind.form, bead.finish)
        assert placed.across_mm == bead.kind.diameter_mm
        assert placed.along_mm == bead.kind.pitch_mm


def _column(design: Design, tags: str) -> list[PlacedBead]:
    scene = strip_scene(design, hang="regular")
    return [bead for bead in scene.beads if bead.tag.startswith(tags)]


def _hangs(bead: PlacedBead) -> bool:
    tag = parse_tag(bead.tag)
    return tag.spot is not Spot.LINK and tag.bead is not None


def _plain(lengths: tuple[int, ...], pitch: float = 3.1, tip: int = 1) -> Design:
    design = build(
        beads=BEADS, base=0, base_pitch_mm=pitch, profiles=(lengths,), order=(1, 2),
        divider_base_beads=1,
    )  # fmt: skip
    if tip == 1:
        return design
    motifs = tuple(
        tuple(Column(base=0, beads=(*column.beads[:-1], tip)) for column in motif)
        for motif in design.motifs
    )
    return of_columns(beads=BEADS, base_pitch_mm=pitch, motifs=motifs, dividers=design.dividers)


def test_a_drop_of_k_beads_hangs_k_minus_one_pitches_and_a_diameter_below_the_base() -> None:
    # Trade rule (common practice, no source): (k - 1) pitches plus the turning bead's diameter.
    design = _plain((1, 4))
    for column, length in ((0, 1), (1, 4)):
        beads = _column(design, f"m0.c{column}.")
        base, tip = beads[0], beads[-1]
        lowest = tip.y_mm + tip.across_mm / 2.0
        drop = lowest - (base.y_mm + base.along_mm / 2.0)
        assert math.isclose(drop, (length - 1) * 1.45 + 2.1)
        assert math.isclose(drop, drop_mm(design, design.motifs[0][column]))


def test_beads_of_a_dangle_touch_and_share_the_base_bead_s_line() -> None:
    beads = _column(_plain((5,)), "m0.c0.")
    for above, below in pairwise(beads[1:]):
        reach = below.across_mm if below.pose is Pose.END else below.along_mm
        assert math.isclose(below.y_mm - above.y_mm, (above.along_mm + reach) / 2.0)
    assert {bead.x_mm for bead in beads} == {beads[0].x_mm}


def test_base_beads_stand_a_pitch_apart_from_end_to_end() -> None:
    design = _plain((2, 3), pitch=2.2)
    bases = [bead for bead in strip_scene(design).beads if bead.tag.endswith("base")]
    assert [bead.x_mm for bead in bases] == pytest.approx(
        [(number + 0.5) * 2.2 for number in range(design.base_beads)]
    )
    assert {bead.y_mm for bead in bases} == {0.0}


def test_only_the_turning_bead_shows_its_ring_and_a_drop_hangs() -> None:
    ring = _column(_plain((4,)), "m0.c0.")[1:]
    assert [bead.pose for bead in ring] == [Pose.SIDE] * 3 + [Pose.END]
    drop = _column(_plain((4,), tip=3), "m0.c0.")[1:]
    assert [bead.pose for bead in drop] == [Pose.SIDE] * 4


def test_crowded_dangles_stand_forward_and_back_in_turn_and_keep_their_size() -> None:
    crowded = _plain((4, 4, 4, 4), pitch=1.8)
    assert crowding(crowded).ratio == pytest.approx(2.1 / 1.8)
    layers = [bead.layer for bead in _column(crowded, "m0.") if bead.tag.endswith("b0")]
    assert len(set(layers)) == 2
    assert all(one != other for one, other in pairwise(layers))
    free = _plain((4, 4, 4, 4))
    assert {b.layer for b in _column(free, "m0.") if _hangs(b)} == {FRONT_LAYER}
    assert {b.across_mm for b in strip_scene(crowded).beads} == {2.1, 3.0}


@given(designs())
def test_free_dangles_lean_but_never_into_each_other(design: Design) -> None:
    if crowding(design).ratio > FREE_UP_TO:
        return
    scenes = strip_scene(design), strip_scene(design, hang="regular")
    for bead, straight in zip(scenes[0].beads, scenes[1].beads, strict=True):
        tag = parse_tag(bead.tag)
        if tag.spot is Spot.MOTIF and tag.bead is not None:
            hanging = design.motifs[tag.index][tag.column].beads
            widest = max(design.beads[number].kind.diameter_mm for number in hanging)
            gap = max(0.0, design.base_pitch_mm - widest)
            assert abs(bead.x_mm - straight.x_mm) <= gap / 2.0 + 1e-9


@given(designs())
def test_everything_lies_in_the_frame(design: Design) -> None:
    for scene in (strip_scene(design), loop_scene(design), rows_scene(design, rows=2)):
        for bead in scene.beads:
            reach = max(bead.across_mm, bead.along_mm) / 2.0
            assert scene.left_mm <= bead.x_mm - reach
            assert bead.x_mm + reach <= scene.left_mm + scene.width_mm
            assert scene.top_mm <= bead.y_mm - reach
            assert bead.y_mm + reach <= scene.top_mm + scene.height_mm


def test_the_loop_keeps_the_strip_s_length_and_points_outward() -> None:
    design = _plain((3,) * 40)
    scene = loop_scene(design, aspect=1.0, hang="regular")
    bases = [bead for bead in scene.beads if bead.tag.endswith("base")]
    radius = math.hypot(bases[0].x_mm, bases[0].y_mm)
    assert all(math.isclose(math.hypot(b.x_mm, b.y_mm), radius, rel_tol=1e-3) for b in bases)
    # A chord of a circle: 2 R sin(arc / 2R).
    chord = 2.0 * radius * math.sin(design.base_pitch_mm / (2.0 * radius))
    for one, other in pairwise(bases):
        assert math.isclose(
            math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm), chord, rel_tol=1e-3
        )
    for bead in scene.beads:
        if _hangs(bead):
            assert math.hypot(bead.x_mm, bead.y_mm) > radius
    assert scene.width_mm == scene.height_mm


def test_the_loop_runs_on_so_that_first_meets_last_at_the_top() -> None:
    scene = loop_scene(_plain((3,) * 20))
    bases = [bead for bead in scene.beads if bead.tag.endswith("base")]
    assert bases[0].y_mm < 0.0
    assert bases[-1].y_mm < 0.0
    assert bases[0].x_mm < 0.0 < bases[-1].x_mm


def test_a_thumbnail_has_about_the_wanted_shape() -> None:
    for aspect in (1.0, 1.5, 2.0):
        scene = thumbnail_scene(_plain((3, 4, 3) * 8), aspect=aspect)
        assert scene.width_mm / scene.height_mm == pytest.approx(aspect, rel=0.06)


def test_rows_break_between_motifs_into_near_equal_rows() -> None:
    design = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((2, 3),), order=(1, 2) * 5,
        divider_base_beads=1,
    )  # fmt: skip
    rows = Counter[float]()
    for bead in rows_scene(design, rows=3).beads:
        if bead.tag.endswith("c0.base") and bead.tag.startswith("m"):
            rows[bead.y_mm] += 1
    assert sorted(rows.values()) == [3, 3, 4]
    with pytest.raises(ValueError, match="at least one row"):
        rows_scene(design, rows=0)


def test_a_close_up_shows_its_motifs_whole_and_no_others() -> None:
    design = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((2, 3, 2),), order=(1, 2) * 4,
        divider_base_beads=1,
    )  # fmt: skip
    scene = motif_scene(design, 3, 2)
    shown = Counter[int]()
    for bead in scene.beads:
        inside = scene.left_mm < bead.x_mm < scene.left_mm + scene.width_mm
        if bead.tag.startswith("m") and bead.tag.endswith("base") and inside:
            shown[parse_tag(bead.tag).index] += 1
    # The dividers beside them are whole too; of the next motifs one cropped column shows.
    assert shown == {2: 1, 3: 3, 4: 3, 5: 1}
    with pytest.raises(ValueError, match="not among 0 to 7"):
        motif_scene(design, 7, 2)


def test_a_motif_alone_is_shown_whole_with_what_stands_beside_it() -> None:
    design = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((2, 3, 2),), order=(1, 2) * 2,
        divider_base_beads=1, margins=(2, 1),
    )  # fmt: skip
    seen = []
    for motif in range(4):
        scene = motif_scene(design, motif, alone=True)
        for bead in scene.beads:
            reach = bead.across_mm / 2.0
            assert scene.left_mm <= bead.x_mm - reach
            assert bead.x_mm + reach <= scene.left_mm + scene.width_mm
        seen.append(sorted({bead.tag.split(".")[0] for bead in scene.beads}))
    assert seen == [["d0", "d1", "m0", "s0"], ["d1", "d2", "m1"], ["d2", "d3", "m2"], [
        "d3", "d4", "m3", "s1"
    ]]  # fmt: skip


def test_the_clasp_is_drawn_and_a_tie_is_thread() -> None:
    clasped = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((2,),), order=(1, 2),
        divider_base_beads=1, closure=Closure(length_mm=16.0, extender_mm=25.0),
    )  # fmt: skip
    assert len(strip_scene(clasped).rings) > 6
    tied = _plain((2,))
    scene = strip_scene(tied)
    assert not scene.rings
    assert min(x for thread in scene.threads for x, _ in thread.points_mm) < -5.0


@pytest.mark.parametrize(
    "kind", ["lobster clasp", "toggle clasp", "magnetic clasp", "breakaway clasp"]
)
def test_every_fastening_lies_in_the_frame_and_takes_its_length(kind: str) -> None:
    closure = Closure(kind=kind, length_mm=18.0, extender_mm=25.0)
    design = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((1,),), order=(1, 2) * 9,
        divider_base_beads=1, closure=closure,
    )  # fmt: skip
    for scene in (strip_scene(design), loop_scene(design)):
        for ring in scene.rings:
            turn = math.radians(ring.turn_deg)
            sine, cosine = abs(math.sin(turn)), abs(math.cos(turn))
            reach_x = (ring.width_mm * cosine + ring.height_mm * sine) / 2.0
            reach_y = (ring.width_mm * sine + ring.height_mm * cosine) / 2.0
            assert scene.left_mm <= ring.x_mm - reach_x
            assert ring.x_mm + reach_x <= scene.left_mm + scene.width_mm
            assert scene.top_mm <= ring.y_mm - reach_y
            assert ring.y_mm + reach_y <= scene.top_mm + scene.height_mm
    strip = strip_scene(design)
    beyond = strip.width_mm - design.strip_mm - 6.0
    assert beyond == pytest.approx(closure.length_mm + closure.extender_mm)


def test_worn_shows_the_motif_in_front() -> None:
    design = build(
        beads=BEADS, base=0, base_pitch_mm=3.1, profiles=((2, 4, 2),), order=(1, 2) * 8,
        divider_base_beads=1, closure=Closure(length_mm=16.0),
    )  # fmt: skip
    assert finished_mm(design) == pytest.approx(design.base_beads * 3.1 + 16.0)
    scene = worn_scene(design, 200.0, front_motif=5)
    middle = min(scene.beads, key=lambda bead: abs(bead.x_mm))
    assert middle.tag.startswith("m5.c1")
    assert len(scene.beads) < 0.6 * len(strip_scene(design).beads)
    with pytest.raises(ValueError, match="numbered 0 to 15"):
        worn_scene(design, 200.0, front_motif=16)
    with pytest.raises(ValueError, match="does not close"):
        worn_scene(design, 400.0)
