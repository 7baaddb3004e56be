"""What is typed and picked is kept, however late the page is drawn."""

from typing import TYPE_CHECKING

import pytest

from explorer.app.late import LATE_S, NEW_S, Told
from tests.app.conftest import Site, Windows, running, said

if TYPE_CHECKING:
    from pathlib import Path

    from playwright.sync_api import Page

# One box that the program fills, its default the same or not, as the framework's own session takes
# it: what is sent to the browser, and what callbacks are run. In a process of its own.
_ONE_BOX = """
import contextlib, sys
from streamlit.proto.WidgetStates_pb2 import WidgetStates
from streamlit.elements.widgets.selectbox import SelectboxSerde
from streamlit.runtime.state import session_state
from streamlit.runtime.state.common import WidgetMetadata
from streamlit.runtime.state.session_state import SessionState

# Where a callback runs, which is told to a running script; there is none.
session_state.ThreadState.scoped = lambda **_: contextlib.nullcontext()
heard = []
held = SessionState()

def press(text, button=False, picked=None):
    states = WidgetStates()
    if text is not None:
        states.widgets.add(id="box", string_value=text)
    if picked is not None:
        states.widgets.add(id="list", string_value=picked)
    if button:
        states.widgets.add(id="button", trigger_value=True)
    held.on_script_will_rerun(states)

def draw(text, default=None):
    held["key"] = text
    metadata = WidgetMetadata(
        id="box",
        deserializer=lambda value: (default or "") if value is None else value,
        serializer=str,
        value_type="string_value",
        callback=lambda: heard.append(held["key"]),
    )
    held.register_widget(
        WidgetMetadata(
            id="button", deserializer=bool, serializer=bool, value_type="trigger_value"
        ),
        None,
    )
    return held.register_widget(metadata, "key").value_changed

def pick(*words):
    held["place"] = 0
    serde = SelectboxSerde(
        (0, 1),
        formatted_options=list(words),
        formatted_option_to_option_index={word: place for place, word in enumerate(words)},
        default_option_index=0,
        format_func=words.__getitem__,
    )
    metadata = WidgetMetadata(
        id="list",
        deserializer=serde.deserialize,
        serializer=serde.serialize,
        value_type="string_value",
        callback=lambda: heard.append(held["place"]),
    )
    return held.register_widget(metadata, "place").value_changed

if sys.argv[1] == "kept":
    from explorer.app.late import keep_what_is_typed
    keep_what_is_typed()
    keep_what_is_typed()
press(None)
sent = [draw("2", "2")]
press("2", button=True)
sent.append(draw("2", "2"))
press("2", button=True)
sent.append(draw("2"))
press("2", button=True)
sent.append(draw("5", "5"))
# The browser has not got the 5 yet; something else is pressed.
press("2", button=True)
sent.append(draw("5", "5"))
press("5", button=True)
sent.append(draw("5", "5"))
print(sent, heard)
# The maker alone wants the 2 back, be the 5 there or under way.
press("2")
print(heard)
draw("2", "2")
draw("5", "5")
press("2")
print(heard)
# A list whose first line is called something else by now, as the browser cannot know.
heard.clear()
pick("one", "two")
press("2", picked="one")
told = [pick("one", "two")]
press("2", picked="one")
told.append(pick("other", "two"))
press("2", picked="one", button=True)
told.append(pick("other", "two"))
press("2", picked="other")
told.append(pick("other", "two"))
press("2", picked="two")
print(told, heard)
"""
# The app with a slow page of shapes, so that a bar is pulled again while the last pull is drawn.
_SLOW = """
import sys, time
import streamlit as st
from explorer.app.start import start
from explorer.app.views import shape

def slowly(draw=shape.view):
    draw()
    for _ in range(15):
        time.sleep(0.1)
        st.session_state.get("any")

shape.view = slowly
sys.exit(start(int(sys.argv[1]), False))
"""


def test_a_box_is_filled_only_where_the_browser_holds_something_else() -> None:
    # Not again while it may still be on its way, nor where a new box would take another default.
    assert said(_ONE_BOX, "kept") == [
        "[True, False, True, True, True, False] []",
        "['2']",
        "['2', '2']",
        "[False, True, True, False] [1]",
    ]


def test_the_framework_alone_takes_an_old_value_for_the_makers() -> None:
    """The day this fails, the framework has its own cure and ours can go."""
    assert said(_ONE_BOX, "bare") == [
        "[True, True, True, True, True, True] ['2']",
        "['2', '2']",
        "['2', '2', '2']",
        "[True, True, True, True] ['one', 1]",
    ]


def _told(**sent: object) -> Told:
    told = Told()
    told.too_late(sent, sent, 0.0, event=True)
    return told


def test_an_old_value_that_comes_along_with_a_press_is_late() -> None:
    assert _told(a=2).too_late({"a": 2}, {"a": 5}, 1.0, event=True) == {"a"}
    # beside another box that was changed
    assert _told(a=2, b=0).too_late({"a": 2, "b": 1}, {"a": 5, "b": 0}, 1.0, event=False) == {"a"}


