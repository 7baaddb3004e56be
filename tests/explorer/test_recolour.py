"""Recoloured scenes: the colours that are judged are the ones that are drawn."""

from dataclasses import replace

import numpy as np
import pytest
from coloraide import Color

from explorer.contrast import looks_of, met_colours
from explorer.contrast_piece import judge_piece
from explorer.design import Design, build
from explorer.errors import BriefError
from explorer.layout import rows_scene, strip_scene
from explorer.layout_tags import parse_tag
from explorer.recolour import recoloured
from gallery.raster import draw
from gallery.scene import Ground, Limb, PlacedBead, Scene
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.finishes import Finish
from palettes.spaces import (
    hex_to_srgb1,
    linear1_to_srgb1,
    srgb1_to_hex,
    srgb1_to_lab,
    srgb1_to_linear1,
)
from palettes.viewing import Condition
from palettes.vision import Sight, Viewer

_KIND = bead_kinds()["round 8/0"]
_CUBE = bead_kinds()["cube 3"]
_HEXES = ("#d1495b", "#1f8a83", "#f2c14e")


def _design(*finishes: Finish) -> Design:
    beads = [
        Bead(name=hex_, kind=_KIND, hex=hex_, finish=finish)
        for hex_, finish in zip(_HEXES, finishes or (Finish.OPAQUE,) * 3, strict=True)
    ]
    return build(
        beads=(*beads, Bead(name="base", kind=_CUBE, hex="#1f2d4d")),
        base=3,
        base_pitch_mm=3.1,
        profiles=((2, 4, 2),),
        order=(0, 1, 2),
        divider_base_beads=1,
    )


def _look(sight: Sight, light: str = "daylight") -> Condition:
    return looks_of(sight.value, light)[0]


def _motif_hex(scene: Scene, motif: int) -> str:
    tags = [(parse_tag(bead.tag), bead) for bead in scene.beads]
    hanging = [b for tag, b in tags if tag.bead is not None and tag.index == motif]
    (srgb1,) = {bead.srgb1 for bead in hanging}
    return srgb1_to_hex(np.array(srgb1))


def test_typical_eyes_in_daylight_see_the_scene_itself() -> None:
    scene = strip_scene(_design())
    assert recoloured(scene) == scene


def test_only_colours_change() -> None:
    scene = replace(
        strip_scene(_design(Finish.METALLIC, Finish.RAINBOW, Finish.MATTE)),
        limb=Limb(outline_mm=((0.0, 0.0, 40.0), (30.0, 0.0, 40.0))),
    )
    seen = recoloured(scene, _look(Sight.DEUTAN, "lamplight"))
    plain = (0.5, 0.5, 0.5)

    def bare(one: Scene) -> Scene:
        assert one.limb is not None
        return replace(
            one,
            beads=tuple(replace(bead, srgb1=plain) for bead in one.beads),
            threads=tuple(replace(thread, srgb1=plain) for thread in one.threads),
            rings=tuple(replace(ring, srgb1=plain) for ring in one.rings),
            ground_srgb1=plain,
            limb=replace(one.limb, srgb1=plain),
        )

    assert bare(seen) == bare(scene)
    assert {b.srgb1 for b in seen.beads}.isdisjoint({b.srgb1 for b in scene.beads})
    assert seen.limb != scene.limb


# coloraide's own simulations, an independent implementation: Brettel 1997 for tritan, clipped to
# sRGB as ours is; tolerance for its own table of cone responses.
@pytest.mark.parametrize("hex_", ["#0000ff", "#d1495b", "#1f8a83", "#f2c14e", "#808080"])
def test_a_tritan_scene_agrees_with_another_library(hex_: str) -> None:
    scene = Scene(left_mm=0.0, top_mm=0.0, width_mm=5.0, height_mm=5.0, beads=(_bead(hex_),))
    seen = recoloured(scene, _look(Sight.TRITAN)).beads[0].srgb1
    theirs = Color(hex_).filter("tritan", method="brettel").convert("srgb").clip()
    assert Color("srgb", list(seen)).delta_e(theirs, method="2000") < 2.0


def _bead(hex_: str, finish: Finish = Finish.OPAQUE) -> PlacedBead:
    red, green, blue = (float(v) for v in hex_to_srgb1(hex_))
    return PlacedBead(
        x_mm=2.5,
        y_mm=2.5,
        across_mm=3.0,
        along_mm=2.0,
        hole_mm=1.0,
        srgb1=(red, green, blue),
        finish=finish,
    )


def test_a_grey_scene_has_no_colour_and_keeps_lightness() -> None:
    scene = strip_scene(_design())
    seen = recoloured(scene, _look(Sight.GREY))
    colours = [b.srgb1 for b in seen.beads] + [t.srgb1 for t in seen.threads]
    colours += [r.srgb1 for r in seen.rings] + [seen.ground_srgb1]
    assert all(max(c) - min(c) < 1e-9 for c in colours)
    before = srgb1_to_lab(np.array([b.srgb1 for b in scene.beads]))[:, 0]
    after = srgb1_to_lab(np.array([b.srgb1 for b in seen.beads]))[:, 0]
    assert np.allclose(before, after, atol=1e-6)


