"""A press that arrives while an earlier one is being done does not cut it short."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.app.conftest import running, said

if TYPE_CHECKING:
    from tests.app.conftest import Site, Windows

# The app with a page of two slow buttons, so that the second press comes while the first is done.
_SLOW = """
import sys, time
import streamlit as st
from explorer.app.views import together
from explorer.app.start import start

def press(name):
    time.sleep(1)
    st.query_params[name] = "told"
    st.session_state[name] = st.session_state.get(name, 0) + 1

def page():
    st.header("Together")
    for name in ("one", "two"):
        st.button(name, on_click=press, args=(name,))
    st.markdown(f"done {st.session_state.get('one', 0)} {st.session_state.get('two', 0)}")

together.view = page
sys.exit(start(int(sys.argv[1]), False))
"""
# Two presses on one session, as the framework's own session takes them: the second arrives while
# the first's callback is half done. In a process of its own, with the framework's own classes.
_TWO_PRESSES = """
import sys
from streamlit.proto.WidgetStates_pb2 import WidgetStates
from streamlit.runtime.state.safe_session_state import SafeSessionState
from streamlit.runtime.state.session_state import SessionState
from streamlit.runtime.scriptrunner import StopException

class Runner:
    "The part of a run that says whether it is still wanted."
    def __init__(self):
        self._execing = True
        self.unwanted = False
    def asks(self):
        if self._execing and self.unwanted:
            raise StopException

class Held(SessionState):
    "A session whose one callback writes twice, and is overtaken between."
    def on_script_will_rerun(self, *_, **__):
        safe["first"] = 1
        runner.unwanted = True
        safe["second"] = 2

runner = Runner()
held = Held()
safe = SafeSessionState(held, runner.asks)
if sys.argv[1] == "whole":
    from explorer.app.whole import keep_callbacks_whole
    keep_callbacks_whole()
    keep_callbacks_whole()
try:
    safe.on_script_will_rerun(WidgetStates())
except StopException:
    pass
print(sorted(held.filtered_state), runner._execing)
# An unwanted run does nothing at all.
try:
    safe.on_script_will_rerun(WidgetStates())
    print("went on")
except StopException:
    print("ended")
"""


def test_a_callback_that_is_overtaken_is_done_to_its_end() -> None:
    assert said(_TWO_PRESSES, "whole") == ["['first', 'second'] True", "ended"]


def test_the_framework_alone_would_cut_it_short() -> None:
    """The day this fails, the framework has its own cure and ours can go."""
    assert said(_TWO_PRESSES, "bare") == ["['first'] True", "ended"]


@pytest.mark.browser
def test_the_press_before_a_press_is_done_too(windows: "Windows", tmp_path: Path) -> None:
    with running(tmp_path, _SLOW) as address, windows.page() as page:
        page.goto(f"{address}/together")
        page.get_by_text("done 0 0").wait_for()
        page.get_by_role("button", name="one").click()
        page.wait_for_timeout(300)
        page.get_by_role("button", name="two").click()
        page.get_by_text("done 1 1").wait_for()


@pytest.mark.browser
def test_a_colour_picked_a_moment_ago_is_what_a_tap_gives(site: "Site") -> None:
    site.open("piece")
    page = site.page
    page.locator(".table svg").scroll_into_view_if_needed()
    last = page.locator(".st-key-tray button").last
    wanted = last.inner_text().strip()
    middle = page.locator(".table g[data-id]").nth(3)
    assert wanted not in str(middle.get_attribute("aria-label"))
    # Both before Python can have answered.
    last.evaluate("button => button.click()")
    # Of the picture itself, whose outlines may be drawn anew at any moment.
    page.locator(".table svg").evaluate(
        "svg => svg.querySelectorAll('g[data-id]')[3].dispatchEvent("
        "new MouseEvent('click', {bubbles: true, composed: true, detail: 0}))"
    )
    page.locator(".table[data-done='1']").wait_for()
    site.settle()
    assert wanted in str(middle.get_attribute("aria-label"))
