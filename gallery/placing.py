"""A look without its colour, brought from the fine grid to pixels at each place within one."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from gallery.looks import Look, kept_by_size
from gallery.room import Lit, light
from gallery.shading import Layers, shade
from gallery.shapes import Surface, surface
from gallery.solids import Floats
from palettes.finishes import Finish

Offset = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Box:
    """A part of the square of ``Look.cells``, in pixels."""

    left: int
    top: int
    width: int
    height: int


@lru_cache(maxsize=8)
def every_offset(fine: int) -> tuple[Offset, ...]:
    """All places within a pixel, row by row."""
    return tuple((right, down) for down in range(fine) for right in range(fine))


def averaged(maps: Floats, fine: int, offsets: tuple[Offset, ...]) -> Floats:
    """Fine maps moved by each (right, down) in samples, then averaged to pixels in linear light.

    Args:
        maps: (m, h, w) in linear light, h and w multiples of ``fine``; nothing within ``fine``
            samples of the right and lower border, since it would be moved out.
        fine: samples a pixel each way.
        offsets: moves of 0 to ``fine - 1`` samples.

    Returns:
        (offsets, m, h / fine, w / fine).
    """
    count, high, wide = maps.shape
    if len(offsets) == 1:
        ((right, down),) = offsets
        moved = np.zeros((count, high, wide), np.float32)
        moved[:, down:, right:] = maps[:, : high - down, : wide - right]
        total = np.zeros((count, high // fine, wide // fine), np.float32)
        for place in range(fine * fine):
            total += moved[:, place // fine :: fine, place % fine :: fine]
        return total[None] * np.float32(1.0 / fine**2)
    padded = np.zeros((count, high + fine, wide + fine), np.float32)
    padded[:, fine:, fine:] = maps
    # Sums over every window of fine x fine samples; each offset then picks its own windows.
    across = padded[:, :, : wide + 1].copy()
    for step in range(1, fine):
        across += padded[:, :, step : wide + 1 + step]
    both = across[:, : high + 1].copy()
    for step in range(1, fine):
        both += across[:, step : high + 1 + step]
    both *= np.float32(1.0 / fine**2)
    if offsets == every_offset(fine):
        # All windows but the first row's and column's: a pixel's last one is the unmoved one.
        windows = both[:, 1:, 1:].reshape(count, high // fine, fine, wide // fine, fine)
        turned = windows[:, :, ::-1, :, ::-1].transpose(2, 4, 0, 1, 3)
        return np.ascontiguousarray(turned).reshape(-1, count, high // fine, wide // fine)
    picked = [
        both[:, fine - down : high + 1 : fine, fine - right : wide + 1 : fine]
        for right, down in offsets
    ]
    return np.stack(picked)


@kept_by_size(small=192, middle=8, large=1)
def _lit(plain: Look) -> tuple[Surface, Lit]:
    """The surface and its light, which looks of every finish share."""
    face = surface(plain.solid(), plain.cells, plain.fine)
    return face, light(face)


# A small look is asked for once, for all places within a pixel.
@kept_by_size(small=1, middle=12, large=3)
def _fine_layers(look: Look) -> tuple[Surface, Layers]:
    face, lit = _lit(replace(look, finish=Finish.OPAQUE))
    return face, shade(face, lit, look.finish)


@kept_by_size(small=768, middle=96, large=3)
def layers_at(look: Look, offsets: tuple[Offset, ...]) -> tuple[Box, Layers]:
    """The look's layers in pixels at each place within one: every map gains a first axis.

    Returns:
        The part of the look's square outside which they are all 0, and the layers in it row by row.
    """
    face, fine = _fine_layers(look)
    parts = [fine.weights, fine.white, fine.alpha[None]]
    whole = fine.glass is fine.alpha
    parts += [] if whole else [fine.glass[None]]
    parts += [] if fine.clear is None else [fine.clear[None]]
    parts += [] if fine.fixed is None else [fine.fixed]
    maps = np.concatenate(parts)
    box, places = _boxed(face, look.fine)
    high, wide = box.height * look.fine, box.width * look.fine
    sheet = np.zeros((len(maps), high * wide), np.float32)
    sheet[:, places] = maps
    pixels = averaged(sheet.reshape(-1, high, wide), look.fine, offsets)
    placed = pixels.reshape(len(offsets), len(maps), -1)
    count, pale = len(fine.weights), len(fine.white)
    alpha, after = placed[:, count + pale], count + pale + 1
    glass = alpha if whole else placed[:, after]
    after += 0 if whole else 1
    return box, Layers(
        powers=fine.powers,
        weights=placed[:, :count],
        white=placed[:, count : count + pale],
        fixed=None if fine.fixed is None else placed[:, -3:],
        alpha=alpha,
        glass=glass,
        clear=None if fine.clear is None else placed[:, after],
    )


def _boxed(face: Surface, fine: int) -> tuple[Box, NDArray[np.intp]]:
    """The least box that holds the bead wherever in a pixel it lies, and its samples in there."""
    rows, columns = np.divmod(face.places, face.side)
    left, top = int(columns.min(initial=0)) // fine, int(rows.min(initial=0)) // fine
    # A move takes the last samples right and down by almost a pixel.
    width = (int(columns.max(initial=0)) + fine - 1) // fine + 1 - left
    height = (int(rows.max(initial=0)) + fine - 1) // fine + 1 - top
    places = (rows - top * fine) * (width * fine) + (columns - left * fine)
    return Box(left, top, width, height), places
