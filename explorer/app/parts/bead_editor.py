"""The boxes of one bead: to put a new one down, to change one, to take one out."""

import streamlit as st

from explorer.app import stock_session
from explorer.app.bead_rows import bead_of, put, texts_of
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import heading, kept_place, note
from explorer.app.stock import without
from palettes.charts import bead_kinds
from palettes.finishes import Finish
from palettes.tray import TrayBead
from palettes.tray_read import COLUMNS, MOST_LETTERS

# The bead in the boxes by its key; ``NEW`` for a new one.
CHOSEN = "bead_chosen"
NEW = ("", "", "")
_TEXTS, _OF, _FAULTS, _DONE = "bead_texts", "bead_texts_of", "bead_faults", "bead_done"
_LABELS = {
    "name": "Name",
    "kind": "Kind and size",
    "colour": "Colour",
    "finish": "Finish",
    "grams": "Grams there are",
    "count": "Or beads counted",
    "price": "Price of a gram",
    "lot": "Lot",
    "kept": "Where it is kept",
}


def chosen() -> tuple[int | None, TrayBead | None]:
    """The place and the bead in the boxes; both none for a new one."""
    key = st.session_state.get(CHOSEN, NEW)
    for place, bead in enumerate(stock_session.tray().beads):
        if bead.key == key:
            return place, bead
    return None, None


def choose(bead: TrayBead | None) -> None:
    """Put a bead into the boxes, or empty them for a new one."""
    st.session_state[CHOSEN] = NEW if bead is None else bead.key
    for key in (_OF, _FAULTS, _DONE):
        st.session_state.pop(key, None)


def set_colour(hex_: str) -> None:
    """Put a measured colour into the boxes; nothing is written down yet."""
    _texts()["colour"] = hex_


def _texts() -> dict[str, str]:
    """What is typed, which stays until another bead is chosen."""
    _, bead = chosen()
    if _OF not in st.session_state or st.session_state[_OF] != bead:
        st.session_state[_OF] = bead
        st.session_state[_TEXTS] = texts_of(bead)
    held: dict[str, str] = st.session_state[_TEXTS]
    return held


def bead_editor() -> None:
    """The boxes and what can be done with them."""
    place, bead = chosen()
    texts = _texts()
    heading("A new bead" if bead is None else bead.name, 3)
    faults: dict[str, str] = st.session_state.get(_FAULTS, {})
    _box("name", texts, faults)
    one, two = st.columns([3, 2])
    with one:
        _box("kind", texts, faults)
    with two:
        _box("finish", texts, faults)
    one, two = st.columns([3, 2], vertical_alignment="bottom")
    with one:
        _box("colour", texts, faults)
    with two:
        _picker(texts)
    columns = st.columns(3)
    for column, name in zip(columns, ("grams", "count", "price"), strict=True):
        with column:
            _box(name, texts, faults)
    one, two = st.columns(2)
    with one:
        _box("lot", texts, faults)
    with two:
        _box("kept", texts, faults)
    _buttons(place, bead, changed=texts != texts_of(bead))


def _buttons(place: int | None, bead: TrayBead | None, *, changed: bool) -> None:
    with st.container(horizontal=True):
        st.button(
            "Put it down" if bead is None else "Write it down",
            key="bead_write",
            type="primary",
            on_click=_write,
            args=(place,),
        )
        if bead is not None:
            st.button("Take it out", key="bead_out", on_click=_out, args=(place,))
            st.button("A new one", key="bead_new", on_click=choose, args=(None,))
    if bead is not None and changed:
        note("Not written down yet.", kind="small")
    elif st.session_state.get(_DONE):
        note(str(st.session_state[_DONE]), kind="small")


def _box(name: str, texts: dict[str, str], faults: dict[str, str]) -> None:
    key = f"bead_box_{name}"

    def typed() -> None:
        _texts()[name] = str(st.session_state[key])

    options = {"kind": list(bead_kinds()), "finish": [finish.value for finish in Finish]}
    if name in options:
        st.session_state[key] = texts[name]
        st.selectbox(_LABELS[name], options[name], format_func=shown, key=key, on_change=typed)
    else:
        figure = name in ("grams", "price")
        text = st.session_state[key] = shown(texts[name]) if figure else texts[name]
        st.text_input(_LABELS[name], text, key=key, on_change=typed, max_chars=MOST_LETTERS + 50)
    with kept_place():
        if name in faults:
            note(f"Wanted: {faults[name]}.", kind="fault")


def _picker(texts: dict[str, str]) -> None:
    def picked() -> None:
        _texts()["colour"] = str(st.session_state["bead_picker"]).lower()

    found = bead_of({**texts, "name": "any", "lot": "", "kept": ""})
    st.session_state["bead_picker"] = found.hex if isinstance(found, TrayBead) else "#808080"
    st.color_picker("Pick", key="bead_picker", on_change=picked, label_visibility="collapsed")


def _write(place: int | None) -> None:
    """Write the boxes down: a step that an undo takes back; or say what is wrong with them."""
    texts = {column: _texts()[column] for column in COLUMNS}
    bead = bead_of(texts)
    after = bead if isinstance(bead, dict) else put(stock_session.held().now, place, bead)
    if isinstance(after, dict) or isinstance(bead, dict):
        st.session_state[_FAULTS] = after
        return
    stock_session.take(after)
    choose(bead if place is not None else None)
    st.session_state[_DONE] = f"{bead.name} is among your beads."


def _out(place: int | None) -> None:
    now = stock_session.held().now
    if place is not None and place < len(now.tray.beads):
        gone = now.tray.beads[place]
        stock_session.take(without(now, place))
        choose(None)
        st.session_state[_DONE] = f"{gone.name} was taken out. Undo brings it back."
