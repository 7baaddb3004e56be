"""A bead's mean colour is its true colour, whatever its finish and form."""

import ast
from pathlib import Path

import numpy as np
import pytest
from skimage.color import deltaE_ciede2000

import gallery
from gallery.looks import Look
from gallery.placing import layers_at
from gallery.room import light
from gallery.scene import Pose
from gallery.shading import shade
from gallery.shapes import surface
from gallery.solids import Solid
from gallery.sprites import sprite
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import hex_to_srgb1, linear1_to_lab, srgb1_to_lab

PAPER = (0.955, 0.930, 0.880)
# The bound that the product states: CIEDE2000 between a drawn bead's mean and its colour.
STATED_DELTA_E = 2.0
ONE_COLOUR = [finish for finish in Finish if finish is not Finish.RAINBOW]
HEXES = (
    "#ffffff", "#f4f1e8", "#000000", "#101014", "#ff0000", "#00a0ff", "#0000ff", "#ffff00",
    "#00ff00", "#d9a441", "#1f7a6d", "#c8553d", "#2d4a73", "#7a3b69", "#808080", "#f6b8c6",
    "#bd6ac3", "#4da172",
)  # fmt: skip


def _apart(linear1: np.ndarray, text: str) -> float:
    """CIEDE2000 by scikit-image between a mean in linear light and a hex colour."""
    labs = linear1_to_lab(linear1), srgb1_to_lab(hex_to_srgb1(text))
    return float(deltaE_ciede2000(*labs))  # type: ignore[no-untyped-call]  # skimage has no types


def _look(form: Form, finish: Finish, size: float, turn: float = 0.0) -> Look:
    return Look(form, Pose.SIDE, finish, turn, size, size * 0.7, size * 0.38)


def _colour(text: str) -> tuple[float, float, float]:
    red, green, blue = (float(v) for v in hex_to_srgb1(text))
    return red, green, blue


def _drawn_means(look: Look, colour: tuple[float, float, float]) -> list[np.ndarray]:
    """The bead's mean in linear light as it stands on paper, at a few places within a pixel."""
    ground = np.array(PAPER)
    means = []
    for offset in ((0, 0), (1, 2), (2, 1)):
        picture = sprite(look, colour, PAPER, offset)
        cover = float(layers_at(look, (offset,))[1].alpha.sum())
        shown = np.clip(picture.ink[..., :3] + picture.rest[..., :3] * ground, 0.0, 1.0)
        beside = picture.ink.shape[0] * picture.ink.shape[1] - cover
        means.append((shown.sum(axis=(0, 1)) - beside * ground) / cover)
    return means


@pytest.mark.parametrize("finish", ONE_COLOUR)
def test_the_mean_of_a_bead_is_its_colour(finish: Finish) -> None:
    for form in Form:
        for size, turn in ((4.0, 50.0), (11.0, 0.0), (26.0, 50.0)):
            for text in HEXES if size < 20.0 else HEXES[::4]:
                for mean in _drawn_means(_look(form, finish, size, turn), _colour(text)):
                    far = _apart(mean, text)
                    assert far <= STATED_DELTA_E, (form, size, text, far)


def test_a_turning_bead_s_glass_keeps_its_colour_too() -> None:
    # The hole and the thread in it are not the bead's colour: count the glass alone.
    for finish in ONE_COLOUR:
        look = Look(Form.ROUND, Pose.END, finish, 0.0, 24.0, 17.0, 9.0)
        for text in ("#1f7a6d", "#e8dcc4"):
            _, layers = layers_at(look, ((0, 0),))
            picture = sprite(look, _colour(text), PAPER, (0, 0))
            shown = picture.ink[..., :3] + picture.rest[..., :3] * np.array(PAPER)
            whole = (layers.glass[0] > 0.999).reshape(picture.ink.shape[:2])
            inside = np.clip(shown[whole], 0.0, 1.0).mean(axis=0)
            # The rim's mixed pixels are left out, which are darker than the rest.
            assert _apart(inside, text) <= 2.0 * STATED_DELTA_E, (finish, text)


