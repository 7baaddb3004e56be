import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from palettes.difference import pairwise
from palettes.lights import Light, under
from palettes.spaces import srgb1_to_lab
from palettes.viewing import (
    TYPICAL_DAYLIGHT,
    Condition,
    conditions,
    lab_under,
    srgb1_under,
    worst_matrix,
)
from palettes.vision import VIEWERS, parse_viewer, see

COLOURS = np.random.default_rng(6).random((7, 3))
ALL = conditions(VIEWERS, tuple(Light))


def test_typical_eyes_in_daylight_see_the_colour_itself() -> None:
    assert (srgb1_under(COLOURS, [TYPICAL_DAYLIGHT])[0] == COLOURS).all()
    assert (lab_under(COLOURS, [TYPICAL_DAYLIGHT])[0] == srgb1_to_lab(COLOURS)).all()
    assert np.allclose(worst_matrix(COLOURS, [TYPICAL_DAYLIGHT]), pairwise(srgb1_to_lab(COLOURS)))


def test_together_as_one_by_one() -> None:
    together = srgb1_under(COLOURS, ALL)
    assert together.shape == (20, 7, 3)
    for look, block in zip(ALL, together, strict=True):
        # The light acts first, then the eye.
        assert np.allclose(block, see(under(COLOURS, [look.light])[0], look.viewer), atol=1e-12)


@given(st.lists(st.sampled_from(ALL), min_size=1, max_size=8))
def test_worst_is_the_smallest_of_each(looks: list[Condition]) -> None:
    each = [pairwise(lab_under(COLOURS, [look])[0]) for look in looks]
    assert np.allclose(worst_matrix(COLOURS, looks), np.min(each, axis=0))
    # Repeating or turning round the conditions changes nothing.
    assert np.allclose(worst_matrix(COLOURS, looks[::-1] + looks), np.min(each, axis=0))


def test_crossing() -> None:
    assert len(ALL) == 20
    assert len(conditions([VIEWERS[0], VIEWERS[0]], [Light.LED])) == 1
    assert [str(look) for look in conditions([parse_viewer("deutan:0.6")], list(Light)[:2])] == [
        "deutan:0.6",
        "deutan:0.6 in lamplight",
    ]


def test_nothing_to_look_at_or_with() -> None:
    assert worst_matrix(np.empty((0, 3)), ALL).shape == (0, 0)
    assert worst_matrix(COLOURS[:1], ALL).tolist() == [[0.0]]
    with pytest.raises(ValueError, match="at least one"):
        worst_matrix(COLOURS, [])
    with pytest.raises(ValueError, match="at least one"):
        conditions([], [Light.LED])
