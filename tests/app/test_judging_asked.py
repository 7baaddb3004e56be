"""Whose eyes, which lights, over what, from how far: choices as text and what they come to."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app.parts.judging_asked import (
    DEFAULT,
    OWN,
    SEVERITIES,
    Asked,
    from_text,
    meant,
    to_text,
)
from explorer.contrast import looks_of
from palettes.charts import skin_tones
from palettes.lights import Light
from palettes.vision import Sight

choices = st.builds(
    Asked,
    sights=st.sets(st.sampled_from(Sight)).map(lambda s: tuple(x for x in Sight if x in s)),
    severity=st.sampled_from(SEVERITIES),
    lights=st.sets(st.sampled_from(Light)).map(lambda s: tuple(x for x in Light if x in s)),
    behind=st.sampled_from(["", OWN, *(skin.name for skin in skin_tones())]),
    own=st.text("0123456789abcdef#xyz ", max_size=12),
    distance=st.text("0123456789.,/ mcin", max_size=12),
)


@given(choices)
def test_choices_come_back_from_the_address(asked: Asked) -> None:
    assert from_text(to_text(asked)) == asked


@given(st.text(max_size=60) | st.from_regex(r"([a-z 0-9]*~){5}[a-z]*", fullmatch=True))
def test_whatever_stands_in_the_address_gives_choices(text: str) -> None:
    understood = meant(from_text(text))
    assert understood.looks
    assert all(fault.field in {"backing", "distance"} for fault in understood.faults)


def test_the_usual_choices_leave_the_address_alone() -> None:
    assert to_text(DEFAULT) == ""
    assert from_text("") == DEFAULT


def test_choices_mean_conditions_backing_and_distance() -> None:
    asked = Asked(
        sights=(Sight.TYPICAL, Sight.DEUTAN, Sight.GREY),
        severity=60,
        lights=(Light.DAYLIGHT, Light.LED),
        behind=OWN,
        own="D7BD96",
        distance="4 m",
    )
    understood = meant(asked)
    assert understood.looks == looks_of("typical,deutan:0.6,grey", "daylight,led")
    assert understood.backing == "#d7bd96"
    assert understood.distance_m == 4.0
    assert understood.faults == ()


@pytest.mark.parametrize("typed", ["0", "-1 m", "1e3", "4 furlongs", "1 mm", "200 m", "nan"])
def test_a_distance_that_cannot_be_says_what_was_typed(typed: str) -> None:
    (fault,) = meant(Asked(distance=typed)).faults
    assert fault.field == "distance"
    assert fault.got == typed


def test_a_backing_that_is_no_colour_says_what_was_typed() -> None:
    (fault,) = meant(Asked(behind=OWN, own="teal")).faults
    assert (fault.field, fault.got) == ("backing", "teal")
    assert meant(Asked(behind=OWN, own=" ")).faults == ()
    assert meant(Asked(behind="skin 6", own="teal")).backing == skin_tones()[5].hex


def test_only_colour_blind_types_have_a_severity() -> None:
    looks = meant(Asked(sights=tuple(Sight), severity=40, lights=(Light.LED,))).looks
    assert looks == looks_of("typical,protan:0.4,deutan:0.4,tritan:0.4,grey", "led")


def test_nobody_chosen_is_most_people_in_daylight() -> None:
    assert meant(Asked(sights=(), lights=())).looks == looks_of()
