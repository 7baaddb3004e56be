from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from palettes import charts
from palettes.difference import pairwise
from palettes.errors import ChartError
from palettes.finishes import Finish
from palettes.forms import Form
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Palette, Swatch
from palettes.viewing import Condition, worst_matrix
from palettes.vision import VIEWERS, Sight

GOOD = """
name = "mine"
[[swatch]]
name = "Leaf"
hex = "5A8"
[[swatch]]
name = "Milk"
hex = "#fffaf0"
finish = "pearl"
"""


def test_kinds_hold_the_trade_table() -> None:
    kinds = charts.bead_kinds()
    assert len(kinds) == 19
    # common practice, no source
    assert kinds["round 11/0"].diameter_mm == 2.1
    assert kinds["round 11/0"].pitch_mm == 1.45
    assert kinds["cube 1.8"].ladder_pitch_mm == 1.95
    assert kinds["cube 3"].ladder_pitch_mm == 3.1
    assert {kind.form for kind in kinds.values()} == set(Form)


def test_kinds_other_than_two_cubes_take_their_diameter_and_some_thread() -> None:
    for name, kind in charts.bead_kinds().items():
        if name not in {"cube 1.8", "cube 3"}:
            assert kind.ladder_pitch_mm == pytest.approx(kind.diameter_mm + 0.15, abs=0.001)


def test_strung_pitch_of_rounds_against_beads_to_the_inch() -> None:
    # common practice, no source: beads counted on an inch of thread.
    for name, fewest, most in (
        ("round 15/0", 23, 24),
        ("round 11/0", 17, 18),
        ("round 8/0", 11, 13),
    ):
        assert fewest - 0.5 <= 25.4 / charts.bead_kinds()[name].pitch_mm <= most + 0.5


@pytest.mark.parametrize("name", list(charts.bead_kinds()))
def test_figures_keep_range_and_mark(name: str) -> None:
    for key, figure in charts.bead_figures(name).items():
        assert figure.low <= figure.value <= figure.high
        assert figure.mark in charts.MARKS
        assert getattr(charts.bead_kinds()[name], key) == figure.value


WORKED_OUT = [
    name for name in charts.bead_kinds() if charts.bead_figures(name)["beads_per_gram"].mark == "A"
]


@pytest.mark.parametrize("name", WORKED_OUT)
def test_beads_per_gram_that_are_worked_out_follow_from_the_sizes(name: str) -> None:
    kind = charts.bead_kinds()[name]
    # The table's own formula: 1000 / (section * length * fill * glass of 2.5 g/cm3). The drilled
    # hole is round, a cube's section square; a ball is two thirds of its cylinder (Archimedes).
    across = kind.diameter_mm**2
    area = (
        across if kind.form is Form.CUBE else 3.1416 / 4 * across
    ) - 3.1416 / 4 * kind.hole_mm**2
    ball = kind.form is not Form.CUBE and kind.pitch_mm == kind.diameter_mm
    worked_out = 1000 / (area * kind.pitch_mm * (2 / 3 if ball else 0.85) * 2.5)
    # Rounded to a figure that is easily kept in mind.
    assert kind.beads_per_gram == pytest.approx(worked_out, rel=0.03)


def test_no_such_kind_or_palette() -> None:
    with pytest.raises(ValueError, match="round 11/0"):
        charts.bead_figures("round 12/0")
    with pytest.raises(ValueError, match="rockpool"):
        charts.palette("no-such")


def test_palettes_are_as_many_as_promised() -> None:
    palettes = [charts.palette(name) for name in charts.palette_names()]
    assert len(palettes) >= 8
    assert sum(p.season == "summer" for p in palettes) >= 4
    assert any("children" in p.tags for p in palettes)
    assert any("quiet" in p.tags for p in palettes)


@pytest.mark.parametrize("name", charts.palette_names())
def test_every_palette_keeps_its_colours_apart(name: str) -> None:
    palette = charts.palette(name)
    assert palette.name == name
    assert 6 <= len(palette.swatches) <= 8
    assert palette.note
    assert palette.bases
    apart = pairwise(srgb1_to_lab(hexes_to_srgb1(palette.hexes)))
    assert apart[apart > 0.0].min() >= 12.0


