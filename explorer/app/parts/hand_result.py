"""Pages on their way out: made when asked, shown, and downloaded."""

import base64
from collections.abc import Callable

import streamlit as st

from explorer.app import cache_pages, session
from explorer.app.asks import Ask
from explorer.app.cache_pages import Made
from explorer.app.handing import paper_of
from explorer.app.labels import as_attribute
from explorer.app.parts.decimal_box import chosen_decimal
from explorer.app.parts.hand_boxes import handing
from explorer.app.parts.notes import fault, note
from explorer.app.parts.tables import scrolling
from explorer.app.parts.waiting import telling
from explorer.app.wording import file_stem
from explorer.errors import BriefError
from gallery.page import Paper

_ASKED = "hand_asked"


def result(ask_for: Callable[[], Ask], about: str) -> None:
    """A button that makes the pages; once they are made, their first page and the files.

    Args:
        ask_for: gives what is wanted, or raises ``BriefError`` for what cannot be.
        about: what the pages hold, to read before they are made.
    """
    try:
        ask = ask_for()
    except BriefError as error:
        note(about)
        fault(error)
        return
    paper = paper_of(handing())
    if st.session_state.get(_ASKED) != (ask, paper):
        note(about)
        st.button("Make the pages", type="primary", on_click=_want, args=(ask, paper))
        return
    try:
        with telling("Setting the pages") as told:
            found = cache_pages.printed(ask, paper, chosen_decimal(), told)
    except BriefError as error:
        fault(error)
        return
    for number, made in enumerate(found):
        downloads(made, first=number == 0)
    sheet_of_paper(found[0].png, f"The first page of {found[0].label}")


def _want(ask: Ask, paper: Paper) -> None:
    st.session_state[_ASKED] = (ask, paper)


def downloads(made: Made, *, first: bool) -> None:
    """The files of a document, and what the font lacks."""
    stem = f"{file_stem(session.work().piece.name)}-{made.stem}"
    pages = f"{made.pages} page{'s' * (made.pages > 1)}"
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            f"Download {made.label} (PDF, {pages})",
            made.pdf,
            file_name=f"{stem}.pdf",
            mime="application/pdf",
            on_click="ignore",
            type="primary" if first else "secondary",
        )
        if made.html is not None:
            st.download_button(
                "Download it as a web page",
                made.html,
                file_name=f"{stem}.html",
                mime="text/html",
                on_click="ignore",
            )
    if made.lacking:
        note(lacking_words(made.lacking), kind="care")


def lacking_words(lacking: tuple[str, ...]) -> str:
    """What to say of characters that our font lacks."""
    named = ", ".join(f"{sign} (U+{ord(sign):04X})" for sign in lacking[:12])
    more = f" and {len(lacking) - 12} more" if len(lacking) > 12 else ""
    return f"Our font lacks {named}{more}; each is printed as a lozenge."


def sheet_of_paper(png: bytes, words: str) -> None:
    """A page as it will look, on its paper; on a phone large enough to read, to be moved."""
    data = base64.b64encode(png).decode("ascii")
    alt = as_attribute(words)
    image = f'<img alt="{alt}" src="data:image/png;base64,{data}">'
    st.html(
        '<p class="dw-note dw-small dw-paper-hint">Move the page sideways to read it all.</p>'
        + scrolling(f"{words}, to be moved sideways", image, "dw-paper")
    )
