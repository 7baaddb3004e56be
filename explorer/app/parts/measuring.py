"""A bead's colour from a photograph of a pile or a tube beside a white card or a chart."""

from dataclasses import replace

import streamlit as st

from explorer.app.labels import as_html
from explorer.app.parts.bead_editor import set_colour
from explorer.app.parts.notes import note
from explorer.app.parts.photo import Spot, photo
from explorer.app.parts.photo_intake import photo_intake
from explorer.app.photographs import Photo
from explorer.app.taps import CARD, CHART, Taps, measured
from palettes.measure import Measured, NoMeasure, Trust

_HELD = "measuring"
_WAYS = {CARD: "A white card", CHART: "A chart of 24 patches"}
# Radii as parts of a photograph's longer side; chosen by us by trial on photographs of a few beads.
_SIZES = {0.008: "small", 0.015: "medium", 0.03: "large"}
_TRUST = {
    Trust.GOOD: "good to trust",
    Trust.FAIR: "fair: the shade may be a little off",
    Trust.POOR: "poor: better take it again",
}


def measuring() -> None:
    """The photograph, the taps, and the colour they give."""
    shot = photo_intake("A photograph of the beads with the card or the chart beside them", "bead")
    if shot is None:
        note(
            "Lay a pile of one bead, or the tube, on a white card. Daylight by a window, no "
            "flash, no shadow of yours.",
            kind="small",
        )
        return
    taps = _taps(shot)
    _ways(taps)
    left, right = st.columns([5, 3], gap="large")
    with left:
        photo(
            shot.jpeg,
            alt=f"{shot.name}, to be tapped",
            key="measuring_view",
            spots=_spots(taps, shot),
            hint=f"{taps.next} With the keys: arrows move the ring, Enter taps.",
            on_tap=_tapped,
        )
        with st.container(horizontal=True):
            st.button("Take the last tap back", on_click=_back, disabled=not taps.white)
            st.button("Begin again", on_click=_again, disabled=not taps.white, type="tertiary")
    with right:
        _answer(measured(taps, shot))


def _taps(shot: Photo) -> Taps:
    held: Taps = st.session_state.get(_HELD, Taps())
    if held.mark != shot.mark:
        held = Taps(mark=shot.mark, way=held.way, reach=held.reach)
        st.session_state[_HELD] = held
    return held


def _tapped(x: float, y: float) -> None:
    st.session_state[_HELD] = st.session_state[_HELD].with_tap((x, y))


def _back() -> None:
    held: Taps = st.session_state[_HELD]
    after = (
        replace(held, beads=held.beads[:-1]) if held.beads else replace(held, white=held.white[:-1])
    )
    st.session_state[_HELD] = after


def _again() -> None:
    st.session_state[_HELD] = replace(st.session_state[_HELD], white=(), beads=())


def _ways(taps: Taps) -> None:
    def way() -> None:
        st.session_state[_HELD] = replace(
            taps, way=st.session_state["measuring_way"], white=(), beads=()
        )

    def reach() -> None:
        st.session_state[_HELD] = replace(taps, reach=st.session_state["measuring_reach"])

    st.session_state["measuring_way"], st.session_state["measuring_reach"] = taps.way, taps.reach
    with st.container(horizontal=True, gap="large"):
        st.segmented_control(
            "Beside the beads lies",
            list(_WAYS),
            format_func=lambda name: _WAYS[name],
            key="measuring_way",
            required=True,
            on_change=way,
        )
        st.segmented_control(
            "Look round each tap",
            list(_SIZES),
            format_func=lambda size: _SIZES[size],
            key="measuring_reach",
            required=True,
            on_change=reach,
        )


def _spots(taps: Taps, shot: Photo) -> list[Spot]:
    height, width = shot.pixels.shape[:2]
    size = 2.0 * taps.reach * max(width, height) / width
    whites = [Spot(x=x, y=y, text=str(n + 1), size=size) for n, (x, y) in enumerate(taps.white)]
    if taps.way == CARD:
        whites = [replace(spot, text="") for spot in whites]
    return [*whites, *(Spot(x=x, y=y, strong=True, size=size) for x, y in taps.beads)]


def _answer(found: Measured | NoMeasure | None) -> None:
    if found is None:
        return
    if isinstance(found, NoMeasure):
        note(f"There is no colour yet: {found.why}. {found.remedy}", kind="care")
        return
    st.html(
        f'<div class="dw-measured"><span style="background:{as_html(found.hex)}"></span>'
        f"<div>{as_html(found.hex)}<small>{as_html(_TRUST[found.trust])}</small></div></div>"
    )
    note(
        f"As a rule it is off by a colour difference of about {found.error:.0f}; the beads "
        f"themselves spread by {found.spread:.0f}. A difference of 2 is hardly seen, one of 10 at "
        "arm's length.",
        kind="small",
    )
    for words in found.notes:
        note(words, kind="care")
    st.button(
        "Take this colour for the bead above",
        type="primary",
        on_click=set_colour,
        args=(found.hex,),
    )
