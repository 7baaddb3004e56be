"""A photograph on a page: with marks on it, and to be tapped."""

import base64
import hashlib
import math
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from importlib.resources import files

import streamlit as st

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_photo",
    html=(_PARTS / "photo.html").read_text(encoding="utf-8"),
    css=(_PARTS / "photo.css").read_text(encoding="utf-8"),
    js=(_PARTS / "photo.js").read_text(encoding="utf-8"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A mark on a photograph.

    Attributes:
        x, y: its place, as fractions of width and height.
        text: a letter or a number in it.
        hex: its colour; empty for a ring that shows what is under it.
        strong: whether it is to be seen first.
        size: how wide it is, as a fraction of the width; 0 for the usual size.
    """

    x: float
    y: float
    text: str = ""
    hex: str = ""
    strong: bool = False
    size: float = 0.0


def photo(
    jpeg: bytes,
    *,
    alt: str,
    key: str,
    spots: Sequence[Spot] = (),
    hint: str = "",
    on_tap: Callable[[float, float], None] | None = None,
) -> None:
    """Show it.

    Args:
        jpeg: the picture.
        alt: what it is, for those who hear the page.
        key: the component's own key.
        spots: marks.
        hint: a line below it.
        on_tap: what to do with the place of a tap, in fractions of width and height.
    """
    counter = f"{key}_count"

    def heard() -> None:
        place = tap_place(st.session_state.get(key))
        if place is not None and on_tap is not None:
            st.session_state[counter] = st.session_state.get(counter, 0) + 1
            on_tap(*place)

    data = {
        "jpeg": base64.b64encode(jpeg).decode("ascii"),
        "key": hashlib.sha1(jpeg, usedforsecurity=False).hexdigest(),
        "alt": alt,
        "hint": hint,
        "marks": [asdict(spot) for spot in spots],
        "taps": on_tap is not None,
        "count": st.session_state.get(counter, 0),
    }
    _component(key=key, data=data, on_tap_change=heard)


def tap_place(held: object) -> tuple[float, float] | None:
    """Where a tap was, if what the browser says makes sense."""
    sent = held.get("tap") if hasattr(held, "get") else None
    if not isinstance(sent, dict):
        return None
    place = sent.get("x"), sent.get("y")
    # A number of any size may come; only those from 0 to 1 are turned into fractions.
    x, y = (float(v) if isinstance(v, int | float) and 0 <= v < 1 else math.nan for v in place)
    return None if math.isnan(x + y) else (x, y)
