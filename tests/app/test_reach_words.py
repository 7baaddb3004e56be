"""What words say of differences, and what the models behind them give."""

from dataclasses import replace

import numpy as np
import pytest

from explorer.app.demo import demo
from explorer.app.parts.judging_words import button_words
from explorer.app.parts.tradeoff import _SCALES
from explorer.changes import Changed
from explorer.contrast_words import LOOKS
from explorer.suggest import Change, Suggestion
from palettes.difference import CLEARLY_APART_FROM, DISTINCT_FROM, Verdict, delta_e_2000
from palettes.sizes import ROOM_M, TABLE_M, reads_apart_to_m
from palettes.spaces import srgb1_to_lab


def test_what_stands_well_apart_does_so_across_a_room() -> None:
    # Stone, Szafir and Setlur 2014, through palettes.sizes; 9 mm is a motif of three 3 mm cubes.
    colours = np.random.default_rng(8).random((2, 50_000, 3))
    one, other = srgb1_to_lab(colours[0]), srgb1_to_lab(colours[1])
    difference, reach_m = delta_e_2000(one, other), reads_apart_to_m(one, other, 9.0)
    assert LOOKS[Verdict.CLEARLY_APART] == "stand well apart"
    assert "stand well apart, across a room too" in _SCALES
    assert reach_m[difference >= CLEARLY_APART_FROM].min() > ROOM_M
    assert reach_m[difference >= DISTINCT_FROM].min() > TABLE_M


@pytest.mark.parametrize(
    ("weakest_from", "weakest_to", "end"),
    [
        (21.7, 21.7, "; the weakest neighbours stay at 21.7"),
        (21.7, 30.2, "; the weakest neighbours go to 30.2"),
        (21.7, 48.9, "goes from 31.5 to 48.9"),
    ],
)
def test_a_change_says_what_becomes_of_the_weakest_of_all(
    weakest_from: float, weakest_to: float, end: str
) -> None:
    change = Suggestion(
        change=Change.SWAP,
        motifs=(0, 3),
        old=None,
        new=None,
        pair_from=31.5,
        pair_to=48.9,
        weakest_from=weakest_from,
        weakest_to=weakest_to,
        changed=Changed(pattern=demo().piece.pattern),
    )
    assert button_words(change).endswith(end)


def test_a_bead_s_name_stays_as_it_is_beside_figures_in_the_makers_writing() -> None:
    swatch = replace(demo().tray.swatches[0], name="Ember 2.5")
    change = Suggestion(
        change=Change.OWN_BEAD,
        motifs=(2,),
        old=None,
        new=swatch,
        pair_from=31.5,
        pair_to=48.9,
        weakest_from=21.7,
        weakest_to=30.2,
        changed=Changed(pattern=demo().piece.pattern),
    )
    words = button_words(change, lambda value: f"{value:.1f}".replace(".", ","))
    assert words == (
        "Make motif 3 Ember 2.5: this pair goes from 31,5 to 48,9; "
        "the weakest neighbours go to 30,2"
    )
