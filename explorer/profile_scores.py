"""Figures that describe a profile: drop, beads, smoothness, lean, and how unlike another it is."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from palettes.beads import BeadKind

SCORE_COLUMNS = ("drop_mm", "beads", "smoothness", "lean")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileScores:
    """What a profile is like.

    Attributes:
        drop_mm: how far its longest dangle hangs below the base.
        beads: beads in all its dangles.
        smoothness: 1 where the lower edge runs straight (level or slope), toward 0 where it is
            jagged: 1 / (1 + the mean bend), a bend being the difference of two neighbouring steps
            in beads. Chosen by us.
        lean: where the beads' weight lies, -1 all at the start to 1 all at the end, 0 balanced.
    """

    drop_mm: float
    beads: int
    smoothness: float
    lean: float


def drop_mm(beads: int, hang: BeadKind, tip: BeadKind | None = None) -> float:
    """How far a dangle hangs: a pitch for every bead but the last, and the last one's diameter.

    Args:
        beads: beads in the dangle, turning bead included.
        hang: the kind of its beads.
        tip: the kind of the turning bead, where it is another.
    """
    return (beads - 1) * hang.pitch_mm + (tip or hang).diameter_mm


def score_table(
    profiles: ArrayLike, hang: BeadKind, tip: BeadKind | None = None
) -> NDArray[np.float64]:
    """The scores of many profiles of one width at once.

    Args:
        profiles: dangle lengths in beads, shape (n, width).
        hang: the kind of the dangles' beads.
        tip: the kind of the turning beads, where it is another.

    Returns:
        An array (n, 4) with the columns of ``SCORE_COLUMNS``.
    """
    lengths = np.asarray(profiles, dtype=np.int64)
    if lengths.ndim != 2 or lengths.shape[1] == 0:
        raise ValueError(f"profiles come as (n, width); got an array of shape {lengths.shape}")
    width = lengths.shape[1]
    beads = lengths.sum(axis=1)
    table = np.empty((len(lengths), len(SCORE_COLUMNS)))
    table[:, 0] = (lengths.max(axis=1) - 1) * hang.pitch_mm + (tip or hang).diameter_mm
    table[:, 1] = beads
    table[:, 2] = 1.0
    if width > 2:
        bends = lengths[:, 2:] - 2 * lengths[:, 1:-1] + lengths[:, :-2]
        table[:, 2] = 1.0 / (1.0 + np.abs(bends).sum(axis=1) / (width - 2))
    # Whole-number arms about the middle, so that a symmetric profile leans by exactly nothing.
    arms = 2 * np.arange(width) - (width - 1)
    table[:, 3] = (lengths @ arms) / (beads * max(width - 1, 1))
    return table


def scores(profile: Sequence[int], hang: BeadKind, tip: BeadKind | None = None) -> ProfileScores:
    """The scores of one profile.

    Args:
        profile: dangle lengths in beads.
        hang: the kind of the dangles' beads.
        tip: the kind of the turning beads, where it is another.
    """
    drop, beads, smoothness, lean = score_table([tuple(profile)], hang, tip)[0].tolist()
    return ProfileScores(drop_mm=drop, beads=round(beads), smoothness=smoothness, lean=lean)


def silhouette_difference(a: Sequence[int], b: Sequence[int]) -> float:
    """How unlike two profiles look, 0 alike to 1.

    Both outlines are stretched to one width and laid on each other: the area that only one of
    them covers, divided by the area that either covers (the Jaccard distance, a metric; P. Jaccard
    1901, cited from memory). Heights stay in beads.
    """
    if not a or not b:
        raise ValueError(f"a profile has at least one dangle; got {a!r} and {b!r}")
    width = math.lcm(len(a), len(b))
    first = np.repeat(np.asarray(a, dtype=np.int64), width // len(a))
    second = np.repeat(np.asarray(b, dtype=np.int64), width // len(b))
    either = int(np.maximum(first, second).sum())
    both = int(np.minimum(first, second).sum())
    return (either - both) / either
