"""The maker's own beads in the session: read from the shelf, kept there after every step."""

import streamlit as st

from explorer.app import session, stock
from explorer.app.stock import Boxes, Stock
from explorer.shelf import ShelfError
from palettes.errors import ChartError
from palettes.tray import Tray

_STOCK = "stock"
_NUMBER = "stock_number"
FAULT = "stock_fault"
_NAME = "your beads"


def held() -> Stock:
    """The beads; another window's changes are taken over, and an undo here brings ours back."""
    now: Stock = st.session_state.setdefault(_STOCK, Stock())
    try:
        found = session.shelf().tray(since=st.session_state.get(_NUMBER, 0))
        if found is not None:
            number, content = found
            first = _NUMBER not in st.session_state
            read = stock.read(content, _NAME)
            now = Stock(now=read) if first else stock.changed(now, read)
            st.session_state[_NUMBER] = number
            if session.shelf().newer_trays_damaged(number):
                st.session_state[FAULT] = (
                    "Your beads as you left them last are damaged on the shelf; these are as they "
                    "were before."
                )
    except (ShelfError, ChartError) as error:
        st.session_state[FAULT] = _not_kept(error)
    st.session_state[_STOCK] = now
    return now


def _not_kept(error: Exception) -> str:
    return f"Your beads cannot be kept on this computer now: {error}."


def tray() -> Tray:
    """The beads at hand."""
    return held().tray


def take(now: Boxes) -> None:
    """Make a step that an undo takes back."""
    _keep(stock.changed(held(), now))


def undo() -> None:
    """Take the last step back."""
    _keep(stock.undone(held()))


def redo() -> None:
    """Make the step again that was taken back."""
    _keep(stock.redone(held()))


def _keep(after: Stock) -> None:
    """Hold on to the beads, here and on the shelf."""
    before: Stock = st.session_state[_STOCK]
    st.session_state[_STOCK] = after
    if after.now == before.now:
        return
    try:
        st.session_state[_NUMBER] = session.shelf().keep_tray(after.now.content)
        st.session_state.pop(FAULT, None)
    except ShelfError as error:
        st.session_state[FAULT] = _not_kept(error)
