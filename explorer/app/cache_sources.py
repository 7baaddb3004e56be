"""Palettes from their sources, kept, so that a rerun searches for nothing twice."""

from dataclasses import replace

import numpy as np
import streamlit as st

from explorer.app import tasks
from explorer.app.photographs import Photo
from explorer.app.store import kept
from explorer.app.tasks import PaletteQuestion
from gallery.photo_jpeg import to_jpeg
from palettes.choose import MANY
from palettes.choose_from import Request, from_photo, usable
from palettes.choose_picked import Picked
from palettes.choose_types import NoChoice
from palettes.extract import PhotoColour, extract, labels
from palettes.moods import Mood, moods, quotas, sampled
from palettes.spaces import lab_to_srgb1, srgb1_to_hex
from palettes.swatches import Swatch

# Chosen by us: some minutes of looking around.
_KEPT = 100
_SAMPLE = 5  # by eye
# In megabytes. Chosen by us, because a tray of 5 000 beads, part of its question, takes five.
_PALETTES = 24.0
# Steps of a search after its first answer, for what is shown while the whole is under way. Chosen
# by us, because with 5 000 beads all of it takes half a second to three quarters.
_SOON = 300_000
# What is not of the colour pointed out is drawn so grey and so pale. Chosen by eye.
_FADE = 0.82


def _mark(photo: Photo) -> str:
    return photo.mark


@kept(_PALETTES)
def palette(question: PaletteQuestion) -> Picked | NoChoice:
    """The palette that is asked for, searched for to its end."""
    return tasks.palette(question, told=lambda _: True)


def first_palette(question: PaletteQuestion) -> Picked | None:
    """A palette that is there at once where the search is long; the search then finds better ones.

    None where the search is not long, or nothing is found so soon.
    """
    request = question.request
    if request.tray is None or len(usable(request)) < MANY or question.mood or question.scheme:
        return None
    soon = replace(question, request=replace(request, most_steps=_SOON))
    found = tasks.palette(soon, told=lambda _: True)
    return found if isinstance(found, Picked) else None


@st.cache_data(
    max_entries=_KEPT, show_spinner="Looking at the photograph", hash_funcs={Photo: _mark}
)
def seen_in(photo: Photo, size: int) -> tuple[PhotoColour, ...]:
    """The colours of a photograph."""
    return extract(photo.pixels, size, np.random.default_rng(1))


@st.cache_data(
    max_entries=_KEPT,
    show_spinner="Looking at the photograph",
    hash_funcs={Request: hash, Photo: _mark},
)
def for_photo(request: Request, photo: Photo) -> Picked | NoChoice:
    """The palette of a photograph; the same colours as ``seen_in``, in their order."""
    return from_photo(request, photo.pixels, np.random.default_rng(1))


@st.cache_data(max_entries=_KEPT, show_spinner=False, hash_funcs={Photo: _mark})
def only(photo: Photo, size: int, place: int) -> bytes:
    """The photograph with all faded but what is nearest to one of its colours, as JPEG."""
    own = labels(photo.pixels, seen_in(photo, size)) == place
    flat = photo.pixels[..., :3].astype(np.float64)
    grey = flat.mean(axis=2, keepdims=True)
    faded = 255.0 * _FADE + grey * (1.0 - _FADE)
    return to_jpeg(np.where(own[..., None], flat, faded).astype(np.uint8))


@st.cache_data(max_entries=_KEPT, show_spinner=False)
def mood_sample(name: str) -> tuple[Swatch, ...]:
    """A few colours that show what a mood is."""
    return _sample(moods()[name])


def _sample(mood: Mood) -> tuple[Swatch, ...]:
    rng = np.random.default_rng(7)
    found: list[Swatch] = []
    for region, quota in zip(mood.regions, quotas(mood, _SAMPLE), strict=True):
        for lab in sampled(region, quota, rng):
            hex_ = srgb1_to_hex(np.clip(lab_to_srgb1(lab), 0.0, 1.0))
            found.append(Swatch(name=f"{region.name} {len(found)}", hex=hex_))
    return tuple(found)
