from collections import Counter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.counts import Counts, Spares, counts
from explorer.design import Column, Design, build, of_columns
from explorer.thread import ThreadPlan, thread_plan
from explorer.thread_path import Spot, Step, beads_by_spot
from palettes.beads import Bead, BeadKind
from palettes.forms import Form

CUBE = BeadKind(
    name="cube 1.8",
    form=Form.CUBE,
    diameter_mm=1.8,
    pitch_mm=1.8,
    hole_mm=0.8,
    beads_per_gram=95.0,
    ladder_pitch_mm=1.95,
)
ROUND = BeadKind(
    name="round 11/0",
    form=Form.ROUND,
    diameter_mm=2.1,
    pitch_mm=1.45,
    hole_mm=0.8,
    beads_per_gram=110.0,
    ladder_pitch_mm=2.25,
)
BEADS = (
    Bead(name="ground", kind=CUBE, hex="#eeeeee"),
    Bead(name="one", kind=ROUND, hex="#aa2222"),
    Bead(name="two", kind=ROUND, hex="#2222aa"),
    Bead(name="three", kind=ROUND, hex="#22aa22"),
)

bead = st.integers(0, 3)
hung = st.builds(
    lambda base, beads: Column(base=base, beads=tuple(beads)),
    bead,
    st.lists(bead, min_size=1, max_size=6),
)
divided = st.builds(
    lambda base, beads: Column(base=base, beads=tuple(beads)), bead, st.lists(bead, max_size=3)
)
bare = st.builds(lambda base: Column(base=base), bead)
links = st.lists(bead, max_size=3).map(tuple)


@st.composite
def designs(draw: st.DrawFn) -> Design:
    number = draw(st.integers(1, 4))

    def row(columns: st.SearchStrategy[Column], least: int) -> tuple[Column, ...]:
        return tuple(draw(st.lists(columns, min_size=least, max_size=4)))

    return of_columns(
        beads=BEADS,
        base_pitch_mm=1.95,
        motifs=tuple(row(hung, 1) for _ in range(number)),
        dividers=tuple(row(divided, 0) for _ in range(number + 1)),
        start_margin=row(bare, 0),
        end_margin=row(bare, 0),
        start_links=draw(links),
        end_links=draw(links),
    )


def worked(**changes: Any) -> Design:
    order = tuple(1 + i % 3 for i in range(10))
    parts: dict[str, Any] = {
        "beads": BEADS,
        "base": 0,
        "base_pitch_mm": 1.95,
        "profiles": ((1, 2, 4, 6, 4, 2, 1),),
        "order": order,
        "divider_base_beads": 1,
    }
    return build(**(parts | changes))


def test_the_worked_case() -> None:
    # common practice, no source: ten motifs of seven dangles, one divider; 200 worked out by us
    found = counts(worked())
    assert found.base_beads == 81
    assert found.dividers == found.divider_base_beads == 11
    assert found.dangle_beads == 200
    assert found.total == 281
    assert [b.dangles for b in found.by_bead] == [0, 80, 60, 60]
    assert all(m.beads == 20 and m.dangles == 7 for m in found.by_motif)
    # one tenth more: 8.1, 8, 6 and 6 beads
    assert [b.spares for b in found.by_bead] == [9, 8, 6, 6]
    assert found.spares == 29
    assert [b.to_count_out for b in found.by_bead] == [90, 88, 66, 66]


def test_dividers_margins_and_links_are_counted_apart() -> None:
    found = counts(
        worked(divider_base_beads=2, divider_hangs=(2, 3), margins=(3, 1), links=((1, 1), (2,)))
    )
    assert found.divider_base_beads == 22
    assert found.divider_beads == 44
    assert found.margin_base_beads == 4
    assert found.link_beads == 3
    assert found.base_beads == 70 + 22 + 4


def flat(design: Design) -> list[int]:
    """Every bead of a design as one list, by walking the fields and not the columns."""
    rows = [*design.motifs, *design.dividers, design.start_margin, design.end_margin]
    found = [b for row in rows for column in row for b in (column.base, *column.beads)]
    return [*found, *design.start_links, *design.end_links]


