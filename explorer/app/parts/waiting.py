"""Waiting on a page: for heavy work that stands in line, or for what is being made right now."""

import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager

import streamlit as st

from explorer.app import state
from explorer.app.heavy import LINE, Job
from explorer.app.parts.notes import note
from gallery.steps import Progress

# Chosen by us, because a wait shorter than this needs no word; then the line is looked at so often.
_QUIET_S, _TICK_S = 0.5, 0.1


@contextmanager
def telling(words: str) -> Iterator[Progress]:
    """A line that tells how far a work is, n of m, while it takes longer than a moment.

    A press ends this run of the page, as at any drawing.

    Args:
        words: what is being done.

    Yields:
        What is told how much is done, of how much.
    """
    # There whether it is needed or not: what follows keeps its place.
    place = st.empty()
    begun = last = time.monotonic()

    def told(done: int, total: int) -> None:
        nonlocal last
        now = time.monotonic()
        if now - begun >= _QUIET_S and now - last >= _TICK_S:
            last = now
            before.close()
            place.progress(done / total, f"{words}: {done} of {total}")

    with ExitStack() as before:
        before.enter_context(st.spinner(words))
        yield told
    place.empty()


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
