"""Takes a piece from the address of the page and says what became of it."""

from dataclasses import dataclass

import streamlit as st

from explorer.app import session, steps
from explorer.app.arriving import PARAMETER, piece_in
from explorer.app.parts.notes import note
from explorer.piece import Piece
from palettes.errors import ChartError

_SAID = "arrived"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Arrival:
    """A piece that came, or why none did."""

    piece: Piece | None
    fault: str = ""


def take_arrival() -> None:
    """Put the piece of a link on the table; what lay there is one undo away."""
    if PARAMETER not in st.query_params:
        return
    text = st.query_params[PARAMETER]
    # Out of the address at once, or a reload would bring it again over what was changed since.
    del st.query_params[PARAMETER]
    st.session_state[_SAID] = _taken(text)


def _taken(text: str) -> _Arrival:
    try:
        piece = piece_in(text)
    except ChartError as error:
        return _Arrival(piece=None, fault=error.why)
    session.commit(steps.opened(session.work(), piece))
    return _Arrival(piece=piece)


def say_arrival() -> None:
    """One line about the link, until something else happens to the piece."""
    said = st.session_state.get(_SAID)
    if not isinstance(said, _Arrival):
        return
    if said.piece is None:
        with st.container(horizontal=True, vertical_alignment="center"):
            note(f"The link brought no piece: {said.fault}.", kind="fault")
            st.button("Close", key="arrived_close", on_click=_close, type="tertiary")
    elif session.work().piece == said.piece:
        note("The piece of the link is on the table. Undo brings back what lay there before.")
    else:
        _close()


def _close() -> None:
    st.session_state.pop(_SAID, None)
