"""A design that cannot be woven is refused, whoever makes it."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.counts import counts
from explorer.crowding import crowding
from explorer.design import (
    MOST_BASE_BEADS,
    MOST_DANGLE_BEADS,
    MOST_DIVIDER_BEADS,
    MOST_LINKS,
    Column,
    Design,
    Port,
    Strand,
    Unit,
    build,
)
from explorer.layout import rows_scene, strip_scene
from explorer.thread_path import Step, path
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead
from palettes.charts import bead_kinds
from tests.explorer.columns import with_columns

PLAIN = build(
    beads=(
        Bead(name="ground", kind=bead_kinds()["cube 1.8"], hex="#eeeeee"),
        Bead(name="one", kind=bead_kinds()["round 11/0"], hex="#aa2222"),
    ),
    base=0,
    base_pitch_mm=1.95,
    profiles=((2, 3, 2),),
    order=(1, 1),
    divider_base_beads=1,
)
BARE = Column(base=0)


def hung(beads: int) -> Column:
    return Column(base=0, beads=(1,) * beads)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"motifs": ((), PLAIN.motifs[0])}, "every dangle a bead"),
        ({"motifs": ((hung(2), BARE), PLAIN.motifs[0])}, "every dangle a bead"),
        (
            {"dividers": (*PLAIN.dividers[:2], (hung(MOST_DIVIDER_BEADS + 1),))},
            f"at most {MOST_DIVIDER_BEADS} small beads",
        ),
        ({"end_margin": (hung(1),)}, "nothing hangs from a margin"),
        ({"start_links": (1,) * (MOST_LINKS + 1)}, f"at most {MOST_LINKS} link beads"),
        ({"start_margin": (BARE,) * MOST_BASE_BEADS}, f"at most {MOST_BASE_BEADS} base beads"),
        ({"end_links": (2,)}, "2"),
    ],
)
def test_what_cannot_be_woven_is_refused(changes: dict[str, object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        with_columns(PLAIN, **changes)


def test_the_limits_themselves_are_woven() -> None:
    room = MOST_BASE_BEADS - PLAIN.base_beads
    full = with_columns(
        PLAIN,
        start_margin=(BARE,) * room,
        start_links=(1,) * MOST_LINKS,
        dividers=(*PLAIN.dividers[:2], (hung(MOST_DIVIDER_BEADS),)),
    )
    assert full.base_beads == MOST_BASE_BEADS
    hung(MOST_DANGLE_BEADS)
    with pytest.raises(ValueError, match=f"at most {MOST_DANGLE_BEADS} beads"):
        hung(MOST_DANGLE_BEADS + 1)


def test_columns_are_a_view_of_units_and_strands(designs: st.SearchStrategy[Design]) -> None:
    @given(designs)
    def check(design: Design) -> None:
        again = with_columns(design)
        assert again == design
        columns = [column for _, column in design.columns()]
        assert [column.base for column in columns] == [unit.beads[0] for unit in design.units]
        hanging = {at: column.beads for at, column in enumerate(columns) if column.beads}
        assert {strand.starts.bead: strand.beads for strand in design.strands} == hanging
        assert design.edges_mm[-1] == design.strip_mm == design.base_beads * design.base_pitch_mm

    check()


def changed(number: int, **changes: object) -> tuple[Strand, ...]:
    """The plain piece's strands, one of them otherwise."""
    strands = list(PLAIN.strands)
    strands[number] = replace(strands[number], **changes)  # type: ignore[arg-type]  # by name
    return tuple(strands)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"strands": changed(2, starts=Port(strand=2, bead=0))}, "strand 2 names strand 2"),
        ({"strands": changed(2, starts=Port(strand=3, bead=0))}, "strand 2 names strand 3"),
        ({"strands": changed(2, starts=Port(strand=1, bead=9))}, "strand 2 names bead 9 of 3"),
        ({"strands": changed(2, starts=Port(bead=99))}, f"bead 99 of {PLAIN.base_beads}"),
        ({"strands": changed(2, starts=Port(bead=-1))}, "bead -1"),
        ({"strands": changed(2, ends=Port(bead=99))}, "bead 99"),
        ({"strands": changed(2, ends=Port(bead=2))}, "hang free from the base"),
        ({"strands": changed(2, starts=Port(strand=1, bead=2))}, "hang free from the base"),
        ({"strands": (*PLAIN.strands, PLAIN.strands[0])}, "hangs one dangle"),
        ({"strands": PLAIN.strands[1:]}, "every dangle a bead"),
        ({"strands": changed(0, beads=(7,))}, "bead numbers run from 0 to 1"),
        ({"units": PLAIN.units[1:]}, f"{PLAIN.base_beads - 1} base beads"),
        ({"margins": (1, 0)}, f"not {PLAIN.base_beads + 1} in all parts"),
        ({"margins": (-1, 1)}, "base beads are not"),
        ({"motif_widths": (6,)}, "1 motifs stand between 2 dividers"),
        ({"motif_widths": ()}, "at least one motif"),
    ],
)
def test_units_and_strands_that_make_no_strip_are_refused(
    changes: dict[str, object], told: str
) -> None:
    with pytest.raises(ValueError, match=told):
        replace(PLAIN, **changes)  # type: ignore[arg-type]  # by name


