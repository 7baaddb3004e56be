"""The better correction of a photograph: by a chart of 24 patches whose colours are known.

Finlayson, Mackiewicz and Hurlbert 2015, Color Correction Using Root-Polynomial Regression, IEEE
Transactions on Image Processing 24(5): square roots of products keep the correction right at every
brightness of the light.
"""

from collections.abc import Sequence

import numpy as np

from palettes.charts import number_table
from palettes.difference import delta_e_2000
from palettes.measure import (
    CHART_ERROR,
    Measured,
    NoMeasure,
    Pixels,
    Place,
    around,
    bead_pixels,
    described,
    full_share,
)
from palettes.spaces import FloatArray, lab_to_linear1, linear1_to_lab, srgb1_to_linear1

# The 24-patch chart's own (McCamy, Marcus and Davidson 1976).
COLUMNS, ROWS = 6, 4
# The part of the step between patches that is looked at around each middle. Chosen by us: patches
# fill about four fifths of it, and taps are a little off.
_LOOK = 0.22
# Above this mean CIEDE2000 on the patches themselves it is no such chart, or the taps are wrong.
# Chosen by us: a right one leaves 1 to 3.
_MOST_LEFT = 7.0
_LEAST_PATCHES = 16  # chosen by us: six terms want two or three patches each


def root_polynomial(linear1: FloatArray) -> FloatArray:
    """The six terms of degree 2: r, g, b and the roots of their products, (..., 6)."""
    r, g, b = np.moveaxis(np.maximum(linear1, 0.0), -1, 0)
    return np.stack([r, g, b, np.sqrt(r * g), np.sqrt(g * b), np.sqrt(r * b)], axis=-1)


def chart_lab() -> FloatArray:
    """The 24 patches in CIE L*a*b* under D65, row by row, (24, 3)."""
    return number_table("chart24")


def patch_places(corners: Sequence[Place]) -> FloatArray:
    """The middles of all patches from those of the four at the corners, (24, 2), row by row.

    Args:
        corners: x and y of the first, the sixth, the last and the nineteenth patch: round the
            chart. A picture taken at a slant is allowed for (a plane's perspective).

    Raises:
        ValueError: not four places, or three of them on a line.
    """
    target = np.asarray(corners, dtype=np.float64)
    if target.shape != (4, 2):
        raise ValueError(f"a chart has four corners; got {target.shape}")
    right, low = COLUMNS - 1.0, ROWS - 1.0
    source = np.array([(0.0, 0.0), (right, 0.0), (right, low), (0.0, low)])
    rows, sums = [], []
    for (u, v), (x, y) in zip(source, target, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -u * x, -v * x], [0, 0, 0, u, v, 1, -u * y, -v * y]]
        sums += [x, y]
    try:
        solved = np.linalg.solve(np.array(rows), np.array(sums))
    except np.linalg.LinAlgError as error:
        raise ValueError(f"three corners lie on a line: {corners}") from error
    plane = np.append(solved, 1.0).reshape(3, 3)
    grid = np.array([(u, v, 1.0) for v in range(ROWS) for u in range(COLUMNS)]) @ plane.T
    return np.asarray(grid[:, :2] / grid[:, 2:])


def measure_by_chart(
    pixels: Pixels, corners: Sequence[Place], beads: Sequence[Place], *, radius_px: float
) -> Measured | NoMeasure:
    """A bead's colour beside a chart of 24 patches in six columns and four rows.

    Args:
        pixels: (h, w, 3 or 4) sRGB bytes.
        corners: taps on the four patches at the chart's corners, in any order, the chart turned
            any way.
        beads: taps on the beads, at least one.
        radius_px: how far around each tap on beads to look.

    Raises:
        ValueError: a tap outside the picture, not four corners, or no tap on beads.
    """
    if not beads:
        raise ValueError("at least one tap on the beads is needed")
    found = _best_turn(pixels, _round(corners))
    if isinstance(found, NoMeasure):
        return found
    weights, left = found
    if left > _MOST_LEFT:
        return NoMeasure(
            why="what was tapped is no chart of 24 patches",
            remedy="Tap the middles of the four patches at its corners.",
        )
    seen = bead_pixels(pixels, beads, radius_px)
    corrected = root_polynomial(srgb1_to_linear1(seen / 255.0)) @ weights
    return described(seen, corrected, CHART_ERROR, [])


def fit(linear1: FloatArray, lab: FloatArray) -> tuple[FloatArray, float]:
    """The correction from seen to true colours, and what it leaves.

    Args:
        linear1: patches as photographed, in linear light, (n, 3).
        lab: as they are, (n, 3).

    Returns:
        Weights (6, 3) for ``root_polynomial``, and the mean CIEDE2000 left on the patches.
    """
    terms = root_polynomial(linear1)
    weights = np.linalg.lstsq(terms, lab_to_linear1(lab), rcond=None)[0]
    left = delta_e_2000(linear1_to_lab(terms @ weights), lab)
    return np.asarray(weights, dtype=np.float64), float(left.mean())


def _round(corners: Sequence[Place]) -> FloatArray:
    """The corners in the order in which one walks round them, clockwise as the picture shows."""
    places = np.asarray(corners, dtype=np.float64).reshape(-1, 2)
    off = places - places.mean(axis=0)
    return places[np.argsort(np.arctan2(off[:, 1], off[:, 0]), kind="stable")]


def _best_turn(pixels: Pixels, corners: FloatArray) -> tuple[FloatArray, float] | NoMeasure:
    """The correction with the chart turned the way that leaves least."""
    best: tuple[FloatArray, float] | None = None
    for turn in range(4):
        places = patch_places([tuple(place) for place in np.roll(corners, turn, axis=0).tolist()])
        step = float(np.linalg.norm(places[1:6] - places[:5], axis=1).min())
        discs = [around(pixels, (x, y), max(1.0, _LOOK * step)) for x, y in places.tolist()]
        # What is too bright has lost its colour; the rest of the patches serve.
        good = np.array([full_share(disc) < 0.5 for disc in discs])
        if good.sum() < _LEAST_PATCHES:
            return NoMeasure(
                why="many patches are so bright that their colour is lost",
                remedy="Photograph it again a little darker, without flash.",
            )
        seen = np.array([np.median(disc, axis=0) for disc in discs]) / 255.0
        found = fit(srgb1_to_linear1(seen[good]), chart_lab()[good])
        best = found if best is None or found[1] < best[1] else best
    if best is None:
        raise ValueError("no turn was tried")
    return best
