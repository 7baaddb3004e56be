"""The beads as a file: read with every wrong row named, kept on consent, written back."""

from dataclasses import dataclass

import streamlit as st

from explorer.app import stock_session
from explorer.app.labels import as_html
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import take_starter
from explorer.app.parts.tables import scrolling
from explorer.app.stock import Boxes, read, with_new
from palettes.errors import ChartError
from palettes.tray_read import COLUMNS, RowFault
from palettes.tray_sheet import MOST_BYTES

_BROUGHT, _FAULT, _PASTED = "beads_brought", "beads_brought_fault", "beads_pasted_text"
# As many faults are listed; the rest is counted. Chosen by us: more is a wrong file.
_LISTED = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """Beads from a file or pasted, not taken over yet."""

    name: str
    boxes: Boxes

    @property
    def faults(self) -> tuple[RowFault, ...]:
        """What is wrong in it."""
        return () if self.boxes.reading is None else self.boxes.reading.faults


def bead_files() -> None:
    """The ways in and the way out."""
    stock = stock_session.held()
    left, right = st.columns(2, gap="large")
    with left:
        st.file_uploader(
            "A table of your beads (CSV, as spreadsheets save it)",
            type=["csv", "tsv", "txt"],
            key="beads_file",
            on_change=_uploaded,
        )
    with right:
        st.session_state["beads_pasted"] = st.session_state.get(_PASTED, "")
        st.text_area(
            "Or paste it from a spreadsheet, headings included",
            key="beads_pasted",
            on_change=_pasted,
            placeholder="name; kind; colour; finish; grams\nTeal; round 8/0; #1f8a83; matte; 12,5",
            height=120,
        )
    note(
        f"Columns, in any order: {', '.join(COLUMNS)}. Name, kind and colour are needed; other "
        "columns stay in the file as they are.",
        kind="small",
    )
    words = st.session_state.get(_FAULT, "")
    if words:
        note(f"{words} Your beads are as they were.", kind="fault")
    brought = st.session_state.get(_BROUGHT)
    if isinstance(brought, Brought):
        _offer(brought, stock.now)
    with st.container(horizontal=True):
        st.download_button(
            "Save my beads as CSV",
            lambda: stock.now.content,
            file_name="my-beads.csv",
            mime="text/csv",
            on_click="ignore",
            disabled=not stock.tray.beads,
        )
        st.button("Add the starter beads (invented)", on_click=take_starter)


def _uploaded() -> None:
    upload = st.session_state["beads_file"]
    if upload is None:
        return
    if upload.size > MOST_BYTES:
        st.session_state[_FAULT] = f"{upload.name} is larger than {MOST_BYTES // 1_000_000} MB."
        return
    _bring(upload.getvalue(), upload.name)


def _pasted() -> None:
    text = str(st.session_state["beads_pasted"])
    st.session_state[_PASTED] = text
    if text.strip():
        _bring(text, "what was pasted")


def _bring(content: bytes | str, name: str) -> None:
    """Read beads; nothing is taken over before the maker says so."""
    st.session_state.pop(_FAULT, None)
    st.session_state.pop(_BROUGHT, None)
    try:
        st.session_state[_BROUGHT] = Brought(name=name, boxes=read(content, name))
    except ChartError as error:
        st.session_state[_FAULT] = f"{error}."


def _offer(brought: Brought, now: Boxes) -> None:
    """What was read, what is wrong with it, and what to do with it."""
    good, faults = len(brought.boxes.tray.beads), brought.faults
    with st.container(border=True, key="beads_offer"):
        bad = len({fault.row for fault in faults})
        read_words = f"{brought.name}: {_many(good, 'bead')} read"
        consent = True
        if faults:
            note(f"{read_words}, {_many(bad, 'row')} cannot be.", kind="care")
            st.html(fault_table(faults))
            consent = st.checkbox(
                f"Keep the {good} good rows and leave the others out", key="beads_consent"
            )
        else:
            note(f"{read_words}.")
        keys = {bead.key for bead in now.tray.beads}
        new = sum(bead.key not in keys for bead in brought.boxes.tray.beads)
        with st.container(horizontal=True):
            st.button(
                "These are my beads now" if now.tray.beads else "Take them",
                type="primary",
                on_click=_take,
                args=(brought.boxes,),
                disabled=not (consent and good),
            )
            if now.tray.beads:
                st.button(
                    f"Add the {new} that I have not yet",
                    on_click=_add,
                    args=(brought.boxes,),
                    disabled=not (consent and new),
                )
            st.button("Leave it", on_click=_leave, type="tertiary")


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def _take(boxes: Boxes) -> None:
    stock_session.take(boxes)
    _leave()


def _add(boxes: Boxes) -> None:
    try:
        stock_session.take(with_new(stock_session.held().now, boxes.tray.beads))
    except ValueError as error:
        st.session_state[_FAULT] = f"{str(error).capitalize()}."
    else:
        _leave()


def _leave() -> None:
    for key in (_BROUGHT, _FAULT, _PASTED):
        st.session_state.pop(key, None)


def fault_table(faults: tuple[RowFault, ...]) -> str:
    """Every fault by row and column, as HTML."""
    rows = "".join(
        f"<tr><td>{fault.row}</td><td>{as_html(fault.column)}</td>"
        f"<td>{as_html(fault.got) or 'nothing'}</td><td>{as_html(fault.wanted)}</td></tr>"
        for fault in faults[:_LISTED]
    )
    more = len(faults) - _LISTED
    rest = f'<tr><td colspan="4">and {more} more</td></tr>' if more > 0 else ""
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("Row", "Column", "Is", "Wanted"))
    return scrolling(
        "Rows that cannot be read",
        f'<table class="dw-table"><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}{rest}</tbody></table>",
        "dw-rows",
    )
