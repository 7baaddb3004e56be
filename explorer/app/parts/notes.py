"""Short lines of text: plain, to take care of, or about a fault."""

from contextlib import AbstractContextManager

import streamlit as st

from explorer.app.labels import as_html, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.wording import fault_words
from explorer.errors import BriefError

_ROLES = {"fault": ' role="alert"', "done": ' role="status"', "answer": ' role="status"'}


def note(words: str, *, kind: str = "plain") -> None:
    """A line of text; ``kind`` is plain, small, answer, done, care or fault."""
    # A fault tells what was typed, as it was typed.
    told = words if kind == "fault" else shown(words)
    role = _ROLES.get(kind, "")
    st.html(f'<p class="dw-note dw-{kind}"{role}>{as_html(told)}</p>')


def heading(name: str, level: int) -> None:
    """A name as a heading of its own: no Markdown is read in it, and it is copied as it is."""
    told = as_html(isolated(" ".join(name.split())))
    st.html(f'<h{level} class="dw-heading">{told}</h{level}>', width="content")


def fault(error: BriefError) -> None:
    """What is wrong with a box, to stand right below it."""
    note(fault_words(error), kind="fault")


def kept_place() -> AbstractContextManager[object]:
    """A place for what comes and goes above or between boxes, such as what is wrong with one.

    The framework makes anew what stands elsewhere than before, and what is being typed in the next
    box is lost with it.
    """
    return st.container(gap=None)
