"""Measuring beads on simulated photographs, whose truth is known from spectra in colour-science.

Two cameras' measured sensitivities (colour-science: Nikon 5100, Sigma SD Merrill), lights of the
CIE, reflectances of the chart (BabelColor's average) and, for beads, of the CIE's and NIST's test
samples, which are not on the chart. The camera is tuned to daylight and takes half of the light's
cast out, as an automatic white balance does.
"""

from dataclasses import dataclass
from types import ModuleType

import numpy as np
import pytest
from numpy.typing import NDArray

from palettes.difference import delta_e_2000
from palettes.measure import (
    CARD_ERROR,
    CHART_ERROR,
    Measured,
    NoMeasure,
    Pixels,
    Trust,
    around,
    measure_by_card,
)
from palettes.measure_chart import (
    chart_lab,
    fit,
    measure_by_chart,
    patch_places,
    root_polynomial,
)
from palettes.spaces import (
    WHITE_XYZ1,
    FloatArray,
    hex_to_srgb1,
    lab_to_srgb1,
    linear1_to_lab,
    linear1_to_srgb1,
    srgb1_to_lab,
    srgb1_to_linear1,
    xyz1_to_lab,
    xyz1_to_linear1,
)

INDOORS = ("A", "FL2", "FL11", "LED-B2")
CAMERAS = ("Nikon 5100 (NPL)", "Sigma SDMerill (NPL)")


@dataclass(frozen=True, slots=True)
class Shot:
    """One light and camera: sRGB of card, chart and beads, and the beads' true L*a*b*."""

    card: FloatArray
    chart: FloatArray
    beads: FloatArray
    truth: FloatArray


