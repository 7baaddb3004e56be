"""Where colours come from: palettes that come along, a mood, a photograph, favourites, my beads."""

from collections.abc import Callable

import streamlit as st

from explorer.app.parts.source_beads import source_beads
from explorer.app.parts.source_mood import source_mood
from explorer.app.parts.source_photo import source_photo
from explorer.app.parts.source_picks import source_picks

SOURCE = "source"
_SOURCES = {
    "palettes": "Ready-made palettes",
    "mood": "To suit a mood",
    "photo": "From a photograph",
    "picks": "From favourites",
    "beads": "From my beads",
}
_DRAW: dict[str, Callable[[], None]] = {
    "mood": source_mood,
    "photo": source_photo,
    "picks": source_picks,
    "beads": source_beads,
}


def sources(palettes: Callable[[], None]) -> None:
    """The sources to choose from, and the one that is chosen.

    Args:
        palettes: draws the palettes that come along.
    """

    def pick() -> None:
        st.session_state[SOURCE] = st.session_state["source_pick"]

    chosen = str(st.session_state.get(SOURCE, "palettes"))
    st.session_state["source_pick"] = chosen
    st.segmented_control(
        "Where the colours come from",
        list(_SOURCES),
        format_func=lambda name: _SOURCES[name],
        key="source_pick",
        required=True,
        on_change=pick,
        label_visibility="collapsed",
    )
    with st.container(key=f"source_{chosen}", gap="small"):
        _DRAW.get(chosen, palettes)()
