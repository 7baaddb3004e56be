"""Undo and Redo that hear every tap, however fast; see its script for how."""

from importlib.resources import files

import streamlit as st

from explorer.app import session, state
from explorer.app.parts.choices import read_presses

KEY = "steps_heard"
_HEARD = "steps_heard_number"
_ACTS = {"undo": session.undo, "redo": session.redo}

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_steps",
    html=(_PARTS / "steps_queue.html").read_text(encoding="utf-8"),
    js=(_PARTS / "steps_queue.js").read_text(encoding="utf-8"),
)


def steps_queue() -> None:
    """Listen for the two buttons of the page; draws nothing."""
    data = {"heard": st.session_state.get(_HEARD, 0), "epoch": st.session_state[state.EPOCH]}
    with st.container(key="steps_queue"):
        _component(key=KEY, data=data, on_pressed_change=_on_pressed)


def _on_pressed() -> None:
    held = st.session_state.get(KEY)
    presses = read_presses(
        held.get("pressed") if held is not None else None,
        frozenset(_ACTS),
        epoch=st.session_state[state.EPOCH],
        done=st.session_state.get(_HEARD, 0),
    )
    for number, act in presses:
        st.session_state[_HEARD] = number
        _ACTS[act]()
