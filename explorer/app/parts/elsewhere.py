"""What became of keeping the table: changed in another tab, taken from there, or not kept."""

import streamlit as st

from explorer.app import keeping, session
from explorer.app.parts.notes import note


def say_elsewhere() -> None:
    """One line where there is something to say."""
    if keeping.unkept():
        note(
            f"Nothing on the table is being kept for next time. {keeping.unkept()} Until then, "
            "save the piece as a file on the page Piece.",
            kind="fault",
        )
    if keeping.lost():
        note(
            f"What lay on this table cannot be laid here again: {keeping.lost()}. It is left as it "
            "is, and what you do now is kept as a table of its own.",
            kind="care",
        )
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
