"""How different two colours look: one metric a function, and matrices of all pairs."""

from enum import StrEnum
from typing import TYPE_CHECKING, TypeVar, cast

import numpy as np
from numpy.typing import ArrayLike, NDArray

from palettes.spaces import FloatArray

if TYPE_CHECKING:
    from collections.abc import Callable


_Kind = TypeVar("_Kind", np.float32, np.float64)


class Verdict(StrEnum):
    """A colour difference in words."""

    SAME = "same"
    CLOSE = "close"
    DISTINCT = "distinct"
    CLEARLY_APART = "clearly apart"


# Chosen by us. 2: Paravina et al. 2015 found differences above 1.8 unacceptable between teeth seen
# side by side, above 0.8 perceptible; below 2 a maker takes one bead for the other. 10: the floor
# that palette research puts between categories; 20: twice that, for a glance from arm's length.
CLOSE_FROM = 2.0
DISTINCT_FROM = 10.0
CLEARLY_APART_FROM = 20.0
# The measure's name, where it is told that it decided.
HYAB = "HyAB"
# From here on HyAB, not CIEDE2000, says which of two pairs is further apart. Chosen by us: half as
# much again as ``CLEARLY_APART_FROM``, so that no verdict hangs on which of the two was asked.
FAR_APART_FROM = 30.0


def _labs(values: ArrayLike) -> FloatArray:
    array = np.asarray(values, dtype=np.float64)
    if array.shape[-1:] != (3,):
        raise ValueError(f"colours come as (..., 3); got an array of shape {array.shape}")
    if not np.isfinite(array).all():
        raise ValueError("colours are finite numbers; got NaN or infinity among them")
    return array


def delta_e_2000(lab_a: ArrayLike, lab_b: ArrayLike) -> FloatArray:
    """CIEDE2000 with all weights 1 (CIE 142-2001, ISO/CIE 11664-6), by scikit-image.

    It is tuned to differences under about 5; large values rank pairs, they do not measure.
    It jumps where two hues stand 180 degrees apart, by up to 43 for far colours
    (``tests/bench/measure_jumps.py``).

    Args:
        lab_a: CIE L*a*b*, (..., 3).
        lab_b: the same, broadcast against it.

    Returns:
        The differences, shape of the broadcast without its last axis.

    Raises:
        ValueError: no triples, or not finite.
    """
    from skimage import color

    # The library is untyped; this is the signature that it documents.
    metric = cast("Callable[[FloatArray, FloatArray], FloatArray]", color.deltaE_ciede2000)
    # The library mistakes one colour against many for something else: give it equal shapes.
    first, second = np.broadcast_arrays(_labs(lab_a), _labs(lab_b))
    return np.asarray(metric(first, second), dtype=np.float64)


def delta_e_hyab(lab_a: ArrayLike, lab_b: ArrayLike) -> FloatArray:
    """HyAB: lightness difference plus the distance in the a*b* plane.

    Abasi, Amani Tehran and Fairchild 2020, Distance metrics for very large color differences,
    Color Research and Application 45; it keeps its sense where differences are large.

    Args:
        lab_a: CIE L*a*b*, (..., 3).
        lab_b: the same, broadcast against it.

    Returns:
        The differences, shape of the broadcast without its last axis.

    Raises:
        ValueError: no triples, or not finite.
    """
    step = _labs(lab_a) - _labs(lab_b)
    return np.asarray(np.abs(step[..., 0]) + np.hypot(step[..., 1], step[..., 2]), dtype=np.float64)


def ranked(delta_e_2000: NDArray[_Kind], hyab: NDArray[_Kind]) -> NDArray[_Kind]:
    """Numbers that rank pairs by how far apart they are, for searches; they measure nothing.

    CIEDE2000 ranks pairs up to ``FAR_APART_FROM``, HyAB those beyond, which all come after: for far
    colours CIEDE2000 jumps where HyAB has no such line (``tests/bench/measure_jumps.py``).

    Args:
        delta_e_2000: CIEDE2000 of pairs, any shape.
        hyab: HyAB of the same pairs.
    """
    far = delta_e_2000 >= FAR_APART_FROM
    return np.asarray(np.where(far, FAR_APART_FROM + hyab, delta_e_2000), dtype=delta_e_2000.dtype)


def pairwise_hyab(lab: ArrayLike) -> FloatArray:
    """HyAB between all pairs, as ``pairwise``."""
    array = _labs(lab)
    return delta_e_hyab(array[..., :, None, :], array[..., None, :, :])


def pairwise(lab: ArrayLike) -> FloatArray:
    """CIEDE2000 between all pairs, in one library call for the half above the diagonal.

    Args:
        lab: CIE L*a*b*, (..., k, 3); leading axes are separate sets.

    Returns:
        (..., k, k), symmetric, zero on the diagonal.

    Raises:
        ValueError: no triples, or not finite.
    """
    array = _labs(lab)
    if array.ndim < 2:
        raise ValueError(f"a set of colours comes as (..., k, 3); got shape {array.shape}")
    count = array.shape[-2]
    matrix = np.zeros((*array.shape[:-1], count))
    first, second = np.triu_indices(count, 1)
    if first.size:
        values = delta_e_2000(array[..., first, :], array[..., second, :])
        matrix[..., first, second] = values
        matrix[..., second, first] = values
    return matrix


def verdict(delta_e: float) -> Verdict:
    """The difference in words; a value on a boundary belongs to the larger one.

    Args:
        delta_e: a CIEDE2000 difference, 0 or more.

    Raises:
        ValueError: negative or not a number.
    """
    if not delta_e >= 0.0:
        raise ValueError(f"a colour difference is 0 or more; got {delta_e!r}")
    if delta_e < CLOSE_FROM:
        return Verdict.SAME
    if delta_e < DISTINCT_FROM:
        return Verdict.CLOSE
    return Verdict.DISTINCT if delta_e < CLEARLY_APART_FROM else Verdict.CLEARLY_APART
