"""Proposals that keep to the beads at hand: said on their page, and asked for there."""

from dataclasses import replace

import streamlit as st

from explorer.app import session, stock_session
from explorer.app.parts.notes import note
from explorer.app.stock import limited
from explorer.brief import Brief


def at_hand(brief: Brief) -> Brief:
    """The brief for proposals, within the beads at hand where the maker wants it so.

    Draws the box for that, if any of the colours is among the maker's beads.
    """
    within = limited(brief, stock_session.tray())
    there = sum(count > 0 for count in within.stock)
    if not there:
        if session.work().tray.at_hand:
            note(
                f"None of these colours is among your beads as {brief.colours[0].kind.name}, so "
                "proposals take any.",
                kind="care",
            )
        return brief

    def pick() -> None:
        work = session.work()
        wanted = bool(st.session_state["proposals_at_hand"])
        session.commit(replace(work, tray=replace(work.tray, at_hand=wanted)))

    wanted = session.work().tray.at_hand
    st.session_state["proposals_at_hand"] = wanted
    st.checkbox(
        "Only beads I have, and no more of each than there are",
        key="proposals_at_hand",
        on_change=pick,
    )
    if not wanted:
        return brief
    away = len(brief.colours) - there
    if away:
        note(
            f"{away} of {len(brief.colours)} colours are not among your beads as "
            f"{brief.colours[0].kind.name} and are left out.",
            kind="care",
        )
    return within
