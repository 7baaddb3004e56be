"""What is said to stand well apart does so across a room, as the model of sizes has it."""

import numpy as np

from explorer.app.parts.tradeoff import _SCALES
from explorer.contrast_words import LOOKS
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
