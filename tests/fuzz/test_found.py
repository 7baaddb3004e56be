"""What strange inputs once broke, each kept as a test of its own."""

import io
import json
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from PIL import Image

from explorer.app.cache_judging import close_up
from explorer.app.events import read_events
from explorer.app.kept import from_text
from explorer.design import build
from explorer.kit_roster import parse_roster
from explorer.layout import motif_scene
from explorer.piece import from_json
from gallery.framing import BEAD_PX, PAGE_PX, drawable
from gallery.raster import size_px
from palettes.beads import Bead
from palettes.charts import bead_kinds, parse_palette
from palettes.errors import ChartError
from palettes.palette_files import parse_palette_text
from palettes.viewing import Condition
from tests.fuzz.doors import pieces, tables
from tests.fuzz.pictures import samples


@pytest.mark.parametrize(
    "text",
    ["a = " + "[" * 5000, "a = " + "[" * 900 + "]" * 900, "a = " + "9" * 5000],
    ids=["brackets", "closed brackets", "digits"],
)
def test_a_palette_of_brackets_or_digits_is_refused(text: str) -> None:
    with pytest.raises(ChartError, match="not valid TOML"):
        parse_palette(text, "a palette")


def test_a_picture_is_no_palette_though_its_bytes_look_like_a_colour() -> None:
    # The table of codes that a JPEG begins with (ITU-T T.81, annex K) holds 456789.
    picture = samples()[0].decode("utf-8", "replace")
    assert "456789" in picture
    with pytest.raises(ChartError, match="no text"):
        parse_palette_text(picture, "picture.jpg")


def _piece(change: Callable[[dict[str, Any]], None]) -> str:
    document = json.loads(pieces()[0])
    change(document)
    return json.dumps(document)


@pytest.mark.parametrize(
    ("change", "entry"),
    [
        (lambda d: d.update(name="Wren\ud800"), "name"),
        (lambda d: d["beads"][0].update(name="\udfff"), "name"),
        (lambda d: d.update(seed=10**4000), "seed"),
        (lambda d: d.update(seed=-1), "seed"),
        (lambda d: d["kinds"][0].update(diameter_mm=9e8), "the design"),
        (lambda d: d["kinds"][0].update(pitch_mm=5e-324), "the design"),
        (lambda d: d["kinds"][0].update(beads_per_gram=1e-300), "the design"),
    ],
    ids=["half a sign", "half a sign in a bead", "huge seed", "seed below 0", "huge bead",
         "no bead", "no weight"],
)  # fmt: skip
def test_a_piece_that_would_break_something_later_is_refused(
    change: Callable[[dict[str, Any]], None], entry: str
) -> None:
    with pytest.raises(ChartError) as caught:
        from_json(_piece(change))
    assert caught.value.entry == entry


def test_a_motif_as_large_as_a_table_is_drawn_small() -> None:
    kind = replace(bead_kinds()["round 8/0"], name="plate", diameter_mm=90.0, pitch_mm=90.0)
    beads = (Bead(name="a", kind=kind, hex="#102030"), Bead(name="b", kind=kind, hex="#d0c0b0"))
    design = build(
        beads=beads,
        base=0,
        base_pitch_mm=50.0,
        profiles=((3, *(10,) * 8),),
        order=(0, 1),
        divider_base_beads=1,
    )
    # At the usual scale of a close-up it would have more pixels than may be drawn.
    scene = motif_scene(design, 0, 2)
    with pytest.raises(ValueError, match="pixels are more than"):
        size_px(scene, 12.0)
    assert math.prod(size_px(scene, drawable(scene, 12.0))) <= 1.01 * PAGE_PX
    assert drawable(scene, 12.0) * 90.0 <= 1.01 * BEAD_PX
    assert drawable(scene, 0.1) == 0.1
    small = replace(design, motifs=tuple(motif[:1] for motif in design.motifs))
    scene = motif_scene(small, 0, 2)
    drawn = np.array(Image.open(io.BytesIO(close_up(small, 0, Condition(), None))))
    assert drawn.shape[0] <= scene.height_mm * BEAD_PX / 90.0 + 1


def test_a_number_that_nobody_counts_to_is_no_event() -> None:
    event = {"epoch": "e", "act": "paint", "id": "m0", "value": 1}
    assert read_events([{**event, "n": 10**400}], epoch="e", done=0) == ()
    assert read_events([{**event, "n": 1, "value": 2**60}], epoch="e", done=0) == ()
    assert len(read_events([{**event, "n": 1}], epoch="e", done=0)) == 1


def test_half_a_sign_in_a_roster_is_left_out_of_the_name() -> None:
    (learner,) = parse_roster("\ud800Wren;152 mm\n").learners
    assert learner.name == "Wren"


@pytest.mark.parametrize("key", ["dangles", "divider", "swatch_beads", "margin"])
@pytest.mark.parametrize("value", [-1, 10**400])
def test_a_table_whose_sizes_are_none_is_refused(key: str, value: int) -> None:
    document = json.loads(json.dumps(tables()[0]))
    document["sizing"].update({key: value, "swatch_length": "39.5 mm"})
    with pytest.raises(ChartError) as caught:
        from_text(json.dumps(document))
    assert caught.value.entry == key
