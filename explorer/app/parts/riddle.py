"""The riddle of a band: its own numbers, one question at a time, each answer drawn."""

import streamlit as st

from explorer.app import address, cache, session
from explorer.app.parts.notes import note
from explorer.app.puzzle import Question, band, from_text, questions, solved, to_text
from explorer.app.sizing import Measured
from explorer.fit import Fit

# Whether the box was empty when it was last checked, under the box's own key with this before it.
_EMPTY = "empty_"


def riddle() -> None:
    """The questions up to the first that is open; nothing for a band that does not fit."""
    found = cache.sized(session.work().sizing)
    fit = cache.fitted(found) if isinstance(found, Measured) else None
    if not isinstance(fit, Fit):
        return
    st.subheader("A riddle about this band", anchor=False)
    asked = questions(fit)
    answers = from_text(fit, address.read(address.RIDDLE))
    done = solved(asked, answers)
    with st.container(gap="xsmall"):
        for question in asked[:done]:
            note(f"Yes. {question.found}", kind="answer")
    if done < len(asked):
        _ask(done, asked[done], fit, answers[done])
    st.html(boxes(fit, asked[done - 1].drawn if done else 0))
    if done == len(asked):
        note(f"That is it: {fit.base_beads} beads. Count the band to check.", kind="done")


def _ask(number: int, question: Question, fit: Fit, given: int | None) -> None:
    """One question; its answer is carried in the address, so nothing of the child is stored.

    What is in the box comes with the press of the button and not before: nobody is told "not yet"
    in the midst of a number. The program never fills the box, so nothing can come too late for it.
    """
    key = f"riddle_{band(fit)}_{number}"

    def take() -> None:
        answer: int | None = st.session_state[key]
        st.session_state[_EMPTY + key] = answer is None
        if answer is None:
            return
        answers = list(from_text(fit, address.read(address.RIDDLE)))
        answers[number] = answer
        address.write(address.RIDDLE, to_text(fit, tuple(answers)))

    note(question.ask)
    with (
        # Emptied at each press: what is written next is a number of its own.
        st.form(f"form_{key}", clear_on_submit=True, border=False, width="content"),
        st.container(horizontal=True, key="answer"),
    ):
        st.number_input(
            question.ask,
            0,
            9999,
            value=None,
            step=1,
            key=key,
            label_visibility="collapsed",
            width=140,
        )
        st.form_submit_button("Check", on_click=take, type="primary")
    if st.session_state.get(_EMPTY + key, False):
        note("Write a number in the box. Then tap Check.", kind="answer")
    elif given is not None:
        note(f"{given} is not it yet. {question.hint}", kind="answer")


def boxes(fit: Fit, drawn: int) -> str:
    """The band as a row of boxes, part by part, as far as it is explained; the rest is pale."""
    part, dangles = fit.repeat.base_beads, fit.repeat.dangles
    start = fit.repeat.divider
    cells = []
    for place in range(fit.base_beads):
        at = (place - start) % part
        inside = start <= place < start + fit.motifs * part
        kind = "fringe" if inside and at < dangles else "gap"
        known = "known" if place < drawn else ""
        number = f"<b>{place + 1}</b>" if (place + 1) % 10 == 0 else ""
        cells.append(f'<span class="{kind} {known}">{number}</span>')
    return f'<div class="dw-band" aria-hidden="true">{"".join(cells)}</div>'
