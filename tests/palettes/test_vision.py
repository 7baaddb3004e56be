from types import ModuleType

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from palettes.difference import delta_e_2000
from palettes.spaces import FloatArray, hexes_to_srgb1, srgb1_to_lab
from palettes.vision import (
    TYPICAL,
    VIEWERS,
    Sight,
    Viewer,
    machado_matrix,
    parse_viewer,
    prevalence,
    see,
)

RANDOM = np.random.default_rng(9).random((300, 3))
GRID = np.stack(np.meshgrid(*[np.linspace(0, 1, 6)] * 3), axis=-1).reshape(-1, 3)
NAMES = {Sight.PROTAN: "Protanomaly", Sight.DEUTAN: "Deuteranomaly"}


def by_coloraide(srgb1: FloatArray, viewer: Viewer) -> FloatArray:
    name, severity = viewer.sight.value, viewer.severity
    colours = [Color("srgb", list(row)) for row in srgb1]
    if viewer.sight is Sight.TRITAN:  # theirs takes Brettel 1997 for it
        seen = [colour.filter(name, severity, space="srgb-linear") for colour in colours]
    else:
        seen = [
            colour.filter(name, severity, space="srgb-linear", method="machado")
            for colour in colours
        ]
    values = np.array([colour.convert("srgb").coords() for colour in seen], dtype=np.float64)
    return np.clip(values, 0.0, 1.0)


@pytest.mark.parametrize("sight", list(NAMES))
def test_whole_table_of_machado_2009(colour: ModuleType, sight: Sight) -> None:
    table = colour.blindness.CVD_MATRICES_MACHADO2010[NAMES[sight]]
    assert len(table) == 11
    for severity, matrix in table.items():
        assert machado_matrix(sight, severity) == pytest.approx(np.asarray(matrix), abs=1e-9)


def test_between_the_tabulated_steps_lies_the_middle(colour: ModuleType) -> None:
    table = colour.blindness.CVD_MATRICES_MACHADO2010["Deuteranomaly"]
    middle = (np.asarray(table[0.5]) + np.asarray(table[0.6])) / 2
    assert machado_matrix(Sight.DEUTAN, 0.55) == pytest.approx(middle, abs=1e-9)


@pytest.mark.parametrize("text", ["protan", "deutan", "deutan:0.55", "protan:0.31", "protan:0.07"])
def test_red_green_agrees_with_coloraide(text: str) -> None:
    viewer = parse_viewer(text)
    assert np.abs(see(RANDOM, viewer) - by_coloraide(RANDOM, viewer)).max() < 1e-9


@pytest.mark.parametrize("text", ["tritan", "tritan:0.4"])
def test_tritan_agrees_with_coloraide(text: str) -> None:
    # Ours derives the half-planes from the cone fundamentals, theirs from another rounding.
    viewer = parse_viewer(text)
    ours, theirs = see(GRID, viewer), by_coloraide(GRID, viewer)
    assert delta_e_2000(srgb1_to_lab(ours), srgb1_to_lab(theirs)).max() < 0.2


def test_tritan_is_not_too_hopeful_about_blue_and_green() -> None:
    # Brettel 1997 leaves 9.3 where Machado's tritan leaves 23.9 (both worked out with coloraide).
    blue, green = srgb1_to_lab(see(hexes_to_srgb1(["#0000ff", "#008000"]), parse_viewer("tritan")))
    assert float(delta_e_2000(blue, green)) == pytest.approx(9.3, abs=0.05)


def test_grey_keeps_lightness_and_nothing_else() -> None:
    lab = srgb1_to_lab(see(RANDOM, Viewer(sight=Sight.GREY)))
    assert lab[:, 0] == pytest.approx(srgb1_to_lab(RANDOM)[:, 0], abs=1e-6)
    assert np.abs(lab[:, 1:]).max() < 1e-6


@given(st.sampled_from(list(Sight)), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_greys_stay_grey(sight: Sight, severity: float, level: float) -> None:
    seen = see([level] * 3, Viewer(sight=sight, severity=severity))
    assert np.ptp(seen) < 2e-3
    assert ((seen >= 0.0) & (seen <= 1.0)).all()


@pytest.mark.parametrize("sight", list(Sight))
def test_severity_nought_changes_nothing(sight: Sight) -> None:
    assert (see(RANDOM, Viewer(sight=sight, severity=0.0)) == RANDOM).all()


@pytest.mark.parametrize("viewer", VIEWERS)
def test_any_shape(viewer: Viewer) -> None:
    block = RANDOM.reshape(3, 50, 2, 3)
    assert np.allclose(see(block, viewer).reshape(-1, 3), see(RANDOM, viewer))
    assert see(np.empty((0, 3)), viewer).shape == (0, 3)


@given(st.sampled_from(list(Sight)), st.floats(0.0, 1.0).map(lambda s: round(s, 3)))
def test_spelling_round_trip(sight: Sight, severity: float) -> None:
    viewer = Viewer(sight=sight, severity=severity)
    assert parse_viewer(str(viewer)) == viewer


@pytest.mark.parametrize(
    "text",
    ["", "blue", "deutan:", "deutan:x", "deutan:1.1", "deutan:-0.1", "deutan:nan", "deutan:inf"],
)
def test_what_is_no_viewer(text: str) -> None:
    with pytest.raises(ValueError, match=r"no viewer|severity"):
        parse_viewer(text)


@pytest.mark.parametrize("bad", [[np.nan, 0, 0], [2.0, 0, 0]])
def test_what_is_no_colour(bad: list[float]) -> None:
    with pytest.raises(ValueError, match=r"colours|sRGB"):
        see(bad, parse_viewer("deutan"))


def test_prevalence_depends_on_severity() -> None:
    assert "1 man in 45" in prevalence(parse_viewer("deutan"))
    # Birch 2012: about 8 % of men and 0.4 % of women of European descent, most of them mildly.
    assert "8 in 100 men and 4 in 1000 women" in prevalence(parse_viewer("protan:0.5"))
    assert prevalence(TYPICAL) == prevalence(parse_viewer("protan:0")) == "most people"
    assert len({prevalence(viewer) for viewer in VIEWERS}) == 4


@pytest.mark.parametrize(("sight", "severity"), [(Sight.TRITAN, 0.5), (Sight.DEUTAN, 1.5)])
def test_no_matrix_for_others(sight: Sight, severity: float) -> None:
    with pytest.raises(ValueError, match=r"protan and deutan|from 0 to 1"):
        machado_matrix(sight, severity)
