import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.difference import delta_e_2000
from palettes.finishes import Finish, is_range, layered, met, met_range, over_backing
from palettes.spaces import lab_to_lch, srgb1_to_lab, srgb1_to_linear1

COLOUR = st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
SHARE = st.floats(0, 1)
TEAL, SKIN, WHITE = (0.1, 0.5, 0.5), (0.63, 0.49, 0.34), (1.0, 1.0, 1.0)


@pytest.mark.parametrize(("ground", "wanted"), [(0.7, 0.44200), (0.05, 0.36261)])
def test_layer_over_ground_as_kubelka_and_munk_have_it(ground: float, wanted: float) -> None:
    # Kubelka 1948: R0 = sinh/(a sinh + b cosh), T = b/(a sinh + b cosh) of bSX; at R-infinity 0.4
    # and SX = 1 the values were worked out once from the closed form, apart from this code.
    a = (1 / 0.4 + 0.4) / 2
    b = math.sqrt(a * a - 1)
    bottom = a * math.sinh(b) + b * math.cosh(b)
    got = layered(math.sinh(b) / bottom, (b / bottom) ** 2, ground)
    assert float(got) == pytest.approx(wanted, abs=5e-6)
    # The hyperbolic form of the same theory, Kubelka 1948: coth of bSX.
    coth = math.cosh(b) / math.sinh(b)
    assert (1 - ground * (a - b * coth)) / (a - ground + b * coth) == pytest.approx(
        wanted, abs=5e-6
    )


@given(COLOUR, COLOUR)
def test_nothing_shows_through_an_opaque_colour(
    colour: tuple[float, ...], backing: tuple[float, ...]
) -> None:
    assert (over_backing(colour, 0.0, backing) == np.array(colour)).all()


@given(COLOUR, SHARE)
def test_over_white_every_layer_shows_its_colour(colour: tuple[float, ...], share: float) -> None:
    assert over_backing(colour, share, WHITE) == pytest.approx(np.array(colour), abs=1e-9)


@given(COLOUR, SHARE, COLOUR, COLOUR)
def test_lighter_backings_give_lighter_beads_and_never_more_than_all(
    colour: tuple[float, ...], share: float, one: tuple[float, ...], other: tuple[float, ...]
) -> None:
    low, high = np.minimum(one, other), np.maximum(one, other)
    dark, light = over_backing(colour, share, low), over_backing(colour, share, high)
    assert (dark <= light + 1e-12).all()
    assert (light <= 1.0 + 1e-9).all()
    assert (dark >= 0.0).all()


def test_transparent_takes_on_its_backing_and_opaque_does_not() -> None:
    over = {f: [met(TEAL, f, g) for g in (WHITE, (0.1, 0.1, 0.1))] for f in Finish}
    moved = {f: float(delta_e_2000(*map(srgb1_to_lab, pair))) for f, pair in over.items()}
    assert moved[Finish.TRANSPARENT] > 10.0
    assert moved[Finish.TRANSPARENT] > moved[Finish.LUSTRE] > moved[Finish.PEARL] > 0.0
    assert moved[Finish.OPAQUE] == moved[Finish.METALLIC] == moved[Finish.COLOUR_LINED] == 0.0
    # The mirror core hides what lies behind.
    assert moved[Finish.SILVER_LINED] == 0.0


def test_frosting_adds_the_surface_reflection_of_glass() -> None:
    # Fresnel at normal incidence, index 1.5: 0.04 of the light, on black all that there is.
    assert srgb1_to_linear1(met([0.0] * 3, Finish.MATTE, SKIN)) == pytest.approx([0.04] * 3)
    lch = [lab_to_lch(srgb1_to_lab(met(TEAL, f, SKIN))) for f in (Finish.MATTE, Finish.OPAQUE)]
    assert lch[0][1] < lch[1][1]


@pytest.mark.parametrize("finish", list(Finish))
@given(COLOUR, COLOUR)
def test_every_finish_gives_colours(
    finish: Finish, colour: tuple[float, ...], backing: tuple[float, ...]
) -> None:
    ends = met_range(colour, finish, backing)
    assert ends.shape == (3, 3)
    assert ((ends >= 0.0) & (ends <= 1.0)).all()
    assert np.allclose(ends[1], met(colour, finish, backing))
    if not is_range(finish):
        assert (ends == ends[0]).all()


def test_ranges() -> None:
    dark, middle, bright = srgb1_to_lab(met_range(TEAL, Finish.METALLIC, SKIN))[:, 0]
    assert dark < middle < bright
    hues = lab_to_lch(srgb1_to_lab(met_range(SKIN, Finish.RAINBOW, WHITE)))[:, 2]
    assert np.diff(hues) == pytest.approx([30.0, 30.0], abs=1.0)


def test_many_beads_over_many_backings() -> None:
    colours = np.random.default_rng(1).random((4, 1, 3))
    backings = np.random.default_rng(2).random((5, 3))
    for finish in Finish:
        assert met(colours, finish, backings).shape == (4, 5, 3)


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="translucency"):
        over_backing(TEAL, 1.5, WHITE)
    with pytest.raises(ValueError, match="NaN"):
        met([np.nan, 0, 0], Finish.OPAQUE, WHITE)
    with pytest.raises(ValueError, match="sRGB"):
        met(TEAL, Finish.TRANSPARENT, [2.0, 0, 0])
