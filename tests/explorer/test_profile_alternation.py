import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.profile_alternation import PATTERNS, alternate

A, B, C = (1, 2, 3), (4, 4), (5, 1, 5, 1)


def letters(profiles: int, motifs: int, pattern: str = "") -> str:
    kinds = alternate((A, B, C)[:profiles], motifs, pattern).kinds
    return "".join("ABC"[kind] for kind in kinds)


def test_patterns_that_suit_run_on() -> None:
    assert letters(1, 3) == "AAA"
    assert letters(2, 7) == "ABABABA"
    assert letters(3, 9) == "ABCBABCBA"
    assert not alternate((A, B, C), 9).turns
    assert alternate((A, B, C), 9).suits == (9,)


def test_other_numbers_turn_in_the_middle() -> None:
    assert letters(2, 6) == "ABAABA"
    assert letters(3, 7) == "ABCBCBA"
    found = alternate((A, B, C), 7)
    assert found.turns
    assert found.suits == (5, 9)
    assert alternate((A, B), 6).suits == (5, 7)


@given(st.integers(1, 3), st.integers(1, 60))
def test_both_ends_are_alike(profiles: int, motifs: int) -> None:
    found = alternate((A, B, C)[:profiles], motifs)
    assert len(found.profiles) == motifs
    assert found.kinds == found.kinds[::-1]
    assert found.profiles[0] == found.profiles[-1] == A
    plain = (PATTERNS[profiles - 1] * motifs)[:motifs]
    assert found.turns == (plain != plain[::-1])
    assert found.turns == ("".join("ABC"[kind] for kind in found.kinds) != plain)
    for suits in found.suits:
        assert not alternate((A, B, C)[:profiles], suits).turns


def test_one_sided_profiles_point_outward_at_both_ends() -> None:
    found = alternate((A, B), 5, mirrored=True)
    assert found.profiles == (A, B, A, B[::-1], A[::-1])


def test_a_pattern_of_ones_own() -> None:
    assert letters(2, 7, "a a b") == "AABABAA"
    assert letters(2, 6, "AAB") == "AABBAA"


@pytest.mark.parametrize(
    ("profiles", "motifs", "pattern", "field"),
    [
        ((), 5, "", "profiles"),
        ((A,) * 4, 5, "", "profiles"),
        ((A, B), 0, "", "motifs"),
        ((A, B), 5, "ABC", "pattern"),
        ((A, B), 5, "AA", "pattern"),
        ((A,), 5, "?", "pattern"),
    ],
)
def test_what_cannot_alternate_says_why(
    profiles: tuple[tuple[int, ...], ...], motifs: int, pattern: str, field: str
) -> None:
    with pytest.raises(BriefError) as caught:
        alternate(profiles, motifs, pattern)
    assert caught.value.field == field
