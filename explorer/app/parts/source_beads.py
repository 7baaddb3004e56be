"""Colours picked by hand out of the beads at hand."""

import streamlit as st

from explorer.app import session, stock_session
from explorer.app.asking import MOST_SIZE, kind_of
from explorer.app.parts.bead_grid import bead_grid
from explorer.app.parts.chosen_beads import chosen_beads
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import asked, no_beads, source_kinds
from explorer.app.parts.source_found import source_found
from explorer.app.parts.to_page import to_page
from explorer.contrast import looks_of
from palettes.choose_picked import Proof, picked

_HELD = "source_beads_held"


def source_beads() -> None:
    """The beads of one kind; a press takes one into the palette, another lets it go."""
    tray = stock_session.tray()
    kind = kind_of(asked(), session.work(), tray)
    if kind is None:
        no_beads()
        return
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        source_kinds(asked(), tray)
        to_page("beads", "Add, change and upload my beads")
    held = chosen_beads(tray, _HELD, "Your colours", most=MOST_SIZE, kind=tray.of_kind(kind))
    if held:
        looks = looks_of(",".join(asked().eyes))
        source_found(picked(held, looks, Proof()), "source_beads", cards=False)
    else:
        note(f"Press up to {MOST_SIZE} beads; together they are the palette.")

    def press(place: int) -> None:
        bead = tray.beads[place]
        keys = tuple(one.key for one in held)
        st.session_state[_HELD] = (
            tuple(key for key in keys if key != bead.key)
            if bead.key in keys
            else (*keys, bead.key)[-MOST_SIZE:]
        )

    bead_grid(tray, "source_beads", press, kind=kind.name)
