import itertools
import math
from collections import Counter
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.profile_generator import (
    ProfileRules,
    all_profiles,
    count_profiles,
    longest_within,
    some_profiles,
    within_drop,
)
from explorer.profile_scores import drop_mm
from palettes.charts import bead_kinds

SEED = 20


def rows(found: np.ndarray) -> list[tuple[int, ...]]:
    return [tuple(row) for row in found.tolist()]


def brute(rules: ProfileRules) -> list[tuple[int, ...]]:
    """Every tuple that itertools can make, kept if it keeps the rules as they are written."""
    lengths = range(rules.least, rules.most + 1)
    return [
        row
        for row in itertools.product(lengths, repeat=rules.width)
        if (not rules.symmetric or row == row[::-1])
        and (rules.bead_budget is None or sum(row) <= rules.bead_budget)
        and (
            rules.greatest_step is None
            or all(abs(a - b) <= rules.greatest_step for a, b in itertools.pairwise(row))
        )
    ]


@st.composite
def small_rules(draw: st.DrawFn) -> ProfileRules:
    least = draw(st.integers(1, 3))
    return ProfileRules(
        width=draw(st.integers(1, 5)),
        least=least,
        most=least + draw(st.integers(0, 3)),
        symmetric=draw(st.booleans()),
        greatest_step=draw(st.none() | st.integers(0, 4)),
        bead_budget=draw(st.none() | st.integers(1, 30)),
    )


@given(small_rules())
def test_counted_and_listed_as_itertools_does(rules: ProfileRules) -> None:
    expected = brute(rules)
    assert count_profiles(rules) == len(expected)
    assert rows(all_profiles(rules)) == expected


@given(small_rules(), st.integers(1, 40), st.integers(0, 9))
def test_a_draw_is_different_profiles_that_keep_the_rules(
    rules: ProfileRules, most: int, seed: int
) -> None:
    expected = brute(rules)
    found = rows(some_profiles(rules, most, np.random.default_rng(seed)))
    assert len(found) == min(most, len(expected))
    assert set(found) <= set(expected)
    assert found == sorted(set(found))


def test_all_symmetric_profiles_of_seven() -> None:
    # closed form: four free places of eight lengths
    assert count_profiles(ProfileRules(width=7, most=8)) == 8**4 == 4096
    found = rows(all_profiles(ProfileRules(width=7, most=8)))
    assert len(set(found)) == 4096
    assert all(row == row[::-1] for row in found)


