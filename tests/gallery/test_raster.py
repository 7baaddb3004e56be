"""Scenes to pixels: sizes, places, layers, clear pictures, seams and limits."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.ndimage import label

from gallery import raster
from gallery.raster import draw, encode, size_px
from gallery.scene import MetalRing, PlacedBead, Pose, Scene, Thread
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import linear1_to_srgb1


def _bead(x: float, y: float, **more: object) -> PlacedBead:
    fields = {"across_mm": 2.0, "along_mm": 1.5, "hole_mm": 0.8, "srgb1": (0.2, 0.4, 0.5)} | more
    return PlacedBead(x_mm=x, y_mm=y, **fields)  # type: ignore[arg-type]  # fields by name


def _scene(*beads: PlacedBead, size: tuple[float, float] = (20.0, 10.0)) -> Scene:
    return Scene(left_mm=0.0, top_mm=0.0, width_mm=size[0], height_mm=size[1], beads=beads)


def test_a_picture_has_the_scene_s_size() -> None:
    assert draw(_scene(_bead(5, 5)), 7.0).shape == (70, 140, 3)
    assert draw(_scene(_bead(5, 5)), 7.0, clear=True).shape == (70, 140, 4)


def test_a_scene_of_no_beads_is_its_ground() -> None:
    pixels = draw(_scene(), 5.0)
    assert np.all(pixels == pixels[0, 0])
    assert tuple(pixels[0, 0]) == (250, 247, 241)


@given(st.sets(st.tuples(st.integers(0, 9), st.integers(0, 5)), max_size=40), st.integers(0, 3))
@settings(max_examples=25)
def test_there_are_as_many_beads_in_the_picture_as_in_the_scene(
    cells: set[tuple[int, int]], seed: int
) -> None:
    forms, finishes = tuple(Form), tuple(Finish)
    beads = tuple(
        _bead(
            2.0 + 4.0 * x,
            2.0 + 4.0 * y,
            form=forms[(x + y) % len(forms)],
            finish=finishes[(3 * x + y) % len(finishes)],
            turn_deg=17.0 * x,
            layer=(x * y) % 3,
        )
        for x, y in cells
    )
    alpha = draw(_scene(*beads, size=(40.0, 24.0)), 6.0, seed=seed, clear=True)[..., 3]
    # A shadow covers at most half, a bead nearly wholly.
    assert label(alpha > 150)[1] == len(beads)


def test_a_bead_lies_where_the_scene_says() -> None:
    scene = _scene(_bead(6.3, 4.1), _bead(12.0, 7.0, pose=Pose.END))
    alpha = draw(scene, 20.0, clear=True)[..., 3]
    for bead in scene.beads:
        cx, cy, across = 20.0 * bead.x_mm, 20.0 * bead.y_mm, 20.0 * bead.across_mm
        rows, columns = np.nonzero(alpha > 150)
        near = (abs(columns - cx) < across) & (abs(rows - cy) < across)
        assert abs(columns[near].mean() + 0.5 - cx) < 0.5
        assert abs(rows[near].mean() + 0.5 - cy) < 0.5
        width = columns[near].max() - columns[near].min() + 1
        assert abs(width - across) < 0.05 * across + 2


def test_later_layers_lie_over_earlier_ones_whatever_their_order() -> None:
    red, blue = (0.8, 0.1, 0.1), (0.1, 0.1, 0.8)
    over = _bead(5, 5, srgb1=red, layer=2, finish=Finish.MATTE)
    under = _bead(5, 5, srgb1=blue, layer=1, finish=Finish.MATTE)
    for beads in ((over, under), (under, over)):
        pixel = draw(_scene(*beads), 10.0)[50, 50]
        assert pixel[0] > 2 * pixel[2]


def test_a_forward_bead_darkens_its_neighbour_but_not_the_ground_s_cover() -> None:
    back = _bead(5.0, 5.0, finish=Finish.MATTE)
    front = _bead(3.4, 4.4, layer=2)
    alone = draw(_scene(back), 12.0, seed=None)
    both = draw(_scene(back, front), 12.0, seed=None)
    level = slice(54, 62), slice(53, 56)
    assert both[level].mean() < alone[level].mean() - 3


def test_a_clear_picture_laid_on_the_ground_is_the_picture_on_the_ground() -> None:
    scene = _scene(_bead(5, 5), _bead(9, 5, pose=Pose.END, finish=Finish.METALLIC))
    on_ground = draw(scene, 12.0).astype(float) / 255.0
    clear = draw(scene, 12.0, clear=True).astype(float) / 255.0
    solid = clear[..., 3] == 1.0
    assert solid.sum() > 100
    assert np.abs(clear[solid][:, :3] - on_ground[solid]).max() <= 1.0 / 255.0
    assert np.all(draw(scene, 12.0, clear=True)[0, 0] == (0, 0, 0, 0))


def test_bands_leave_no_seam(monkeypatch: pytest.MonkeyPatch) -> None:
    beads = [_bead(2 + 2.2 * (i % 8), 2 + 1.5 * (i // 8), tag=str(i)) for i in range(80)]
    thread = Thread(points_mm=((1.0, 1.0), (18.0, 17.0)), layer=3)
    ring = MetalRing(x_mm=10, y_mm=10, width_mm=6, height_mm=5, layer=4, turn_deg=30)
    scene = Scene(
        left_mm=0, top_mm=0, width_mm=20, height_mm=20, beads=tuple(beads), threads=(thread,),
        rings=(ring,),
    )  # fmt: skip
    for scale in (5.0, 11.0):
        whole = draw(scene, scale)
        with monkeypatch.context() as patch:
            patch.setattr(raster, "_BAND_PIXELS", 1)
            banded = draw(scene, scale)
        apart = np.abs(whole.astype(int) - banded.astype(int))
        # Running means round in another order; a seam would be many levels.
        assert apart.max() <= 1


def test_the_same_seed_gives_the_same_bytes_and_another_seed_does_not() -> None:
    scene = _scene(*(_bead(2 + 2.1 * i, 5) for i in range(8)))
    assert np.array_equal(draw(scene, 12.0, seed=4), draw(scene, 12.0, seed=4))
    assert not np.array_equal(draw(scene, 12.0, seed=4), draw(scene, 12.0, seed=5))


def test_a_regular_view_draws_like_beads_alike() -> None:
    scene = _scene(_bead(4, 5), _bead(14, 5))
    pixels = draw(scene, 12.0, seed=None)
    assert np.array_equal(pixels[30:90, 24:72], pixels[30:90, 144:192])


def test_too_large_a_picture_is_refused_with_the_largest_that_can_be() -> None:
    scene = _scene(size=(4000.0, 3000.0))
    with pytest.raises(ValueError, match="at most") as caught:
        draw(scene, 300 / 25.4)
    most = float(re.findall(r"at most ([\d.]+) pixels per mm", str(caught.value))[0])
    width, height = size_px(scene, most)
    assert 0.98 * raster.MOST_PIXELS < width * height <= raster.MOST_PIXELS


@pytest.mark.parametrize("scale", [0.0, -1.0, float("nan"), float("inf")])
def test_a_scale_is_a_number_above_zero(scale: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        draw(_scene(), scale)


def test_encoding_is_srgb_to_half_a_level() -> None:
    # IEC 61966-2-1 through palettes.spaces, which has its own checks.
    line = np.linspace(0.0, 1.0, 5001)
    levels = np.repeat(line[:, None], 3, axis=1).astype(np.float32)
    exact = linear1_to_srgb1(levels.astype(float)) * 255.0
    assert np.abs(encode(levels) - exact).max() < 0.65
    assert tuple(encode(np.array([-1.0, 0.0, 7.0], np.float32))) == (0, 0, 255)


def test_thread_and_metal_are_drawn() -> None:
    thread = Thread(points_mm=((2.0, 5.0), (18.0, 5.0)), srgb1=(0.1, 0.1, 0.1))
    ring = MetalRing(x_mm=10, y_mm=5, width_mm=6, height_mm=6)
    empty = _scene()
    for scale in (3.0, 12.0):
        blank = draw(empty, scale).astype(int)
        for more in ({"threads": (thread,)}, {"rings": (ring,)}):
            fields = {name: getattr(empty, name) for name in empty.__dataclass_fields__}
            pixels = draw(Scene(**(fields | more)), scale).astype(int)
            assert np.abs(pixels - blank).max() > 30
