"""A small box for a figure that is assumed, beside what follows from it."""

from dataclasses import replace

import streamlit as st

from explorer.app import session, state
from explorer.app.assumed import USUAL, Assumed, box_text, reckoned, with_box
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import kept_place, note
from explorer.app.wording import fault_words


def figure_box(
    box: str, label: str, help_: str = "", *, hint: str = "", bare: bool = False
) -> None:
    """A box for one figure; what makes no sense stays as typed, with the reason below it.

    Args:
        box: its name; see ``assumed.with_box``.
        label: what it is, with its unit.
        help_: where the usual value comes from and how to find one's own.
        hint: what is reckoned with while it is empty.
        bare: whether the label is only heard, and what is wrong stands elsewhere, by
            ``figure_fault``.
    """
    key = f"figure_{box}"
    assumed = session.work().assumed

    def typed() -> None:
        set_figure(box, str(st.session_state[key]))

    text = st.session_state[key] = _box_words(assumed, box)
    st.text_input(
        shown(label),
        text,
        key=key,
        help=shown(help_) or None,
        placeholder=shown(hint) or None,
        label_visibility="collapsed" if bare else "visible",
        on_change=typed,
        max_chars=200,
    )
    if not bare:
        figure_fault(box)


def _box_words(assumed: Assumed, box: str) -> str:
    """What stands in a box: what was typed as it was typed, a usual figure in their writing."""
    text = box_text(assumed, box)
    return shown(text) if text == box_text(USUAL, box) else text


def figure_fault(box: str) -> None:
    """What is wrong with a box, if anything is."""
    error = reckoned(session.work().assumed).fault(box)
    with kept_place():
        if error is not None:
            note(f"{fault_words(error)} Until then the usual figure is used.", kind="fault")


def set_figure(box: str, text: str) -> None:
    """Take a figure over: a step, but for one that makes no sense, which is only kept."""
    work = session.work()
    after = replace(work, assumed=with_box(work.assumed, box, text))
    if reckoned(after.assumed).fault(box) is None:
        session.commit(after)
    else:
        session.keep(state.amended(session.history(), after))
