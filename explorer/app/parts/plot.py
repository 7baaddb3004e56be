"""Plots: dots that Python has placed, in the page's own colours, light or dark."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from importlib.resources import files

import streamlit as st

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_plot",
    html=(_PARTS / "plot.html").read_text(encoding="utf-8"),
    css=(_PARTS / "plot.css").read_text(encoding="utf-8"),
    js=(_PARTS / "plot.js").read_text(encoding="utf-8"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """One dot, in the drawing's units, y downward.

    Attributes:
        x: from the left.
        y: from the top.
        r: radius; 11 chosen by us, because a finger finds it.
        label: what it is, for a pointer and for those who hear the page.
        text: a short mark in it.
        hex: its colour; empty for the page's own.
        strong: whether it is to be seen first.
    """

    x: float
    y: float
    r: float = 11.0
    label: str = ""
    text: str = ""
    hex: str = ""
    strong: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """A drawing of so many units.

    Attributes:
        width: units across.
        height: units down.
        label: what it shows, for those who hear the page.
        dots: the dots, later ones over earlier ones.
        lines: as (x1, y1, x2, y2).
        rings: as (x, y, radius).
        texts: as (x, y, anchor, words), anchor ``start``, ``middle`` or ``end``.
        most: the widest it is drawn, as a CSS length.
    """

    width: float
    height: float
    label: str
    dots: Sequence[Dot]
    lines: Sequence[tuple[float, float, float, float]] = ()
    rings: Sequence[tuple[float, float, float]] = ()
    texts: Sequence[tuple[float, float, str, str]] = ()
    most: str = "40rem"


def plot(drawing: Plot, key: str) -> None:
    """Draw it."""
    _component(key=key, data=asdict(drawing))
