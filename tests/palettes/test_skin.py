import numpy as np
import pytest

from palettes.charts import skin_tones
from palettes.skin import typology_angle_deg, typology_group
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab


def test_the_scale_runs_from_light_to_dark() -> None:
    lab = srgb1_to_lab(hexes_to_srgb1([tone.hex for tone in skin_tones()]))
    angles = typology_angle_deg(lab)
    assert len(angles) == 10
    assert (np.diff(angles) < 0.0).all()


def test_angle_from_its_definition() -> None:
    # Chardon, Cretois and Hourseau 1991: atan((L* - 50) / b*).
    assert float(typology_angle_deg([70.0, 10.0, 20.0])) == pytest.approx(45.0)
    assert float(typology_angle_deg([30.0, 10.0, 20.0])) == pytest.approx(-45.0)


@pytest.mark.parametrize(
    ("angle", "group"),
    [
        (60.0, "very light"),
        (50.0, "light"),
        (30.0, "intermediate"),
        (20.0, "tan"),
        (0.0, "brown"),
        (-40.0, "dark"),
    ],
)
def test_groups(angle: float, group: str) -> None:
    # Chardon, Cretois and Hourseau 1991, from memory.
    assert typology_group(angle) == group
