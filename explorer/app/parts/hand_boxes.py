"""The boxes of the page on which pieces are handed on; the session keeps what stands in them."""

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

import streamlit as st

from explorer import shelf_figures
from explorer.app import session
from explorer.app.handing import MOST_LINE, PRICE_BOXES, Handing, box_value, with_box
from explorer.app.parts.decimal_box import shown
from explorer.shelf import ShelfError

_HELD = "handing"
_PRICES = "prices"


def handing() -> Handing:
    """What stands in the boxes."""
    if _HELD not in st.session_state:
        today = datetime.now().astimezone().date().isoformat()
        st.session_state[_HELD] = _with_prices(Handing(dated=today))
    held: Handing = st.session_state[_HELD]
    return held


def set_box(box: str, value: Any) -> None:
    """Fill a box."""
    st.session_state[_HELD] = with_box(handing(), box, value)
    if box in PRICE_BOXES:
        _keep_price(box)


def _with_prices(plain: Handing) -> Handing:
    """The boxes with the maker's own rule for prices, if the shelf knows it."""
    try:
        found = _prices(shelf_figures.kept(session.shelf(), _PRICES))
    except ShelfError:
        return plain
    for box in PRICE_BOXES:
        text = found.get(box)
        if isinstance(text, str):
            plain = with_box(plain, box, text[:MOST_LINE])
    return plain


def _prices(document: str | None) -> dict[str, Any]:
    """The rule as the shelf keeps it; nothing where that cannot be read."""
    try:
        found = json.loads(document or "{}")
    except ValueError:
        return {}
    return found if isinstance(found, dict) else {}


def _keep_price(box: str) -> None:
    """Keep one box of the rule; another tab may have filled the others since."""
    value = box_value(handing(), box)
    try:
        shelf_figures.alter(
            session.shelf(),
            _PRICES,
            lambda held: json.dumps({**_prices(held), box: value}, ensure_ascii=False),
        )
    except ShelfError:
        # The shelf's own page says what is wrong with it; prices go on for this session.
        return


def text_box(
    box: str, label: str, help_: str = "", *, hint: str = "", area: bool = False, most: int = 0
) -> None:
    """A box for text; ``area`` makes it several lines high."""
    key = f"hand_{box}"

    def typed() -> None:
        set_box(box, str(st.session_state[key] or ""))

    text = st.session_state[key] = box_value(handing(), box)
    label, help_, hint = shown(label), shown(help_), shown(hint)
    if area:
        st.text_area(
            label, text, key=key, help=help_ or None, placeholder=hint or None, on_change=typed,
            max_chars=most or None, height=220,
        )  # fmt: skip
    else:
        st.text_input(
            label, text, key=key, help=help_ or None, placeholder=hint or None, on_change=typed,
            max_chars=most or MOST_LINE,
        )  # fmt: skip


def tick_box(box: str, label: str, help_: str = "") -> None:
    """A box to tick."""
    key = f"hand_{box}"

    def ticked() -> None:
        set_box(box, bool(st.session_state[key]))

    st.session_state[key] = box_value(handing(), box)
    st.checkbox(label, key=key, help=help_ or None, on_change=ticked)


def choice_box(box: str, label: str, options: Mapping[str, str], *, bare: bool = False) -> str:
    """One of a few; what is chosen."""
    key = f"hand_{box}"

    def picked() -> None:
        chosen = st.session_state[key]
        if chosen is not None:
            set_box(box, chosen)

    held = str(box_value(handing(), box))
    chosen = held if held in options else next(iter(options))
    st.session_state[key] = chosen
    st.segmented_control(
        label,
        list(options),
        format_func=lambda name: options[name],
        key=key,
        required=True,
        on_change=picked,
        label_visibility="collapsed" if bare else "visible",
    )
    return chosen


def paper_boxes(*, large: str = "large") -> None:
    """Paper, size of type and date, as printed pages have them.

    Args:
        large: the box of large type; empty for pages in one size.
    """
    key = "hand_paper"

    def picked() -> None:
        set_box("letter", st.session_state[key] == "Letter")

    st.session_state[key] = "Letter" if handing().letter else "A4"
    st.segmented_control("Paper", ["A4", "Letter"], key=key, required=True, on_change=picked)
    if large:
        tick_box(large, "Large type")
    text_box("dated", "Date to print (may stay empty)")
