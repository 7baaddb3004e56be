"""The colours at hand as drawn beads; the one picked is what a tap on the picture gives."""

import streamlit as st

from explorer.app import cache, session, state
from explorer.app.parts.choices import Choice, choices
from explorer.app.state import Work
from explorer.brief import DEFAULT_HANGING
from palettes.beads import BeadKind
from palettes.charts import bead_kinds
from palettes.swatches import Swatch

# Chosen by us: sharp on a screen of two device pixels a pixel, at the size that the chips have.
_CHIP_PX = 72


def hanging_kind(work: Work) -> BeadKind:
    """The kind that the maker chose for dangles."""
    kinds = bead_kinds()
    return kinds.get(work.sizing.hanging, kinds[DEFAULT_HANGING])


def chip(swatch: Swatch, kind: BeadKind) -> bytes:
    """One drawn bead."""
    return cache.bead_row((swatch,), kind, _CHIP_PX)


def tray(label: str) -> None:
    """The tray; a press makes a colour the brush."""
    work = session.work()
    kind = hanging_kind(work)

    def take(id_: str) -> None:
        st.session_state[state.BRUSH] = int(id_)

    choices(
        label,
        tuple(
            Choice(id=str(place), label=swatch.name, png=chip(swatch, kind))
            for place, swatch in enumerate(work.tray.swatches)
        ),
        chosen=str(session.brush(work.tray)),
        on_choice=take,
        key="tray",
        size="chip",
        brush=True,
    )
