"""One colour changed by hand: in a picker, or by lightness, strength and hue."""

import streamlit as st

from explorer.app import session, steps
from explorer.app.gamut import hex_of, lch_of, most_chroma
from explorer.app.labels import as_label
from explorer.app.parts.notes import note
from explorer.changes import swatch_of
from palettes.swatches import Swatch

# Chosen by us, because below this strength a hue is no more than chance; the last one is kept.
_GREY = 2
_HUE = "hand_last_hue"
# Chosen by us, because so many pickers are a row; bases of more colours are rare.
_MOST_BASES = 6


def by_hand() -> None:
    """The colour picked in the tray, and the base beads'."""
    work = session.work()
    place = session.brush(work.tray)
    swatch = work.tray.swatches[place]
    st.session_state["hand_swatch"] = swatch.hex
    pattern = work.piece.pattern
    bases = dict.fromkeys(swatch_of(pattern, key) for key in pattern.base.keys)
    with st.container(horizontal=True, gap="large"):
        st.color_picker(
            f"Change {as_label(swatch.name)}", key="hand_swatch", on_change=_picked, args=(place,)
        )
        for number, base in enumerate(list(bases)[:_MOST_BASES]):
            key = f"hand_base_{number}"
            st.session_state[key] = base.hex
            st.color_picker(
                f"Change the base bead, {as_label(base.name)}",
                key=key,
                on_change=_picked_base,
                args=(key, base),
            )
    with st.expander(f"Change {as_label(swatch.name)} by lightness, strength and hue"):
        _sliders(place, swatch.hex)


def _picked(place: int) -> None:
    _change(place, str(st.session_state["hand_swatch"]).lower())


def _picked_base(key: str, base: Swatch) -> None:
    hex_ = str(st.session_state[key]).lower()
    session.commit(steps.with_base(session.work(), steps.by_hand(base, hex_), base))


def _change(place: int, hex_: str) -> None:
    session.commit(steps.with_swatch(session.work(), place, hex_))


def _sliders(place: int, hex_: str) -> None:
    lightness, chroma, hue = lch_of(hex_)
    if chroma < _GREY:
        hue = st.session_state.get(_HUE, hue)
    most = max(1, most_chroma(lightness, hue), chroma)
    st.session_state["hand_lightness"] = lightness
    st.session_state["hand_chroma"] = chroma
    st.session_state["hand_hue"] = hue
    one, two, three = st.columns(3, gap="medium")
    with one:
        st.slider(
            "Lightness, dark to light", 0, 100, key="hand_lightness", on_change=_slid, args=(place,)
        )
    with two:
        st.slider("Strength (chroma)", 0, most, key="hand_chroma", on_change=_slid, args=(place,))
    with three:
        st.slider("Hue, in degrees", 0, 359, key="hand_hue", on_change=_slid, args=(place,))
    note(
        f"A screen shows strengths up to {most} at this lightness and hue; real glass can be "
        "stronger.",
        kind="small",
    )


def _slid(place: int) -> None:
    lightness, chroma, hue = (
        int(st.session_state[f"hand_{part}"]) for part in ("lightness", "chroma", "hue")
    )
    st.session_state[_HUE] = hue
    _change(place, hex_of(lightness, chroma, hue))
