"""Averaging in linear light, places within a pixel, and bounded stores."""

from dataclasses import replace

import numpy as np
import pytest
from skimage.transform import downscale_local_mean

from gallery.looks import SMALL_PX, Look, kept_by_size
from gallery.placing import averaged, every_offset
from gallery.scene import Pose
from gallery.sprites import sprite
from palettes.finishes import Finish
from palettes.forms import Form

PAPER = (0.955, 0.930, 0.880)


def _downscaled(maps: np.ndarray) -> np.ndarray:
    return np.asarray(downscale_local_mean(maps, (1, 4, 4)))  # type: ignore[no-untyped-call]  # skimage has no types


def test_averaging_agrees_with_scikit_image_downscale_in_linear_light() -> None:
    maps = np.random.default_rng(5).random((3, 24, 24)).astype(np.float32)
    maps[:, :, -4:] = 0.0
    maps[:, -4:] = 0.0
    ours = averaged(maps, 4, ((0, 0), (3, 1)))
    theirs = _downscaled(maps)
    assert np.allclose(ours[0], theirs, atol=1e-6)
    moved = np.zeros_like(maps)
    moved[:, 1:, 3:] = maps[:, :-1, :-3]
    assert np.allclose(ours[1], _downscaled(moved), atol=1e-6)


def _middle(look: Look, offset: tuple[int, int]) -> tuple[float, float]:
    """The middle of a bead's cover in pixels from the one that holds its centre."""
    picture = sprite(look, (0.5, 0.5, 0.5), PAPER, offset)
    cover = picture.ink[..., 3].astype(float)
    across, down = np.arange(cover.shape[1]), np.arange(cover.shape[0])
    x = (cover.sum(axis=0) * across).sum() / cover.sum() + picture.left
    y = (cover.sum(axis=1) * down).sum() / cover.sum() + picture.top
    return float(x), float(y)


def test_a_place_within_a_pixel_moves_the_picture_by_just_that() -> None:
    for size in (6.0, 30.0):
        look = Look(Form.ROUND, Pose.SIDE, Finish.MATTE, 0.0, size, size * 0.7, size * 0.4)
        here, there = (_middle(look, offset) for offset in ((0, 0), (2, 1)))
        # Gathering samples into pixels moves their middle a hair, hence the tolerance.
        assert np.isclose(there[0] - here[0], 2.0 / look.fine, atol=0.02)
        assert np.isclose(there[1] - here[1], 1.0 / look.fine, atol=0.02)


def test_cover_is_the_outline_s_area() -> None:
    # A cylinder seen from the end is a disc: pi r^2, here in pixels.
    look = Look(Form.CYLINDER, Pose.END, Finish.OPAQUE, 0.0, 30.0, 25.0, 12.0)
    cover = sprite(look, (0.5, 0.5, 0.5), PAPER, (0, 0)).ink[..., 3]
    assert np.isclose(cover.sum(), np.pi * 15.0**2, rtol=0.005)


def test_premultiplied_light_never_shows_where_there_is_no_bead() -> None:
    look = Look(Form.FACETED, Pose.SIDE, Finish.RAINBOW, 20.0, 18.0, 18.0, 6.0)
    ink = sprite(look, (0.1, 0.6, 0.4), PAPER, (1, 2)).ink
    assert np.all(ink[ink[..., 3] == 0.0] == 0.0)
    assert ink.min() >= 0.0


def _forget() -> None:
    """Push everything out of the store by more looks than it holds."""
    for number in range(1600):
        small = Look(Form.ROUND, Pose.SIDE, Finish.LUSTRE, 0.0, 2.0, 1.0 + number / 4000, 0.7)
        sprite(small, (0.3, 0.2, 0.7), PAPER, (0, 0))


def test_the_same_look_gives_the_same_bytes_after_forgetting_it() -> None:
    look = Look(Form.ROUND, Pose.SIDE, Finish.LUSTRE, 0.0, 9.0, 6.25, 3.5)
    kept = sprite(look, (0.3, 0.2, 0.7), PAPER, (1, 1)).ink.copy()
    _forget()
    assert np.array_equal(sprite(look, (0.3, 0.2, 0.7), PAPER, (1, 1)).ink, kept)


def test_a_place_lies_within_its_pixel() -> None:
    look = Look(Form.ROUND, Pose.SIDE, Finish.LUSTRE, 0.0, 9.0, 6.25, 3.5)
    with pytest.raises(ValueError, match="0 to 3"):
        sprite(look, (0.3, 0.2, 0.7), PAPER, (4, 0))


def test_stores_are_bounded_and_keep_fewer_large_looks() -> None:
    calls: list[float] = []

    @kept_by_size(small=3, middle=2, large=1)
    def work(look: Look) -> float:
        calls.append(look.across_px)
        return look.across_px

    def look(size: float) -> Look:
        return Look(Form.ROUND, Pose.SIDE, Finish.OPAQUE, 0.0, size, size, size / 3)

    for sizes, kept in (((4.0, 5.0, 6.0), 3), ((20.0, 21.0), 2), ((90.0,), 1)):
        for size in (*sizes, *sizes):
            work(look(size))
        assert len(calls) == kept
        calls.clear()
    work(look(95.0))
    work(look(90.0))
    assert calls == [95.0, 90.0]


def test_all_places_together_are_averaged_as_each_alone() -> None:
    for fine in (3, 4):
        maps = np.random.default_rng(7).random((2, 5 * fine, 3 * fine)).astype(np.float32)
        maps[:, :, -fine:] = 0.0
        maps[:, -fine:] = 0.0
        places = every_offset(fine)
        for one, place in zip(averaged(maps, fine, places), places, strict=True):
            assert np.allclose(one, averaged(maps, fine, (place,))[0], atol=1e-6), place


def test_the_small_pictures_of_a_bead_are_those_of_each_place_alone() -> None:
    # Just below and just above the size up to which all places are made together.
    for pose in Pose:
        for casts in (False, True):
            small = Look(Form.CUBE, pose, Finish.PEARL, 20.0, SMALL_PX, 14.0, 5.0, casts)
            large = replace(small, across_px=SMALL_PX + 0.01)
            for offset in ((0, 0), (3, 2)):
                apart = np.abs(_on_square(small, offset) - _on_square(large, offset))
                assert apart.max() < 0.06
                assert apart.mean() < 0.002


def _on_square(look: Look, offset: tuple[int, int]) -> np.ndarray:
    """A bead's picture where it stands on a square of 40 pixels."""
    picture = sprite(look, (0.2, 0.4, 0.7), PAPER, offset)
    square = np.zeros((40, 40, 4), np.float32)
    top, left = 20 + picture.top, 20 + picture.left
    height, width = picture.ink.shape[:2]
    square[top : top + height, left : left + width] = picture.ink
    return square


def test_one_place_is_averaged_as_among_all_places() -> None:
    maps = np.random.default_rng(6).random((2, 16, 16)).astype(np.float32)
    maps[:, :, -4:] = 0.0
    maps[:, -4:] = 0.0
    together = averaged(maps, 4, ((0, 0), (2, 3)))
    assert np.allclose(together[1], averaged(maps, 4, ((2, 3),))[0], atol=1e-6)
