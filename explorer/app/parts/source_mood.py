"""Colours for a mood, and those that stand apart most."""

import streamlit as st

from explorer.app import cache, cache_sources, session
from explorer.app.parts.choices import Choice, choices
from explorer.app.parts.notes import note
from explorer.app.parts.source_asked import source_asked
from explorer.app.parts.source_search import source_search
from explorer.app.parts.tray import hanging_kind
from explorer.app.tasks import PaletteQuestion
from palettes.beads import BeadKind
from palettes.moods import moods
from palettes.swatches import Swatch

_MOOD, _SEED = "source_mood_name", "source_mood_seed"
_APART = "apart"
_ROW_PX = 56  # chosen by us, because eight such beads side by side fill a card on a phone
_APART_NOTE = "No mood: every two as different as can be, for all the eyes chosen."
# Drawn for it: black, white and three hues, chosen by eye.
_FAR = ("#101010", "#c8102e", "#f2c14e", "#1f8a83", "#f4f4f2")


def _rainbow(kind: BeadKind) -> bytes:
    swatches = tuple(Swatch(name=hex_, hex=hex_) for hex_ in _FAR)
    return cache.bead_row(swatches, kind, _ROW_PX)


def source_mood() -> None:
    """Moods to pick from, and the palette for the one that is picked."""
    chosen = str(st.session_state.get(_MOOD, "summer"))

    def take(name: str) -> None:
        st.session_state[_MOOD] = name
        st.session_state[_SEED] = 1

    kind = hanging_kind(session.work())
    choices(
        "Moods",
        (
            *(
                Choice(
                    id=mood.name,
                    label=mood.title,
                    png=cache.bead_row(cache_sources.mood_sample(mood.name), kind, _ROW_PX),
                )
                for mood in moods().values()
            ),
            Choice(id=_APART, label="Far apart", png=_rainbow(kind)),
        ),
        chosen=chosen,
        on_choice=take,
        key="source_moods",
        size="small",
    )
    note(_APART_NOTE if chosen == _APART else moods()[chosen].note, kind="small")
    request = source_asked()
    if request is None:
        return
    seed = int(st.session_state.get(_SEED, 1))

    def another() -> None:
        st.session_state[_SEED] = seed + 1

    if chosen == _APART:
        # Out of beads at hand the answer is the one best, so there is no other to show.
        question = PaletteQuestion(request=request, seed=seed if request.tray is None else 1)
    else:
        question = PaletteQuestion(request=request, seed=seed, mood=chosen)
    varied = chosen != _APART or request.tray is None
    source_search(question, "source_mood", another=another if varied else None)
