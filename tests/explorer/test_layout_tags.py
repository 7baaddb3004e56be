"""Tags name beads and are read back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.design import Part, Place
from explorer.layout_tags import BeadTag, Spot, parse_tag, tag_of

numbers = st.integers(0, 19_999)


@given(
    st.builds(
        BeadTag,
        spot=st.sampled_from([Spot.MOTIF, Spot.DIVIDER, Spot.MARGIN]),
        index=numbers,
        column=numbers,
        bead=st.none() | st.integers(0, 199),
    )
    | st.builds(BeadTag, spot=st.just(Spot.LINK), index=st.integers(0, 1), column=numbers)
)
def test_a_tag_is_read_as_it_was_written(tag: BeadTag) -> None:
    assert parse_tag(str(tag)) == tag


def test_tags_look_as_promised() -> None:
    place = Place(part=Part.MOTIF, index=3, column=2)
    assert tag_of(place) == "m3.c2.base"
    assert tag_of(place, 1) == "m3.c2.b1"
    assert tag_of(Place(part=Part.DIVIDER, index=0, column=0), 0) == "d0.c0.b0"
    assert tag_of(Place(part=Part.MARGIN, index=1, column=4)) == "s1.c4.base"
    assert str(BeadTag(spot=Spot.LINK, index=0, column=1)) == "k0.1"


@pytest.mark.parametrize(
    "text",
    [
        "",
        "m1",
        "m1.c2",
        "x1.c2.base",
        "m1.c2.b",
        "m-1.c0.base",
        "k2.0",
        "m1.c2.base ",
        "m\u0661.c2.base",
    ],
)
def test_what_names_no_bead_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="names no bead"):
        parse_tag(text)
