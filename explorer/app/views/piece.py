"""Piece: the picture as the place to work, the beads to count out, and the piece as a file."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import streamlit as st

from explorer.app import session, state, steps
from explorer.app.areas import Reach
from explorer.app.parts.motif_panel import motif_panel, picked_motif
from explorer.app.parts.notes import fault, kept_place, note
from explorer.app.parts.table import table
from explorer.app.parts.tables import count_table, neighbour_table
from explorer.app.parts.to_page import to_page
from explorer.app.parts.tray import tray
from explorer.app.wording import file_stem
from explorer.errors import BriefError
from explorer.piece import from_json, to_json
from palettes.errors import ChartError

_TOOLS = {
    "motif": "Colours a motif",
    "dangle": "Colours a dangle",
    "bead": "Colours a bead",
    "base": "Colours a base bead",
    "length": "Sets a length",
    "pick": "Picks a motif",
}
_ACTS = {"length": "length", "base": "base", "pick": "pick"}
_HINTS = {
    "motif": "Pick a colour below, then tap a motif.",
    "dangle": "Pick a colour below, then tap a dangle.",
    "bead": "Pick a colour below, then tap a bead.",
    "base": "Pick a colour below, then tap a base bead.",
    "pick": "Tap a motif; what can be done with it stands below.",
    "length": "Pull a dangle longer or shorter, or tap it and use the buttons or arrow keys.",
}
_OPEN_FAULT = "piece_open_fault"
_FAULTS = "piece_word_faults"


def view() -> None:
    """The page."""
    tool = st.session_state.get(state.TOOL, "motif")
    own = picked_motif() if tool == "pick" else None
    table(act=_ACTS.get(tool, "paint"), hint=_HINTS[tool], stuck=True, own=own)
    st.header("Piece", anchor=False)
    _tools(tool)
    if tool == "length":
        _everywhere()
    elif tool == "pick":
        motif_panel()
    else:
        tray("Colour to give")
    left, right = st.columns([5, 4], gap="large")
    with left:
        st.subheader("Beads to count out", anchor=False)
        count_table(session.work())
        to_page("counting", "Packs, thread and time: Counting")
    with right:
        st.subheader("How neighbours stand apart", anchor=False)
        neighbour_table(session.work())
        to_page("neighbours", "Other eyes, lights, distances: Contrast")
    st.subheader("Name and notes", anchor=False)
    _words()
    st.subheader("The piece as a file", anchor=False)
    _files()


def _tools(tool: str) -> None:
    def pick() -> None:
        chosen = st.session_state["piece_tool"]
        if chosen is not None:
            st.session_state[state.TOOL] = chosen
            if chosen in set(Reach):
                st.session_state[state.REACH] = Reach(chosen)

    st.session_state["piece_tool"] = tool
    st.segmented_control(
        "A tap on the picture",
        list(_TOOLS),
        format_func=lambda name: _TOOLS[name],
        key="piece_tool",
        required=True,
        on_change=pick,
    )


def _everywhere() -> None:
    def pick() -> None:
        st.session_state[state.EVERYWHERE] = bool(st.session_state["piece_everywhere"])

    st.session_state["piece_everywhere"] = st.session_state.get(state.EVERYWHERE, True)
    st.checkbox("The same dangle in every motif", key="piece_everywhere", on_change=pick)


def _words() -> None:
    """Name and notes; what cannot be taken stays in its box, with the reason below it."""
    piece = session.work().piece
    _word(st.text_input, "name", piece.name)
    _word(st.text_area, "notes", piece.notes)


def _word(box: Callable[..., object], field: str, held: str) -> None:
    """One box. It holds any length: the browser would refuse what is too long without a word."""
    typed, error = st.session_state.get(_FAULTS, {}).get(field, (held, None))
    key = f"piece_{field}"
    st.session_state[key] = typed
    box(field.capitalize(), typed, key=key, on_change=_amend, args=(field,))
    with kept_place():
        if error is not None:
            fault(error)


def _amend(field: str) -> None:
    typed = str(st.session_state[f"piece_{field}"])
    faults = st.session_state.setdefault(_FAULTS, {})
    faults.pop(field, None)
    wanted: dict[str, Any] = {field: typed.strip() if field == "name" else typed}
    try:
        piece = replace(session.work().piece, **wanted)
    except BriefError as error:
        faults[field] = (typed, error)
    else:
        session.keep(state.amended(session.history(), replace(session.work(), piece=piece)))


def _files() -> None:
    piece = session.work().piece
    st.download_button(
        "Save the piece as a file",
        to_json(piece),
        file_name=f"{file_stem(piece.name)}.json",
        mime="application/json",
        on_click="ignore",
    )
    st.file_uploader("Open a piece from a file", type="json", key="piece_open", on_change=_open)
    words = st.session_state.get(_OPEN_FAULT, "")
    if words:
        note(words, kind="fault")


def _open() -> None:
    """Put a piece from a file on the table; the piece that lay there is one undo away."""
    upload = st.session_state["piece_open"]
    st.session_state.pop(_OPEN_FAULT, None)
    if upload is None:
        return
    try:
        piece = from_json(upload.getvalue().decode("utf-8"), upload.name)
    except ChartError as error:
        st.session_state[_OPEN_FAULT] = str(error)
    except UnicodeDecodeError:
        st.session_state[_OPEN_FAULT] = f"{upload.name} holds no text, so it is no piece."
    else:
        session.commit(steps.opened(session.work(), piece))
