"""A link to another page of the app, wherever one is wanted."""

from collections.abc import Sequence

import streamlit as st
from streamlit.navigation.page import StreamlitPage

from explorer.app import address, session, state

_PAGES = "pages_by_path"
# Pages that stand in no row of their own, and the page in the row that they belong to.
_WITHIN = {"": "size", "beads": "colours"}


def know(pages: Sequence[StreamlitPage]) -> None:
    """Remember the pages that links lead to."""
    st.session_state[_PAGES] = {page.url_path: page for page in pages}


def row_path(here: StreamlitPage) -> str:
    """The page in the row that is open, or that the open page belongs to."""
    return _WITHIN.get(here.url_path, here.url_path)


def to_page(path: str, label: str) -> None:
    """The link; nothing where the page stands alone, as in a test."""
    page = st.session_state.get(_PAGES, {}).get(path)
    if isinstance(page, StreamlitPage):
        st.page_link(
            page,
            label=label,
            width="content",
            icon=":material/arrow_forward:",
            query_params={state.MARK: session.mark(), **address.carried()},
        )
