from dataclasses import replace

import pytest

from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Palette, Swatch

ROUND = bead_kinds()["round 11/0"]


@pytest.mark.parametrize(
    "field", ["diameter_mm", "pitch_mm", "hole_mm", "beads_per_gram", "ladder_pitch_mm"]
)
@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_sizes_are_numbers_above_nought(field: str, bad: float) -> None:
    with pytest.raises(ValueError, match=field):
        replace(ROUND, **{field: bad})  # type: ignore[arg-type]  # one field by its name


def test_a_hole_is_smaller_than_its_bead() -> None:
    with pytest.raises(ValueError, match="wide as the bead"):
        replace(ROUND, hole_mm=2.1)


@pytest.mark.parametrize("text", ["#FFF", "ffffff", "#FFFFFF"])
def test_colours_have_one_spelling(text: str) -> None:
    with pytest.raises(ValueError, match="#ffffff"):
        Bead(name="white", kind=ROUND, hex=text)
    with pytest.raises(ValueError, match="#ffffff"):
        Swatch(name="white", hex=text)


def test_a_palette_needs_names_and_colours() -> None:
    with pytest.raises(ValueError, match="has a name"):
        Swatch(name=" ", hex="#ffffff")
    with pytest.raises(ValueError, match="at least one"):
        Palette(name="empty", title="Empty", swatches=())
    leaf = Swatch(name="Leaf", hex="#55aa88")
    with pytest.raises(ValueError, match="Leaf more than once"):
        Palette(name="twice", title="Twice", swatches=(leaf, replace(leaf, hex="#000000")))
