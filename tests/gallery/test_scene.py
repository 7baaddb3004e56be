"""What is no bead, no place and no scene is refused when it is made."""

import math

import pytest

from gallery.scene import PlacedBead, Scene

GOOD = {"x_mm": 1.0, "y_mm": 1.0, "across_mm": 2.0, "along_mm": 1.5, "hole_mm": 0.8}


@pytest.mark.parametrize("name", ["across_mm", "along_mm", "hole_mm"])
@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_a_bead_has_sizes(name: str, value: float) -> None:
    with pytest.raises(ValueError, match="sizes"):
        PlacedBead(**(GOOD | {name: value}))  # type: ignore[arg-type]  # fields by name


@pytest.mark.parametrize("name", ["x_mm", "y_mm", "turn_deg"])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_bead_has_a_place(name: str, value: float) -> None:
    with pytest.raises(ValueError, match="place"):
        PlacedBead(**(GOOD | {name: value}))  # type: ignore[arg-type]  # fields by name


def test_a_scene_has_a_size() -> None:
    with pytest.raises(ValueError, match="size"):
        Scene(left_mm=0, top_mm=0, width_mm=0, height_mm=5)
