"""Demands that cannot stand together: which they are, and the least change that helps."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from explorer.sequence import Arrangement, NoOrder, Order, OrderBrief, balanced, best_order

EVEN = 50.0 * (1.0 - np.eye(5))


def refused(colours: int, brief: OrderBrief) -> NoOrder:
    answer = best_order(EVEN[:colours, :colours], brief)
    assert isinstance(answer, NoOrder), answer
    return answer


CLASHES = {
    "two colours, gap 2": (2, OrderBrief(motifs=6, gap=2), "gap", "needs 3 colours"),
    "odd ring of two": (2, OrderBrief(motifs=9, ring=True), "motifs", "odd"),
    "least too many": (
        3,
        OrderBrief(motifs=8, least=(3, 3, 3), most=(8,) * 3),
        "least",
        "add up to 9",
    ),
    "most too few": (3, OrderBrief(motifs=8, least=(0,) * 3, most=(2,) * 3), "most", "add up to 6"),
    "one colour too often": (
        3,
        OrderBrief(motifs=8, least=(6, 0, 0), most=(8,) * 3),
        "least",
        "beside itself",
    ),
    "neighbours settled alike": (
        3,
        OrderBrief(motifs=8, fixed=((3, 1), (4, 1))),
        "fixed",
        "Places 3 and 4",
    ),
    "alike over the closure": (
        3,
        OrderBrief(motifs=8, ring=True, fixed=((0, 1), (7, 1))),
        "fixed",
        "Places 0 and 7",
    ),
    "one place twice": (3, OrderBrief(motifs=8, fixed=((3, 1), (3, 2))), "fixed", "Place 3"),
    "settled against the gap": (
        4,
        OrderBrief(motifs=12, gap=3, fixed=((0, 0), (3, 0))),
        "gap",
        "gap of 3",
    ),
    "gap against the ring": (3, OrderBrief(motifs=10, ring=True, gap=2), "gap", "gap"),
    "too often settled": (
        4,
        OrderBrief(motifs=8, fixed=((0, 0), (2, 0), (4, 0))),
        "fixed",
        "settled at 3 places",
    ),
    "unit of two in an odd ring": (
        4,
        OrderBrief(motifs=9, ring=True, arrangement=Arrangement.UNIT, length=4),
        "motifs",
        "beside itself",
    ),
    "unit shorter than the gap": (
        4,
        OrderBrief(motifs=12, arrangement=Arrangement.UNIT, length=2, gap=2),
        "gap",
        "",
    ),
    "one colour and a gap": (1, OrderBrief(motifs=4, gap=1), "gap", ""),
}


@pytest.mark.parametrize("name", CLASHES)
def test_a_clash_is_named_and_every_change_offered_does_help(name: str) -> None:
    colours, brief, field, words = CLASHES[name]
    refusal = refused(colours, brief)
    assert refusal.proven
    assert field in refusal.demands
    assert words in refusal.why
    assert refusal.changes
    for change in refusal.changes:
        to: dict[str, Any] = {change.field: change.to}
        eased = replace(brief, **to)
        if change.field == "motifs" and (brief.least, brief.most) == balanced(
            colours, brief.motifs
        ):
            least, most = balanced(colours, eased.motifs)
            eased = replace(eased, least=least, most=most)
        answer = best_order(EVEN[:colours, :colours], eased)
        assert isinstance(answer, Order), (change, answer)
        assert change.words.endswith(".")


def test_the_least_change_comes_first_and_nothing_smaller_of_it_helps() -> None:
    refusal = refused(4, OrderBrief(motifs=12, gap=5))
    gap = next(change for change in refusal.changes if change.field == "gap")
    assert gap.to == 3
    still = best_order(EVEN[:4, :4], OrderBrief(motifs=12, gap=4))
    assert isinstance(still, NoOrder)


def test_a_search_cut_short_does_not_claim_that_there_is_no_order() -> None:
    rng = np.random.default_rng(4)
    brief = OrderBrief(
        motifs=60,
        ring=True,
        gap=4,
        steps=0,
        least=(5,) * 8,
        most=(11,) * 8,
        fixed=tuple((int(p), int(rng.integers(8))) for p in rng.choice(60, 12, replace=False)),
    )
    matrix = 50.0 * (1.0 - np.eye(8))
    answer = best_order(matrix, brief)
    if isinstance(answer, NoOrder) and not answer.proven:
        assert "may be" in answer.why


def test_settled_places_are_blamed_only_where_they_clash() -> None:
    odd = OrderBrief(motifs=9, ring=True, fixed=((0, 0), (1, 1)))
    assert "Places" not in refused(2, odd).why
    closed = OrderBrief(motifs=8, ring=True, fixed=((0, 1), (7, 1)))
    assert "Places 0 and 7" in refused(3, closed).why
    assert isinstance(best_order(EVEN[:3, :3], replace(closed, ring=False)), Order)
    gap = OrderBrief(motifs=9, gap=2, fixed=((2, 1), (4, 1)))
    assert "Places 2 and 4" in refused(4, gap).why
    assert isinstance(best_order(EVEN[:4, :4], replace(gap, fixed=((2, 1), (5, 1)))), Order)
    # Blocks put a colour beside itself on purpose.
    blocks = OrderBrief(motifs=8, arrangement=Arrangement.BLOCKS, fixed=((3, 1), (4, 1)))
    answer = best_order(EVEN[:3, :3], blocks)
    assert not (isinstance(answer, NoOrder) and "Places 3 and 4" in answer.why)


def test_a_shorter_strip_still_has_the_places_that_are_settled() -> None:
    last = OrderBrief(motifs=9, ring=True, fixed=((8, 0),))
    counts = [c.to for c in refused(2, last).changes if c.field == "motifs"]
    assert counts == [10]
    early = OrderBrief(motifs=9, ring=True, fixed=((7, 0),))
    assert 8 in [c.to for c in refused(2, early).changes if c.field == "motifs"]
