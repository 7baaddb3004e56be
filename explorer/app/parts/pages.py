"""The row of pages in the order of the work; always in sight, on a phone too."""

from collections.abc import Sequence

import streamlit as st
from streamlit.navigation.page import StreamlitPage

from explorer.app import address, session, state
from explorer.app.parts.to_page import row_path, to_page


def page_row(pages: Sequence[StreamlitPage], here: StreamlitPage) -> None:
    """A link for each page, the one that is open marked."""
    with st.container(horizontal=True, gap="xxsmall", key="pages"):
        for page in pages:
            current = page.url_path == row_path(here)
            with st.container(
                width="content", key=f"page_here_{page.url_path}" if current else None
            ):
                st.page_link(
                    page,
                    label=page.title,
                    width="content",
                    query_params={state.MARK: session.mark(), **address.carried()},
                )


# What each page is for, in a few words, for whoever has not been there.
_FOR = {
    "size": "a wrist or an ankle, and what fits it",
    "colours": "what it is woven in",
    "proposals": "ready-made pieces in your size and colours",
    "shape": "how the fringe rises and falls",
    "piece": "to change it bead by bead",
    "neighbours": "whether motifs side by side stand apart",
    "counting": "beads, thread and time",
    "making": "one stitch at a time",
    "handing-on": "sheets, kits and links",
    "together": "to choose colours with a child",
    "shelf": "to keep pieces and find them again",
}


def onward(pages: Sequence[StreamlitPage], here: StreamlitPage) -> None:
    """Below a page, the next one in the order of the work; after the last there is none."""
    places = [page.url_path for page in pages]
    place = places.index(row_path(here))
    # The bare address shows the first page itself; any other such page goes back to its own.
    if here.url_path and row_path(here) != here.url_path:
        to_page(pages[place].url_path, f"Back to {pages[place].title}")
    elif place + 1 < len(pages):
        following = pages[place + 1]
        with st.container(key="onward"):
            st.page_link(
                following,
                label=f"**Next: {following.title}**, {_FOR[following.url_path]}",
                icon=":material/arrow_forward:",
                icon_position="right",
                width="content",
                query_params={state.MARK: session.mark(), **address.carried()},
            )
