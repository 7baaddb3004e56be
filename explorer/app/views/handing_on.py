"""Print and share: a maker's sheet, a picture, pages for others of all kinds, kits, and links."""

from collections.abc import Callable
from importlib.resources import files

import streamlit as st

from explorer.app.parts.hand_boxes import choice_box
from explorer.app.parts.hand_class import hand_class
from explorer.app.parts.hand_customer import hand_customer
from explorer.app.parts.hand_pages import hand_child, hand_project, hand_sheet
from explorer.app.parts.hand_picture import hand_picture
from explorer.app.parts.hand_share import hand_share
from explorer.app.parts.table import table

_CSS = (files("explorer.app.parts") / "handing.css").read_text(encoding="utf-8")
_KINDS: dict[str, tuple[str, Callable[[], None]]] = {
    "sheet": ("To make it", hand_sheet),
    "picture": ("A picture", hand_picture),
    "child": ("For a child", hand_child),
    "customer": ("For a customer", hand_customer),
    "project": ("For other makers", hand_project),
    "class": ("For a class", hand_class),
    "share": ("As a link", hand_share),
}


def view() -> None:
    """The page."""
    table()
    st.html(f"<style>{_CSS}</style>")
    st.header("Print and share", anchor=False)
    kind = choice_box(
        "kind",
        "What to print or share",
        {name: words for name, (words, _) in _KINDS.items()},
        bare=True,
    )
    _KINDS[kind][1]()
