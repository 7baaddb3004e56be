"""The pieces thrown away: who and when, the way back, and the way out for good."""

import hashlib
from collections.abc import Callable

import streamlit as st

from explorer.app import session, state
from explorer.app.labels import isolated
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import attempt, say
from explorer.shelf import Saved
from explorer.shelf_saved import Standing, Thrown

_LAST = "shelf_thrown"
_ASKED = "shelf_take_out"
# Chosen by us: the last ones; the command line lists them all.
_MOST_SHOWN = 40


def this_tab() -> str:
    """What the shelf remembers of a tab: a sign from which its table is not found.

    Two tabs can show one table, so it is of this session too.
    """
    mark = f"{session.mark()} {st.session_state[state.EPOCH]}"
    return f"tab {hashlib.sha256(mark.encode()).hexdigest()[:8]}"


def throw(saved: Saved) -> None:
    """Put a piece to those thrown away, and offer the way back."""
    forget_way_back()
    if _done(lambda: session.shelf().throw_away(saved.number, by=this_tab()), saved, ""):
        st.session_state[_LAST] = saved.number
        draft = st.session_state[state.DRAFTS].get(saved.number)
        if st.session_state.get(state.OPENED) == saved.number and not (draft and draft.wanted):
            st.session_state.pop(state.OPENED)
        # The way back stands at the top of the page, which may be far from the card.
        st.toast(
            f"“{isolated(saved.name)}” was thrown away. “Bring it back” is at the top of the page."
        )


def forget_way_back() -> None:
    """Say no more of the piece that was thrown away here last; it waits with the others."""
    st.session_state.pop(_LAST, None)


def _done(act: Callable[[], bool], saved: Saved, words: str) -> bool:
    """Do something to a piece; whether it was done, and by us. The page tells what became of it."""
    done: list[bool] = []
    if attempt(lambda: done.append(act())):
        # It may have been this tab, before a reload or by a second press.
        gone = (
            f"“{isolated(saved.name)}” is no longer where this page showed it; nothing was changed."
        )
        say(words if done[0] else gone)
    return done == [True]


def way_back(thrown: Standing) -> None:
    """That the piece which was thrown away here last is gone, while it is; and its way back."""
    number = st.session_state.get(_LAST)
    found = next((one for one in _all(thrown) if one.number == number), None)
    if found is None:
        return
    with st.container(horizontal=True, vertical_alignment="center", width="content"):
        note(f"“{isolated(found.name)}” was thrown away.")
        st.button("Bring it back", key="shelf_bring_it_back", on_click=bring_back, args=(found,))


def say_waiting(thrown: Standing) -> None:
    """How many wait at the end of the page, where nobody looks for them."""
    count = len(_all(thrown))
    if count:
        pieces = "1 piece waits" if count == 1 else f"{count} pieces wait"
        note(f"{pieces} under “Thrown away” at the end of this page.", kind="small")


def thrown_away(thrown: Standing) -> None:
    """All that were thrown away, the last one first; nothing where there is none."""
    found = _all(thrown)
    if not found:
        return
    with st.expander("Thrown away", key="shelf_thrown_away"):
        note(
            "They wait here until you take them out for good, with their photographs.",
            kind="small",
        )
        for saved in found[:_MOST_SHOWN]:
            _row(saved)
        if len(found) > _MOST_SHOWN:
            note(f"And {len(found) - _MOST_SHOWN} more.", kind="small")


def _all(thrown: Standing) -> tuple[Saved, ...]:
    """Damaged ones too: they can be taken out."""
    return (*thrown.pieces, *(one.saved for one in thrown.apart))


def _row(saved: Saved) -> None:
    number = saved.number
    with st.container(horizontal=True, vertical_alignment="center", gap="small"):
        note(f"{whose(saved)} · number {number} · {thrown_words(saved.thrown)}")
        if st.session_state.get(_ASKED) == number:
            note("It cannot be brought back then.", kind="care")
            st.button("Take it out for good", key=f"out_{number}", on_click=_out, args=(saved,))
            st.button("Leave it here", key=f"leave_{number}", on_click=_leave, type="tertiary")
            return
        st.button("Bring back", key=f"back_{number}", on_click=bring_back, args=(saved,))
        st.button(
            "Take out for good", key=f"ask_{number}", on_click=_ask, args=(number,), type="tertiary"
        )


def whose(saved: Saved) -> str:
    """A piece's name, and who it is for."""
    name = isolated(saved.name)
    return f"{name}, for {isolated(saved.who)}" if saved.who else name


def thrown_words(thrown: Thrown | None) -> str:
    """When and where it was thrown away, as far as that is known."""
    if thrown is None:
        return ""
    where = ""
    if thrown.by.startswith("tab "):
        # A tab that was loaded anew has another sign: none is blamed for what was done before.
        since = thrown.at >= st.session_state[state.BEGAN]
        other = "in another tab" if since else "in the app"
        where = "in this tab" if thrown.by == this_tab() else other
    elif thrown.by:
        where = "on the command line"
    day = f"on {thrown.at[:10]}" if thrown.at else ""
    return " ".join(part for part in ("thrown away", day, where) if part)


def bring_back(saved: Saved) -> None:
    """Put a piece back that was thrown away; the page tells what became of it."""
    shelf = session.shelf()
    _done(lambda: shelf.bring_back(saved.number), saved, f"“{isolated(saved.name)}” is back.")


def _ask(number: int) -> None:
    st.session_state[_ASKED] = number


def _leave() -> None:
    st.session_state.pop(_ASKED, None)


def _out(saved: Saved) -> None:
    _leave()
    shelf = session.shelf()
    _done(lambda: shelf.take_out(saved.number), saved, f"“{isolated(saved.name)}” is taken out.")
