"""The maker's choice of decimal points or commas; until it is made, the browser's own."""

import streamlit as st

from explorer.app import address, state
from explorer.app.decimals import Decimal, decimal_from, written

_WORDS = {Decimal.POINT: "1.5", Decimal.COMMA: "1,5"}
_KEY = "decimal_box"


def chosen_decimal() -> Decimal:
    """The choice as it stands, else what the browser said, else a point."""
    return (
        decimal_from(address.read(address.DECIMAL))
        or decimal_from(st.session_state.get(state.DECIMAL))
        or Decimal.POINT
    )


def shown(words: str) -> str:
    """Words as they are shown, their figures in the maker's writing."""
    return written(words, chosen_decimal())


def decimal_box() -> None:
    """Where the choice is made."""
    st.session_state[_KEY] = chosen_decimal()
    st.segmented_control(
        "Numbers written",
        list(Decimal),
        format_func=lambda decimal: _WORDS[decimal],
        key=_KEY,
        required=True,
        on_change=lambda: address.write(address.DECIMAL, Decimal(st.session_state[_KEY]).value),
    )
