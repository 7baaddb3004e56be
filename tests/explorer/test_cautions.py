from typing import Any

import pytest

from explorer.cautions import LIGHT_MG_PER_MM, Topic, Wear, cautions
from explorer.design import Closure, Design, build
from explorer.ends import BREAKAWAY
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.finishes import Finish


def piece(
    hang: str, *profile: int, finish: Finish = Finish.OPAQUE, base: str = "cube 3", **changes: Any
) -> Design:
    kinds = bead_kinds()
    parts: dict[str, Any] = {
        "beads": (
            Bead(name="chalk", kind=kinds[base], hex="#eeeeee"),
            Bead(name="brick", kind=kinds[hang], hex="#aa2222", finish=finish),
            Bead(name="unused", kind=kinds[hang], hex="#22aa22", finish=Finish.DYED),
        ),
        "base": 0,
        "base_pitch_mm": kinds[base].ladder_pitch_mm,
        "profiles": (profile,),
        "order": (1, 1),
        "divider_base_beads": 1,
    }
    return build(**(parts | changes))


def topics(design: Design, wear: Wear = Wear.BRACELET) -> list[Topic]:
    return [caution.topic for caution in cautions(design, wear)]


def test_a_quiet_piece_has_none() -> None:
    assert cautions(piece("round 11/0", 2, 4, 2)) == ()


def test_crowding_says_where_how_and_what_to_do() -> None:
    (found,) = cautions(piece("round 11/0", 3, 3, base="cube 1.5"))
    assert found.topic is Topic.CROWDING
    assert "base beads 2 and 3 take 127 % of the room" in found.words
    assert "ruffle" in found.words
    assert "every second base bead" in found.remedy
    (touching,) = cautions(piece("round 8/0", 3, 3))
    assert "without a gap" in touching.words


@pytest.mark.parametrize(
    ("wear", "beads"), [(Wear.BRACELET, 9), (Wear.ANKLET, 16), (Wear.CHILD, 6)]
)
def test_the_drop_allowed_goes_by_wear(wear: Wear, beads: int) -> None:
    # 11/0: nine beads hang 13.7 mm, ten 15.15; sixteen 23.85, seventeen 25.3; six 9.35, seven 10.8
    safe = Closure(kind=BREAKAWAY)
    assert topics(piece("round 11/0", 1, beads, 1, closure=safe), wear) == []
    longer = cautions(piece("round 11/0", 1, beads + 1, 1, closure=safe), wear)
    assert [caution.topic for caution in longer] == [Topic.DROP]
    assert wear.value in longer[0].words


def test_long_light_neighbours_tangle() -> None:
    light = piece("round 15/0", 20, 20, 20)
    found = cautions(light, Wear.ANKLET)
    assert [caution.topic for caution in found] == [Topic.TANGLING]
    assert "in 4 places" in found[0].words
    # by hand: 20 beads of 1/280 g over 19 * 1.07 + 1.5 mm
    assert LIGHT_MG_PER_MM > 20 * 1000 / 280 / (19 * 1.07 + 1.5)
    assert topics(piece("round 15/0", 20, 2, 20), Wear.ANKLET) == []
    assert topics(piece("round 11/0", 16, 16, 16), Wear.ANKLET) == []


@pytest.mark.parametrize("finish", list(Finish))
def test_finishes_that_wear_on_skin(finish: Finish) -> None:
    wearing = {Finish.DYED, Finish.GALVANISED, Finish.SILVER_LINED, Finish.COLOUR_LINED}
    found = cautions(piece("round 11/0", 2, 4, 2, finish=finish), Wear.ANKLET)
    assert [caution.topic for caution in found] == [Topic.FINISH] * (finish in wearing)
    if found:
        assert found[0].words.startswith(f"brick ({finish.value})")


def test_no_magnets_for_a_child() -> None:
    design = piece("round 11/0", 2, 4, 2, closure=Closure(kind="magnetic clasp", length_mm=8.0))
    assert topics(design, Wear.CHILD) == [Topic.CLOSURE]
    assert topics(design, Wear.BRACELET) == []


@pytest.mark.parametrize(
    ("kind", "length_mm", "said"),
    [
        ("lobster clasp", 16.0, True),
        ("toggle clasp", 20.0, True),
        ("breakaway clasp", 20.0, False),
        # A tie of no length, which a design has where nothing is known of its closure.
        ("lobster clasp", 0.0, False),
    ],
)
def test_a_childs_closure_comes_open(kind: str, length_mm: float, said: bool) -> None:
    design = piece("round 11/0", 2, 4, 2, closure=Closure(kind=kind, length_mm=length_mm))
    assert topics(design, Wear.CHILD) == [Topic.CLOSURE] * said
    assert topics(design, Wear.ANKLET) == []
    for caution in cautions(design, Wear.CHILD):
        assert kind in caution.words
        assert "breakaway clasp" in caution.remedy
