from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.brief import DEFAULT_BASE, DEFAULT_HANGING
from explorer.crowding import Touch, check_width, crowding, touch_of, usual_hanging
from explorer.design import Column, Design, build, of_columns
from explorer.errors import BriefError
from palettes.beads import Bead
from palettes.charts import bead_kinds


def fringe(base: str, hang: str, *profile: int, **changes: Any) -> Design:
    kinds = bead_kinds()
    parts: dict[str, Any] = {
        "beads": (
            Bead(name="chalk", kind=kinds[base], hex="#eeeeee"),
            Bead(name="brick", kind=kinds[hang], hex="#aa2222"),
            Bead(name="drop", kind=kinds["drop 3.4"], hex="#2222aa"),
        ),
        "base": 0,
        "base_pitch_mm": kinds[base].pitch_mm,
        "profiles": (profile,),
        "order": (1,),
        "divider_base_beads": 0,
    }
    return build(**(parts | changes))


@pytest.mark.parametrize(
    ("hang", "base", "ratio", "touch"),
    [
        # worked out: width over pitch, at a pitch as wide as the base bead
        ("round 11/0", "cube 1.8", 1.17, Touch.RUFFLES),
        ("round 15/0", "cube 1.8", 0.83, Touch.FREE),
        ("round 11/0", "cube 3", 0.70, Touch.FREE),
        ("round 8/0", "cube 3", 1.00, Touch.TOUCHING),
    ],
)
def test_worked_ratios(hang: str, base: str, ratio: float, touch: Touch) -> None:
    found = crowding(fringe(base, hang, 3, 5, 3))
    assert found.ratio == pytest.approx(ratio, abs=0.005)
    assert found.touch is touch
    assert found.columns == (0, 1)


def test_the_measured_pitch_counts_and_not_the_catalogues() -> None:
    found = crowding(fringe("cube 1.8", "round 11/0", 3, 5, 3, base_pitch_mm=1.95))
    assert found.ratio == pytest.approx(2.1 / 1.95)
    assert found.touch is Touch.TOUCHING


def test_limits_belong_to_the_milder_word() -> None:
    assert touch_of(0.9) is Touch.FREE
    assert touch_of(0.91) is Touch.TOUCHING
    assert touch_of(3.3 / 3.0) is Touch.TOUCHING
    assert touch_of(1.11) is Touch.RUFFLES


def test_every_second_base_bead_gives_twice_the_room() -> None:
    close = fringe("cube 1.8", "round 11/0", 4, 4, 4, 4)
    spread = fringe("cube 1.8", "round 11/0", 4, order=(1, 1, 1), divider_base_beads=1)
    assert crowding(spread).ratio == pytest.approx(crowding(close).ratio / 2)
    assert crowding(spread).columns == (1, 3)


def test_a_large_tip_crowds_only_where_its_neighbour_reaches() -> None:
    def tipped(*lengths: int) -> Design:
        design = fringe("cube 1.8", "round 15/0", *lengths)
        motif = tuple(Column(base=0, beads=(*column.beads[:-1], 2)) for column in design.motifs[0])
        return of_columns(
            beads=design.beads, base_pitch_mm=1.8, motifs=(motif,), dividers=design.dividers
        )

    assert crowding(tipped(6, 6)).ratio == pytest.approx(3.4 / 1.8)
    # tips clear of each other: 1.07 a bead, so nine beads lower is 9.6 mm, a tip is 3.4 high
    assert crowding(tipped(2, 11)).ratio == pytest.approx((1.5 + 3.4) / 2 / 1.8)
    # past a short dangle, the tips of two long ones meet over two pitches
    assert crowding(tipped(11, 1, 11)).ratio == pytest.approx(max((1.5 + 3.4) / 2 / 1.8, 3.4 / 3.6))


