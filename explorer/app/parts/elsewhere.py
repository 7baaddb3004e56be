"""What became of keeping the table: changed in another tab, taken from there, or not kept."""

import streamlit as st

from explorer.app import keeping, session, state
from explorer.app.parts.notes import note


def say_elsewhere() -> None:
    """One line where there is something to say."""
    words = st.session_state.get(state.SHELF_FAULT, "")
    if words:
        note(f"The table cannot be kept for next time: {words}.", kind="fault")
    if keeping.changed_elsewhere():
        _ask()
    elif session.work() == keeping.taken():
        note("What the other tab had is on the table. Undo brings back what was here.")


def _ask() -> None:
    with st.container(horizontal=True, vertical_alignment="center", key="elsewhere"):
        note(
            "This piece was changed in another tab. What you have here is kept as a table of its "
            "own.",
            kind="care",
        )
        st.button("Take what is there now", key="elsewhere_take", on_click=keeping.take_elsewhere)
        st.button("Keep mine", key="elsewhere_mine", on_click=keeping.keep_mine)
