"""Proposals over two scores: what is unbeaten, where marks stand, and picking one."""

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from streamlit.testing.v1 import AppTest

from explorer.app import state, steps
from explorer.app.demo import demo
from explorer.app.parts.tradeoff import mark_words
from explorer.app.state import History
from explorer.app.tradeoff import FIRST, SCORES, Mark, scores_from, tradeoff
from explorer.brief import Brief
from explorer.propose import Proposal, Proposals, propose

if TYPE_CHECKING:
    from tests.app.conftest import Site


@cache
def _found() -> tuple[Proposal, ...]:
    brief = steps.brief_of(demo(), seed=1, count=12)
    assert isinstance(brief, Brief)
    found = propose(brief)
    assert isinstance(found, Proposals)
    return found.proposals


def _beaten(values: list[tuple[float, float]], at: int) -> bool:
    """The definition, one pair at a time: as good in both, better in one (Pareto)."""
    a, b = values[at]
    return any(x >= a and y >= b and (x, y) != (a, b) for x, y in values)


pairs = st.permutations(list(SCORES)).map(lambda names: (names[0], names[1]))
numbers = st.integers(-40, 40).map(lambda n: n / 8.0)


@given(st.lists(st.tuples(numbers, numbers, st.integers(1, 60)), min_size=1, max_size=14), pairs)
def test_unbeaten_and_places_by_their_definition(
    rows: list[tuple[float, float, int]], names: tuple[str, str]
) -> None:
    base = _found()[0]
    made = [
        replace(
            base,
            weakest=abs(one),
            mean=abs(other),
            harmony=other,
            beads=beads,
            fit=replace(base.fit, slack_mm=abs(one)),
            outline=replace(base.outline, drop_mm=1.0 + abs(other)),
        )
        for one, other, beads in rows
    ]
    found = tradeoff(made, *names)
    assert [mark.place for mark in found.marks] == list(range(len(rows)))
    scores = [SCORES[name] for name in names]
    values = []
    for proposal in made:
        one, other = (score.value(proposal) for score in scores)
        assert one is not None
        assert other is not None
        values.append((one * scores[0].better, other * scores[1].better))
    assert [mark.unbeaten for mark in found.marks] == [
        not _beaten(values, at) for at in range(len(rows))
    ]
    for axis, shares in enumerate(([m.across for m in found.marks], [m.up for m in found.marks])):
        assert all(-1e-9 <= share <= 1.0 + 1e-9 for share in shares)
        goodness = [value[axis] for value in values]
        # Better lies farther to the right and upward, equal in the same place.
        order = np.argsort(goodness, kind="stable")
        assert (np.diff(np.array(shares)[order]) >= -1e-9).all()


@given(pairs)
def test_ticks_are_round_few_and_true(names: tuple[str, str]) -> None:
    found = tradeoff(_found(), *names)
    for axis, name in enumerate(names):
        ticks = found.ticks[axis]
        assert 2 <= len(ticks) <= 5
        assert sorted(share for share, _ in ticks)[0] == pytest.approx(0.0, abs=1e-9)
        shares = [share for share, _ in ticks]
        marked = [float(text.replace("\N{MINUS SIGN}", "-")) for _, text in ticks]
        # A tick's text read as a number and put on the line through the ends falls on its place.
        line = np.interp(marked, [marked[0], marked[-1]], [shares[0], shares[-1]])
        assert line == pytest.approx(shares, abs=1e-6)
        assert (shares[0] < shares[-1]) == (SCORES[name].better > 0.0)


def test_a_proposal_without_a_score_is_left_out() -> None:
    single = replace(_found()[0], weakest=None, mean=None)
    assert tradeoff([single], *FIRST).marks == ()
    both = tradeoff([single, _found()[1]], *FIRST)
    assert [mark.place for mark in both.marks] == [1]
    assert both.marks[0].unbeaten


def test_the_usual_scores_agree_with_the_proposals_own_word() -> None:
    marks = tradeoff(_found(), *FIRST).marks
    assert [mark.unbeaten for mark in marks] == [proposal.unbeaten for proposal in _found()]


@given(st.text(max_size=40))
def test_whatever_stands_in_the_address_gives_two_scores(text: str) -> None:
    across, up = scores_from(text)
    assert across != up
    assert {across, up} <= SCORES.keys()


