"""When the piece is made, its beads come off the beads at hand."""

import streamlit as st

from explorer.app import session, stock, stock_session
from explorer.app.labels import as_html
from explorer.app.parts.notes import note
from explorer.app.parts.tables import bead_words, chip
from explorer.app.stock import Use
from explorer.app.wording import sentence
from palettes.tray import Short, taken_off

_SAID = "taken_off_said"


def take_off() -> None:
    """What the piece takes of the beads at hand, and the button for when it is made."""
    design, now = session.work().piece.design, stock_session.held().now
    uses = stock.uses(design, now.tray)
    if not any(use.there for use in uses):
        note("None of this piece's beads are among yours.")
        return
    st.html(use_table(uses))
    lacking = [use for use in uses if use.there and use.missing]

    def made() -> None:
        boxes = stock_session.held().now
        after = taken_off(boxes.tray, stock.off_the_boxes(design, boxes.tray))
        if isinstance(after, Short):
            return
        stock_session.take(stock.Boxes(tray=after, reading=boxes.reading))
        st.session_state[_SAID] = after

    st.button(
        "It is made: take these beads off", key="take_off", on_click=made, disabled=bool(lacking)
    )
    if lacking:
        words = ", ".join(f"{use.missing} {use.bead.name}" for use in lacking)
        note(f"There are too few: {words} are missing.", kind="care")
    if st.session_state.get(_SAID) == now.tray:
        note(sentence("the beads are taken off; Undo your beads puts them back"), kind="small")


def use_table(uses: tuple[Use, ...]) -> str:
    """Every bead of the piece: how many it takes, how many there are, how many stay."""
    rows = "".join(
        f"<tr><td>{chip(use.bead)}{as_html(bead_words(use.bead))}</td><td>{use.used}</td><td>{_held(use)}</td><td>{_after(use)}</td></tr>"
        for use in uses
    )
    heads = "".join(f'<th scope="col">{h}</th>' for h in ("Bead", "In it", "At hand", "After"))
    return (
        f'<table class="dw-table dw-uses"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _held(use: Use) -> str:
    if not use.there:
        return "not among yours"
    return "not counted" if use.held is None else str(use.held)


def _after(use: Use) -> str:
    if use.held is None:
        return ""
    left = use.held - use.used
    return str(left) if left >= 0 else f"{-left} missing"
