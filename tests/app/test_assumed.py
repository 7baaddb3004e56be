"""The boxes of counting and shopping: what they mean, what is wrong, what stays as typed."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app.assumed import (
    BOXES,
    USUAL,
    Assumed,
    box_text,
    parse_packs,
    reckoned,
    with_box,
)
from explorer.app.demo import demo
from explorer.app.kept import from_text, to_text
from explorer.buying import PER_GRAM_SPREAD
from explorer.buying_packs import Pack
from explorer.cautions import Wear
from explorer.counts import Spares
from explorer.errors import BriefError
from explorer.thread import GUESSED_PACE_S
from explorer.thread_setup import ThreadSetup
from palettes.errors import ChartError


def test_the_usual_boxes_are_the_core_s_own_defaults() -> None:
    found = reckoned(USUAL)
    assert found.spares == Spares()
    assert found.setup == ThreadSetup()
    assert found.per_gram == PER_GRAM_SPREAD
    assert found.pace_s == GUESSED_PACE_S
    assert found.faults == ()


@pytest.mark.parametrize("box", BOXES)
@pytest.mark.parametrize("text", ["-1", "soon", "1e99", "9999999", "1,2,3"])
def test_a_box_that_makes_no_sense_is_told_and_its_usual_value_reckoned_with(
    box: str, text: str
) -> None:
    assumed = with_box(USUAL, box, text)
    assert box_text(assumed, box) == text
    found = reckoned(assumed)
    assert found.fault(box) is not None
    usual = reckoned(USUAL)
    assert (found.spares, found.setup, found.pace_s) == (usual.spares, usual.setup, usual.pace_s)


def test_boxes_are_read_in_the_maker_s_own_units() -> None:
    assumed = Assumed(
        spares="15 %", least="0", thread="0,2 mm", working="60 in", allowance="12.5", pace="20"
    )
    found = reckoned(assumed)
    assert found.spares == Spares(percent=15.0, least=0)
    assert found.setup.thread_mm == 0.2
    assert found.setup.working_mm == pytest.approx(1524.0)
    assert found.setup.allowance == 0.125
    assert found.pace_s == 20.0


@pytest.mark.parametrize(
    ("text", "packs"),
    [
        ("5 g", [(5.0, None)]),
        ("5 g 1.20; 50 g 8", [(5.0, 1.2), (50.0, 8.0)]),
        ("5 g 1,20; 50g = 8", [(5.0, 1.2), (50.0, 8.0)]),
        ("7.5 g, 24 g, 100 g", [(7.5, None), (24.0, None), (100.0, None)]),
        ("10 grams for 2; 20 grams at 3.5", [(10.0, 2.0), (20.0, 3.5)]),
    ],
)
def test_packs_are_read_as_a_shop_lists_them(
    text: str, packs: list[tuple[float, float | None]]
) -> None:
    assert parse_packs(text) == tuple(Pack(weight_g=g, price=p) for g, p in packs)


@pytest.mark.parametrize("text", ["five", "5", "5 g 1; 10 g", "0 g 1", "5 g -1", "5 g 1 2", ";"])
def test_packs_that_are_none_are_refused(text: str) -> None:
    with pytest.raises(BriefError):
        parse_packs(text)


def test_boxes_of_a_list_are_kept_and_forgotten_by_name() -> None:
    assumed = with_box(USUAL, "packs:round 8/0", "5 g 1")
    assumed = with_box(assumed, "at_hand:x", "12")
    found = reckoned(assumed)
    assert found.packs == (("round 8/0", (Pack(weight_g=5.0, price=1.0),)),)
    assert found.at_hand == (("x", 12),)
    assert with_box(with_box(assumed, "packs:round 8/0", " "), "at_hand:x", "") == USUAL


def test_the_boxes_come_back_after_a_reload() -> None:
    work = demo()
    assumed = with_box(with_box(USUAL, "spares", "none"), "packs:round 8/0", "5 g 1")
    work = replace(work, assumed=assumed)
    assert from_text(to_text(work))[0] == work


def test_damaged_boxes_are_refused() -> None:
    document = json.loads(to_text(demo()))
    for name, value in (("spares", 3), ("packs", [["a"]]), ("at_hand", [["a", 1]])):
        damaged = {**document, "assumed": {**document["assumed"], name: value}}
        with pytest.raises(ChartError):
            from_text(json.dumps(damaged))


def test_negative_stock_is_a_fault_and_counts_as_none() -> None:
    found = reckoned(with_box(USUAL, "at_hand:x", "-4"))
    assert found.at_hand == (("x", 0),)
    assert found.fault("at_hand:x") is not None


def test_tables_that_told_what_it_is_worn_as_beside_the_piece_still_open() -> None:
    document = json.loads(to_text(demo()))
    old = {**document, "assumed": {**document["assumed"], "wear": "child's piece"}}
    assert from_text(json.dumps(old))[0].piece.worn_as is Wear.CHILD
    assert from_text(json.dumps(document))[0].piece.wear is None


@given(st.sampled_from(BOXES), st.text(max_size=12))
def test_any_text_in_any_box_is_read_or_told(box: str, text: str) -> None:
    reckoned(with_box(USUAL, box, text))


@given(st.text(alphabet="0123456789.,g; =for", max_size=20))
def test_any_packs_are_read_or_told(text: str) -> None:
    reckoned(with_box(USUAL, "packs:cube 3", text))