def test_scores_come_back_from_the_address() -> None:
    assert scores_from("beads~long") == ("beads", "long")
    assert scores_from("beads~beads") == FIRST


def test_a_mark_says_what_it_is() -> None:
    mark = Mark(place=6, across=0.5, up=1.0, values=("39.1", "0.21"), unbeaten=True)
    words = mark_words(mark, "strongest contrast", (SCORES["weakest"], SCORES["harmony"]))
    assert words == (
        "7: Strongest contrast. Weakest neighbours apart: 39.1; "
        "Colours go together: 0.21. Nothing beats it."
    )


def _proposals() -> None:
    from explorer.app import session
    from explorer.app.views import proposals

    session.begin()
    proposals.view()


def test_the_unbeaten_one_beside_the_picture_is_put_on_the_table() -> None:
    app = AppTest.from_function(_proposals, default_timeout=90).run()
    assert not app.exception
    before = app.session_state[state.HISTORY].now
    app.selectbox(key="tradeoff_across").set_value("beads").run()
    assert not app.exception
    app.button(key="tradeoff_put").click().run()
    assert not app.exception
    history = app.session_state[state.HISTORY]
    assert isinstance(history, History)
    assert history.past[-1] == before
    brief = steps.brief_of(demo(), seed=1, count=24)
    assert isinstance(brief, Brief)
    found = propose(brief)
    assert isinstance(found, Proposals)
    marks = tradeoff(found.proposals, "beads", "harmony").marks
    first = next(mark.place for mark in marks if mark.unbeaten)
    assert history.now.piece.design == found.proposals[first].design


def test_choosing_the_same_score_twice_changes_the_two_over() -> None:
    app = AppTest.from_function(_proposals, default_timeout=90).run()
    app.selectbox(key="tradeoff_across").set_value("harmony").run()
    assert not app.exception
    boxes = [app.selectbox(key=f"tradeoff_{axis}").value for axis in ("across", "up")]
    assert boxes == ["harmony", "weakest"]


@pytest.mark.browser
def test_a_mark_is_picked_by_pointer_and_by_keys(site: "Site") -> None:
    from playwright.sync_api import expect

    site.open("proposals")
    page = site.page
    page.get_by_text("All of them on a chart: weigh two things against each other").click()
    marks = page.locator("g[data-place]")
    expect(marks).to_have_count(24)
    site.settle()
    # The nearest mark to the pointer is meant, whichever lies on top.
    for place in (6, 0):
        page.locator(f'g[data-place="{place}"] .shape').click()
        page.locator(f'g[data-place="{place}"][aria-pressed="true"]').wait_for()
        page.locator(f".st-key-tradeoff_card p:has-text('{place + 1}. ')").wait_for()
        site.settle()
    page.keyboard.press("End")
    page.keyboard.press("Enter")
    chosen = page.locator('g[data-place][aria-pressed="true"]')
    expect(chosen).to_have_count(1)
    expect(chosen).not_to_have_attribute("data-place", "0")
    site.settle()
    place = int(chosen.get_attribute("data-place") or "-1")
    page.locator(f".st-key-tradeoff_card p:has-text('{place + 1}. ')").wait_for()
    page.locator(".st-key-tradeoff_put button").click()
    page.get_by_role("button", name="Undo").and_(page.locator(":enabled")).wait_for()
    site.settle()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")


@pytest.mark.browser
@pytest.mark.parametrize("site", [(1280, 900)], indirect=True, ids=["1280"])
def test_a_press_is_heard_though_the_page_is_drawn_in_its_midst(site: "Site") -> None:
    """Marks made anew between down and up would take the press with them."""
    site.open("proposals")
    page = site.page
    page.get_by_text("All of them on a chart: weigh two things against each other").click()
    page.locator("g[data-place]").nth(23).wait_for()
    site.settle()
    mark = page.locator('g[data-place="9"]')
    mark.hover()
    page.mouse.down()
    mark.evaluate(
        "(group) => group.closest('.field').memory.setStateValue('chosen', { n: 99, place: 6 })"
    )
    page.locator(".st-key-tradeoff_card p:has-text('7. ')").wait_for()
    site.settle()
    page.mouse.up()
    page.locator('g[data-place="9"][aria-pressed="true"]').wait_for()
    page.locator(".st-key-tradeoff_card p:has-text('10. ')").wait_for()
