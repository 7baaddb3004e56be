"""The making sheet, the child's pages and the project: boxes at the left, pages at the right."""

import streamlit as st

from explorer.app import session
from explorer.app.asks import ChildAsk, ProjectAsk, SheetAsk
from explorer.app.handing import line, sheet_options, sizes
from explorer.app.parts.hand_boxes import choice_box, handing, paper_boxes, text_box, tick_box
from explorer.app.parts.hand_result import result
from explorer.app.parts.notes import note
from explorer.child_page import Level

_SHEET = (
    "All that is needed at the table without a screen: the picture at true size with a ruler, "
    "beads to count out, thread, the sizing worked out, every motif in the order of work with "
    "boxes to tick, the thread's path for right and left hands, closing, cautions and the date."
)
_CHILD = (
    "The sums of this very piece with room to write, a strip to colour in at true size, and the "
    "answers in a file of their own."
)
_PROJECT = (
    "The piece written so that others can make it: supplies by generic names, a table of sizes, "
    "the steps, and the sums of another size. No measurement of your wearer stands in it."
)
_LEVELS = {
    Level.EASIER.value: "Easier",
    Level.FRACTIONS.value: "Fractions",
    Level.HARDER.value: "Harder",
}


def hand_sheet() -> None:
    """The maker's own sheet."""
    left, right = st.columns([2, 3], gap="large")
    with left:
        paper_boxes()
        text_box("of_whom", "Who it is for (may stay empty)")
        tick_box(
            "with_code",
            "With a code to scan that holds the piece",
            "The beads alone: no name, no measurement.",
        )
        note("Spares, thread, needle and pace are those of the Counting page.", kind="small")
    with right:
        result(
            lambda: SheetAsk(
                piece=session.work().piece, options=sheet_options(session.work(), handing())
            ),
            _SHEET,
        )


def hand_child() -> None:
    """The child's pages."""
    left, right = st.columns([2, 3], gap="large")
    with left:
        level = choice_box("level", "Sums", _LEVELS)
        note(f"With {level}.", kind="small")
        paper_boxes(large="child_large")
    with right:
        result(
            lambda: ChildAsk(
                piece=session.work().piece,
                level=Level(level),
                dated=line(handing(), "dated"),
                large=handing().child_large,
            ),
            _CHILD,
        )


def hand_project() -> None:
    """The project for others."""
    left, right = st.columns([2, 3], gap="large")
    with left:
        one, two, three = st.columns(3)
        with one:
            text_box("least", "Girths from")
        with two:
            text_box("most", "to")
        with three:
            text_box("step", "in steps of")
        paper_boxes()
    with right:
        result(
            lambda: ProjectAsk(
                piece=session.work().piece,
                sizes=sizes(session.work(), handing()),
                options=sheet_options(session.work(), handing()),
            ),
            _PROJECT,
        )
