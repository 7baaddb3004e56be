"""The profile editor: what it reports is checked, and bars follow mouse, keys and touch."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from streamlit.testing.v1 import AppTest

from explorer.app import shaping, state
from explorer.app.demo import demo
from explorer.app.state import History
from explorer.app.strokes import read_strokes
from explorer.design import Design, motif_profile
from explorer.dividers import divider_beads
from explorer.links import links_mm
from explorer.profile import Shape
from explorer.tips import tip_kind

if TYPE_CHECKING:
    from playwright.sync_api import Locator

    from tests.app.conftest import Site

WORK = demo()
PATTERN = WORK.piece.pattern
A, B = (2, 4, 7, 4, 2), (4, 3, 2, 3, 4)


def sent(**changes: Any) -> dict[str, Any]:
    return {
        "n": 1, "epoch": "e", "stroke": 1, "target": "A", "place": 2, "value": 6, "mirror": True,
    } | changes  # fmt: skip


def test_a_queue_is_read_in_order_once_and_from_this_session_only() -> None:
    queue = [sent(n=3), sent(n=2, place=1), sent(n=3, value=9), sent(n=1), sent(n=4, epoch="old")]
    found = read_strokes(queue, epoch="e", done=1)
    assert [(s.number, s.place, s.length) for s in found] == [(2, 1, 6), (3, 2, 6)]


@pytest.mark.parametrize(
    "item",
    [
        None,
        "x",
        [],
        sent(n="1"),
        sent(n=True),
        sent(n=2**40),
        sent(place=-1),
        sent(place=1.5),
        sent(value=0),
        sent(value=41),
        sent(target="D"),
        sent(target="m123456"),
        sent(target="A\n"),
        sent(target=None),
        sent(mirror=1),
        {"epoch": "e"},
    ],
)
def test_what_no_bar_reports_is_passed_over(item: object) -> None:
    assert read_strokes([item], epoch="e", done=0) == ()
    assert read_strokes(item, epoch="e", done=0) == ()


values = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5)


@given(st.lists(st.dictionaries(st.sampled_from(list(sent())), values), max_size=5))
def test_nothing_a_browser_sends_is_an_error(items: list[dict[str, Any]]) -> None:
    for stroke in read_strokes(items, epoch="e", done=0):
        assert 1 <= stroke.length <= 40


def test_the_scope_is_what_was_picked_as_far_as_the_piece_has_it() -> None:
    assert shaping.scope_of(PATTERN, "", "A").profile == A
    assert shaping.scope_of(PATTERN, "AB", "B").profile == B
    # the demo has two outlines in turn, so there is neither a third nor all alike
    assert shaping.scope_of(PATTERN, "A", "C").target == "A"
    assert shaping.scope_of(PATTERN, "A", "A").letters == "AB"
    own = shaping.scope_of(PATTERN, shaping.OWN, "m3")
    assert (own.letters, own.target, own.profile) == ("own", "m3", B)
    assert shaping.scope_of(PATTERN, shaping.OWN, "m99").target == "m0"


def test_patterns_need_their_letters_before_the_middle() -> None:
    assert [shaping.letters_for(n) for n in (1, 2, 3, 4, 5)] == [
        ("A",),
        ("A",),
        ("A", "AB"),
        ("A", "AB"),
        ("A", "AB", "ABCB"),
    ]


@pytest.mark.parametrize("letters", ["A", "AB", "ABCB"])
def test_turns_begin_with_the_outline_that_is_edited(letters: str) -> None:
    scope = shaping.scope_of(PATTERN, "AB", "A")
    after = shaping.with_letters(PATTERN, scope, letters).pattern
    found = shaping.scope_of(after, letters, "A")
    assert (found.letters, found.profile) == (letters, A)
    assert len(set(found.profiles)) == len(set(letters))


def test_stretching_keeps_a_shape_and_its_ends() -> None:
    peak = (1, 2, 4, 2, 1)
    assert shaping.shape_of(peak) is Shape.PEAK
    assert shaping.stretched(peak, 1, 7) == (1, 4, 7, 4, 1)
    odd = (1, 5, 2, 5, 1)
    assert shaping.shape_of(odd) is None
    assert shaping.stretched(odd, 2, 10) == (2, 10, 4, 10, 2)


def _shape() -> None:
    from explorer.app import session
    from explorer.app.views import shape

    session.begin()
    shape.view()


def _run(script: Callable[[], None] = _shape) -> AppTest:
    app = AppTest.from_function(script, default_timeout=60).run()
    assert not app.exception
    return app


def _design(app: AppTest) -> Design:
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    return held.now.piece.design


def _profiles(app: AppTest) -> list[tuple[int, ...]]:
    return [motif_profile(motif) for motif in _design(app).motifs]


def test_longest_and_shortest_stretch_the_outline_that_is_edited() -> None:
    app = _run()
    app.number_input(key="shape_most").set_value(5).run()
    assert not app.exception
    assert _profiles(app)[0] == (2, 3, 5, 3, 2)
    assert _profiles(app)[1] == B
    app.button(key="undo").click().run()
    assert _profiles(app)[0] == A


def _pulled() -> None:
    import streamlit as st

    from explorer import changes
    from explorer.app import session
    from explorer.app.parts import profile_editor, table
    from explorer.app.strokes import Stroke
    from explorer.pattern import outline_of

    def pull(number: int, target: str) -> None:
        profile_editor._do(
            Stroke(number=number, drag=number, target=target, place=2, length=9, mirror=True)
        )

    session.begin()
    if "begun" not in st.session_state:
        st.session_state["begun"] = True
        pattern = session.work().piece.pattern
        own = changes.outline(pattern, outline_of((1, 1, 1, 1, 1)), motif=4).pattern
        session.commit_pattern(changes.lock(own, 3).pattern)
    table.table()
    st.button("all", key="all", on_click=pull, args=(1, "A"))
    st.button("locked", key="locked", on_click=pull, args=(2, "m3"))


def test_a_pulled_bar_tells_which_motifs_keep_their_own_outline() -> None:
    app = _run(_pulled)
    app.button(key="all").click().run()
    assert not app.exception
    assert [max(p) for p in _profiles(app)[:5]] == [9, 4, 9, 4, 1]
    assert "Motif 5 keeps an outline of its own." in _said(app)
    assert "Motif 4 is locked and stays as it is." in _said(app)
    before = _profiles(app)
    app.button(key="locked").click().run()
    assert _profiles(app) == before
    assert "Motif 4 is locked. Unlock it first, or choose another." in _said(app)


def _said(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


def test_turning_beads_dividers_and_links_are_steps() -> None:
    app = _run()
    app.selectbox(key="tip_kind").select("drop 3.4").run()
    kind = tip_kind(_design(app))
    assert kind is not None
    assert kind.name == "drop 3.4"
    app.segmented_control(key="divider_beads").set_value(2).run()
    assert len(divider_beads(_design(app))) == 2
    app.selectbox(key="divider_kind").select("round 11/0").run()
    assert {bead.kind.name for bead in divider_beads(_design(app))} == {"round 11/0"}
    app.segmented_control(key="ends_links").set_value(1).run()
    assert links_mm(_design(app)) > 0.0
    app.segmented_control(key="ends_margin").set_value(1).run()
    assert not app.exception
    assert len(_design(app).start_margin) == len(_design(app).end_margin) == 1
    app.segmented_control(key="ends_margin").set_value(-1).run()
    # A divider of one takes 67 of 67 base beads.
    assert _design(app).start_margin == ()
    # the strip is made over for its margins, and still has its turning beads and dividers
    assert len(divider_beads(_design(app))) == 2
    kind = tip_kind(_design(app))
    assert kind is not None
    assert kind.name == "drop 3.4"


def test_outlines_in_turn_and_each_its_own() -> None:
    app = _run()
    app.segmented_control(key="shape_pattern").set_value("A").run()
    assert set(_profiles(app)) == {A}
    app.segmented_control(key="shape_pattern").set_value("ABCB").run()
    assert len(set(_profiles(app))) == 3
    assert _profiles(app) == _profiles(app)[::-1]
    app.segmented_control(key="shape_pattern").set_value("own").run()
    app.selectbox(key="shape_target").select("m4").run()
    before = _profiles(app)
    app.number_input(key="shape_least").set_value(3).run()
    assert not app.exception
    changed = [a != b for a, b in zip(before, _profiles(app), strict=True)]
    assert changed == [place == 4 for place in range(len(before))]


def _bars(site: "Site") -> "Locator":
    return site.page.locator(".profile [role=slider]")


def _lengths(site: "Site") -> list[int]:
    return [int(str(bar.get_attribute("aria-valuenow"))) for bar in _bars(site).all()]


def _tip(site: "Site", place: int) -> tuple[float, float]:
    """The middle of a bar's turning bead, on the page."""
    box = _bars(site).nth(place).locator("circle").first.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def _settled(site: "Site") -> None:
    site.page.locator(".profile[data-waiting='0']").wait_for()
    site.settle()


