"""Doing something to the shelf, and saying on the page what became of it."""

from collections.abc import Callable

import streamlit as st

from explorer.app import copying
from explorer.app.parts.notes import note
from explorer.app.wording import fault_words, sentence
from explorer.errors import BriefError
from explorer.shelf import ShelfError
from palettes.errors import ChartError

_FAULT = "shelf_fault_words"
_DONE = "shelf_done_words"
_WHERE = "shelf_outcome_where"
# What the boxes for a piece's words are called, by what the shelf calls its fields.
BOXES = {
    "name": "Name", "who": "Who for", "notes": "Notes", "made": "Day it was finished",
    "minutes": "Minutes it took", "lots": "Lots of the beads",
}  # fmt: skip


def attempt(
    act: Callable[[], object], done: str = "", where: str = "page", failed: str = ""
) -> bool:
    """Do something to the shelf; whether it was done. What went wrong is said on the page.

    Args:
        act: what to do.
        done: what to say when it is done.
        where: the part of the page that says what became of it.
        failed: what to say before the reason where it cannot be done.
    """
    forget_outcome()
    st.session_state[_WHERE] = where
    try:
        act()
    except (BriefError, ChartError, ShelfError) as error:
        st.session_state[_FAULT] = f"{failed} {_why(error)}".strip()
        return False
    copying.mended()
    say(done, where)
    return True


def _why(error: BriefError | ChartError | ShelfError) -> str:
    if isinstance(error, ChartError):
        # It begins with a file's name, which is spelled as it is.
        return f"{error}."
    if isinstance(error, ShelfError):
        return sentence(str(error))
    box = BOXES.get(error.field)
    return f"{box}: {fault_words(error)}" if box else fault_words(error)


def forget_outcome() -> None:
    """Say no more of the last act."""
    st.session_state.pop(_FAULT, None)
    st.session_state.pop(_DONE, None)


def say(words: str, where: str = "page") -> None:
    """Say something until the next act; nothing for no words."""
    if not words:
        return
    st.session_state[_WHERE] = where
    st.session_state[_DONE] = words


def say_outcome(where: str = "page") -> None:
    """What became of the last act, if it was one of this part of the page."""
    if st.session_state.get(_WHERE) != where:
        return
    if _FAULT in st.session_state:
        note(st.session_state[_FAULT], kind="fault")
    elif _DONE in st.session_state:
        note(st.session_state[_DONE], kind="done")
