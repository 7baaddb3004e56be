"""The search for a palette on its page: a first answer at once, then how far the search is."""

from collections.abc import Callable

import streamlit as st

from explorer.app import session, state
from explorer.app.helper import HelperLostError
from explorer.app.parts.notes import note
from explorer.app.parts.search_line import QUIET_S, watch
from explorer.app.parts.source_found import found_cards, source_found
from explorer.app.parts.tray import hanging_kind
from explorer.app.searching import PaletteSearch
from explorer.app.source_words import apart_words
from explorer.app.tasks import PaletteQuestion

_WORDS = "Looking for colours that stand further apart"


def source_search(
    question: PaletteQuestion, key: str, *, another: Callable[[], None] | None
) -> None:
    """Search for a palette and show it; the same question asked again has its answer at once.

    Args:
        question: what is sought.
        key: of the source, for the buttons.
        another: what a press for another palette does; none where there is no other.

    Raises:
        ValueError: a scheme around a grey.
    """
    search = _search(question)
    place, line = st.empty(), st.empty()
    # Where there is something to show already, it is shown at once.
    if not search.wait(QUIET_S if search.first is None else 0.0):
        if search.first is not None:
            with place.container():
                st.html(found_cards(search.first, hanging_kind(session.work())))
                note(f"So far: {apart_words(search.first)}")
        watch(search, line, _WORDS, f"{key}_search")
        place.empty()
    try:
        found = search.result()
    except HelperLostError:
        found = search.first
    if found is None:
        note("Ended before anything was found.")
    else:
        source_found(found, key, another=another)
    if found is None or search.stopped:
        st.button("Look on", key=f"{key}_on", on_click=_forget)


def _search(question: PaletteQuestion) -> PaletteSearch:
    """The search that runs or ran for this, or a new one in place of another."""
    held: PaletteSearch | None = st.session_state.get(state.PALETTE_SEARCH)
    if held is not None:
        if held.question == question and not held.forgotten:
            return held
        held.stop()
    search = PaletteSearch(question)
    st.session_state[state.PALETTE_SEARCH] = search
    return search


def _forget() -> None:
    st.session_state.pop(state.PALETTE_SEARCH, None)
