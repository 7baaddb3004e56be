"""A search on its page: a calm line while it runs, and a Stop."""

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from explorer.app import state
from explorer.app.helper import HelperLostError
from explorer.app.parts.notes import note
from explorer.app.searching import Search, Watched
from explorer.brief import Brief
from explorer.fit import NoFit
from explorer.propose import Proposals
from explorer.relatives import Like

# Chosen by us, because a wait shorter than this needs no word; then the line moves ten times a
# second.
QUIET_S, _TICK_S = 0.5, 0.1
_WORDS = "Looking for pieces that differ"


def searched(brief: Brief, like: Like | None) -> Proposals | NoFit | None:
    """What a search finds; the same question asked again has its answer at once.

    Returns:
        What it found, or None after saying that it was stopped before it found anything.

    Raises:
        BriefError: the colour demands cannot stand together.
    """
    search = _search(brief, like)
    # There whether it is needed or not: what follows keeps its place, and an opened box stays open.
    place = st.empty()
    if not search.wait(QUIET_S):
        watch(search, place, _WORDS, "search")
    try:
        found = search.result()
    except HelperLostError:
        _look_on("The computer ended this search, maybe for want of memory. Nothing is lost.")
        return None
    if found is None:
        _look_on("Stopped before anything was found.")
    elif search.stopped:
        _look_on("Stopped: these were found so far.")
    return found


def _search(brief: Brief, like: Like | None) -> Search:
    """The search that runs or ran for this, or a new one in place of another."""
    held: Search | None = st.session_state.get(state.SEARCH)
    if held is not None:
        if (held.brief, held.like) == (brief, like) and not held.forgotten:
            return held
        held.stop()
    search = Search(brief, like)
    st.session_state[state.SEARCH] = search
    return search


def watch(search: Watched, place: DeltaGenerator, words: str, key: str) -> None:
    """Tell how it goes until it is over.

    A press of Stop ends this run of the page; the next one finds the search stopped.

    Args:
        search: what runs.
        place: where; it is empty afterwards.
        words: what the line says while it runs.
        key: of the line and its button.
    """
    with place.container(horizontal=True, vertical_alignment="center", key=key):
        told = (waiting_words(search.ahead, words), _percent(search))
        line = st.progress(told[1], text=told[0], width="stretch")
        st.button("Stop", key=f"{key}_stop", on_click=search.stop)
    while not search.wait(_TICK_S):
        # A look at the session lets a press end this run, and costs less than drawing the line.
        st.session_state.get(state.SEARCH)
        now = (waiting_words(search.ahead, words), _percent(search))
        if now != told:
            told = now
            line.progress(told[1], text=told[0])
    place.empty()


def _percent(search: Watched) -> int:
    return min(100, int(100.0 * search.part))


def waiting_words(ahead: int, words: str = _WORDS) -> str:
    """What the line says while so many others' work comes first."""
    if ahead == 0:
        return words
    return (
        "Others are looking too: yours is next"
        if ahead == 1
        else (f"Others are looking too: {ahead} before yours")
    )


def _look_on(words: str) -> None:
    with st.container(horizontal=True, vertical_alignment="center"):
        note(words)
        st.button("Look on", key="search_on", on_click=_forget)


def _forget() -> None:
    st.session_state.pop(state.SEARCH, None)
