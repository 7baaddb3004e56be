"""Size: a measurement and a strip, and how the one fits the other."""

from dataclasses import replace

import streamlit as st

from explorer.app import cache, session, steps
from explorer.app.assumed import reckoned
from explorer.app.parts.closest_fits import closest_fits
from explorer.app.parts.decimal_box import decimal_box
from explorer.app.parts.notes import kept_place, note
from explorer.app.parts.remeasuring import remeasuring
from explorer.app.parts.size_boxes import Faults, begin_boxes, box, either, kind, number, tick
from explorer.app.parts.sizing_help import (
    CLOSURE_HELP,
    chain_words,
    closure_care,
    curvature,
    eases,
    extenders,
    fastenings,
    starting_points,
    worn_box,
)
from explorer.app.parts.start_mine import start_mine
from explorer.app.parts.table import table
from explorer.app.parts.units_box import units_box
from explorer.app.sizing import Measured, Sizing
from explorer.app.sizing_words import closed_words, room_words, swatch_words, takes_words
from explorer.app.wording import borderline_words, needs_words
from explorer.brief import MOST_DANGLES, MOST_DIVIDER
from explorer.cautions import Wear
from explorer.fit import Fit, NoFit
from explorer.fit_words import quick_words, swatch_doubt
from explorer.lengths import at_least, both, millimetres
from explorer.links import links_mm

_COUNTED = {
    True: "Yes, the closure is part of it",
    False: "No, the closure comes on top",
}


def view() -> None:
    """The page."""
    table()
    begin_boxes()
    work = session.work()
    found = cache.sized(work.sizing)
    faults = found if isinstance(found, tuple) else ()
    st.header("Size", anchor=False)
    with kept_place():
        start_mine()
    left, right = st.columns([5, 4], gap="large")
    with left:
        _measurement(work.sizing, faults)
        _closure(work.sizing, faults)
    with right:
        fit = _fit(found, work.sizing) if isinstance(found, Measured) else None
        if faults:
            note("The piece above stays as it was until every box makes sense.")
    left, right = st.columns([5, 4], gap="large")
    with left:
        st.subheader("Beads and repeat", anchor=False)
        _strip(work.sizing, faults)
        with st.container(horizontal=True, gap="large"):
            units_box()
            decimal_box()
    with right:
        if isinstance(found, Measured) and fit is not None:
            closest_fits(found, fit)


def _measurement(sizing: Sizing, faults: Faults) -> None:
    one, two = st.columns(2)
    with one:
        box(
            "snug",
            "Round the ankle or wrist",
            sizing,
            faults,
            "The tape just touching the skin. Millimetres, centimetres or inches: "
            "205, 20.5 cm, 8 1/16 in.",
        )
        starting_points(sizing)
    with two:
        box(
            "ease",
            "Ease, for comfort",
            sizing,
            faults,
            "How much looser than the tape it shall sit. About 6 to 20 mm at a wrist, 12 to 40 mm "
            "at an ankle (from trade pages; they differ).",
        )
        eases(sizing)


def _closure(sizing: Sizing, faults: Faults) -> None:
    one, two = st.columns(2)
    with one:
        wear = worn_box(session.work())
    with two:
        fastenings(sizing, child=wear is Wear.CHILD)
    with kept_place():
        closure_care(session.work(), wear)
    one, two = st.columns(2)
    with one:
        box("closure", "The closure's length, closed", sizing, faults, CLOSURE_HELP)
        extenders(sizing)
    with two:
        either("closure_counted", "Does the ease already allow for the closure?", sizing, _COUNTED)


def _strip(sizing: Sizing, faults: Faults) -> None:
    one, two = st.columns(2)
    with one:
        kind("base", "Base bead", sizing, "The beads of the woven strip (the ladder).")
    with two:
        kind("hanging", "Dangle bead", sizing, "The beads that hang.")
    one, two = st.columns(2)
    with one:
        number(
            "dangles",
            "Dangles in a motif",
            sizing,
            1,
            MOST_DANGLES,
            "Each hangs from a base bead of its own.",
        )
    with two:
        number(
            "divider",
            "Base beads between motifs",
            sizing,
            0,
            MOST_DIVIDER,
            "The divider: bare base beads that keep two motifs apart.",
        )
    tick(
        "plain_ends",
        "Fill what is left over with plain base beads at both ends",
        sizing,
        "As many at each end, so that both ends match and less than two base beads are left over.",
    )
    curvature(sizing)
    _swatch(sizing, faults)
    work = session.work()
    if work.piece.wearer is not None:
        with st.expander("I am half-way round and want to measure again"):
            remeasuring(work.piece.wearer, reckoned(work.assumed).setup)


def _swatch(sizing: Sizing, faults: Faults) -> None:
    with st.expander("I have woven and measured a swatch", expanded=bool(sizing.swatch_length)):
        one, two, three = st.columns(3)
        with one:
            box("swatch_length", "Length of the swatch", sizing, faults, "Leave empty if none.")
        with two:
            number("swatch_beads", "Base beads in it", sizing, 1, 500, "Twenty or more are best.")
        with three:
            box(
                "reading",
                "Read to within",
                sizing,
                faults,
                "How far off the ruler may have been read; half a millimetre is usual.",
            )


def _fit(to: Measured, sizing: Sizing) -> Fit | None:
    """How the strip fits, in words; the fit, if there is one."""
    fit = cache.fitted(to)
    if isinstance(fit, NoFit):
        _no_fit(fit)
        return None
    st.subheader("How it fits", anchor=False)
    note(room_words(fit, to.wearer))
    note(takes_words(fit))
    note(f"{closed_words(fit, to.wearer)} {chain_words(to, fit.finished_mm)}".strip())
    links = links_mm(session.work().piece.design)
    if links:
        note(f"The link beads make it {millimetres(links)} longer still.")
    note(needs_words(fit))
    for words in borderline_words(fit):
        note(words, kind="care")
    _pitch(to, fit)
    _quick(fit, sizing)
    return fit


def _pitch(to: Measured, fit: Fit) -> None:
    if to.strip.measured_pitch_mm is not None:
        note(swatch_words(fit))
        doubt = swatch_doubt(to.strip)
        if doubt:
            note(doubt, kind="care")
        return
    note(
        f"A base bead is reckoned at {millimetres(fit.pitch_mm)}, give or take "
        f"{100.0 * fit.pitch_spread:.0f} % until you measure a swatch."
    )


def _no_fit(no_fit: NoFit) -> None:
    note(
        f"Not even one motif fits: there is room for {both(no_fit.target_mm)}, and the shortest "
        f"strip with one motif is {at_least(no_fit.needs_mm)}. It would fit from a measurement "
        f"of {at_least(no_fit.snug_needs_mm)}, or with fewer dangles. The piece above stays as it "
        "was.",
        kind="fault",
    )


def _quick(fit: Fit, sizing: Sizing) -> None:
    words = quick_words(fit)
    if not words:
        return
    note(words, kind="care" if fit.quick_rule.excess_mm else "small")

    def take(quick: bool) -> None:
        work = session.work()
        session.commit(steps.resized(work, replace(work.sizing, quick=quick)))

    if sizing.quick:
        st.button(f"Take the exact fit, {fit.base_beads} base beads", on_click=take, args=(False,))
    else:
        st.button(
            f"Take the quick rule's {fit.quick_rule.base_beads} base beads",
            on_click=take,
            args=(True,),
        )