def test_colour_names_are_used_once_in_all_palettes() -> None:
    names = [s.name for n in charts.palette_names() for s in charts.palette(n).swatches]
    assert len(names) == len(set(names))


def test_a_palette_of_the_makers_own() -> None:
    assert charts.parse_palette(GOOD, "mine.toml") == Palette(
        name="mine",
        title="mine",
        swatches=(
            Swatch(name="Leaf", hex="#55aa88"),
            Swatch(name="Milk", hex="#fffaf0", finish=Finish.PEARL),
        ),
    )


@pytest.mark.parametrize(
    ("change", "entry", "why"),
    [
        (("5A8", "green"), "Leaf", "no hex colour"),
        (('"pearl"', '"shiny"'), "Milk", "none of opaque"),
        (('"pearl"', "3"), "Milk", "finish is a str"),
        (("Milk", "Leaf"), "mine", "more than once"),
        (('name = "mine"', "tags = 1"), "the palette", "name is a str"),
        (('name = "mine"', 'name = "mine"\ntags = 1'), "mine", "list of texts"),
        (("[[swatch]]", "[[colour]]"), "mine", "at least one is needed"),
        (("[[swatch]]", "[swatch"), "the file", "not valid TOML"),
        (('name = "Leaf"', ""), "a colour", "got nothing"),
    ],
)
def test_a_faulty_palette_says_where(change: tuple[str, str], entry: str, why: str) -> None:
    with pytest.raises(ChartError, match=why) as caught:
        charts.parse_palette(GOOD.replace(*change), "mine.toml")
    assert caught.value.entry == entry
    assert caught.value.path == "mine.toml"


def test_number_tables_are_read_only() -> None:
    with pytest.raises(ValueError, match="read-only"):
        charts.number_table("machado2009")[0, 0] = 1.0


def test_one_palette_serves_all_eyes() -> None:
    palette = charts.palette("kite-day")
    assert "all eyes" in palette.tags
    upper = np.triu_indices(len(palette.swatches), 1)
    srgb1 = hexes_to_srgb1(palette.hexes)
    for viewer in VIEWERS:
        least = 8.0 if viewer.sight is Sight.GREY else 20.0
        assert worst_matrix(srgb1, [Condition(viewer=viewer)])[upper].min() > least


KIND = """
[[kind]]
name = "round 1"
form = "round"
diameter_mm = { value = 1.0, low = 0.9, high = 1.1, mark = "S" }
pitch_mm = { value = 1.0, mark = "M" }
hole_mm = { value = 0.5, mark = "M" }
beads_per_gram = { value = 900, mark = "A" }
ladder_pitch_mm = { value = 1.15, mark = "M" }
"""


@pytest.fixture
def own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A data folder of the test's own; what was read before and meanwhile is forgotten."""
    readers = (charts._kind_rows, charts.bead_figures, charts.bead_kinds, charts.number_table)
    monkeypatch.setattr(charts, "_data", lambda: tmp_path)
    for reader in readers:
        reader.cache_clear()
    yield tmp_path
    for reader in readers:
        reader.cache_clear()


def test_a_kind_of_its_own(own_data: Path) -> None:
    (own_data / "bead_kinds.toml").write_text(KIND, encoding="utf-8")
    assert list(charts.bead_kinds()) == ["round 1"]
    assert charts.bead_figures("round 1")["diameter_mm"].low == 0.9


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (KIND + KIND, "twice"),
        (KIND.replace('"S"', '"X"'), "mark of S, M or A"),
        (KIND.replace("0.9", "1.05"), "low <= value"),
        (KIND.replace("900", '"many"'), "number"),
        (KIND.replace("900", "true"), "number"),
        (KIND.replace('"round"', '"egg"'), "egg"),
        (KIND.replace("value = 0.5", "value = 2.0"), "wide as the bead"),
        (KIND.replace("[[kind]]", "[kind]"), "own"),
    ],
)
def test_a_damaged_bead_table(own_data: Path, text: str, why: str) -> None:
    (own_data / "bead_kinds.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ChartError, match=why):
        charts.bead_kinds()


def test_a_damaged_number_table(own_data: Path) -> None:
    (own_data / "odd.csv").write_text("1,2\n3,x\n", encoding="utf-8")
    with pytest.raises(ChartError, match=r"odd\.csv"):
        charts.number_table("odd")
