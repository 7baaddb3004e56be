"""Waiting on a page for heavy work that stands in line."""

import streamlit as st

from explorer.app import state
from explorer.app.heavy import LINE, Job
from explorer.app.parts.notes import note

# Chosen by us, because a wait shorter than this needs no word; then the line is looked at so often.
_QUIET_S, _TICK_S = 0.5, 0.1


def waited(job: Job, words: str) -> None:
    """Wait until it is over, with those words while others' work comes first.

    A press ends this run of the page, as at any drawing.
    """
    if job.wait(_QUIET_S):
        return
    place = st.empty()
    told = False
    while not job.wait(_TICK_S):
        # A look at the session lets a press end this run.
        st.session_state.get(state.SEARCH)
        if not told and LINE.ahead(job):
            told = True
            with place:
                note(words, kind="small")
    place.empty()
