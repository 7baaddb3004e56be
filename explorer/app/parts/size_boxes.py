"""The boxes of the Size page: each filled from the work, each reporting back to it."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import streamlit as st

from explorer.app import session, state, steps
from explorer.app.parts.bead_pick import pick_one
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import fault, kept_place
from explorer.app.sizing import Sizing
from explorer.app.state import Work
from explorer.cautions import Wear
from explorer.errors import BriefError
from explorer.wearers import place_of, usual_ease_mm
from palettes.charts import bead_kinds

_USUAL = Sizing(snug="")
# What the boxes told last, and how often something else has filled them.
_TOLD, _TIMES = "size_told", "size_times"
Faults = tuple[BriefError, ...]
# Changes of these leave the quick rule's numbers behind.
_STRIP = {"dangles", "divider", "base", "plain_ends"}
# Faults of these stand under the box that they come from.
_FIELD_OF = {"swatch_length": "pitch"}


def set_size(*, wear: str | None = None, **changes: Any) -> None:
    """Take boxes over into the work; a typing error is kept but is no step of its own.

    Args:
        wear: what the piece is worn as from now on; None for as before.
        changes: boxes by the names that ``Sizing`` has for them.
    """
    work = session.work()
    if _STRIP & set(changes):
        changes["quick"] = False
    sizing = steps.with_partner(work, replace(work.sizing, **changes))
    after = steps.resized(work if wear is None else steps.said(work, Wear(wear)), sizing)
    if wear is not None:
        after = steps.with_wear(after, Wear(wear), shown)
    if (after.piece, after.assumed) == (work.piece, work.assumed):
        session.keep(state.amended(session.history(), after))
    else:
        session.commit(after)
    st.session_state[_TOLD] = _told(after)


def begin_boxes() -> None:
    """Before the boxes are drawn: give them new keys if something else filled them anew.

    Under its old key a box may still report what stood in it before the browser had the new text,
    which would undo a start, an undo or a piece that was opened; under the old key none is heard.
    """
    now = _told(session.work())
    if st.session_state.get(_TOLD, now) != now:
        st.session_state[_TIMES] = st.session_state.get(_TIMES, 0) + 1
    st.session_state[_TOLD] = now


def key_of(name: str) -> str:
    """The key of a box as it is now."""
    times = st.session_state.get(_TIMES, 0)
    return f"size_{name}_{times}" if times else f"size_{name}"


def pick_size(
    label: str, options: dict[str, str], chosen: str, name: str, on_pick: Callable[[str], None]
) -> None:
    """A list of the Size page; as ``pick_one``."""
    key = key_of(name)

    def picked(value: str) -> None:
        if key == key_of(name):
            on_pick(value)

    pick_one(label, options, chosen, key, picked)


def _told(work: Work) -> tuple[Sizing, Wear | None]:
    return work.sizing, work.piece.wear


def _heard(name: str, key: str) -> None:
    value: Any = st.session_state[key] if key == key_of(name) else None
    if name == "ease" and value is not None and not value.strip():
        value = _usual_ease()
    if value is not None:
        set_size(**{name: value})


def _usual_ease() -> str:
    """Ease where the box is emptied: the usual one for where the piece is worn."""
    piece = session.work().piece
    snug_mm = 0.0 if piece.wearer is None else piece.wearer.snug_mm
    return shown(f"{usual_ease_mm(place_of(piece.worn_as, snug_mm)):g} mm")


def box(name: str, label: str, sizing: Sizing, faults: Faults, help_: str) -> None:
    """A box for text, what is wrong with it right below."""
    key = key_of(name)
    text = st.session_state[key] = _box_words(sizing, name)
    st.text_input(
        shown(label),
        text,
        key=key,
        help=shown(help_),
        on_change=_heard,
        args=(name, key),
        max_chars=100,
    )
    with kept_place():
        for error in faults:
            if error.field == _FIELD_OF.get(name, name):
                fault(error)


def _box_words(sizing: Sizing, name: str) -> str:
    """What stands in a box: what was typed as it was typed, a usual figure in their writing."""
    text = str(getattr(sizing, name))
    return shown(text) if text == getattr(_USUAL, name) else text


def number(name: str, label: str, sizing: Sizing, least: int, most: int, help_: str) -> None:
    """A box for a whole number."""
    key = key_of(name)
    value = st.session_state[key] = getattr(sizing, name)
    st.number_input(
        label, least, most, value, step=1, key=key, help=help_, on_change=_heard, args=(name, key)
    )


def kind(name: str, label: str, sizing: Sizing, help_: str) -> None:
    """A list of bead kinds."""
    key = key_of(name)
    st.session_state[key] = getattr(sizing, name)
    st.selectbox(
        label,
        list(bead_kinds()),
        format_func=shown,
        key=key,
        help=shown(help_),
        on_change=_heard,
        args=(name, key),
    )


def tick(name: str, label: str, sizing: Sizing, help_: str) -> None:
    """A box to tick."""
    key = key_of(name)
    st.session_state[key] = getattr(sizing, name)
    st.checkbox(shown(label), key=key, help=shown(help_), on_change=_heard, args=(name, key))


def either(name: str, label: str, sizing: Sizing, words: dict[bool, str]) -> None:
    """Yes or no, in words."""
    key = key_of(name)
    st.session_state[key] = getattr(sizing, name)
    st.radio(
        label,
        list(words),
        format_func=lambda value: words[value],
        key=key,
        on_change=_heard,
        args=(name, key),
    )
