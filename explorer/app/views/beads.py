"""My beads: what the maker has, to look through, to put down, to measure, to read and to save."""

import streamlit as st

from explorer.app import stock_session
from explorer.app.parts.bead_editor import bead_editor, choose, chosen
from explorer.app.parts.bead_files import bead_files
from explorer.app.parts.bead_grid import bead_grid
from explorer.app.parts.measuring import measuring
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import take_starter
from explorer.app.parts.table import table
from explorer.app.parts.take_off import take_off


def view() -> None:
    """The page."""
    table()
    stock = stock_session.held()
    with st.container(
        horizontal=True, vertical_alignment="center", horizontal_alignment="distribute"
    ):
        st.header("My beads", anchor=False, width="content")
        _steps()
    fault = st.session_state.get(stock_session.FAULT)
    if fault:
        note(fault, kind="fault")
    left, right = st.columns([5, 3], gap="large")
    with left, st.container(key="my_beads_list"):
        if stock.tray.beads:
            _beads()
        else:
            note("Put your first bead down here, read a table of them, or try invented ones.")
            st.button("Try it with the starter beads", on_click=take_starter, key="beads_starter")
    with right, st.container(key="my_bead"):
        bead_editor()
    with st.expander("Measure a colour from a photograph, beside a white card or a chart"):
        measuring()
    with st.expander("Beads from a table, and back to one", expanded=not stock.tray.beads):
        bead_files()
    if stock.tray.beads:
        st.subheader("The piece on the table", anchor=False)
        take_off()


def _beads() -> None:
    tray = stock_session.tray()
    place, _ = chosen()
    kinds = len({bead.kind for bead in tray.beads})
    of_kinds = "1 kind" if kinds == 1 else f"{kinds} kinds"
    many = "1 bead" if len(tray.beads) == 1 else f"{len(tray.beads)} beads"
    note(f"{many} of {of_kinds}. Press one to change it.", kind="small")
    bead_grid(tray, "my_beads", lambda at: choose(tray.beads[at]), chosen=place)


def _steps() -> None:
    stock = stock_session.held()
    with st.container(horizontal=True, width="content", gap="xsmall"):
        st.button("Undo your beads", key="beads_undo", on_click=_undo, disabled=not stock.past)
        st.button("Redo your beads", key="beads_redo", on_click=_redo, disabled=not stock.future)


def _undo() -> None:
    stock_session.undo()
    choose(None)


def _redo() -> None:
    stock_session.redo()
    choose(None)