def test_the_bound_would_catch_a_flat_shade() -> None:
    # The same measure on a bead drawn a tenth too dark fails, so the bound bites.
    mean = 0.85 * _drawn_means(_look(Form.ROUND, Finish.MATTE, 11.0), _colour("#808080"))[0]
    far = _apart(mean, "#808080")
    assert far > STATED_DELTA_E


def test_finishes_look_different_from_each_other() -> None:
    pictures = {
        finish: sprite(_look(Form.ROUND, finish, 24.0), _colour("#2d6a73"), PAPER, (0, 0)).ink
        for finish in Finish
    }
    for one, first in pictures.items():
        for other, second in pictures.items():
            if one != other:
                assert float(np.abs(first - second).max()) > 0.02, (one, other)


def test_a_glossy_black_bead_keeps_a_bright_point_and_a_matte_one_does_not() -> None:
    black = _colour("#000000")
    glossy = sprite(_look(Form.ROUND, Finish.OPAQUE, 5.0), black, PAPER, (0, 0)).ink[..., :3]
    matte = sprite(_look(Form.ROUND, Finish.MATTE, 5.0), black, PAPER, (0, 0)).ink[..., :3]
    assert glossy.max() > 3.0 * matte.max()


def test_light_comes_from_the_upper_left_whichever_way_a_bead_is_turned() -> None:
    for turn in (0.0, 45.0, 90.0, 135.0):
        look = _look(Form.ROUND, Finish.MATTE, 30.0, turn)
        picture = sprite(look, _colour("#8a8a8a"), PAPER, (0, 0))
        ink, right, below = picture.ink[..., 1], -picture.left, -picture.top
        assert ink[:below, :right].sum() > 1.1 * ink[below:, right:].sum()


def test_a_turning_bead_shows_its_hole_dark() -> None:
    look = Look(Form.ROUND, Pose.END, Finish.OPAQUE, 0.0, 40.0, 28.0, 15.0)
    picture = sprite(look, _colour("#e8dcc4"), PAPER, (0, 0))
    ink = picture.ink[..., :3].sum(axis=-1)
    assert ink[2 - picture.top, -picture.left] < 0.2 * np.median(ink[ink > 0.0])


def test_light_deepens_with_the_way_through_clear_glass() -> None:
    solid = Solid(
        form=Form.ROUND, pose=Pose.SIDE, turn_deg=0.0, across_px=20, along_px=14, hole_px=7
    )
    face = surface(solid, 24, 2)
    layers = shade(face, light(face), Finish.TRANSPARENT)
    assert min(layers.powers) < 0.5 < 1.0 < max(layers.powers)


def test_no_part_of_a_bead_is_left_out_to_save_work(monkeypatch: pytest.MonkeyPatch) -> None:
    solids = [
        Solid(form=form, pose=pose, turn_deg=turn, across_px=11.0, along_px=along, hole_px=4.0)
        for form in Form
        for pose in Pose
        for turn in (0.0, 20.0, 61.0)
        for along in (4.0, 11.0, 19.0)
    ]
    quick = [surface(solid, 32, 4) for solid in solids]
    monkeypatch.setattr("gallery.shapes._BEYOND", 4.0)
    for solid, face in zip(solids, quick, strict=True):
        assert np.array_equal(face.places, surface(solid, 32, 4).places), solid


def test_a_finish_nobody_knows_is_refused_by_name() -> None:
    solid = Solid(form=Form.ROUND, pose=Pose.SIDE, turn_deg=0, across_px=8, along_px=6, hole_px=3)
    face = surface(solid, 12, 2)
    with pytest.raises(ValueError, match="glitter"):
        shade(face, light(face), "glitter")  # type: ignore[arg-type]  # that is the test


def test_shading_calls_no_linear_algebra_whose_order_of_sums_may_vary() -> None:
    # BLAS may add in another order on another processor, and bytes would differ.
    forbidden = {"dot", "matmul", "einsum", "tensordot", "vdot", "inner", "linalg"}
    for path in sorted(Path(gallery.__path__[0]).glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Attribute):
                assert node.attr not in forbidden, (path.name, node.attr)
            assert not (isinstance(node, ast.BinOp) and isinstance(node.op, ast.MatMult))
