"""The colours of a photograph: those that cover much of it, and small ones that stand out.

The picture's colours are gathered into cells, the cells into two dozen groups (k-means in L*a*b*),
and from the groups a palette is picked in which each new colour is far from those picked so far;
how much of the picture a group covers counts, but only a little, so that small accents survive.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from palettes.difference import delta_e_2000
from palettes.spaces import FloatArray, hexes_to_srgb1, lab_to_srgb1, srgb1_to_hex, srgb1_to_lab

Pixels = NDArray[np.uint8]
Numbers = NDArray[np.intp]

# Chosen by us, because the picture is parted into as many groups.
MOST_COLOURS = 24
# Groups that the picture is first parted into. Chosen by us: more are near twins of each other.
_GROUPS = 24
# Pixels looked at. Chosen by us: an accent on a thousandth of the picture still has some hundreds.
_LOOKED_AT = 250_000
# Levels of a channel that fall into one cell. Chosen by us, because half of them is hardly seen.
_CELL = 8
# How much the number of pixels counts, as its power: for grouping, for picking, and for settling
# the picked colours. Chosen by us by trial on the photographs that come with scikit-image, where
# six or eight colours lie nearer to what stands out (95th percentile) than those of Pillow's
# quantisers and on average within a twentieth of the best of them, and on pictures with a small
# accent.
_GROUP_POWER, _PICK_POWER, _SETTLE_POWER = 0.5, 0.08, 0.75
_ROUNDS, _SETTLE_ROUNDS = 12, 6  # by trial
# Chosen by us, because a group on less of the picture than this is noise of the camera.
_LEAST_SHARE = 0.0005
# Chosen by us, because a cell on less than this is no reason to start a group.
_LEAST_CELL = 0.0002
# In CIEDE2000. Chosen by us, because a picked colour that settles farther away has been drawn off
# its accent.
_MOST_DRIFT = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoColour:
    """A colour of a photograph.

    Attributes:
        hex: the colour.
        share: the part of the picture that is nearer to it than to the others, 0-1.
        x, y: a place where it is seen, as fractions of width and height from the upper left.
    """

    hex: str
    share: float
    x: float
    y: float


def extract(pixels: Pixels, size: int, rng: np.random.Generator) -> tuple[PhotoColour, ...]:
    """The palette of a picture.

    Args:
        pixels: (h, w, 3) sRGB bytes, or (h, w, 4), of which what is see-through is left out.
        size: how many colours; a picture of few colours may give fewer.
        rng: where the grouping starts.

    Returns:
        The colours, the largest share first.

    Raises:
        ValueError: no such picture, nothing opaque in it, or a size out of range.
    """
    if not 1 <= size <= MOST_COLOURS:
        raise ValueError(f"1 to {MOST_COLOURS} colours; got {size}")
    seen, at = _looked_at(pixels)
    cells, cell_of, count = _cells(seen)
    weight = count**_GROUP_POWER
    centres, group = _k_means(cells, weight, _starts(cells, count, rng), _ROUNDS)
    share = np.bincount(group, count, len(centres)) / count.sum()
    real = np.flatnonzero(share >= min(_LEAST_SHARE, float(share.max())))
    middles = np.stack([_median(cells[group == one], count[group == one]) for one in real])
    picked = _picked(middles, share[real], size)
    settled, _ = _k_means(cells, count**_SETTLE_POWER, picked, _SETTLE_ROUNDS)
    drifted = delta_e_2000(settled, picked) > _MOST_DRIFT
    palette = np.where(drifted[:, None], picked, settled)
    nearest = _nearest(cells, palette)[cell_of]
    return _described(palette, nearest, seen, at, pixels.shape)


def labels(pixels: Pixels, colours: tuple[PhotoColour, ...]) -> Numbers:
    """Which colour each pixel is nearest to in L*a*b*, (h, w); to show them on the photo."""
    palette = srgb1_to_lab(hexes_to_srgb1([colour.hex for colour in colours]))
    # Row by row, so that a large picture takes no more memory than its labels.
    return np.stack([_nearest(srgb1_to_lab(row[:, :3] / 255.0), palette) for row in pixels])


def _looked_at(pixels: Pixels) -> tuple[Pixels, Numbers]:
    """Opaque pixels on an even grid, (n, 3), and their places as row * width + column."""
    if pixels.ndim != 3 or pixels.shape[2] not in (3, 4) or pixels.dtype != np.uint8:
        raise ValueError(f"a picture is (h, w, 3 or 4) bytes; got {pixels.shape} {pixels.dtype}")
    height, width = pixels.shape[:2]
    step = max(1, int(np.sqrt(height * width / _LOOKED_AT)))
    rows, columns = np.arange(0, height, step), np.arange(0, width, step)
    grid = pixels[::step, ::step].reshape(-1, pixels.shape[2])
    at = (rows[:, None] * width + columns).ravel()
    if pixels.shape[2] == 4:
        opaque = grid[:, 3] >= 128
        grid, at = grid[opaque], at[opaque]
    if not len(grid):
        raise ValueError("the picture has no opaque pixel")
    return grid[:, :3], at


def _cells(seen: Pixels) -> tuple[FloatArray, Numbers, FloatArray]:
    """Mean L*a*b* of each cell of sRGB that is met, each pixel's cell, and pixels a cell."""
    levels = 256 // _CELL
    key = (seen // _CELL).astype(np.intp) @ np.array([levels * levels, levels, 1])
    _, cell_of, count = np.unique(key, return_inverse=True, return_counts=True)
    sums = [np.bincount(cell_of, seen[:, channel]) for channel in range(3)]
    mean = np.stack(sums, axis=1) / count[:, None] / 255.0
    return srgb1_to_lab(mean), cell_of, count.astype(np.float64)


def _starts(cells: FloatArray, count: FloatArray, rng: np.random.Generator) -> FloatArray:
    """Cells to start groups from: the farthest ones, then others by chance, far ones rather.

    The first half makes sure that no accent is overlooked; the second is that of Arthur and
    Vassilvitskii 2007, k-means++.
    """
    real = np.where(count >= _LEAST_CELL * count.sum(), 1.0, 0.0)
    chosen = [int(count.argmax())]
    gap = ((cells - cells[chosen[0]]) ** 2).sum(axis=1)
    while len(chosen) < min(_GROUPS, len(cells)):
        if len(chosen) < _GROUPS // 2 and (gap * real).any():
            chosen.append(int((gap * real).argmax()))
        else:
            chance = gap * count**_GROUP_POWER
            chosen.append(int(rng.choice(len(cells), p=chance / chance.sum())))
        gap = np.minimum(gap, ((cells - cells[chosen[-1]]) ** 2).sum(axis=1))
    return cells[chosen]


def _nearest(points: FloatArray, centres: FloatArray) -> Numbers:
    # |p - c|^2 without |p|^2, which is the same for all centres.
    return np.asarray(((centres**2).sum(axis=1) - 2.0 * points @ centres.T).argmin(axis=1))


def _k_means(
    points: FloatArray, weight: FloatArray, centres: FloatArray, rounds: int
) -> tuple[FloatArray, Numbers]:
    """Centres moved to the means of what is nearest to them; empty ones stay."""
    for _ in range(rounds):
        group = _nearest(points, centres)
        total = np.bincount(group, weight, len(centres))
        sums = [np.bincount(group, weight * points[:, axis], len(centres)) for axis in range(3)]
        mean = np.stack(sums, axis=1) / np.maximum(total, 1e-12)[:, None]
        centres = np.where(total[:, None] > 0.0, mean, centres)
    return centres, _nearest(points, centres)


def _median(cells: FloatArray, count: FloatArray) -> FloatArray:
    """The median on each axis, (3,): noise around an accent draws a mean away, but not it."""
    middle = np.empty(3)
    for axis in range(3):
        order = np.argsort(cells[:, axis], kind="stable")
        reached = np.cumsum(count[order])
        middle[axis] = cells[order[np.searchsorted(reached, 0.5 * reached[-1])], axis]
    return middle


def _picked(centres: FloatArray, share: FloatArray, size: int) -> FloatArray:
    """The largest group, then always the one that is far from all picked, shares weighing in."""
    chosen = [int(share.argmax())]
    gap = delta_e_2000(centres, centres[chosen[0]])
    while len(chosen) < min(size, len(centres)):
        chosen.append(int((gap * share**_PICK_POWER).argmax()))
        gap = np.minimum(gap, delta_e_2000(centres, centres[chosen[-1]]))
    return centres[chosen]


def _described(
    palette: FloatArray, nearest: Numbers, seen: Pixels, at: Numbers, shape: tuple[int, ...]
) -> tuple[PhotoColour, ...]:
    """The colours that some pixel is nearest to, with shares and places."""
    height, width = shape[:2]
    srgb1 = np.clip(lab_to_srgb1(palette), 0.0, 1.0)
    found = []
    for place, colour in enumerate(srgb1):
        own = np.flatnonzero(nearest == place)
        if not len(own):
            continue
        # A pixel of just this colour, nearest to the middle of all that are about as near.
        off = ((seen[own] / 255.0 - colour) ** 2).sum(axis=1)
        best = at[own[off <= np.quantile(off, 0.1)]]
        row, column = np.divmod(best, width)
        middle = (row - np.median(row)) ** 2 + (column - np.median(column)) ** 2
        spot = int(middle.argmin())
        found.append(
            PhotoColour(
                hex=srgb1_to_hex(colour),
                share=len(own) / len(seen),
                x=(float(column[spot]) + 0.5) / width,
                y=(float(row[spot]) + 0.5) / height,
            )
        )
    return tuple(sorted(found, key=lambda colour: -colour.share))


def in_proportion(shares: Sequence[float], total: int) -> tuple[int, ...]:
    """Whole numbers in the proportion of shares that add up to a total, by largest remainders.

    Each gets one at least where the total allows it: a small accent stays an accent.

    Args:
        shares: 0 or more each, not all 0.
        total: such as the number of motifs.

    Raises:
        ValueError: shares that are none, or a negative total.
    """
    parts = np.asarray(shares, dtype=np.float64)
    if not parts.size or (parts < 0.0).any() or parts.sum() <= 0.0 or total < 0:
        raise ValueError(f"shares of 0 or more and a total of 0 or more; got {shares}, {total}")
    wanted = total * parts / parts.sum()
    least = 1 if total >= len(parts) else 0
    given = np.maximum(np.floor(wanted).astype(int), least)
    while given.sum() > total:
        # Whoever has most beyond what is due gives one back, if it keeps its least.
        given[int(np.where(given > least, given - wanted, -np.inf).argmax())] -= 1
    while given.sum() < total:
        given[int((wanted - given).argmax())] += 1
    return tuple(given.tolist())
