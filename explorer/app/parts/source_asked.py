"""The boxes that every source of colours shares: out of which beads, how many, for whose eyes."""

from collections.abc import Callable
from dataclasses import replace

import streamlit as st

from explorer.app import session, stock_session
from explorer.app.asking import EYES, LEAST_SIZE, MOST_SIZE, Asked, beads_each, kind_of, request
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import fault, note
from explorer.app.parts.to_page import to_page
from explorer.app.stock import with_new
from explorer.errors import BriefError
from palettes.beads import BeadKind
from palettes.choose_from import Request, usable
from palettes.tray import Tray
from palettes.tray_files import starter_tray

_ASKED = "source_asked"
_OUT_OF = {True: "My beads", False: "Any colour"}


def asked() -> Asked:
    """The boxes as they are."""
    held = st.session_state.get(_ASKED)
    # Without beads of one's own, any colour will do until they are asked for.
    return held if isinstance(held, Asked) else Asked(from_beads=bool(stock_session.tray().beads))


def _set(**changes: object) -> None:
    st.session_state[_ASKED] = replace(asked(), **changes)  # type: ignore[arg-type]  # our names


def source_asked(*, wishes: bool = True) -> Request | None:
    """Draw the boxes; what they ask for, or None after saying what is wrong.

    Args:
        wishes: whether the source heeds more than number and eyes.
    """
    now, tray = asked(), stock_session.tray()
    with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
        _box("source_out_of", now.from_beads, "from_beads", _out_of)
        if now.from_beads and tray.beads:
            source_kinds(now, tray)
        _box("source_size", now.size, "size", _size)
    if now.from_beads and not tray.beads:
        no_beads()
        return None
    with st.expander("Whose eyes, and more wishes"):
        _eyes(now)
        if wishes:
            _wishes(now)
    try:
        found = request(now, session.work(), tray)
    except BriefError as error:
        fault(error)
        return None
    if found.tray is not None:
        _left(found, found.tray)
    return found


def no_beads() -> None:
    """Beads at hand are asked for, and there are none yet."""
    note("You have put no beads down yet. Write down your own, or try it with invented ones.")
    with st.container(horizontal=True, vertical_alignment="center"):
        st.button("Try it with the starter beads", on_click=take_starter)
        to_page("beads", "My beads")


def take_starter() -> None:
    """The starter tray joins the maker's beads; an undo takes it back."""
    stock_session.take(with_new(stock_session.held().now, starter_tray().beads))


def _box(
    key: str, value: object, field: str, draw: Callable[[str, Callable[[], None]], None]
) -> None:
    """A box that shows what is held and holds what is picked."""

    def picked() -> None:
        _set(**{field: st.session_state[key]})

    st.session_state[key] = value
    draw(key, picked)


def _out_of(key: str, picked: Callable[[], None]) -> None:
    st.segmented_control(
        "Out of",
        list(_OUT_OF),
        format_func=lambda beads: _OUT_OF[beads],
        key=key,
        required=True,
        on_change=picked,
    )


def _size(key: str, picked: Callable[[], None]) -> None:
    st.number_input(
        "How many colours",
        LEAST_SIZE,
        MOST_SIZE,
        st.session_state[key],
        step=1,
        key=key,
        on_change=picked,
        width=150,
    )


def source_kinds(now: Asked, tray: Tray) -> None:
    """The box for the kind to choose among."""
    kinds = [bead.kind for bead in tray.beads]
    chosen = kind_of(now, session.work(), tray)
    names = {kind.name: f"{kind.name} ({kinds.count(kind)})" for kind in dict.fromkeys(kinds)}

    def draw(key: str, picked: Callable[[], None]) -> None:
        st.selectbox(
            "Kind for the dangles",
            list(names),
            format_func=lambda name: shown(names[name]),
            key=key,
            on_change=picked,
            width=200,
        )

    _box("source_kind", chosen.name if isinstance(chosen, BeadKind) else "", "kind", draw)


def _eyes(now: Asked) -> None:
    def picked() -> None:
        _set(eyes=tuple(st.session_state["source_eyes"]) or ("typical",))

    st.session_state["source_eyes"] = list(now.eyes)
    st.pills(
        "For whose eyes the colours shall stand apart; the worst counts",
        list(EYES),
        format_func=lambda name: EYES[name],
        selection_mode="multi",
        key="source_eyes",
        on_change=picked,
    )


def _wishes(now: Asked) -> None:
    def range_box(key: str, picked: Callable[[], None]) -> None:
        st.slider(
            "Lightest and darkest at least so far apart in lightness (0: no matter)",
            0,
            80,
            key=key,
            on_change=picked,
        )

    def budget_box(key: str, picked: Callable[[], None]) -> None:
        st.text_input(
            "All beads together cost at most (empty: no matter)",
            st.session_state[key],
            key=key,
            on_change=picked,
            max_chars=20,
            placeholder=shown("12.50"),
        )

    def check(label: str) -> Callable[[str, Callable[[], None]], None]:
        return lambda key, picked: _check(label, key, picked)

    if now.from_beads:
        each = beads_each(session.work(), now.size)
        enough = f"Only beads of which there are enough for this piece ({each} of each colour)"
        _box("source_enough", now.enough, "enough", check(enough))
        finish = "No finish twice"
        _box("source_finish", now.one_per_finish, "one_per_finish", check(finish))
        left, right = st.columns(2, gap="large")
        with left:
            _box("source_range", now.range_l, "range_l", range_box)
        with right:
            _box("source_budget", now.budget, "budget", budget_box)
    _box("source_patient", now.patient, "patient", check("Search for long"))


def _check(label: str, key: str, picked: Callable[[], None]) -> None:
    st.checkbox(label, key=key, on_change=picked)


def _left(found: Request, tray: Tray) -> None:
    left = len(usable(found))
    if left < len(tray.beads):
        more = ", or whose price is not known" if found.most_cost is not None else ""
        note(
            f"{left} of your {len(tray.beads)} beads of this kind come into question; the others "
            f"are fewer than {found.beads_each}{more}.",
            kind="small",
        )
