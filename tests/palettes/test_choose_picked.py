"""What is told of a palette as found."""

from itertools import combinations

from coloraide import Color

from palettes.choose_picked import Proof, picked
from palettes.viewing import TYPICAL_DAYLIGHT, Condition
from palettes.vision import Sight, Viewer

HEXES = ("#c9292e", "#3d7a5c", "#f4f2ea", "#b8382f", "#1b2f58")
UNPROVED = Proof()


def test_the_two_most_alike_are_named() -> None:
    found = picked(HEXES, [TYPICAL_DAYLIGHT], UNPROVED)
    nearest = min(
        combinations(range(len(HEXES)), 2),
        key=lambda two: Color(HEXES[two[0]]).delta_e(Color(HEXES[two[1]]), method="2000"),
    )
    assert found.most_alike == nearest == (0, 3)


def test_the_two_most_alike_are_so_for_the_worst_of_the_eyes() -> None:
    grey = Condition(viewer=Viewer(sight=Sight.GREY))
    # Red and green of one lightness: far apart in colour, alike in a grey photo.
    hexes = ("#d03030", "#3d8a3c", "#f07878")
    assert picked(hexes, [TYPICAL_DAYLIGHT], UNPROVED).most_alike == (0, 2)
    assert picked(hexes, [TYPICAL_DAYLIGHT, grey], UNPROVED).most_alike == (0, 1)


def test_one_colour_is_like_no_other() -> None:
    assert picked(HEXES[:1], [TYPICAL_DAYLIGHT], UNPROVED).most_alike is None
