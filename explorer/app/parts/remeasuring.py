"""Half-way round the strip measures other than planned: ways on, each with its figures."""

import streamlit as st

from explorer.app import session, shaping, state
from explorer.app.counting_words import metres
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import fault, note
from explorer.app.sizing_words import left_words
from explorer.brief import Wearer
from explorer.errors import BriefError
from explorer.lengths import millimetres
from explorer.remeasure import Way, ways_on
from explorer.swatch import Swatch, parse_swatch
from explorer.thread import thread_plan
from explorer.thread_setup import ThreadSetup


def remeasuring(wearer: Wearer, setup: ThreadSetup) -> None:
    """A sentence such as ``40 base beads measure 81 mm``, and what could be done now.

    Args:
        wearer: the measurement that the piece is for.
        setup: thread and needle, for the thread that each way takes.
    """

    def typed() -> None:
        st.session_state[state.REMEASURED] = st.session_state["size_remeasured"]

    text = str(st.session_state.get(state.REMEASURED, ""))
    st.session_state["size_remeasured"] = text
    st.text_input(
        "What you have woven so far",
        text,
        key="size_remeasured",
        placeholder="40 base beads measure 126 mm",
        on_change=typed,
        max_chars=100,
    )
    if not text.strip():
        note("Count the base beads woven so far and lay them along a ruler.", kind="small")
        return
    try:
        measured = parse_swatch(text)
    except BriefError as error:
        fault(error)
        return
    pattern = session.work().piece.pattern
    note(
        f"{measured.pitch_mm:.3f} mm a base bead, give or take {100.0 * measured.spread:.1f} %; "
        f"planned with {pattern.base.pitch_mm:.3f} mm."
    )
    for number, way in enumerate(ways_on(pattern, wearer, measured)):
        _way(number, way, measured, setup)


def _way(number: int, way: Way, measured: Swatch, setup: ThreadSetup) -> None:
    def take() -> None:
        work = session.work()
        session.commit(shaping.with_way(work, way, measured.beads, measured.length_mm))

    motifs = len(way.design.motifs)
    st.button(
        shown(f"{way.words}: {left_words(way.slack_mm)}"),
        key=f"way_{number}",
        on_click=take,
        width="stretch",
        type="secondary",
    )
    note(
        f"{motifs} motifs, {way.counts.base_beads} base beads, {millimetres(way.strip_mm)}; "
        f"{way.counts.total} beads{_thread(way, setup)} in all.",
        kind="small",
    )


def _thread(way: Way, setup: ThreadSetup) -> str:
    try:
        return f" and {metres(thread_plan(way.design, setup).length_mm)} of thread"
    except BriefError:
        # The Counting page says why, beside the box to mend.
        return ""