def test_a_box_that_alone_was_changed_is_the_makers() -> None:
    assert _told(a=2).too_late({"a": 2}, {"a": 5}, 1.0, event=False) == set()
    assert _told(a=2).too_late({"a": 3}, {"a": 5}, 1.0, event=True) == set()
    # a new box
    assert Told().too_late({"a": 3}, {}, 1.0, event=True) == set()


def test_a_new_box_is_soon_the_makers() -> None:
    told = Told()
    told.fill("a", "0", 1.0)
    assert told.too_late({"a": "7", "b": 1}, {"a": "0", "b": 0}, 2.0, event=False) == set()
    # typed again, the first value is the maker's, but for the moment in which the box appeared
    assert told.too_late({"a": "0", "b": 2}, {"a": "7", "b": 1}, 3.0, event=False) == {"a"}
    assert told.too_late({"a": "7", "b": 2}, {"a": "7", "b": 2}, 4.0, event=False) == set()
    assert told.too_late({"a": "0", "b": 3}, {"a": "7", "b": 2}, 1.0 + NEW_S, event=False) == set()


def test_what_the_program_put_in_a_while_ago_is_late_no_more() -> None:
    told = _told(a=2)
    told.wires = {"a": 2}
    told.fill("a", 5, 1.0)
    assert told.too_late({"a": 7}, {"a": 5}, 2.0, event=True) == set()
    # the 5 was under way when 7 was typed, and 7 is what the program holds
    assert told.too_late({"a": 5}, {"a": 7}, 3.0, event=True) == {"a"}
    assert told.too_late({"a": 7}, {"a": 7}, 4.0, event=True) == set()
    assert told.too_late({"a": 5}, {"a": 7}, 2.0 + LATE_S, event=True) == set()
    assert told.put == {}


_BOXES = "[data-testid=stTextInput] input, [data-testid=stNumberInput] input, textarea"
_MARK = f"() => document.querySelectorAll('{_BOXES}').forEach((box) => {{ box.marked = 1; }})"
_ANEW = (
    f"() => [...document.querySelectorAll('{_BOXES}')].filter((box) => !box.marked)"
    ".map((box) => box.getAttribute('aria-label'))"
)
_NAMES = """
(boxes) => boxes.filter((box) => box.checkVisibility() && !box.disabled)
  .map((box) => box.getAttribute('aria-label'))
"""


def _names(page: "Page") -> list[str]:
    names: list[str] = page.eval_on_selector_all("[data-testid=stTextInput] input", _NAMES)
    assert len(set(names)) == len(names) > 0
    return names


@pytest.mark.browser
@pytest.mark.parametrize("site", [(1280, 900)], indirect=True, ids=["1280"])
@pytest.mark.parametrize(
    "path", ["size", "colours", "counting", "neighbours", "handing-on", "handing-on/For a class"]
)
def test_boxes_stay_what_they_are_when_one_makes_no_sense(site: "Site", path: str) -> None:
    """What is made anew loses the focus and what is being typed into it."""
    path, _, choice = path.partition("/")
    site.open(path)
    page = site.page
    if choice:
        page.get_by_role("radio", name=choice, exact=True).click()
        site.settle()
    page.evaluate(_MARK)
    for name in _names(page):
        box = page.locator(f'[data-testid=stTextInput] input[aria-label="{name}"]')
        box.fill("no sense")
        box.press("Enter")
        site.settle()
        assert page.evaluate(_ANEW) == []


@pytest.mark.browser
@pytest.mark.parametrize("site", [(1280, 900)], indirect=True, ids=["1280"])
def test_boxes_filled_as_fast_as_can_be_keep_what_was_typed(site: "Site") -> None:
    from playwright.sync_api import expect

    site.open("counting")
    page = site.page
    typed = {name: f"{number + 3}" for number, name in enumerate(_names(page))}
    for name, text in typed.items():
        page.locator(f'[data-testid=stTextInput] input[aria-label="{name}"]').fill(text)
    page.keyboard.press("Tab")
    page.wait_for_timeout(1000)
    site.settle()
    for name, text in typed.items():
        box = page.locator(f'[data-testid=stTextInput] input[aria-label="{name}"]')
        expect(box).to_have_value(text)


@pytest.mark.browser
def test_bars_pulled_on_while_the_page_is_drawn_move_no_others(
    windows: Windows, tmp_path: "Path"
) -> None:
    """Shortest and Longest still showed what was before, and were taken for changes by hand."""
    with running(tmp_path, _SLOW) as address, windows.page() as page:
        site = Site(page, address, touch=False)
        site.open("shape")
        bars = page.locator(".profile [role=slider]")
        bars.first.focus()
        for wait in (0, 100, 200, 300, 500):
            page.keyboard.press("PageDown")
            page.wait_for_timeout(wait)
            page.keyboard.press("ArrowUp")
        page.locator(".profile[data-waiting='0']").wait_for()
        site.settle()
        lengths = [str(bar.get_attribute("aria-valuenow")) for bar in bars.all()]
        assert lengths == ["12", "4", "7", "4", "12"]
