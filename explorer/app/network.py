"""The app in a network: whether it is open to one, and what then stays the maker's own.

Who starts the server has a shelf, beads and a table on this computer. Nobody else in the network
gets to see them: sessions from elsewhere have a shelf of the lesson's instead, with all that is
kept on a shelf.
"""

from ipaddress import ip_address
from pathlib import Path

import streamlit as st

from explorer.shelf import Shelf, default_path

# Where the app listens when it is for this machine alone; see explorer.app.start.
_ALONE = frozenset({"127.0.0.1", "localhost"})
_ELSEWHERE = "from_elsewhere"


def listening_at() -> str:
    """The address at which a network reaches the app; empty where none does."""
    address = st.get_option("server.address")
    return "" if address is None or address in _ALONE else str(address)


def from_elsewhere() -> bool:
    """Whether this session's browser is on another machine than the server."""
    here = listening_at()
    if not here:
        return False
    known: bool | None = st.session_state.get(_ELSEWHERE)
    there = st.context.ip_address
    if there is None:
        # Nobody is connected any more, or it cannot be told.
        return True if known is None else known
    st.session_state[_ELSEWHERE] = bool(known) or not _same(here, there)
    return bool(st.session_state[_ELSEWHERE])


def _same(one: str, other: str) -> bool:
    try:
        # A link-local address may name the way to it besides.
        return ip_address(one.partition("%")[0]) == ip_address(other.partition("%")[0])
    except ValueError:
        return False


def lesson_path() -> Path:
    """The file of the shelf that all lessons share."""
    return default_path().with_name("lesson.sqlite3")


def lesson_words() -> str:
    """What whoever starts a lesson is told of its shelf."""
    path = lesson_path()
    return (
        f"What is saved in a lesson stays in {path.name} for later ones, and whoever is in them "
        "sees it and can change it. To begin with an empty shelf, stop the app and move that file, "
        f"and the files beside it whose names begin with its own, out of the folder {path.parent}."
    )


def shelf() -> Shelf:
    """The shelf of whoever looks at this page: the maker's own, or the lesson's."""
    return Shelf(lesson_path() if from_elsewhere() else default_path())


def told_place(path: Path) -> object:
    """A file of the server's computer; where it lies there is nobody else's business."""
    return path.name if from_elsewhere() else path
