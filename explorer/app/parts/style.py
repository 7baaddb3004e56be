"""The app's own touches on the framework's theme."""

from importlib.resources import files

import streamlit as st

_CSS = "\n".join(
    (files("explorer.app.parts") / name).read_text(encoding="utf-8")
    for name in ("style.css", "counting.css", "sources.css")
)


def style() -> None:
    """Lay the style sheet over the page."""
    st.html(f"<style>{_CSS}</style>")
