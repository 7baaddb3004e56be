"""Where a class's beads come from: the piece's colours, the maker's own beads, or a table."""

import streamlit as st

from explorer.app import session, stock, stock_session
from explorer.app.assumed import bead_key
from explorer.app.class_kit import kit_beads, kit_brief
from explorer.app.labels import as_label
from explorer.app.parts.bead_files import fault_table
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.figure_box import figure_box
from explorer.app.parts.hand_boxes import choice_box, handing
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import no_beads
from explorer.app.stock import Boxes
from explorer.errors import BriefError
from explorer.kit_tray import held_in
from palettes.errors import ChartError
from palettes.tray import Tray
from palettes.tray_read import COLUMNS
from palettes.tray_sheet import MOST_BYTES

_FROM = {"piece": "The piece's colours", "mine": "My beads", "table": "A table of beads"}
_FILE = "class_beads_file"
# The name of the table and what was read of it.
_TABLE = "class_beads_table"
_FAULT = "class_beads_fault"


def class_beads() -> Tray | None:
    """Where the class's colours come from; the beads at hand, none until there are some."""
    chosen = choice_box("class_beads", "Colours and base bead out of", _FROM)
    if chosen == "piece":
        mine = stock_session.tray()
        _at_hand(mine)
        return mine
    tray = _mine() if chosen == "mine" else _table()
    if tray is not None:
        _what_there_is(tray)
    return tray


def _what_there_is(tray: Tray) -> None:
    """How many colours there are for the dangles."""
    try:
        brief = kit_brief(session.work(), handing(), tray)
    except BriefError:
        # Said where the kits would stand.
        return
    many = len(brief.colours)
    note(
        f"{many} colour{'s' * (many > 1)} of {brief.hanging.name} for the dangles; the base is "
        f"{brief.base_bead.name}.",
        kind="small",
    )


def _mine() -> Tray | None:
    tray = stock_session.tray()
    if tray.beads:
        return tray
    no_beads()
    return None


def _table() -> Tray | None:
    """The good rows of a table, after what is wrong with the others was said."""
    st.file_uploader(
        "A table of the beads there are (CSV)",
        type=["csv", "tsv", "txt"],
        key=_FILE,
        on_change=_uploaded,
        help=f"Columns, in any order: {', '.join(COLUMNS)}. Name, kind and colour are needed.",
    )
    words = st.session_state.get(_FAULT, "")
    if words:
        note(words, kind="fault")
    held = st.session_state.get(_TABLE)
    if not isinstance(held, tuple):
        return None
    name, boxes = held
    good = len(boxes.tray.beads)
    faults = boxes.reading.faults if boxes.reading is not None else ()
    note(f"{name}: {good} bead{'s' * (good != 1)} read.", kind="small")
    if faults:
        bad = len({fault.row for fault in faults})
        st.html(fault_table(faults))
        words = f"{bad} row{'s' * (bad > 1)} that cannot be read"
        if not st.checkbox(f"Go on without the {words}", key="class_beads_consent"):
            return None
    tray: Tray = boxes.tray
    return tray if good else None


def _uploaded() -> None:
    """Read a table; one that cannot be read leaves the former one in place."""
    upload = st.session_state[_FILE]
    st.session_state.pop(_FAULT, None)
    if upload is None:
        st.session_state.pop(_TABLE, None)
        return
    if upload.size > MOST_BYTES:
        st.session_state[_FAULT] = f"{upload.name} is larger than {MOST_BYTES // 1_000_000} MB."
        return
    try:
        boxes: Boxes = stock.read(upload.getvalue(), upload.name)
    except ChartError as error:
        st.session_state[_FAULT] = f"{error}."
        return
    st.session_state[_TABLE] = (upload.name, boxes)
    st.session_state.pop("class_beads_consent", None)


def _at_hand(mine: Tray) -> None:
    """Beads at hand, for sharing what is short; the same boxes as on the Counting page."""
    try:
        beads = kit_beads(kit_brief(session.work(), handing()))
    except BriefError:
        return
    known = {one.bead: one.count for one in held_in(mine)}
    with st.expander("Beads at hand"):
        note(
            "Fill these in to learn what to buy and who would lack what. Once one is filled in or "
            "among your beads, an empty one means none.",
            kind="small",
        )
        for bead in beads:
            box = f"at_hand:{bead_key(bead)}"
            stock_words = f"{known[bead]} at hand" if known.get(bead) else ""
            label = f"{as_label(bead.name)}, {shown(bead.kind.name)}"
            figure_box(box, label, hint=stock_words)
