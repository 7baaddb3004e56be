"""The boxes for a saved piece's words: what is typed in them, and what others changed meanwhile."""

from collections.abc import Callable
from dataclasses import replace

import streamlit as st

from explorer.app import late, session, state
from explorer.app.drafts import Draft, Texts, fresh, texts
from explorer.app.labels import isolated
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import BOXES, attempt, forget_outcome, say, say_outcome
from explorer.brief import whole
from explorer.shelf import Saved
from explorer.shelf_entry import MOST_MINUTES
from explorer.shelf_saved import WORDS, Words

_NAMES = {
    "name": "name", "who": "who it is for", "notes": "notes", "made": "day it was finished",
    "minutes": "minutes it took", "lots": "lots of the beads",
}  # fmt: skip


def drafts() -> dict[int, Draft]:
    """What is typed about pieces in this tab, by their numbers."""
    held: dict[int, Draft] = st.session_state.setdefault(state.DRAFTS, {})
    return held


def forget(number: int) -> None:
    """Take back what was typed about a piece; the boxes are filled from the shelf again."""
    drafts().pop(number, None)
    forget_outcome()


def _key(part: str, number: int) -> str:
    return f"shelf_{part}_{number}"


def _here(number: int) -> str:
    return f"words of {number}"


def words(saved: Saved) -> None:
    """Name, wearer, making and notes; nothing is written to the shelf until it is said so."""
    number = saved.number
    draft = drafts()[number] = drafts().get(number, fresh(saved)).beside(saved)
    _fill(number, draft.typed)
    _box(st.text_input, "name", number)
    _box(st.text_input, "who", number)
    one, two = st.columns(2)
    with one:
        _box(st.text_input, "made", number, placeholder="2025-03-14")
    with two:
        _box(st.text_input, "minutes", number)
    _box(st.text_area, "lots", number, height=80)
    _box(st.text_area, "notes", number, height=80)
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Write it down", key=f"write_{number}", on_click=_write, args=(number,), type="primary"
        )
        if draft.wanted:
            st.button(
                "Take back what I typed", key=f"untype_{number}", on_click=forget, args=(number,),
                type="tertiary",
            )  # fmt: skip
    # Below the button, which would move away from under a finger otherwise.
    clashing = draft.clashing(saved)
    if clashing:
        _ask(saved, clashing)
    elif draft.wanted:
        note("Not written to the shelf yet.", kind="small")
    _tell_elsewhere(draft, saved)
    say_outcome(_here(number))


def take_brought() -> None:
    """What a page brings along that is older than its session, as after a restart of the server."""
    draft = drafts().get(st.session_state.get(state.OPENED, 0))
    if draft is None:
        return
    number = draft.seen.number
    found = {part: late.brought(_key(part, number)) for part in WORDS}
    typed = {part: text for part, text in found.items() if text is not None}
    drafts()[number] = replace(draft, typed={**draft.typed, **typed})


def _box(kind: Callable[..., object], part: str, number: int, **more: object) -> None:
    """One box. It holds any length: the browser would refuse what is too long without a word."""
    key = _key(part, number)
    kind(BOXES[part], st.session_state[key], key=key, on_change=_keep, args=(number,), **more)


def _fill(number: int, held: Texts) -> None:
    for part, text in held.items():
        st.session_state[_key(part, number)] = text


def _keep(number: int) -> None:
    """Remember what stands in the boxes, which the framework forgets with them."""
    draft = drafts().get(number)
    if draft is None:
        return
    typed = {part: str(st.session_state.get(_key(part, number)) or "") for part in WORDS}
    if typed != draft.typed:
        drafts()[number] = replace(draft, typed=typed)
        # What was said of the last writing is no longer so.
        forget_outcome()


def _write(number: int) -> None:
    # The press can come before the word that a box was changed.
    _keep(number)
    attempt(lambda: _write_down(number), where=_here(number))


def _write_down(number: int) -> None:
    """Write what was changed here; where something stands in the way, the page asks about it."""
    draft, shelf = drafts()[number], session.shelf()
    saved = shelf.get(number)
    if saved is None or draft.clashing(saved):
        return
    wanted: Words = {**draft.wanted}
    minutes = wanted.get("minutes")
    if "minutes" in wanted:
        wanted["minutes"] = whole("minutes", minutes, 0, MOST_MINUTES) if minutes else None
    after = shelf.change(draft.seen, wanted)
    if isinstance(after, Saved):
        drafts()[number] = fresh(after)
        _fill(number, texts(after))
        say("Written down.", _here(number))


def _tell(saved: Saved, words: tuple[str, ...]) -> None:
    now = texts(saved)
    for one in words:
        note(f"{_NAMES[one]}: {now[one] or 'nothing'}", kind="small")


def _tell_elsewhere(draft: Draft, saved: Saved) -> None:
    """What was changed elsewhere and is not in the boxes."""
    others = draft.elsewhere(saved)
    if others:
        names = ", ".join(_NAMES[one] for one in others)
        note(f"Changed in another tab alone, and left as it stands there: {names}.", kind="care")
        _tell(saved, others)


def _ask(saved: Saved, clashing: tuple[str, ...]) -> None:
    """As the page asks about a table that was changed in two tabs."""
    number = saved.number

    def take() -> None:
        _keep(number)
        drafts()[number] = drafts()[number].taken(saved, clashing)
        _fill(number, drafts()[number].typed)

    def keep() -> None:
        drafts()[number] = drafts()[number].shown(saved, clashing)

    names = ", ".join(_NAMES[one] for one in clashing)
    note(
        f"Changed in another tab since you began: {names}. What you typed is here and not written "
        "yet; what stands on the shelf now is:",
        kind="care",
    )
    _tell(saved, clashing)
    with st.container(horizontal=True, gap="small", key="shelf_elsewhere"):
        st.button("Take what is there now", key="shelf_elsewhere_take", on_click=take)
        st.button("Keep mine", key="shelf_elsewhere_mine", on_click=keep)


def typed_words(draft: Draft) -> None:
    """What was typed and is not written, to be read or copied."""
    for one, text in draft.wanted.items():
        note(f"{_NAMES[one]}: {text or 'nothing'}", kind="small")


def say_unwritten() -> None:
    """What is typed about pieces whose details are closed, and the way back to it."""
    for number, draft in drafts().items():
        if draft.wanted and number != st.session_state.get(state.OPENED):
            with st.container(horizontal=True, vertical_alignment="center", width="content"):
                name = isolated(draft.seen.name)
                note(f"What you typed about “{name}” is not written to the shelf yet.")
                st.button(
                    "Go on with it", key=f"shelf_unwritten_{number}", on_click=_open, args=(number,)
                )


def _open(number: int) -> None:
    st.session_state[state.OPENED] = number
