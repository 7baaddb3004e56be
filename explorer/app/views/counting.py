"""Counting: what the piece takes, and every figure that this is reckoned with."""

import streamlit as st

from explorer.app import cache_making, session, stock_session
from explorer.app.assumed import Reckoned, bead_key, reckoned
from explorer.app.counting_words import hours, takes_words
from explorer.app.parts.beads_list import beads_list, groups
from explorer.app.parts.buying_list import buying_list
from explorer.app.parts.cautions_card import cautions_card
from explorer.app.parts.figure_box import figure_box
from explorer.app.parts.notes import fault, note
from explorer.app.parts.table import table
from explorer.app.parts.thread_card import holes_table, thread_boxes, thread_table
from explorer.app.parts.to_page import to_page
from explorer.app.state import Work
from explorer.app.stock import at_hand
from explorer.buying import Purchase, buying
from explorer.counts import Counts
from explorer.design import Design
from explorer.errors import BriefError
from explorer.kit_tray import gram_prices, held_in
from explorer.sheet_letters import letters
from explorer.thread import ThreadPlan, weaving_time_s
from palettes.tray import Tray


def view() -> None:
    """The page."""
    table()
    st.header("Counting", anchor=False)
    work = session.work()
    design = work.piece.design
    known = reckoned(work.assumed)
    tally = cache_making.counted(design, known.spares)
    lines = shopping(design, tally, known, stock_session.tray())
    plan = _plan(design, known)
    seconds = weaving_time_s(tally.total, known.pace_s)
    thread = plan if isinstance(plan, ThreadPlan) else None
    note(takes_words(tally.total + tally.spares, lines, thread, seconds))
    _beads(lines, tally, design)
    _thread(plan, known, design)
    _time_and_care(work, seconds)


def shopping(
    design: Design, tally: Counts, known: Reckoned, tray: Tray | None = None
) -> tuple[Purchase, ...]:
    """The shopping list with the maker's own packs, prices, spread and beads at hand."""
    held, tray = dict(known.at_hand), tray or Tray()
    typed = {bead: held[bead_key(bead)] for bead in design.beads if bead_key(bead) in held}
    return buying(
        design,
        tally,
        stock={**at_hand(design, tray), **typed},
        offers=dict(known.packs),
        spread=known.per_gram,
        gram_prices=gram_prices(held_in(tray)),
    )


def _plan(design: Design, known: Reckoned) -> ThreadPlan | BriefError:
    try:
        return cache_making.threaded(design, known.setup)
    except BriefError as error:
        return error


def _beads(lines: tuple[Purchase, ...], tally: Counts, design: Design) -> None:
    left, right = st.columns([5, 3], gap="large")
    with left:
        st.subheader("Beads to count out and to buy", anchor=False)
        # In the order of the printed sheet.
        places = {design.beads[number]: place for place, number in enumerate(letters(design))}
        beads_list(sorted(lines, key=lambda line: places[line.bead]))
        to_page("beads", "My beads")
    with right:
        st.subheader("Spares and packs", anchor=False)
        one, two = st.columns(2)
        with one:
            figure_box(
                "spares",
                "Spares, in percent",
                "10 for adults, 15 to 20 in children's kits (from memory).",
            )
        with two:
            figure_box("least", "At least, of every bead", "Five of a bead (from memory).")
        buying_list(lines)
        groups(design, tally)


def _thread(plan: ThreadPlan | BriefError, known: Reckoned, design: Design) -> None:
    st.subheader("Thread and needle", anchor=False)
    left, right = st.columns([5, 3], gap="large")
    with right:
        thread_boxes(known.setup)
    with left:
        if isinstance(plan, BriefError):
            fault(plan)
            return
        one, two = st.columns(2, gap="large")
        with one:
            thread_table(plan)
        with two:
            holes_table(design, plan)


def _time_and_care(work: Work, seconds: float) -> None:
    left, right = st.columns([5, 3], gap="large")
    with left:
        st.subheader("Before you weave", anchor=False)
        cautions_card(work)
    with right:
        st.subheader("Time", anchor=False)
        note(f"About {hours(seconds)} at this pace, breaks not counted.")
        figure_box(
            "pace",
            "Your pace, in seconds a bead",
            "A guess of ours until you time twenty beads of a swatch with all their passes and "
            "divide by twenty.",
        )