def test_light_acts_before_the_eye() -> None:
    scene = strip_scene(_design())
    both = recoloured(scene, _look(Sight.PROTAN, "lamplight"))
    lit = recoloured(scene, _look(Sight.TYPICAL, "lamplight"))
    then = recoloured(lit, _look(Sight.PROTAN))
    assert np.allclose([b.srgb1 for b in both.beads], [b.srgb1 for b in then.beads], atol=1e-9)


@pytest.mark.parametrize("backing", [None, "#a07e56", "#101010"])
def test_the_picture_has_the_judged_colours(backing: str | None) -> None:
    """In daylight to typical eyes, the rows of a judgement name the colours of the scene."""
    design = _design(Finish.TRANSPARENT, Finish.SILVER_LINED, Finish.PEARL)
    seen = recoloured(rows_scene(design, rows=1), backing=backing)
    for row in judge_piece(design, backing=backing).motifs:
        assert _motif_hex(seen, row.i) == row.left_hex
        assert _motif_hex(seen, row.j) == row.right_hex


def test_the_difference_of_drawn_colours_is_the_judged_one() -> None:
    """coloraide's CIEDE2000 on the recoloured beads gives the number of the table."""
    design = _design()
    for look in looks_of("protan:0.6,deutan,tritan,grey", "daylight,lamplight,led,fluorescent"):
        scene = recoloured(rows_scene(design, rows=1), look)
        hanging = {parse_tag(b.tag).index: b.srgb1 for b in scene.beads if ".b" in b.tag}
        for row in judge_piece(design, looks=(look,)).motifs:
            one, other = (Color("srgb", list(hanging[motif])) for motif in (row.i, row.j))
            # The library converts by its own matrices: 0.02 in L*a*b* apart at most.
            assert one.delta_e(other, method="2000") == pytest.approx(row.worst, abs=0.1)


def test_a_backing_becomes_the_ground_and_shows_through_glass_alone() -> None:
    scene = replace(
        rows_scene(_design(Finish.TRANSPARENT, Finish.OPAQUE, Finish.MATTE), rows=1),
        ground=Ground.LINEN,
    )
    dark, light = (recoloured(scene, backing=hex_) for hex_ in ("#101010", "#f6ede4"))
    assert dark.ground is Ground.PLAIN
    assert srgb1_to_hex(np.array(dark.ground_srgb1)) == "#101010"
    assert _motif_hex(dark, 0) != _motif_hex(light, 0)
    assert _motif_hex(dark, 1) == _motif_hex(light, 1) == "#1f8a83"
    expected = met_colours(("#d1495b",), (Finish.TRANSPARENT,), "#101010")[1]
    assert _motif_hex(dark, 0) == srgb1_to_hex(expected[0])


@pytest.mark.parametrize("finish", [Finish.OPAQUE, Finish.MATTE, Finish.TRANSPARENT])
def test_pixels_have_the_colour_that_is_judged(finish: Finish) -> None:
    """The mean of a drawn bead in linear light is the met colour, within what shading needs."""
    scene = Scene(
        left_mm=0.0, top_mm=0.0, width_mm=5.0, height_mm=5.0, beads=(_bead("#1f8a83", finish),)
    )
    seen = recoloured(scene, _look(Sight.DEUTAN, "lamplight"), backing="#d7bd96")
    pixels = draw(seen, 40.0, seed=None).astype(np.float64) / 255.0
    ground = np.array(seen.ground_srgb1)
    # The bead's own inside, clear of its shadow and of the ground beside it.
    inside = pixels[75:125, 55:145].reshape(-1, 3)
    mean = linear1_to_srgb1(srgb1_to_linear1(inside).mean(axis=0))
    aim, shown, behind = (
        Color("srgb", [float(v) for v in rgb]) for rgb in (seen.beads[0].srgb1, mean, ground)
    )
    assert shown.delta_e(aim, method="2000") < 8.0
    assert shown.delta_e(aim, method="2000") < shown.delta_e(behind, method="2000")


def test_a_backing_that_is_no_colour_is_refused() -> None:
    with pytest.raises(BriefError) as caught:
        recoloured(strip_scene(_design()), backing="teal")
    assert caught.value.field == "backing"
    assert caught.value.got == "teal"


def test_a_scene_without_beads_stays_one() -> None:
    scene = Scene(left_mm=0.0, top_mm=0.0, width_mm=1.0, height_mm=1.0)
    assert recoloured(scene, Condition(viewer=Viewer(sight=Sight.GREY))).beads == ()
