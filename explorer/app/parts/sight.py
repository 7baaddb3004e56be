"""Keeps the open page's link in sight in the row of pages, and shows the picture when asked to."""

from importlib.resources import files

import streamlit as st

_LOOKS = "sight_looks"

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_sight",
    html=(_PARTS / "sight.html").read_text(encoding="utf-8"),
    js=(_PARTS / "sight.js").read_text(encoding="utf-8"),
)


def sight(here: str) -> None:
    """Watch the row of pages; draws nothing.

    Args:
        here: the path of the page in the row that is open.
    """
    with st.container(key="sight"):
        _component(key="sight_of", data={"here": here, "looks": st.session_state.get(_LOOKS, 0)})


def look_at_piece() -> None:
    """Bring the picture of the piece into view once the page is drawn again."""
    st.session_state[_LOOKS] = st.session_state.get(_LOOKS, 0) + 1
