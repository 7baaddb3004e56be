import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.errors import BriefError
from explorer.profile import (
    MOST_WIDTH,
    Shape,
    check_profile,
    profile,
)

# The shapes that are not their own mirror image; every other one is, exactly.
ONE_SIDED = frozenset({Shape.SLOPE, Shape.SWEEP, Shape.WAVE})
widths = st.integers(1, MOST_WIDTH)
limits = st.tuples(st.integers(1, 200), st.integers(1, 200)).map(sorted)


def test_the_worked_peak() -> None:
    # common practice, no source: a peak of seven dangles; 20 beads worked out by us
    lengths = profile(Shape.PEAK, 7, 1, 6)
    assert lengths == (1, 2, 4, 6, 4, 2, 1)
    assert sum(lengths) == 20


@given(st.sampled_from(Shape), widths, limits)
def test_every_shape_fills_its_limits_and_no_more(
    shape: Shape, width: int, limits: list[int]
) -> None:
    least, most = limits
    lengths = profile(shape, width, least, most)
    assert len(lengths) == width
    assert max(lengths) == most
    assert least <= min(lengths)
    if len(set(lengths)) > 1:
        assert min(lengths) == least


@given(st.sampled_from(sorted(set(Shape) - ONE_SIDED)), widths, limits)
def test_symmetrical_shapes_are_exactly_so(shape: Shape, width: int, limits: list[int]) -> None:
    lengths = profile(shape, width, *limits)
    assert lengths == lengths[::-1]


@pytest.mark.parametrize("shape", sorted(ONE_SIDED))
def test_one_sided_shapes_are_not(shape: Shape) -> None:
    lengths = profile(shape, 9, 1, 8)
    assert lengths != lengths[::-1]


def test_every_shape_differs_from_every_other_where_there_is_room() -> None:
    assert len({profile(shape, 11, 1, 9) for shape in Shape}) == len(Shape)


@given(widths, limits)
def test_flanks_never_turn_back(width: int, limits: list[int]) -> None:
    half = (width + 1) // 2
    for shape in (Shape.PEAK, Shape.ARCH, Shape.BELL, Shape.STEPS, Shape.LONG_DROP):
        flank = profile(shape, width, *limits)[:half]
        assert list(flank) == sorted(flank)
    for shape in (Shape.VALLEY, Shape.SCOOP):
        flank = profile(shape, width, *limits)[:half]
        assert list(flank) == sorted(flank, reverse=True)
    for shape in (Shape.SLOPE, Shape.SWEEP):
        lengths = profile(shape, width, *limits)
        assert list(lengths) == sorted(lengths)


@pytest.mark.parametrize(
    ("width", "least", "most", "field"),
    [
        (0, 1, 6, "dangles"),
        (32, 1, 6, "dangles"),
        (-3, 1, 6, "dangles"),
        (True, 1, 6, "dangles"),
        (7, 0, 6, "least"),
        (7, 201, 300, "least"),
        (7, 4, 3, "most"),
        (7, 1, 201, "most"),
    ],
)
def test_limits_out_of_range_are_the_makers_to_mend(
    width: int, least: int, most: int, field: str
) -> None:
    with pytest.raises(BriefError) as caught:
        profile(Shape.PEAK, width, least, most)
    assert caught.value.field == field
    assert caught.value.wanted
    assert caught.value.remedy


def test_a_typed_profile_is_taken_as_it_stands() -> None:
    assert check_profile([3]) == (3,)
    assert check_profile((1,) * 31) == (1,) * 31


@pytest.mark.parametrize(
    ("typed", "got"),
    [
        ([], "0 dangles"),
        ([1] * 32, "32 dangles"),
        ([1, 0, 1], "0 for dangle 2 of 3"),
        ([1, -2], "-2 for dangle 2 of 2"),
        ([1, 2.5], "2.5 for dangle 2 of 2"),
        ([201], "201 for dangle 1 of 1"),
    ],
)
def test_a_bad_typed_profile_says_what_it_got(typed: list[int], got: str) -> None:
    with pytest.raises(BriefError) as caught:
        check_profile(typed)
    assert (caught.value.field, caught.value.got) == ("profile", got)
