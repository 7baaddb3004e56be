"""A piece as a link and a code to scan, and the way back from either."""

import streamlit as st

from explorer.app import cache_pages, session, steps
from explorer.app.arriving import link_from, piece_in
from explorer.app.parts.hand_boxes import handing, set_box, text_box, tick_box
from explorer.app.parts.notes import note
from explorer.share import MOST_LETTERS, link, to_code
from palettes.errors import ChartError

_FAULT = "hand_share_fault"


def hand_share() -> None:
    """What goes along, the link and the code; and a box to open one."""
    piece = session.work().piece
    left, right = st.columns([3, 2], gap="large")
    with left:
        tick_box("with_name", "The piece's name goes along")
        tick_box(
            "with_measure",
            "The measurement goes along",
            "Without it nothing of the wearer is in the link: not who, not how large.",
        )
        held = handing()
        code = to_code(piece, name=held.with_name, wearer=held.with_measure)
        note(
            "Opened where Danglewise runs at this address, the link puts the piece on the table; "
            "anywhere else it is pasted into the box below."
        )
        st.code(link_from(st.context.url or "http://127.0.0.1:8501", code), None, wrap_lines=True)
        _open()
    with right:
        _code(link(code))


def _code(text: str) -> None:
    png = cache_pages.code_picture(text)
    if png is None:
        note("This piece has more beads than a code to scan holds. The link holds them all.")
        return
    with st.container(key="hand_code"):
        st.image(png, width=300, output_format="PNG", alt="A code to scan that holds the piece")
    note("Scanned, it is a line of text: paste it into the box on this page.", kind="small")
    st.download_button(
        "Download the code (PNG)", png, file_name="code.png", mime="image/png", on_click="ignore"
    )


def _open() -> None:
    st.subheader("Open a link or a code", anchor=False)
    text_box(
        "pasted", "Paste it here", hint="dw2.… or a link with it", area=True, most=MOST_LETTERS
    )
    st.button("Put it on the table", on_click=_put)
    words = st.session_state.get(_FAULT, "")
    if words:
        note(words, kind="fault")


def _put() -> None:
    """What was pasted stays in its box where it cannot be opened."""
    st.session_state.pop(_FAULT, None)
    try:
        piece = piece_in(handing().pasted)
    except ChartError as error:
        st.session_state[_FAULT] = f"No piece can be opened from it: {error.why}."
        return
    session.commit(steps.opened(session.work(), piece))
    set_box("pasted", "")
