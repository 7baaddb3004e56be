"""The example pieces: current, varied, and opening as saved."""

from pathlib import Path

import numpy as np
import pytest

from explorer.commands.gallery import INDEX, picture
from explorer.design import motif_profile
from explorer.example_briefs import EXAMPLES
from explorer.examples import Example, piece_of
from explorer.piece import from_json, to_json
from gallery.files import read_png
from palettes.charts import palette_names

KEPT = Path(__file__).parents[2] / "gallery" / "examples"
# As in the golden pictures: levels of 0-255 that versions of numpy may differ by.
MOST_MEAN, FAR, MOST_FAR_SHARE = 0.5, 10, 0.002


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.stem)
def test_examples_are_current(example: Example) -> None:
    piece = piece_of(example)
    text = (KEPT / f"{example.stem}.json").read_text("utf-8")
    assert text == to_json(piece)
    assert from_json(text) == piece
    drawn, kept = picture(example, piece), read_png(KEPT / f"{example.stem}.png")
    assert drawn.shape == kept.shape
    apart = np.abs(drawn.astype(int) - kept.astype(int)).max(axis=-1)
    assert apart.mean() <= MOST_MEAN
    assert (apart > FAR).mean() <= MOST_FAR_SHARE
    assert f"({example.stem}.png)" in (KEPT / INDEX).read_text("utf-8")


def test_examples_show_what_there_is() -> None:
    assert len(EXAMPLES) >= 12
    assert {example.palette for example in EXAMPLES} == set(palette_names())
    assert len({example.arrangement for example in EXAMPLES}) == 5
    assert len({example.view for example in EXAMPLES}) == 5
    profiles = {motif_profile(piece_of(example).design.motifs[0]) for example in EXAMPLES}
    assert len(profiles) >= 12