def shoot(colour: ModuleType, camera: str, light: str) -> Shot:
    shape = colour.SpectralShape(400, 700, 10)

    def values(spectrum: object) -> FloatArray:
        return np.asarray(spectrum.copy().align(shape).values)  # type: ignore[attr-defined]  # untyped library

    chart = np.array([values(s) for s in colour.SDS_COLOURCHECKERS["BabelColor Average"].values()])
    samples = colour.quality.datasets
    beads = np.array(
        [values(s) for s in samples.SDS_TCS["CIE 1995"].values()]
        + [values(s) for s in samples.SDS_VS["NIST CQS 9.0"].values()]
    )
    observer = values(colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"])
    sensitivities = values(colour.MSDS_CAMERA_SENSITIVITIES[camera])
    daylight, lamp = (values(colour.SDS_ILLUMINANTS[name]) for name in ("D65", light))
    perfect = np.ones((1, len(daylight)))

    def true_linear1(reflectance: FloatArray) -> FloatArray:
        weights = observer * daylight[:, None]
        return xyz1_to_linear1((reflectance @ weights) / weights.sum(axis=0) * WHITE_XYZ1)

    def raw(reflectance: FloatArray, power: FloatArray) -> FloatArray:
        seen = reflectance @ (sensitivities * power[:, None])
        return np.asarray(seen / (perfect @ (sensitivities * power[:, None]))[0, 1])

    day_white, lamp_white = raw(perfect, daylight)[0], raw(perfect, lamp)[0]
    tuned = np.linalg.lstsq(raw(chart, daylight) / day_white, true_linear1(chart), rcond=None)[0]

    def photographed(reflectance: FloatArray) -> FloatArray:
        linear1 = raw(reflectance, lamp) / np.sqrt(day_white * lamp_white) @ tuned
        # Exposed so that white does not clip, and rounded to bytes.
        return np.rint(linear1_to_srgb1(np.clip(0.75 * linear1, 0.0, 1.0)) * 255.0) / 255.0

    weights = observer * daylight[:, None]
    truth = xyz1_to_lab((beads @ weights) / weights.sum(axis=0) * WHITE_XYZ1)
    return Shot(
        card=photographed(0.9 * perfect)[0],
        chart=photographed(chart),
        beads=photographed(beads),
        truth=truth,
    )


def errors(shot: Shot) -> tuple[float, float]:
    """Mean CIEDE2000 that the card and the chart leave on the beads."""
    light = srgb1_to_linear1(shot.card)
    by_card = np.clip(srgb1_to_linear1(shot.beads) * 0.9 / light, 0.0, 1.0)
    weights, _ = fit(srgb1_to_linear1(shot.chart), chart_lab())
    by_chart = root_polynomial(srgb1_to_linear1(shot.beads)) @ weights
    return (
        float(delta_e_2000(linear1_to_lab(by_card), shot.truth).mean()),
        float(delta_e_2000(linear1_to_lab(by_chart), shot.truth).mean()),
    )


def test_the_errors_that_are_stated_are_those_that_are_left(colour: ModuleType) -> None:
    indoors = [errors(shoot(colour, camera, light)) for camera in CAMERAS for light in INDOORS]
    card, chart = np.mean(indoors, axis=0)
    assert card == pytest.approx(CARD_ERROR, abs=1.0)
    assert chart == pytest.approx(CHART_ERROR, abs=0.5)
    daylight = np.mean([errors(shoot(colour, camera, "D65")) for camera in CAMERAS], axis=0)
    assert daylight[0] < 3.0
    # Leaving the picture as it is would be worse than the card.
    shot = shoot(colour, CAMERAS[0], "A")
    nothing = delta_e_2000(srgb1_to_lab(shot.beads), shot.truth).mean()
    assert errors(shot)[1] < errors(shot)[0] < nothing


def test_the_charts_table_is_colour_sciences(colour: ModuleType) -> None:
    chart = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
    xyz = colour.xyY_to_XYZ(np.array(list(chart.data.values())))
    d65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    whites = [colour.xy_to_XYZ(xy) for xy in (chart.illuminant, d65)]
    # Another adaptation than the one that made the table; they differ by less than one.
    adapted = colour.chromatic_adaptation(xyz, *whites, method="Von Kries", transform="Bradford")
    assert delta_e_2000(chart_lab(), colour.XYZ_to_Lab(adapted, d65)).max() < 1.0


def test_the_terms_are_finlaysons(colour: ModuleType) -> None:
    rgb = np.random.default_rng(1).random((20, 3))
    theirs = colour.characterisation.polynomial_expansion_Finlayson2015(rgb, 2, True)
    assert np.sort(root_polynomial(rgb)) == pytest.approx(np.sort(theirs))
    # Twice the light, twice the terms.
    assert root_polynomial(2.0 * rgb) == pytest.approx(2.0 * root_polynomial(rgb))


def paint(cast: tuple[float, float, float], bead: str) -> Pixels:
    """A chart, a card and a pile with glints and holes, in a light with a cast; noisy."""
    rng = np.random.default_rng(5)
    linear1 = np.full((400, 600, 3), 0.05)
    for place, colour in enumerate(srgb1_to_linear1(np.clip(lab_to_srgb1(chart_lab()), 0, 1))):
        row, column = divmod(place, 6)
        linear1[20 + 50 * row : 62 + 50 * row, 20 + 50 * column : 62 + 50 * column] = colour
    linear1[20:200, 400:560] = 0.9
    pile = srgb1_to_linear1(hex_to_srgb1(bead)) * rng.uniform(0.85, 1.15, (120, 300, 1))
    pile[rng.random((120, 300)) < 0.12] = 1.2
    pile[rng.random((120, 300)) < 0.2] = 0.01
    linear1[250:370, 100:400] = pile
    lit = linear1 * np.array(cast) * 0.8 + rng.normal(0, 0.002, linear1.shape)
    return np.rint(linear1_to_srgb1(np.clip(lit, 0, 1)) * 255.0).astype(np.uint8)


WARM = (1.0, 0.75, 0.45)
CORNERS = [(41, 41), (291, 41), (291, 191), (41, 191)]


@pytest.mark.parametrize("bead", ["#b3202a", "#1d3f77", "#7fb33b", "#e3cfc0"])
def test_a_pile_with_glints_and_holes(bead: str) -> None:
    pixels = paint(WARM, bead)
    by_card = measure_by_card(pixels, (480, 110), [(250, 310)], radius_px=45)
    by_chart = measure_by_chart(pixels, CORNERS, [(200, 310), (320, 310)], radius_px=30)
    for measured in (by_card, by_chart):
        assert isinstance(measured, Measured)
        pair = srgb1_to_lab(np.stack([hex_to_srgb1(measured.hex), hex_to_srgb1(bead)]))
        assert delta_e_2000(pair[0], pair[1]) < 4.0
        assert 0.0 < measured.spread < 6.0
    assert isinstance(by_card, Measured)
    assert isinstance(by_chart, Measured)
    assert (by_card.trust, by_chart.trust) == (Trust.FAIR, Trust.GOOD)
    assert by_chart.error < by_card.error


@pytest.mark.parametrize("turn", range(4))
def test_the_chart_may_lie_any_way(turn: int) -> None:
    pixels = np.rot90(paint(WARM, "#b3202a"), turn).copy()
    height, width = 400, 600
    places = [*CORNERS, (250, 310)]
    for _ in range(turn):
        # A quarter turn to the left takes x, y to y, width - x.
        places = [(y, width - x) for x, y in places]
        height, width = width, height
    shuffled = [places[i] for i in (2, 0, 3, 1)]
    measured = measure_by_chart(pixels, shuffled, [places[4]], radius_px=40)
    assert isinstance(measured, Measured)
    pair = srgb1_to_lab(np.stack([hex_to_srgb1(measured.hex), hex_to_srgb1("#b3202a")]))
    assert delta_e_2000(pair[0], pair[1]) < 4.0


def test_patches_in_perspective() -> None:
    flat = patch_places([(0, 0), (50, 0), (50, 30), (0, 30)])
    assert flat[7].tolist() == pytest.approx([10.0, 10.0])
    slanted = patch_places([(10, 0), (40, 0), (50, 30), (0, 30)])
    assert slanted[0].tolist() == pytest.approx([10, 0])
    assert slanted[23].tolist() == pytest.approx([50, 30])
    # Perspective keeps lines straight, so the chart's middle stays where its diagonals cross: by
    # hand, from (10, 0) to (50, 30) and from (40, 0) to (0, 30), at x = 25.
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = (slanted[i].tolist() for i in (8, 15, 9, 14))
    along = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / (
        (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    )
    assert x1 + along * (x2 - x1) == pytest.approx(25.0)
    assert y1 + along * (y2 - y1) == pytest.approx(11.25)
    for wrong in ([(0, 0)] * 3, [(0, 0), (1, 0), (2, 0), (3, 0)]):
        with pytest.raises(ValueError, match=r"corners"):
            patch_places(wrong)


def test_what_cannot_be_measured_says_what_to_do() -> None:
    pixels = paint(WARM, "#b3202a")
    white = np.full_like(pixels, 255)
    dark = measure_by_card(pixels, (5, 5), [(250, 310)], radius_px=4)
    bright = measure_by_card(white, (5, 5), [(250, 310)], radius_px=4)
    chart = measure_by_chart(
        pixels, [(100, 250), (390, 250), (390, 360), (100, 360)], [(9, 9)], radius_px=5
    )
    burnt = measure_by_chart(white, CORNERS, [(250, 310)], radius_px=5)
    for refused, told in ((dark, "dark"), (bright, "bright"), (chart, "chart"), (burnt, "bright")):
        assert isinstance(refused, NoMeasure)
        assert told in refused.why
        assert refused.remedy
    for beads in ([], [(700, 10)], [(-1, 0)]):
        with pytest.raises(ValueError, match=r"tap"):
            measure_by_card(pixels, (480, 110), beads, radius_px=5)
        with pytest.raises(ValueError, match=r"tap"):
            measure_by_chart(pixels, CORNERS, beads, radius_px=5)


def test_what_speaks_against_a_colour_is_told() -> None:
    pixels = paint((0.9, 0.9, 0.9), "#7fb33b")
    # As light as the green beads, or it would pass for shadow or glint.
    pixels[250:370, 100:250] = (205, 110, 140)
    mixed = measure_by_card(pixels, (480, 110), [(250, 310)], radius_px=45)
    assert isinstance(mixed, Measured)
    assert any("many colours" in note for note in mixed.notes)
    assert mixed.trust is Trust.POOR
    edge = measure_by_card(pixels, (401, 110), [(350, 310)], radius_px=12)
    assert not isinstance(edge, Measured) or edge.notes


SIDE = 90  # pixels of a simulated pile's edge


def shaded_pile(
    rng: np.random.Generator,
) -> tuple[FloatArray, FloatArray, NDArray[np.int64], float]:
    """Balls thrown on a heap under a lamp: light and gloss of each pixel, its ball, and the card's.

    Lambert's cosine law, a lobe of gloss round the mirror direction, a dark hole in each ball, deep
    balls in the shade of others. From mild light all round to a lamp from the side.
    """
    ambient, tilt, turn = (
        rng.uniform(0.0, 0.4),
        rng.uniform(0.0, 1.5),
        rng.uniform(0.0, 2.0 * np.pi),
    )
    gloss, power = rng.uniform(0.0, 0.8), float(rng.choice([4.0, 15.0, 60.0]))
    lamp = np.array([tilt * np.cos(turn), tilt * np.sin(turn), 1.0])
    lamp /= np.linalg.norm(lamp)
    mirror = lamp + np.array([0.0, 0.0, 1.0])
    mirror /= np.linalg.norm(mirror)
    y, x = np.mgrid[0:SIDE, 0:SIDE] + 0.5
    depth, light = np.full((SIDE, SIDE), -np.inf), np.full((SIDE, SIDE), 0.02)
    shine, ball = np.zeros((SIDE, SIDE)), np.zeros((SIDE, SIDE), dtype=np.int64)
    for number in range(100):
        r = 9.0 * rng.uniform(0.92, 1.08)
        u, v = (x - rng.uniform(0, SIDE)) / r, (y - rng.uniform(0, SIDE)) / r
        low = rng.uniform(0.0, 14.0)
        up = np.sqrt(np.maximum(0.0, 1.0 - u**2 - v**2))
        seen = (up > 0.0) & (low + r * up > depth)
        cosine = np.clip(u * lamp[0] + v * lamp[1] + up * lamp[2], 0.0, 1.0)
        lit = ambient * (0.5 + 0.5 * up) + (1.0 - ambient) * cosine
        lit *= rng.uniform(0.7, 1.3) * np.clip((low + r * up) / 9.0, 0.25, 1.0)
        angle, off = rng.uniform(0.0, 2.0 * np.pi), rng.uniform(0.2, 0.9)
        hole = (u - off * np.cos(angle)) ** 2 + (v - off * np.sin(angle)) ** 2 < 0.09
        lobe = np.clip(u * mirror[0] + v * mirror[1] + up * mirror[2], 0.0, 1.0) ** power
        depth[seen], ball[seen] = (low + r * up)[seen], number
        light[seen] = np.where(hole, 0.05 * lit, lit)[seen]
        shine[seen] = np.where(hole, 0.0, gloss * lobe)[seen]
    return light, shine, ball, ambient + (1.0 - ambient) * float(lamp[2])


def photographed_pile(rng: np.random.Generator, shot: Shot, beads: list[int]) -> Pixels:
    """A pile of beads of those samples, mixed, beside a card in the same light, with noise."""
    light, shine, ball, flat = shaded_pile(rng)
    card = srgb1_to_linear1(shot.card)
    own = srgb1_to_linear1(shot.beads)[beads][ball % len(beads)]
    linear1 = np.full((SIDE, 2 * SIDE, 3), 0.05)
    linear1[:, :SIDE] = own * light[..., None] + card * shine[..., None]
    linear1[:, SIDE + 5 :] = card * flat
    linear1 *= 0.8 / (card.max() * flat)
    linear1 += rng.normal(0.0, 0.002, linear1.shape)
    return np.rint(linear1_to_srgb1(np.clip(linear1, 0.0, 1.0)) * 255.0).astype(np.uint8)


@dataclass(frozen=True, slots=True)
class Pile:
    """A measured pile: what was told, and how far it is from its beads on average."""

    told: Measured
    error: float
    apart: float


def measured_piles(colour: ModuleType, seed: int, *, mixed: bool) -> list[Pile]:
    """Twelve piles by card: two cameras, three lights, two samples each; mixed ones of two."""
    rng = np.random.default_rng(seed)
    found = []
    for camera in CAMERAS:
        for lamp in ("D65", "A", "LED-B2"):
            shot = shoot(colour, camera, lamp)
            for one, other in rng.choice(len(shot.beads), (2, 2), replace=False):
                beads = [int(one), int(other)] if mixed else [int(one)]
                pixels = photographed_pile(rng, shot, beads)
                told = measure_by_card(pixels, (140, 45), [(45, 45)], radius_px=40)
                assert isinstance(told, Measured)
                off = delta_e_2000(srgb1_to_lab(hex_to_srgb1(told.hex)), shot.truth[beads])
                apart = float(delta_e_2000(shot.truth[one], shot.truth[other]))
                found.append(Pile(told=told, error=float(off.mean()), apart=apart))
    return found


# The threshold was chosen on other piles than these.
@pytest.mark.parametrize("seed", [7, 8, 2026])
def test_a_pile_is_called_poor_where_its_error_is_large(colour: ModuleType, seed: int) -> None:
    plain = measured_piles(colour, seed, mixed=False)
    mixed = measured_piles(colour, seed + 1, mixed=True)
    # Shading is no other colour: no plain pile is told to show many, and none is poor for it.
    assert not any("many colours" in " ".join(pile.told.notes) for pile in plain)
    assert all(pile.told.trust is Trust.FAIR for pile in plain if not pile.told.notes)
    poor = [p for p in mixed if any("many colours" in note for note in p.told.notes)]
    fair = [p for p in (*plain, *mixed) if p not in poor]
    assert all(pile.told.trust is Trust.POOR for pile in poor)
    # Two colours far apart are noticed, and what is called poor is: half as far off again, or more.
    assert len(poor) >= 0.8 * sum(pile.apart > 25.0 for pile in mixed) > 0
    assert np.mean([p.error for p in poor]) > 1.5 * np.mean([p.error for p in fair])
    # The error that is told is near the one that is seen, and tells both sorts apart. Shading this
    # strong makes plain piles a little worse than the flat samples that the card's error is of.
    for piles, near in ((poor, 0.2), (fair, 0.4)):
        told = np.mean([pile.told.error for pile in piles])
        assert told == pytest.approx(np.mean([pile.error for pile in piles]), rel=near)


def test_a_tap_takes_a_disc() -> None:
    pixels = np.zeros((20, 30, 3), dtype=np.uint8)
    pixels[10, 15] = 255
    assert len(around(pixels, (15.5, 10.5), 1.0)) == 5
    assert around(pixels, (15.5, 10.5), 1.0).max() == 255
    assert len(around(pixels, (0.0, 0.0), 3.0)) < 10
