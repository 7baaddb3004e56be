"""The measures of spread, against every way that a colour's uses can stand."""

from fractions import Fraction
from itertools import combinations

import pytest

from explorer.sequence_spread import least_distance, least_shortfall, most_distance, shortfall


def placings(uses: int, places: int) -> list[tuple[int, ...]]:
    """Every order with so many uses of colour 0, all other places of colours of their own."""
    found = []
    for chosen in combinations(range(places), uses):
        others = iter(range(1, places + 1))
        found.append(tuple(0 if place in chosen else next(others) for place in range(places)))
    return found


@pytest.mark.parametrize("ring", [False, True])
@pytest.mark.parametrize("places", range(3, 10))
def test_the_least_shortfall_is_the_best_of_all_placings(places: int, ring: bool) -> None:
    for uses in range(1, places + 1):
        best = min(shortfall(order, ring=ring) for order in placings(uses, places))
        assert least_shortfall(uses, places, ring=ring) == best


@pytest.mark.parametrize("ring", [False, True])
@pytest.mark.parametrize("places", range(3, 10))
def test_the_most_distance_is_that_of_the_best_placing(places: int, ring: bool) -> None:
    for uses in range(2, places + 1):
        distances = [least_distance(order, ring=ring) or places for order in placings(uses, places)]
        assert most_distance((uses,), places, places, ring=ring) == max(distances)


def test_shortfalls_by_hand() -> None:
    # Two uses over six places stand three apart where they are even.
    assert shortfall((0, 1, 2, 0, 3, 4), ring=False) == 0
    assert shortfall((0, 1, 2, 0, 3, 4), ring=True) == 0
    assert shortfall((0, 1, 0, 2, 3, 4), ring=False) == 1
    # Three uses over seven places: 7/3 apart where even; gaps of 2 and 5 round the ring.
    assert shortfall((0, 1, 0, 2, 0, 3, 4), ring=True) == 2 * Fraction(1, 3) ** 2
    assert least_distance((0, 1, 2, 3), ring=True) is None
    # Six places of three colours: within any four in a row one comes twice.
    assert most_distance((1, 1, 1), 6, 3, ring=False) == 3
