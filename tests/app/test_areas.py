"""Areas to point at: all beads once, outlines round them."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app.areas import Reach, area_numbers, areas, hull
from explorer.app.demo import demo
from explorer.changes import paint_strip_bead, tips
from explorer.counts import counts
from explorer.layout import loop_scene, strip_scene
from explorer.weave import weave

DESIGN = demo().piece.design


@pytest.mark.parametrize("scene", [strip_scene(DESIGN), loop_scene(DESIGN)], ids=["strip", "loop"])
@pytest.mark.parametrize("reach", list(Reach))
def test_every_bead_belongs_to_one_area(scene: object, reach: Reach) -> None:
    found = areas(DESIGN, scene, reach)  # type: ignore[arg-type] # one of our two scenes
    tally = counts(DESIGN)
    beads = tally.base_beads if reach is Reach.BASE else tally.dangle_beads
    assert sum(len(area.beads) for area in found) == beads
    many = {Reach.MOTIF: 11, Reach.DANGLE: 55, Reach.BEAD: tally.dangle_beads, Reach.BASE: 67}
    assert len({area.id for area in found}) == len(found) == many[reach]
    assert [area_numbers(a.id) for a in found] == sorted(area_numbers(a.id) for a in found)


def test_a_label_says_what_it_is() -> None:
    found = {a.id: a for a in areas(DESIGN, strip_scene(DESIGN), Reach.DANGLE)}
    assert found["m0.c2"].label == "Motif 1 of 11, dangle 3 of 5: 7 beads, Starfish Coral"
    assert found["m0.c2"].length == 7
    tipped = weave(tips(demo().piece.pattern, swatch=demo().tray.swatches[1]).pattern)
    found = {a.id: a for a in areas(tipped, strip_scene(tipped), Reach.DANGLE)}
    both = f"7 beads, Starfish Coral, {demo().tray.swatches[1].name}"
    assert found["m0.c2"].label == f"Motif 1 of 11, dangle 3 of 5: {both}"
    # A touched base bead is counted along the strip, dividers and motifs alike.
    touched = weave(paint_strip_bead(demo().piece.pattern, 6, demo().tray.swatches[0]).pattern)
    base = {a.id: a for a in areas(touched, strip_scene(touched), Reach.BASE)}
    assert base["s6"].label == f"Base bead 7 of 67: {demo().tray.swatches[0].name}"
    assert [a.id for a in base.values() if a.hex == demo().tray.swatches[0].hex] == ["s6"]


@given(
    st.lists(
        st.tuples(st.integers(-40, 40).map(float), st.integers(-40, 40).map(float)), min_size=3
    )
)
def test_the_hull_is_that_of_an_independent_library(points: list[tuple[float, float]]) -> None:
    # scipy's ConvexHull (Qhull, Barber, Dobkin and Huhdanpaa 1996) against Andrew's chains.
    from scipy.spatial import ConvexHull, QhullError

    ours = hull(points)
    try:
        theirs = ConvexHull(np.array(sorted(set(points))))
    except (QhullError, ValueError):
        # All on one line, or fewer than three: no area, whatever the corners.
        assert _area(ours) == 0.0
        return
    assert _area(ours) == pytest.approx(theirs.volume)


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(corners, (*corners[1:], *corners[:1]), strict=True)
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in pairs)) / 2.0


@pytest.mark.parametrize("text", ["", "m", "x1", "m1.b2", "m1.c2.b3.d4", "m1.c", "m-1", "m 1"])
def test_what_is_no_id_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="names no part"):
        area_numbers(text)