@pytest.mark.parametrize("width", [1, 2, 7, 20, 31])
def test_without_other_rules_the_count_is_a_power(width: int) -> None:
    assert count_profiles(ProfileRules(width=width, most=200, symmetric=False)) == 200**width
    assert count_profiles(ProfileRules(width=width, most=200)) == 200 ** ((width + 1) // 2)


@pytest.mark.parametrize(("width", "most", "budget"), [(31, 8, 100), (10, 20, 60), (5, 40, 41)])
def test_a_budget_counts_as_inclusion_and_exclusion(width: int, most: int, budget: int) -> None:
    # Closed form: x_1 + ... + x_w <= K with 0 <= x_i <= m - 1, so with one place more for the rest
    # sum over j of (-1)^j C(w, j) C(K - j m + w, w), K = budget - w.
    spare = budget - width
    expected = sum(
        (-1) ** j * math.comb(width, j) * math.comb(spare - j * most + width, width)
        for j in range(spare // most + 1)
        if spare >= j * most
    )
    rules = ProfileRules(width=width, most=most, symmetric=False, bead_budget=budget)
    assert count_profiles(rules) == expected


def test_steps_of_one_count_as_a_matrix_power() -> None:
    # walks on a path of eight knots where staying is allowed
    matrix = np.array([[int(abs(i - j) <= 1) for j in range(8)] for i in range(8)], dtype=object)
    walks = np.linalg.matrix_power(matrix, 30).sum()
    rules = ProfileRules(width=31, most=8, symmetric=False, greatest_step=1)
    assert count_profiles(rules) == walks
    assert walks > 2**40


def test_every_profile_is_drawn_equally_often() -> None:
    # A step rule makes a place-by-place draw uneven; ours must not be. Chi square with 24 degrees
    # of freedom passes 51.2 once in a thousand by chance, with 9 degrees 27.9 (common tables,
    # from memory).
    rules = ProfileRules(width=3, most=4, symmetric=False, greatest_step=1, bead_budget=11)
    expected = brute(rules)
    rng = np.random.default_rng(SEED)
    draws = 200 * len(expected)
    seen = Counter(rows(some_profiles(rules, 1, rng))[0] for _ in range(draws))
    assert len(expected) == 25
    assert set(seen) == set(expected)
    chi = sum((seen[row] - 200) ** 2 / 200 for row in expected)
    assert chi < 51.2


def test_every_pair_is_drawn_equally_often() -> None:
    rules = ProfileRules(width=1, most=5)
    rng = np.random.default_rng(SEED)
    seen = Counter(tuple(rows(some_profiles(rules, 2, rng))) for _ in range(2000))
    assert len(seen) == math.comb(5, 2)
    assert sum((n - 200) ** 2 / 200 for n in seen.values()) < 27.9


def test_the_same_seed_draws_the_same_from_more_than_any_memory_holds() -> None:
    rules = ProfileRules(width=31, most=12, symmetric=False, greatest_step=3, bead_budget=150)
    assert count_profiles(rules) > 10**15
    first = some_profiles(rules, 50, np.random.default_rng(SEED))
    assert first.shape == (50, 31)
    assert (first == some_profiles(rules, 50, np.random.default_rng(SEED))).all()
    assert first.min() >= 1
    assert first.max() <= 12
    assert np.abs(np.diff(first, axis=1)).max() <= 3
    assert first.sum(axis=1).max() <= 150


def test_rules_that_nothing_keeps_give_nothing() -> None:
    rules = ProfileRules(width=7, least=3, most=5, bead_budget=20)
    assert count_profiles(rules) == 0
    assert all_profiles(rules).shape == (0, 7)
    assert some_profiles(rules, 5, np.random.default_rng(SEED)).shape == (0, 7)
    with pytest.raises(ValueError, match="at least one"):
        some_profiles(rules, 0, np.random.default_rng(SEED))


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"width": 0}, "dangles"),
        ({"width": 32}, "dangles"),
        ({"least": 0}, "least"),
        ({"most": 0}, "most"),
        ({"greatest_step": -1}, "greatest_step"),
        ({"bead_budget": 0}, "bead_budget"),
        ({"bead_budget": 2.5}, "bead_budget"),
    ],
)
def test_bad_rules_name_their_field(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(BriefError) as caught:
        ProfileRules(**({"width": 7, "most": 6} | changes))
    assert caught.value.field == field


@given(st.floats(0.5, 300.0), st.sampled_from(sorted(bead_kinds())))
def test_the_longest_within_a_drop_is_the_longest(greatest_mm: float, name: str) -> None:
    hang, tip = bead_kinds()[name], bead_kinds()["round 8/0"]
    longest = longest_within(greatest_mm, hang, tip)
    if longest:
        assert drop_mm(longest, hang, tip) <= greatest_mm + 1e-5
    if longest < 200:
        assert drop_mm(longest + 1, hang, tip) > greatest_mm


def test_an_exact_drop_is_not_lost() -> None:
    hang = bead_kinds()["round 11/0"]
    for beads in range(1, 60):
        assert longest_within(drop_mm(beads, hang), hang) == beads


def test_a_drop_that_no_dangle_keeps_is_the_makers_to_mend() -> None:
    hang = bead_kinds()["round 11/0"]
    rules = ProfileRules(width=7, least=2, most=9)
    assert within_drop(rules, 9.35, hang).most == 6
    assert within_drop(rules, 90.0, hang) == rules
    for bad in (3.0, 0.0, -1.0, math.nan):
        with pytest.raises(BriefError) as caught:
            within_drop(rules, bad, hang)
        assert caught.value.field == "drop"
