"""Choosing among proposals: keep, put away, relatives, and a list that stands still."""

import json
from dataclasses import replace

import pytest

from explorer.app import steps
from explorer.app.choosing import (
    MOST_KEPT,
    Choosing,
    asked,
    differences,
    from_text,
    shown,
    to_text,
    with_away,
    with_kept,
    with_put,
)
from explorer.app.demo import demo
from explorer.app.state import Work
from explorer.brief import Brief
from explorer.design import motif_profile
from explorer.propose import Proposals, propose
from explorer.relatives import Like

WORK = demo()


def _asked(choosing: Choosing, work: Work = WORK) -> tuple[Brief, Like | None]:
    question = asked(work, choosing, 12)
    brief, like = question
    assert isinstance(brief, Brief)
    assert like is None or isinstance(like, Like)
    return brief, like


def _found() -> Proposals:
    found = propose(_asked(Choosing())[0])
    assert isinstance(found, Proposals)
    return found


FOUND = _found()


def test_what_is_kept_is_let_go_by_the_same_tap_and_the_oldest_makes_room() -> None:
    choosing = Choosing()
    for proposal in FOUND.proposals[:6]:
        choosing = with_kept(choosing, proposal)
    assert choosing.kept == FOUND.proposals[2:6]
    assert len(choosing.kept) == MOST_KEPT
    assert with_kept(choosing, FOUND.proposals[4]).kept == (
        *FOUND.proposals[2:4],
        FOUND.proposals[5],
    )


def test_what_is_put_away_is_shown_no_more() -> None:
    first = FOUND.proposals[0]
    choosing = with_away(with_kept(Choosing(), first), first.design)
    assert choosing.kept == ()
    assert shown(choosing, FOUND.proposals) == FOUND.proposals[1:]


def test_a_proposal_on_the_table_leaves_the_others_where_they_are() -> None:
    choosing, work = Choosing(), WORK
    asked_first = _asked(choosing)[0]
    for proposal in FOUND.proposals:
        choosing = with_put(choosing, work, proposal)
        work = steps.on_table(work, proposal, 1)
        assert _asked(choosing, work)[0] == asked_first
    assert len({proposal.fit.repeat for proposal in FOUND.proposals}) > 1


def test_a_repeat_changed_by_hand_asks_anew() -> None:
    other = next(p for p in FOUND.proposals if p.fit.repeat != FOUND.fit.repeat)
    choosing = with_put(Choosing(), WORK, other)
    work = steps.on_table(WORK, other, 1)
    changed = steps.resized(work, replace(work.sizing, dangles=9))
    assert _asked(choosing, changed)[0].strip.repeat.dangles == 9


def test_relatives_are_like_the_piece_they_are_asked_for() -> None:
    brief, like = _asked(Choosing(like=WORK.piece.pattern))
    assert like is not None
    recipe = like.recipe
    assert recipe.profile == motif_profile(WORK.piece.design.motifs[0])
    names = [brief.colours[place].name for place in recipe.palette]
    design = WORK.piece.design
    assert [names[colour] for colour in recipe.order] == [
        design.beads[motif[0].beads[0]].name for motif in design.motifs
    ]
    found = propose(brief, like=like)
    assert isinstance(found, Proposals)
    assert found.proposals


def test_only_what_differs_is_told() -> None:
    same = differences((FOUND.proposals[0], FOUND.proposals[0]))
    assert same == ()
    for name, values in differences(FOUND.proposals[:3]):
        assert len(values) == 3, name
        assert len(set(values)) > 1, name


def test_where_choosing_stands_survives_as_text() -> None:
    first, second, third = FOUND.proposals[:3]
    choosing = with_away(with_kept(with_kept(Choosing(seed=7), first), second), third.design)
    choosing = with_put(replace(choosing, like=second.pattern), WORK, first)
    again = from_text(to_text(choosing))
    assert again == choosing
    assert shown(again, FOUND.proposals) == (first, second, *FOUND.proposals[3:])


@pytest.mark.parametrize("damage", ["seed", "kept", "away", "like", "put"])
def test_damage_to_it_only_begins_choosing_anew(damage: str) -> None:
    document = json.loads(to_text(with_kept(Choosing(seed=7), FOUND.proposals[0])))
    assert from_text(json.dumps(document)).seed == 7
    wrong: tuple[object, ...] = ("nonsense", 1.5, {"a": 1}, [[]], True)
    for value in wrong:
        assert from_text(json.dumps({**document, damage: value})) == Choosing()
    # What a later version has more is passed over; what was kept stays.
    assert from_text(json.dumps({**document, "more": 1})) == from_text(json.dumps(document))
    assert from_text(json.dumps(document)[:-9]) == Choosing()
    assert from_text("[" * 100_000) == from_text(None) == Choosing()
    # What could not be made is not taken either.
    document["kept"][0]["pattern"]["order"]["keys"] = [99]
    assert from_text(json.dumps(document)) == Choosing()