def test_what_one_unit_or_strand_cannot_be_is_refused() -> None:
    for pitch_mm in (0.0, 51.0, float("nan")):
        with pytest.raises(ValueError, match=r"takes 0\.1 to 50 mm"):
            Unit(beads=(0,), pitch_mm=pitch_mm)
    none: tuple[int, ...] = ()
    for beads in (none, (0, 0)):
        with pytest.raises(ValueError, match="one bead a stitch"):
            Unit(beads=beads, pitch_mm=2.0)
    for beads in (none, (1,) * (MOST_DANGLE_BEADS + 1)):
        with pytest.raises(ValueError, match=f"1 to {MOST_DANGLE_BEADS} beads"):
            Strand(starts=Port(bead=0), beads=beads)


# A strip whose base beads differ in size: cubes of 1.8 mm, and of 3 mm under the second motif.
PITCHES_MM = (1.95, 1.95, 1.95, 1.95, 1.95, 3.1, 3.1, 3.1, 1.95)
MIXED = replace(
    PLAIN,
    beads=(*PLAIN.beads, Bead(name="large", kind=bead_kinds()["cube 3"], hex="#dddddd")),
    units=tuple(
        Unit(beads=(2 if pitch_mm > 2.0 else 0,), pitch_mm=pitch_mm) for pitch_mm in PITCHES_MM
    ),
)


def test_pitches_mix_and_every_place_follows() -> None:
    edges = [sum(PITCHES_MM[:at]) for at in range(10)]
    assert MIXED.edges_mm == pytest.approx(edges)
    assert MIXED.strip_mm == pytest.approx(sum(PITCHES_MM))
    assert MIXED.base_pitch_mm == pytest.approx(sum(PITCHES_MM) / 9)
    assert MIXED.along_mm((-1, 0, 0.5, 5, 5.5, 8.5, 9, 10)) == pytest.approx(
        [-1.95, 0.0, 0.975, edges[5], edges[5] + 1.55, edges[8] + 0.975, edges[9], edges[9] + 1.95]
    )
    assert MIXED.along_mm((0.5, 4), 5) == pytest.approx([1.55, 3 * 3.1 + 1.95])


def test_a_strip_of_mixed_pitches_is_drawn_where_it_is_threaded() -> None:
    middles = [sum(PITCHES_MM[:at]) + PITCHES_MM[at] / 2 for at in range(9)]
    scene = strip_scene(MIXED, hang="regular")
    base = [bead.x_mm for bead in scene.beads if bead.tag.endswith("base")]
    assert sorted(base) == pytest.approx(middles)
    # Under every dangle's base bead, and nowhere else, its beads.
    rest = {round(bead.x_mm, 6) for bead in scene.beads if not bead.tag.endswith("base")}
    assert rest == {round(middles[at], 6) for at in (1, 2, 3, 5, 6, 7)}
    rows = rows_scene(MIXED, rows=2, hang="regular")
    second = sorted(b.x_mm for b in rows.beads if b.tag.endswith("base") and b.y_mm > 0.0)
    assert second == pytest.approx([at - sum(PITCHES_MM[:4]) for at in middles[4:]])
    # The thread crosses from hole to hole: three times a new bead, once on the way back.
    legs = path(MIXED, ThreadSetup(slack_beads=0.0))
    apart = [b - a for a, b in pairwise(middles)]
    ladder = [leg.outside_mm for leg in legs if leg.step is Step.LADDER]
    assert ladder == pytest.approx([0.0, *(3 * mm for mm in apart)])
    back = [leg.outside_mm for leg in legs if leg.step is Step.STRAIGHTENING]
    assert back == pytest.approx(apart[::-1])
    bare = [leg.outside_mm for leg in legs if leg.step is Step.DIVIDERS]
    assert bare == pytest.approx([apart[3], apart[7]])
    found = counts(MIXED)
    assert [bead.base for bead in found.by_bead] == [6, 0, 3]
    assert found.total == 9 + 14


def test_dangles_have_the_room_that_their_base_beads_give() -> None:
    # Round 11/0 of 2.1 mm: 2.1 / 1.95 under the small cubes, 2.1 / 3.1 under the large ones.
    wide = bead_kinds()["round 11/0"].diameter_mm
    assert crowding(MIXED).ratio == pytest.approx(wide / 1.95)
    large = replace(MIXED, units=(MIXED.units[5],) * 9)
    assert crowding(large).ratio == pytest.approx(wide / 3.1)
    # From a small cube to a large one it is the mean of both.
    beside = replace(MIXED, divider_widths=(1, 0, 1), units=(*MIXED.units[:4], *MIXED.units[5:]),
                     strands=tuple(
                         replace(s, starts=Port(bead=s.starts.bead - (s.starts.bead > 4)))
                         for s in MIXED.strands
                     ))  # fmt: skip
    assert crowding(beside).columns in {(1, 2), (2, 3)}
    edge = replace(beside, units=(MIXED.units[5],) * 3 + (MIXED.units[0],) + beside.units[4:])
    assert crowding(edge).ratio == pytest.approx(wide / ((1.95 + 3.1) / 2))
