"""Palettes from their sources, kept, so that a rerun searches for nothing twice."""

import numpy as np
import streamlit as st

from explorer.app.photographs import Photo
from gallery.photo_jpeg import to_jpeg
from palettes.choose_from import Request, from_free, from_mood, from_photo, from_picks
from palettes.choose_picked import Picked
from palettes.choose_types import NoChoice
from palettes.extract import PhotoColour, extract, labels
from palettes.moods import Mood, moods, quotas, sampled
from palettes.schemes import Scheme
from palettes.spaces import lab_to_srgb1, srgb1_to_hex
from palettes.swatches import Swatch

# Chosen by us: some minutes of looking around.
_KEPT = 100
_SAMPLE = 5  # by eye
# What is not of the colour pointed out is drawn so grey and so pale. Chosen by eye.
_FADE = 0.82


def _mark(photo: Photo) -> str:
    return photo.mark


@st.cache_data(max_entries=_KEPT, show_spinner="Looking for colours", hash_funcs={Request: hash})
def apart(request: Request, seed: int) -> Picked | NoChoice:
    """The colours that stand apart most."""
    return from_free(request, np.random.default_rng(seed))


@st.cache_data(max_entries=_KEPT, show_spinner="Looking for colours", hash_funcs={Request: hash})
def for_mood(request: Request, name: str, seed: int) -> Picked | NoChoice:
    """The palette for a mood."""
    return from_mood(request, moods()[name], np.random.default_rng(seed))


@st.cache_data(max_entries=_KEPT, show_spinner="Looking for colours", hash_funcs={Request: hash})
def for_picks(
    request: Request, picks: tuple[str, ...], scheme: Scheme | None, seed: int
) -> Picked | NoChoice:
    """A palette around picks; ``ValueError`` where a scheme has no hue to build on."""
    return from_picks(request, picks, np.random.default_rng(seed), scheme)


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