def check_sums(found: Counts) -> None:
    parts = found.base_beads + found.dangle_beads + found.divider_beads + found.link_beads
    assert parts == found.total
    assert sum(m.beads for m in found.by_motif) == found.dangle_beads
    in_motifs = sum(m.base_beads for m in found.by_motif)
    assert in_motifs + found.divider_base_beads + found.margin_base_beads == found.base_beads


@given(designs())
def test_counts_agree_with_an_independent_count(design: Design) -> None:
    found = counts(design)
    plain = Counter(flat(design))
    assert {b.bead: b.used for b in found.by_bead if b.used} == dict(plain)
    assert found.total == plain.total()
    check_sums(found)
    doubled = counts(design, Spares(percent=100.0, least=0))
    assert [b.spares for b in doubled.by_bead] == [b.used for b in found.by_bead]
    for motif, columns in zip(found.by_motif, design.motifs, strict=True):
        assert dict(motif.dangle_beads) == dict(Counter(b for c in columns for b in c.beads))


@pytest.mark.parametrize(
    ("percent", "least", "count", "spares"),
    [
        (10.0, 5, 0, 0),
        (10.0, 5, 1, 5),
        (10.0, 5, 50, 5),
        (10.0, 5, 51, 6),
        (10.0, 0, 30, 3),
        (0.0, 0, 30, 0),
        (100.0, 0, 500, 500),
        (15.0, 5, 200, 30),
        (2.2, 0, 1500, 33),  # as floats, 33.00000000000001
    ],
)
def test_spares_round_up_and_keep_a_least_number(
    percent: float, least: int, count: int, spares: int
) -> None:
    assert Spares(percent=percent, least=least).of(count) == spares


def test_spares_below_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="-1"):
        Spares(percent=-1.0)
    with pytest.raises(ValueError, match="-3"):
        Spares(least=-3)
    with pytest.raises(ValueError, match="nan"):
        Spares(percent=float("nan"))


def test_the_most_spares_are_taken_and_no_more() -> None:
    assert Spares(percent=1000.0, least=10_000).of(1) == 10_000
    with pytest.raises(ValueError, match="10001"):
        Spares(least=10_001)
    with pytest.raises(ValueError, match="1001"):
        Spares(percent=1001.0)


@given(designs())
def test_the_thread_visits_the_beads_that_are_counted(design: Design) -> None:
    plan = thread_plan(design)
    by_spot = beads_by_spot(design)
    visited = {spot for leg in plan.legs for spot in leg.visits}
    assert visited == set(by_spot)
    threaded = Counter(by_spot[spot] for spot in visited)
    assert {b.bead: b.used for b in counts(design).by_bead if b.used} == dict(threaded)


def passes_by_hand(design: Design, plan: ThreadPlan) -> Counter[Spot]:
    """What the trade's rule says of every bead, from the columns alone."""
    rounds, last = plan.setup.rounds, design.base_beads - 1
    found: Counter[Spot] = Counter()
    for i, (_, column) in enumerate(design.columns()):
        inner = 0 < i < last
        found[i, 0] = 3 if inner else 2  # ladder
        found[i, 0] += i < last  # straightening
        found[i, 0] += 2 * bool(column.beads)
        found[i, 0] += 2 * rounds * ((i == 0) + (i == last))
        for row in range(1, len(column.beads) + 1):
            found[i, row] = 2 if row < len(column.beads) else 1
    if last == 0:
        found[0, 0] -= 1  # a ladder of one bead is strung once
    links = {(-1 - k, 0): 2 * rounds for k in range(len(design.start_links))}
    links |= {(last + 1 + k, 0): 2 * rounds for k in range(len(design.end_links))}
    found.update(links)
    woven = (Step.WEAVING_IN, Step.JOINS)
    found.update(spot for leg in plan.legs if leg.step in woven for spot in leg.visits)
    return found


@given(designs())
def test_the_passes_of_every_bead_add_up(design: Design) -> None:
    plan = thread_plan(design)
    assert dict(plan.passes) == dict(passes_by_hand(design, plan))
    assert plan.most_passes == max(dict(plan.passes).values())
