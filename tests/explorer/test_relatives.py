"""A saved piece as a recipe to find relatives of."""

from dataclasses import replace

import pytest

from explorer.design import Design, build
from explorer.profile import Shape, profile
from explorer.relatives import motif_beads_of, recipe_of
from explorer.sequence_types import Arrangement
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
BEADS = (
    Bead(name="ground", kind=KINDS["cube 1.8"], hex="#eeeeee"),
    *(
        Bead(name=n, kind=KINDS["round 11/0"], hex=h)
        for n, h in (("a", "#aa2222"), ("b", "#2222aa"))
    ),
)


def piece(*profiles: tuple[int, ...], order: tuple[int, ...] = (2, 1, 1)) -> Design:
    return build(
        beads=BEADS,
        base=0,
        base_pitch_mm=1.95,
        profiles=profiles,
        order=order,
        divider_base_beads=2,
        margins=(1, 2),
    )


@pytest.mark.parametrize("shape", [Shape.PEAK, Shape.VALLEY, Shape.ZIGZAG])
def test_a_plain_piece_is_read_as_what_it_was_made_from(shape: Shape) -> None:
    design = piece(profile(shape, 7, 2, 6))
    found = recipe_of(design)
    assert (found.outline, found.profile, found.second) == (
        shape.value,
        profile(shape, 7, 2, 6),
        (),
    )
    assert (found.repeat.dangles, found.repeat.divider, found.repeat.margins) == (7, 2, 3)
    # Colours count in order of first use.
    assert motif_beads_of(design) == (2, 1)
    assert (found.palette, found.order) == ((0, 1), (0, 1, 1))
    assert found.arrangement is Arrangement.FREE


def test_a_mirrored_order_and_two_profiles_in_turn_are_seen() -> None:
    found = recipe_of(piece((1, 3, 1), (3, 1, 3), order=(1, 2, 1)))
    assert found.arrangement is Arrangement.MIRROR
    assert (found.profile, found.second) == ((1, 3, 1), (3, 1, 3))


def test_an_outline_of_no_shape_is_the_makers_own() -> None:
    assert recipe_of(piece((5, 1, 1, 2, 9))).outline == "your own profile"


def test_second_profiles_of_another_width_or_of_many_kinds_are_left_out() -> None:
    one, other = piece((1, 3, 1)).motifs[0], piece((2, 4)).motifs[0]
    base = piece((1, 3, 1))
    assert recipe_of(replace(base, motifs=(one, other, one))).second == ()
