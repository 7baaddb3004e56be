"""Contrast: which two run together, to whom, in which light, from how far, and what to change."""

from importlib.resources import files

import streamlit as st

from explorer.app import session
from explorer.app.cache_judging import judged_piece
from explorer.app.parts.judging import answer, picked, question_of
from explorer.app.parts.judging_asked import meant
from explorer.app.parts.judging_choices import asked, choices
from explorer.app.parts.judging_strips import strips
from explorer.app.parts.judging_tables import colours, neighbours, others
from explorer.app.parts.table import table

_CSS = (files("explorer.app.parts") / "judging.css").read_text(encoding="utf-8")


def view() -> None:
    """The page."""
    st.html(f"<style>{_CSS}</style>")
    now = asked()
    understood = meant(now)
    work = session.work()
    question = question_of(work, understood)
    judgement = judged_piece(question)
    row = picked(judgement)
    table(marked=() if row is None else (f"m{row.i}", f"m{row.j}"))
    st.header("Contrast", anchor=False)
    answer(work, question, judgement, row)
    st.subheader("Who looks, and where", anchor=False)
    choices(now, understood)
    st.subheader("As they see it", anchor=False)
    seen = st.container()
    st.subheader("Every two neighbours, the weakest first", anchor=False)
    neighbours(question, judgement)
    st.subheader("Every two colours of the tray", anchor=False)
    colours(work, question)
    others(question, judgement)
    # Drawn last, shown above: everything else answers at once while the strips are drawn.
    with seen:
        strips(question, judgement)