@pytest.mark.browser
def test_a_bar_is_dragged_and_the_piece_follows_in_one_step(site: "Site") -> None:
    site.open("shape")
    page = site.page
    page.locator(".profile svg").scroll_into_view_if_needed()
    before = _lengths(site)
    assert before == [2, 4, 7, 4, 2]
    x, y = _tip(site, 1)
    pitch = _tip(site, 2)[1] - y
    if site.touch:
        page.mouse.move(0, 0)
        client = page.context.new_cdp_session(page)

        def touch(kind: str, at: float) -> None:
            points = [] if kind == "touchEnd" else [{"x": x, "y": at}]
            client.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        touch("touchStart", y)
        for part in (0.5, 1.0):
            touch("touchMove", y + part * pitch)
        touch("touchEnd", y + pitch)
    else:
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y + pitch / 2)
        page.mouse.move(x, y + pitch)
        page.mouse.up()
    _settled(site)
    assert _lengths(site) == [2, 7, 7, 7, 2]
    changed = site.figures()
    page.get_by_role("button", name="Undo").click()
    site.settle()
    assert _lengths(site) == before
    assert site.figures() != changed


@pytest.mark.browser
def test_bars_are_stepped_with_keys_and_buttons_and_nothing_is_lost(site: "Site") -> None:
    site.open("shape")
    page = site.page
    _bars(site).first.focus()
    page.keyboard.press("ArrowRight")
    for _ in range(6):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    assert _lengths(site) == [2, 9, 7, 9, 2]
    _settled(site)
    assert _lengths(site) == [2, 9, 7, 9, 2]
    # the focus is where it was
    page.keyboard.press("Home")
    page.keyboard.press("PageDown")
    page.get_by_role("button", name="Shorter").click()
    _settled(site)
    assert _lengths(site) == [4, 9, 7, 9, 4]
    assert "4 beads" in str(_bars(site).first.get_attribute("aria-valuetext"))
    page.get_by_text("Both sides of the motif alike").click()
    site.settle()
    page.get_by_role("button", name="Longer", exact=True).click()
    _settled(site)
    assert _lengths(site) == [5, 9, 7, 9, 4]


@pytest.mark.browser
def test_a_shape_is_picked(site: "Site") -> None:
    site.open("shape")
    site.page.get_by_role("button", name="valley", exact=True).click()
    site.page.locator("button[aria-pressed=true]:has-text('valley')").wait_for()
    site.settle()
    assert _lengths(site) == [7, 4, 2, 4, 7]
