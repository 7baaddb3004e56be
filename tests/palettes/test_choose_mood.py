"""Palettes for a mood where its regions are not what is at hand."""

from dataclasses import replace

import numpy as np
import pytest

from palettes.choose_mood import choose_for_mood
from palettes.choose_types import NoChoice, Wishes
from palettes.moods import Mood, Region
from palettes.spaces import FloatArray, lab_to_srgb1, lch_to_lab
from palettes.viewing import TYPICAL_DAYLIGHT

# Two regions of equal parts: mid reds and mid blues.
REDS = Region(name="reds", lightness=(40.0, 60.0), chroma=(20.0, 40.0), hue_deg=(10.0, 40.0))
BLUES = replace(REDS, name="blues", hue_deg=(250.0, 290.0))
MOOD = Mood(name="two", title="Two", regions=(REDS, BLUES))
LOOKS = (TYPICAL_DAYLIGHT,)


def colours(*lch: tuple[float, float, float]) -> FloatArray:
    return np.clip(lab_to_srgb1(lch_to_lab(np.array(lch))), 0.0, 1.0)


FOUR_REDS = [(42.0, 24.0, 15.0), (48.0, 30.0, 20.0), (52.0, 34.0, 30.0), (58.0, 38.0, 35.0)]
TWO_BLUES = [(45.0, 25.0, 260.0), (55.0, 35.0, 280.0)]
GREENS = [(50.0, 30.0, 140.0), (45.0, 25.0, 215.0)]


def rng() -> np.random.Generator:
    return np.random.default_rng(3)


def test_each_region_gives_its_part() -> None:
    found = choose_for_mood(colours(*FOUR_REDS, *TWO_BLUES), MOOD, LOOKS, Wishes(size=4), rng())
    assert not isinstance(found, NoChoice)
    assert sorted(found.regions) == [0, 0, 1, 1]
    assert {place for place in found.choice.places if place >= 4} == {4, 5}
    assert found.misses == pytest.approx((0.0,) * 4, abs=1e-9)


def test_where_a_region_lacks_colours_the_nearest_step_in_and_are_told() -> None:
    found = choose_for_mood(
        colours(*FOUR_REDS, TWO_BLUES[0], *GREENS), MOOD, LOOKS, Wishes(size=4), rng()
    )
    assert not isinstance(found, NoChoice)
    assert sorted(found.regions) == [0, 0, 1, 1]
    blues = {
        place: miss
        for place, region, miss in zip(
            found.choice.places, found.regions, found.misses, strict=True
        )
        if region == 1
    }
    assert blues.pop(4) == pytest.approx(0.0, abs=1e-9)
    # By hand: along a chord of 110 degrees at chroma 30, or of 35 at chroma 25.
    by_hand = {5: 2 * 30 * np.sin(np.radians(55.0)), 6: 2 * 25 * np.sin(np.radians(17.5))}
    (other,) = blues
    assert blues[other] == pytest.approx(by_hand[other], abs=0.5)


def test_what_must_be_takes_room_from_the_other_region() -> None:
    found = choose_for_mood(
        colours(*FOUR_REDS, *TWO_BLUES), MOOD, LOOKS, Wishes(size=4, must=(0, 1, 2)), rng()
    )
    assert not isinstance(found, NoChoice)
    assert {0, 1, 2} < set(found.choice.places)
    assert sorted(found.regions) == [0, 0, 0, 1]


def test_a_region_without_a_share_gives_nothing() -> None:
    mood = replace(MOOD, regions=(replace(REDS, share=99.0), replace(BLUES, share=0.01)))
    found = choose_for_mood(colours(*FOUR_REDS, *TWO_BLUES), mood, LOOKS, Wishes(size=1), rng())
    assert not isinstance(found, NoChoice)
    assert found.regions == (0,)


def test_pairs_that_may_not_meet_stay_apart() -> None:
    srgb1 = colours(*FOUR_REDS, *TWO_BLUES)
    free = choose_for_mood(srgb1, MOOD, LOOKS, Wishes(size=2), rng())
    assert not isinstance(free, NoChoice)
    one, other = free.choice.places
    never = tuple(int(place in (one, other)) for place in range(len(srgb1)))
    kept = choose_for_mood(srgb1, MOOD, LOOKS, Wishes(size=2, never_both=never), rng())
    assert not isinstance(kept, NoChoice)
    assert set(kept.choice.places) != {one, other}


def test_too_few_colours_are_no_palette() -> None:
    found = choose_for_mood(colours(*TWO_BLUES), MOOD, LOOKS, Wishes(size=4), rng())
    assert isinstance(found, NoChoice)
    assert found.why
