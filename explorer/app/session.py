"""The only module that reads and writes the browser session; everything else works on values."""

import secrets
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

import streamlit as st

from explorer import shelf_tables
from explorer.app import keeping, network, state
from explorer.app.areas import Reach
from explorer.app.choosing import Choosing
from explorer.app.demo import demo
from explorer.app.kept import from_text
from explorer.app.refit import meant, words_of
from explorer.app.state import History, Tray, Work
from explorer.changes import Changed
from explorer.pattern import Pattern
from explorer.piece import Piece
from explorer.shelf import Shelf, ShelfError
from palettes.errors import ChartError

# How the picture lies and how wide it is, until the browser has said. Chosen by us, because a
# laptop's page is so wide.
_FIRST_VIEW = ("strip", 1200)


def begin() -> None:
    """Put the piece on the table of a session that has none yet: what lay there, or the demo."""
    if state.EPOCH not in st.session_state:
        # A mark that tells this session's events from an earlier one's; no secret.
        st.session_state[state.EPOCH] = secrets.token_hex(4)
        st.session_state[state.DONE] = 0
        # As the shelf writes moments down, to be compared with them.
        st.session_state[state.BEGAN] = datetime.now(UTC).isoformat(timespec="microseconds")
    if state.HISTORY not in st.session_state:
        keeping.begin(st.query_params.get(state.MARK, ""))
    if st.query_params.get(state.MARK) != mark():
        st.query_params[state.MARK] = mark()


def end() -> None:
    """Remember what lies on the table, so that a reload or a restart brings it back."""
    keeping.keep()


def last_time() -> Work | None:
    """What lay on the table that was used last, if it can still be read and is not the demo.

    While a network is let in, that table can be anyone's, and it is offered to nobody.
    """
    if network.listening_at():
        return None
    try:
        text = shelf_tables.last(shelf())
        found = None if text is None else from_text(text)[0]
    except (ShelfError, ChartError):
        return None
    return None if found == demo() else found


def shelf() -> Shelf:
    """The shelf of whoever looks at this page."""
    return network.shelf()


def mark() -> str:
    """This table's mark, which stands in the address of every page."""
    return keeping.mark()


def history() -> History:
    """The work with its past and future."""
    held: History = st.session_state[state.HISTORY]
    return held


def keep(after: History) -> None:
    """Remember a history."""
    st.session_state[state.HISTORY] = after


def work() -> Work:
    """The work as it stands."""
    return history().now


def commit(after: Work) -> None:
    """Make a step that an undo takes back."""
    keep(state.changed(history(), after))
    if after.told:
        st.session_state[state.TOLD] = (after.piece.pattern, after.told)


def commit_piece(piece: Piece) -> None:
    """Make a step that changes only the piece."""
    commit(replace(work(), piece=piece))


def commit_pattern(pattern: Pattern) -> None:
    """Make a step that changes only what is meant."""
    commit_piece(meant(work().piece, pattern))


def commit_changed(changed: Changed) -> None:
    """Make a step, and tell with it what it had to give up."""
    commit_pattern(changed.pattern)
    tell(changed)


def tell(changed: Changed) -> None:
    """Tell what a change had to give up, once its piece lies on the table."""
    st.session_state[state.TOLD] = (changed.pattern, words_of(changed))


def refused(words: str) -> None:
    """Tell why something could not be done; the piece stays as it is."""
    if words:
        st.session_state[state.TOLD] = (work().piece.pattern, (words,))


def told() -> tuple[str, ...]:
    """What the last step had to give up, or why it could not be, while its piece lies there."""
    held = st.session_state.get(state.TOLD)
    return held[1] if held is not None and held[0] == work().piece.pattern else ()


def undo() -> None:
    """Take the last step back."""
    keep(state.undone(history()))


def redo() -> None:
    """Make the step again that was taken back."""
    keep(state.redone(history()))


def view() -> tuple[str, int]:
    """How the picture lies, ``strip`` or ``loop``, and its width in device pixels."""
    held: tuple[str, int] = st.session_state.get(state.VIEW, _FIRST_VIEW)
    return held


def brush(tray: Tray) -> int:
    """The place in the tray of the colour that a tap gives."""
    held: int = st.session_state.get(state.BRUSH, 0)
    return held if held < len(tray.swatches) else 0


def reach() -> Reach:
    """How much a tap takes."""
    return Reach(st.session_state.get(state.REACH, Reach.MOTIF))


def place() -> int:
    """The stitch that the maker has come to, from 0."""
    held: int = st.session_state.get(state.PLACE, 0)
    return max(0, held)


def choosing() -> Choosing:
    """Where the maker stands in choosing among proposals."""
    held: Choosing = st.session_state.get(state.CHOOSING, Choosing())
    return held


def set_choosing(after: Choosing) -> None:
    """Remember a state of choosing."""
    st.session_state[state.CHOOSING] = after


def choose(**changes: Any) -> None:
    """Change one part or another of the state of choosing."""
    set_choosing(replace(choosing(), **changes))
