"""Pictures against kept ones: size exactly, then within a tolerance, the difference saved.

To keep new pictures after a change that was looked at, run with ``DANGLEWISE_KEEP_GOLDEN=1``.
"""

import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from gallery.files import read_png, write_png
from gallery.grounds import on_ground
from gallery.raster import draw
from gallery.scene import Ground, MetalRing, PlacedBead, Pose, Scene, Srgb1, Thread
from gallery.worn import worn
from palettes.finishes import Finish
from palettes.forms import Form

GOLDEN = Path(__file__).parents[1] / "golden"
# Levels of 0-255: rounding may differ between versions of numpy, a look may not.
MOST_MEAN = 0.5
MOST_FAR_SHARE = 0.002
FAR = 10
COLOURS: tuple[Srgb1, ...] = ((0.12, 0.48, 0.43), (0.78, 0.33, 0.24), (0.91, 0.86, 0.77))

Pixels = NDArray[np.uint8]


def differences(actual: Pixels, kept: Pixels) -> str:
    """What is wrong with a picture against a kept one, or nothing."""
    if actual.shape != kept.shape:
        return f"the picture is {actual.shape}, the kept one {kept.shape}"
    apart = np.abs(actual.astype(int) - kept.astype(int)).max(axis=-1)
    mean, far = float(apart.mean()), float((apart > FAR).mean())
    if mean > MOST_MEAN or far > MOST_FAR_SHARE:
        return f"{mean:.3f} levels apart in the mean, {far:.4%} of the pixels more than {FAR}"
    return ""


def check(name: str, actual: Pixels, folder: Path = GOLDEN) -> None:
    """Compare with the kept picture; on failure save actual, kept and difference side by side."""
    path = folder / f"{name}.png"
    if os.environ.get("DANGLEWISE_KEEP_GOLDEN") == "1":
        write_png(path, actual)
    kept = read_png(path)
    wrong = differences(actual, kept)
    if wrong:
        height = max(actual.shape[0], kept.shape[0])
        width = max(actual.shape[1], kept.shape[1])
        sides = np.zeros((3, height, width, 3), np.uint8)
        sides[0, : actual.shape[0], : actual.shape[1]] = actual
        sides[1, : kept.shape[0], : kept.shape[1]] = kept
        apart = np.abs(sides[0].astype(int) - sides[1].astype(int))
        sides[2] = np.clip(apart * 8, 0, 255).astype(np.uint8)
        write_png(folder / "failed" / f"{name}.png", np.concatenate(list(sides), axis=1))
        pytest.fail(f"{name}: {wrong}; see failed/{name}.png")


def _dangle(
    x: float, colour: Srgb1, finish: Finish, form: Form, length: int = 3
) -> list[PlacedBead]:
    return [
        PlacedBead(
            x_mm=x,
            y_mm=1.5 * row + (0.3 if row == length - 1 else 0.0),
            across_mm=2.1,
            along_mm=1.5,
            hole_mm=0.8,
            form=form,
            finish=finish,
            srgb1=colour,
            pose=Pose.END if row == length - 1 and form is not Form.DROP else Pose.SIDE,
        )
        for row in range(length)
    ]


def _finishes() -> Pixels:
    rows = []
    for finish in Finish:
        beads = [
            bead
            for at, colour in enumerate(COLOURS)
            for bead in _dangle(2.0 + 2.4 * at, colour, finish, Form.ROUND)
        ]
        scene = Scene(left_mm=0, top_mm=-1.5, width_mm=9.0, height_mm=6.5, beads=tuple(beads))
        rows.append(draw(scene, 12.0))
    return np.concatenate(rows, axis=1)


def _forms() -> Pixels:
    beads = [
        bead
        for at, form in enumerate(Form)
        for bead in _dangle(2.0 + 2.6 * at, COLOURS[at % 3], Finish.TRANSPARENT, form)
    ]
    turned = [
        PlacedBead(
            x_mm=16.0 + 2.6 * at, y_mm=1.5, across_mm=2.1, along_mm=1.6, hole_mm=0.8,
            turn_deg=35.0 * at, form=form, finish=Finish.METALLIC, srgb1=COLOURS[at % 3],
        )
        for at, form in enumerate(Form)
    ]  # fmt: skip
    scene = Scene(
        left_mm=0, top_mm=-1.5, width_mm=29.0, height_mm=7.0, beads=(*beads, *turned),
        threads=(Thread(points_mm=((1.0, 5.0), (28.0, 4.6))),),
        rings=(MetalRing(x_mm=15.0, y_mm=3.5, width_mm=5, height_mm=3, turn_deg=20),),
    )  # fmt: skip
    return draw(scene, 15.0)


def _grounds() -> Pixels:
    beads = tuple(_dangle(3.0, COLOURS[1], Finish.SILVER_LINED, Form.ROUND))
    plain = Scene(left_mm=0, top_mm=-2, width_mm=6.0, height_mm=7.0, beads=beads)
    return np.concatenate([draw(on_ground(plain, ground), 16.0) for ground in Ground], axis=1)


def _small() -> Pixels:
    beads = [
        bead
        for at in range(16)
        for bead in _dangle(2.0 + 2.2 * at, COLOURS[at // 4 % 3], Finish.OPAQUE, Form.ROUND, 5)
    ]
    scene = Scene(left_mm=0, top_mm=-1.5, width_mm=37.0, height_mm=10.0, beads=tuple(beads))
    return draw(scene, 3.0)


def _worn() -> Pixels:
    beads = [
        bead
        for at in range(80)
        for bead in _dangle(1.1 + 2.2 * at, COLOURS[at // 8 % 3], Finish.LUSTRE, Form.ROUND, 4)
    ]
    flat = Scene(left_mm=0, top_mm=-2, width_mm=176, height_mm=10, beads=tuple(beads))
    return draw(worn(flat, girth_mm=165.0, closed_mm=176.0, middle_mm=88.0), 4.0)


PICTURES: dict[str, Callable[[], Pixels]] = {
    "finishes": _finishes,
    "forms": _forms,
    "grounds": _grounds,
    "small": _small,
    "worn": _worn,
}


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_is_as_it_was(name: str) -> None:
    check(name, PICTURES[name]())


def test_the_comparison_fails_and_saves_what_it_saw(tmp_path: Path) -> None:
    if os.environ.get("DANGLEWISE_KEEP_GOLDEN") == "1":
        pytest.skip("pictures are being kept, not compared")
    good = _small()
    write_png(tmp_path / "a.png", good)
    check("a", good, tmp_path)
    assert not (tmp_path / "failed").exists()
    shifted = np.roll(good, 1, axis=1)
    tinted = good.copy()
    tinted[..., 0] = np.clip(tinted[..., 0].astype(int) + 3, 0, 255)
    one_bead_gone = good.copy()
    one_bead_gone[6:11, 6:12] = good[0, 0]
    for bad in (shifted, tinted, one_bead_gone, good[:-1]):
        with pytest.raises(pytest.fail.Exception, match="a: "):
            check("a", bad, tmp_path)
        saved = read_png(tmp_path / "failed" / "a.png")
        assert saved.shape == (good.shape[0], 3 * good.shape[1], 3)
        assert saved[:, 2 * good.shape[1] :].max() > 0
