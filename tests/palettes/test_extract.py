"""Palettes of pictures, against Pillow's quantisers on photographs that scikit-image ships."""

from functools import cache

import numpy as np
import pytest
from PIL import Image
from skimage import data

from palettes.choose_from import Request, from_photo
from palettes.choose_picked import Picked
from palettes.difference import delta_e_2000
from palettes.extract import Pixels, extract, labels
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab
from palettes.tray_files import starter_tray
from palettes.viewing import TYPICAL_DAYLIGHT

# In the scikit-image wheel, without a download.
NAMES = ("astronaut", "chelsea", "coffee", "rocket", "retina", "colorwheel", "hubble_deep_field")


@cache
def photograph(name: str) -> Pixels:
    whole = Image.fromarray(getattr(data, name)()[..., :3])
    return np.asarray(whole.resize((300, round(300 * whole.height / whole.width))))


def distances(pixels: Pixels, palette_lab: FloatArray) -> FloatArray:
    """CIEDE2000 of every fifth pixel from the nearest colour of a palette."""
    lab = srgb1_to_lab(pixels.reshape(-1, 3)[::5] / 255.0)
    apart = np.stack([delta_e_2000(lab, colour) for colour in palette_lab])
    return np.asarray(apart.min(axis=0))


def ours(name: str, size: int) -> FloatArray:
    found = extract(photograph(name), size, np.random.default_rng(1))
    return srgb1_to_lab(hexes_to_srgb1([colour.hex for colour in found]))


def peers(name: str, size: int, method: Image.Quantize) -> FloatArray:
    table = Image.fromarray(photograph(name)).quantize(size, method).getpalette()
    assert table is not None
    return srgb1_to_lab(np.array(table[: 3 * size], dtype=np.float64).reshape(-1, 3) / 255.0)


@pytest.mark.parametrize("size", [6, 8])
def test_nearer_to_photographs_than_the_quantisers(size: int) -> None:
    own = [distances(photograph(name), ours(name, size)) for name in NAMES]
    mean = np.mean([d.mean() for d in own])
    tail = np.mean([np.percentile(d, 95) for d in own])
    for method in (
        Image.Quantize.MEDIANCUT,
        Image.Quantize.MAXCOVERAGE,
        Image.Quantize.FASTOCTREE,
    ):
        other = [distances(photograph(name), peers(name, size, method)) for name in NAMES]
        # What stands out is kept by far better, and the rest about as well.
        assert tail < 0.95 * np.mean([np.percentile(d, 95) for d in other])
        assert mean < 1.06 * np.mean([d.mean() for d in other])


def with_dot(side: int, share: float) -> Pixels:
    """Noisy greens and browns with a small square of vivid red."""
    rng = np.random.default_rng(0)
    picture = np.empty((side, side, 3))
    picture[:, : side // 2] = (70, 110, 60)
    picture[:, side // 2 :] = (120, 95, 70)
    picture += rng.normal(0.0, 14.0, picture.shape)
    picture[:, :, 0] += np.linspace(-30, 30, side)[:, None]
    edge = max(1, round(side * share**0.5))
    picture[20 : 20 + edge, 30 : 30 + edge] = (220, 20, 60)
    return np.clip(picture, 0, 255).astype(np.uint8)


@pytest.mark.parametrize("share", [0.02, 0.005, 0.001])
def test_a_small_accent_survives(share: float) -> None:
    for seed in range(4):
        found = extract(with_dot(400, share), 6, np.random.default_rng(seed))
        lab = srgb1_to_lab(hexes_to_srgb1([colour.hex for colour in found]))
        accent = srgb1_to_lab(np.array([220, 20, 60]) / 255.0)
        apart = delta_e_2000(lab, accent)
        assert apart.min() < 5.0
        colour = found[int(apart.argmin())]
        assert colour.share == pytest.approx(share, rel=0.3, abs=0.0005)
        assert 30 <= colour.x * 400 <= 30 + 400 * share**0.5 + 1
        assert 20 <= colour.y * 400 <= 20 + 400 * share**0.5 + 1


def test_shares_and_places() -> None:
    picture = np.zeros((100, 200, 3), dtype=np.uint8)
    picture[:, 150:] = (255, 255, 255)
    black, white = extract(picture, 6, np.random.default_rng(1))
    assert (black.hex, black.share) == ("#000000", 0.75)
    assert (white.hex, white.share) == ("#ffffff", 0.25)
    assert black.x < 0.75 < white.x
    marks = labels(picture, (black, white))
    assert marks.shape == (100, 200)
    assert (marks[:, :150] == 0).all()
    assert (marks[:, 150:] == 1).all()


def test_what_is_see_through_is_left_out() -> None:
    picture = np.zeros((40, 40, 4), dtype=np.uint8)
    picture[:20] = (255, 0, 0, 255)
    picture[20:] = (0, 255, 0, 0)
    (red,) = extract(picture, 3, np.random.default_rng(1))
    assert red.hex == "#ff0000"
    assert red.y < 0.5
    with pytest.raises(ValueError, match="no opaque pixel"):
        extract(np.zeros((4, 4, 4), dtype=np.uint8), 3, np.random.default_rng(1))


@pytest.mark.parametrize(
    "wrong", [np.zeros((4, 4)), np.zeros((4, 4, 3)), np.zeros((4, 4, 2), dtype=np.uint8)]
)
def test_what_is_no_picture(wrong: Pixels) -> None:
    with pytest.raises(ValueError, match="a picture is"):
        extract(wrong, 3, np.random.default_rng(1))


def test_how_many() -> None:
    pixels = photograph("coffee")
    for size in (1, 2, 12, 24):
        found = extract(pixels, size, np.random.default_rng(1))
        assert 1 <= len(found) <= size
        assert sum(colour.share for colour in found) == pytest.approx(1.0)
    with pytest.raises(ValueError, match="1 to 24"):
        extract(pixels, 25, np.random.default_rng(1))
    # One pixel is a picture too.
    assert len(extract(np.zeros((1, 1, 3), dtype=np.uint8), 6, np.random.default_rng(1))) == 1


def test_matched_to_beads_with_the_difference_told() -> None:
    tray = starter_tray()
    request = Request(size=6, looks=[TYPICAL_DAYLIGHT], tray=tray)
    picked = from_photo(request, photograph("astronaut"), np.random.default_rng(1))
    assert isinstance(picked, Picked)
    plain = extract(photograph("astronaut"), 6, np.random.default_rng(1))
    assert [colour.origin.wanted for colour in picked.colours] == [c.hex for c in plain]
    assert [colour.origin.share for colour in picked.colours] == [c.share for c in plain]
    for colour in picked.colours:
        assert colour.bead in tray.beads
        assert colour.origin.wanted is not None
        pair = srgb1_to_lab(hexes_to_srgb1([colour.hex, colour.origin.wanted]))
        assert colour.origin.difference == pytest.approx(float(delta_e_2000(pair[0], pair[1])))
