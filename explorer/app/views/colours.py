"""Colours: a palette of drawn beads, colours of one's own, or one colour changed by hand."""

import streamlit as st

from explorer.app import session, state, steps
from explorer.app.demo import tray_of
from explorer.app.parts.by_hand import by_hand
from explorer.app.parts.choices import choices
from explorer.app.parts.notes import fault, kept_place, note
from explorer.app.parts.palette_cards import palette_card
from explorer.app.parts.palette_files import palette_files
from explorer.app.parts.palette_view import palette_view
from explorer.app.parts.rules_panel import rules_panel
from explorer.app.parts.sources import sources
from explorer.app.parts.table import table
from explorer.app.parts.tray import hanging_kind, tray
from explorer.errors import BriefError
from palettes.charts import palette, palette_names

_OWN = "colours_own"
_OWN_FAULT = "colours_own_fault"


def view() -> None:
    """The page."""
    table(act="paint", hint="Pick a colour below, then tap a motif: it takes that colour.")
    st.header("Colours", anchor=False)
    tray("Colour to give")
    by_hand()
    st.subheader("How the colours lie", anchor=False)
    rules_panel()
    with st.expander("Look at the colours closely"):
        palette_view()
    st.subheader("Other colours", anchor=False)
    sources(_palettes)
    st.subheader("Colours of your own", anchor=False)
    _own()
    with st.expander("Palettes as files"):
        palette_files()


def _palettes() -> None:
    work = session.work()
    kind = hanging_kind(work)

    def take(name: str) -> None:
        st.session_state.pop(state.BRUSH, None)
        session.commit(steps.with_tray(session.work(), tray_of(name)))

    choices(
        "Palettes",
        tuple(palette_card(palette(name), kind) for name in palette_names()),
        chosen=work.tray.palette,
        on_choice=take,
        key="palettes",
    )


def _own() -> None:
    """Hex colours pasted; what was typed stays, with the fault beside it."""

    def take() -> None:
        text = str(st.session_state[_OWN])
        st.session_state[state.OWN_TEXT] = text
        st.session_state.pop(_OWN_FAULT, None)
        if not text.strip():
            return
        now = session.work()
        try:
            after = steps.with_tray(now, steps.own_tray(text, now.tray.base))
        except BriefError as error:
            st.session_state[_OWN_FAULT] = error
            return
        st.session_state.pop(state.BRUSH, None)
        session.commit(after)

    st.session_state[_OWN] = st.session_state.get(state.OWN_TEXT, "")
    st.text_input(
        "Hex colours, with spaces or commas between",
        st.session_state[_OWN],
        key=_OWN,
        on_change=take,
        placeholder="#1f8a83 #f2c14e #d1495b",
    )
    error = st.session_state.get(_OWN_FAULT)
    with kept_place():
        if isinstance(error, BriefError):
            fault(error)
        elif _is_on_table(str(st.session_state[_OWN])):
            note("These colours are on the table.")


def _is_on_table(text: str) -> bool:
    tray = session.work().tray
    return bool(text.strip()) and steps.own_tray(text, tray.base).swatches == tray.swatches
