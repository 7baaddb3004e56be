"""The maker's choice of millimetres or inches."""

import streamlit as st

from explorer.app import address
from explorer.app.units import Units, units_from

_WORDS = {Units.MM: "Millimetres", Units.INCHES: "Inches"}
_KEY = "units_box"


def chosen_units() -> Units:
    """The choice as it stands."""
    return units_from(address.read(address.UNITS))


def units_box() -> None:
    """Where it is made."""
    st.session_state[_KEY] = chosen_units()
    st.segmented_control(
        "Lengths under the picture and on cards in",
        list(Units),
        format_func=lambda unit: _WORDS[unit],
        key=_KEY,
        required=True,
        on_change=_take,
    )


def _take() -> None:
    chosen = Units(st.session_state[_KEY])
    address.write(address.UNITS, "" if chosen is Units.MM else chosen.value)
