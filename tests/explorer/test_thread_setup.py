"""The maker's thread and needle: usual sizes, limits, and slack in words."""

import math
from typing import Any

import pytest

from explorer.errors import BriefError
from explorer.thread_setup import NEEDLES_MM, THREADS_MM, ThreadSetup


def test_the_usual_setup_is_made_of_sizes_on_sale() -> None:
    usual = ThreadSetup()
    assert usual.needle_mm == dict(NEEDLES_MM)["12"]
    assert usual.thread_mm == dict(THREADS_MM)["braided 6 lb"]
    assert usual.slack_words == "half a bead of slack"
    # A wingspan (How Much Thread??, baublesbybalonis.blogspot.com, August 2016) of 1.5 to 1.8 m
    # (from memory), and a size 10 needle of 0.46 mm (Threading the Details, beads.co).
    assert 1500.0 <= usual.working_mm <= 1800.0
    assert dict(NEEDLES_MM)["10"] == 0.46
    # common practice, no source: higher numbers are thinner needles. Threads go from thin to thick.
    numbers = [int(size) for size, _ in NEEDLES_MM]
    needles = [mm for _, mm in NEEDLES_MM]
    threads = [mm for _, mm in THREADS_MM]
    assert numbers == sorted(numbers)
    assert needles == sorted(needles, reverse=True)
    assert threads == sorted(threads)


@pytest.mark.parametrize(
    ("beads", "words"),
    [
        (0.0, "no slack"),
        (0.5, "half a bead of slack"),
        (1.0, "one bead of slack"),
        (1.5, "1.5 beads of slack"),
    ],
)
def test_slack_in_words(beads: float, words: str) -> None:
    assert ThreadSetup(slack_beads=beads).slack_words == words


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"thread_mm": 0.0}, "thread"),
        ({"thread_mm": math.nan}, "thread"),
        ({"needle_mm": 36.0}, "needle"),
        ({"working_mm": -1.0}, "working_length"),
        ({"working_mm": 1.65}, "working_length"),
        ({"tail_mm": -5.0}, "tail"),
        ({"closure_tail_mm": math.inf}, "closure_tail"),
        ({"allowance": 10.0}, "allowance"),
        ({"slack_beads": -0.5}, "slack"),
        ({"rounds": 0}, "rounds"),
        ({"rounds": 2.5}, "rounds"),
        ({"weave_beads": 0}, "weave_beads"),
    ],
)
def test_a_bad_setup_names_its_field(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(BriefError) as caught:
        ThreadSetup(**changes)
    assert caught.value.field == field
