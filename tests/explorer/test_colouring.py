"""Colour within a motif."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.colouring import Colouring, paint

PROFILE = (2, 4, 5, 4, 2)


def test_each_colouring_is_what_its_words_say() -> None:
    a, b = 7, 9
    assert paint(PROFILE, [a, b], Colouring.PLAIN) == tuple((a,) * n for n in PROFILE)
    assert paint(PROFILE, [a, b], Colouring.TIPS) == tuple((a,) * (n - 1) + (b,) for n in PROFILE)
    assert paint((5,), [a, b], Colouring.BANDS) == ((a, a, b, b, a),)
    assert paint((1, 1, 1, 1, 1), [a, b], Colouring.STRIPES) == ((a,), (b,), (a,), (b,), (a,))
    assert paint((4,), [a, b], Colouring.FADE) == ((a, a, b, b),)
    assert paint((3, 3, 3), [a, b], Colouring.HEART) == ((b, b, b), (a, a, b), (b, b, b))


@given(
    st.lists(st.integers(1, 12), min_size=1, max_size=15),
    st.lists(st.integers(0, 40), min_size=1, max_size=4),
    st.sampled_from(Colouring),
)
def test_painting_keeps_the_profile_and_uses_only_the_beads_given(
    profile: list[int], beads: list[int], colouring: Colouring
) -> None:
    painted = paint(profile, beads, colouring)
    assert [len(dangle) for dangle in painted] == profile
    assert {bead for dangle in painted for bead in dangle} <= set(beads)


@given(st.lists(st.integers(1, 8), min_size=1, max_size=7), st.sampled_from(Colouring))
def test_a_symmetric_profile_is_painted_symmetrically(
    half: list[int], colouring: Colouring
) -> None:
    painted = paint(half + half[::-1], [0, 1, 2], colouring)
    assert painted == painted[::-1]


def test_no_bead_is_refused() -> None:
    with pytest.raises(ValueError, match="got none"):
        paint(PROFILE, [], Colouring.PLAIN)
