"""Colours from a photograph: shown where they are, matched to beads at hand."""

import streamlit as st

from explorer.app import cache_sources
from explorer.app.parts.notes import note
from explorer.app.parts.photo import Spot, photo
from explorer.app.parts.photo_intake import photo_intake
from explorer.app.parts.source_asked import source_asked
from explorer.app.parts.source_found import source_found
from explorer.app.photographs import Photo
from palettes.choose_types import NoChoice
from palettes.extract import PhotoColour

_SHOWN = "source_photo_shown"


def source_photo() -> None:
    """The photograph, its palette, and the beads nearest to it."""
    held = photo_intake("A photograph: a dress, a beach, a garden", "source")
    if held is None:
        note("It stays on this computer.", kind="small")
        return
    request = source_asked(wishes=False)
    if request is None:
        return
    try:
        seen = cache_sources.seen_in(held, request.size)
    except ValueError:
        note("There is no colour in this picture: all of it is see-through.", kind="fault")
        return
    left, right = st.columns([4, 5], gap="large")
    with left:
        _picture(held, seen, request.size)
    with right:
        found = cache_sources.for_photo(request, held)
        if not isinstance(found, NoChoice) and len(found.colours) < request.size:
            note(f"There are only {len(found.colours)} colours in this picture.", kind="care")
        source_found(found, "source_photo", shares=True)


def _picture(held: Photo, seen: tuple[PhotoColour, ...], size: int) -> None:
    """The photograph with a number at each colour; one of them alone, if it was pointed out."""
    shown = st.session_state.get(_SHOWN)
    place = shown[1] if shown and shown[0] == held.mark and shown[1] < len(seen) else None

    def pick() -> None:
        chosen = st.session_state["source_photo_place"]
        st.session_state[_SHOWN] = None if chosen is None else (held.mark, chosen)

    jpeg = held.jpeg if place is None else cache_sources.only(held, size, place)
    photo(
        jpeg,
        alt=f"{held.name}, with its colours numbered",
        key="source_photo_view",
        spots=[
            Spot(x=c.x, y=c.y, text=str(number + 1), hex=c.hex, strong=number == place)
            for number, c in enumerate(seen)
            if place in (None, number)
        ],
    )
    st.session_state["source_photo_place"] = place
    st.pills(
        "Show where one colour is",
        list(range(len(seen))),
        format_func=lambda number: str(number + 1),
        key="source_photo_place",
        on_change=pick,
    )
