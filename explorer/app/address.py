"""Choices that are no part of the piece, carried in the address of every page.

The session holds them; the address brings them back after a reload. Only short text goes there.
"""

import streamlit as st

# Query parameters and, under the same names, keys of the session; no widget uses these keys.
JUDGING = "judging"
SCORES = "scores"
UNITS = "units"
RIDDLE = "riddle"
DECIMAL = "decimal"
_CARRIED = (JUDGING, SCORES, UNITS, RIDDLE, DECIMAL)
# Chosen by us, because it is longer than any choice of ours: what is longer was not written here.
_MOST = 300


def read(name: str) -> str:
    """A choice as text: from the session, else from the address, else nothing."""
    if name not in st.session_state:
        st.session_state[name] = st.query_params.get(name, "")[:_MOST]
    held: str = st.session_state[name]
    if st.query_params.get(name, "") != held:
        write(name, held)
    return held


def write(name: str, text: str) -> None:
    """Remember a choice; nothing takes it out of the address."""
    st.session_state[name] = text
    if text:
        st.query_params[name] = text
    elif name in st.query_params:
        del st.query_params[name]


def carried() -> dict[str, str]:
    """What a link to another page takes along."""
    held = {name: str(st.session_state.get(name, "")) for name in _CARRIED}
    return {name: text for name, text in held.items() if text}