def test_beads_that_only_meet_at_a_corner_do_not_crowd() -> None:
    plain = fringe("cube 1.8", "round 11/0", 1)
    wide = replace(plain.beads[1].kind, name="wide", diameter_mm=3.0)
    beads = (*plain.beads[:2], replace(plain.beads[1], kind=wide))
    for first, second in (((2, 1, 1), (1, 2, 1)), ((1, 2, 1), (2, 1, 1))):
        motif = (Column(base=0, beads=first), Column(base=0, beads=second))
        design = of_columns(beads=beads, base_pitch_mm=1.8, motifs=(motif,), dividers=((), ()))
        assert crowding(design).ratio == pytest.approx((3.0 + 2.1) / 2 / 1.8)


def test_one_dangle_crowds_nothing() -> None:
    found = crowding(fringe("cube 3", "round 8/0", 5))
    assert (found.ratio, found.touch, found.columns) == (0.0, Touch.FREE, None)


def brute(design: Design) -> float:
    """Every pair of beads of neighbours up to two apart, compared by their heights."""
    worst = 0.0
    columns = [column.beads for _, column in design.columns()]
    for i, k in ((i, i + gap) for gap in (1, 2) for i in range(len(columns) - gap)):
        for top_a, low_a, wide_a in spans(design, columns[i]):
            for top_b, low_b, wide_b in spans(design, columns[k]):
                if min(low_a, low_b) - max(top_a, top_b) > 1e-6:
                    room = (k - i) * design.base_pitch_mm
                    worst = max(worst, (wide_a + wide_b) / 2 / room)
    return worst


def spans(design: Design, beads: tuple[int, ...]) -> list[tuple[float, float, float]]:
    kinds = [design.beads[bead].kind for bead in beads]
    tops = [sum(kind.pitch_mm for kind in kinds[:i]) for i in range(len(kinds))]
    highs = [kind.pitch_mm for kind in kinds[:-1]] + [kind.diameter_mm for kind in kinds[-1:]]
    return [
        (top, top + high, kind.diameter_mm)
        for top, high, kind in zip(tops, highs, kinds, strict=True)
    ]


@given(st.lists(st.lists(st.integers(0, 2), min_size=1, max_size=7), min_size=1, max_size=5))
def test_crowding_against_every_pair(dangles: list[list[int]]) -> None:
    plain = fringe("cube 1.8", "round 11/0", 1)
    motif = tuple(Column(base=0, beads=tuple(beads)) for beads in dangles)
    design = of_columns(beads=plain.beads, base_pitch_mm=1.95, motifs=(motif,), dividers=((), ()))
    assert crowding(design).ratio == pytest.approx(brute(design))


def test_a_bead_wider_than_the_strip_is_refused() -> None:
    kind = bead_kinds()["cube 4"]
    check_width(kind, 4.0)
    with pytest.raises(BriefError) as caught:
        check_width(kind, 3.9)
    assert caught.value.field == "hanging"


def test_every_base_begins_with_the_largest_usual_round_that_does_not_crowd() -> None:
    kinds = bead_kinds()
    sizes = [kinds[f"round {size}/0"] for size in (6, 8, 11, 15)]
    for base in kinds.values():
        partner = usual_hanging(base)
        pitch = {"base_pitch_mm": base.ladder_pitch_mm}
        assert (
            crowding(fringe(base.name, partner.name, 3, 5, 3, **pitch)).touch is not Touch.RUFFLES
        )
        for larger in sizes[: sizes.index(partner)]:
            crowded = crowding(fringe(base.name, larger.name, 3, 5, 3, **pitch))
            assert crowded.touch is Touch.RUFFLES


def test_usual_partners() -> None:
    kinds = bead_kinds()
    assert usual_hanging(kinds[DEFAULT_BASE]).name == DEFAULT_HANGING
    # common practice, no source
    pairs = {"cube 1.5": "15/0", "cube 1.8": "11/0", "cube 3": "8/0", "cube 4": "6/0"}
    for base, size in pairs.items():
        assert usual_hanging(kinds[base]).name == f"round {size}"
    # Where everything crowds, what crowds least.
    tiny = replace(kinds["cube 1.5"], ladder_pitch_mm=0.8)
    assert usual_hanging(tiny).name == "round 15/0"
