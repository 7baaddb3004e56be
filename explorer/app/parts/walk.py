"""Two big buttons to go back and on, by tap or by arrow key; fast taps add up."""

from importlib.resources import files

import streamlit as st

from explorer.app import state

KEY = "walk_buttons"
_DONE = "walk_done"

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_walk",
    html=(_PARTS / "walk.html").read_text(encoding="utf-8"),
    css=(_PARTS / "walk.css").read_text(encoding="utf-8"),
    js=(_PARTS / "walk.js").read_text(encoding="utf-8"),
)


def walk(place: int, count: int) -> None:
    """Draw the buttons for a place among so many, both from 0."""
    data = {
        "place": place,
        "count": count,
        "done": st.session_state.get(_DONE, 0),
        "epoch": st.session_state[state.EPOCH],
    }
    _component(key=KEY, data=data, on_wanted_change=_heard)


def _heard() -> None:
    held = st.session_state.get(KEY)
    wanted = read_wanted(
        held.get("wanted") if held is not None else None,
        epoch=st.session_state[state.EPOCH],
        done=st.session_state.get(_DONE, 0),
    )
    if wanted is not None:
        st.session_state[_DONE], st.session_state[state.PLACE] = wanted


def read_wanted(sent: object, *, epoch: str, done: int) -> tuple[int, int] | None:
    """The number and the place of what the browser sent, where it is new and makes sense.

    Args:
        sent: an object with ``n, epoch, place``.
        epoch: this session's mark.
        done: the highest number that was already heard.
    """
    if not isinstance(sent, dict) or sent.get("epoch") != epoch:
        return None
    number, place = sent.get("n"), sent.get("place")
    if type(number) is not int or type(place) is not int:
        return None
    return (number, place) if number > done and place >= 0 else None
