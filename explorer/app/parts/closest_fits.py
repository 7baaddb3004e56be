"""The fits that close best, each a tap away."""

import streamlit as st

from explorer.app import cache_making, session, steps
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.sizing import Measured
from explorer.app.sizing_words import closest_words
from explorer.fit import Fit

# Chosen by us: as many as are read at a glance.
_MOST = 5
_SEARCHED = 40  # chosen by us: the best few are among so many


def closest_fits(to: Measured, fit: Fit) -> None:
    """Plain ends, motif widths and dividers that leave less over than the fit does."""
    found = [
        other
        for other in cache_making.closest(to, count=_SEARCHED)
        if other.slack_mm < fit.slack_mm - 0.05
    ]
    st.subheader("Closer fits nearby", anchor=False)
    if not found:
        note("None closes better: motifs up to two dangles narrower or wider were tried.")
        return

    def take(other: Fit) -> None:
        session.commit(steps.with_alternative(session.work(), other))

    for number, other in enumerate(found[:_MOST]):
        st.button(
            shown(closest_words(other)),
            key=f"alternative_{number}",
            on_click=take,
            args=(other,),
            width="stretch",
        )
