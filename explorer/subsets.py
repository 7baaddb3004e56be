"""Groups of a brief's colours that could make a piece: all, few or many, of one family or all."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from palettes.spaces import FloatArray, lab_to_lch

# Chosen by us: with more colours than eight a strip of some 15 motifs shows each but once or twice.
MOST_IN_A_PIECE = 8
# Chosen by us: below this chroma a colour passes for a neutral beside coloured beads.
_NEUTRAL_CHROMA = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Subset:
    """Colours of one piece, as places in the brief, in its order; and what they have in common."""

    places: tuple[int, ...]
    family: str


def families(lab: FloatArray) -> dict[str, FloatArray]:
    """Which colours belong to which family, as masks (n,), families of fewer than two left out.

    Warm runs from purple-red over yellow to yellow-green, cool is the rest; neutrals go with both.
    """
    lightness, chroma, hue = np.moveaxis(lab_to_lch(lab), -1, 0)
    neutral = chroma < _NEUTRAL_CHROMA
    warm = (hue < 110.0) | (hue > 325.0)
    masks = {
        "all": np.ones(len(lab), dtype=bool),
        "warm": warm | neutral,
        "cool": ~warm | neutral,
        "light": lightness >= np.median(lightness),
        "deep": lightness <= np.median(lightness),
        "quiet": chroma <= np.median(chroma),
        "bright": chroma >= np.median(chroma),
    }
    return {name: mask for name, mask in masks.items() if mask.sum() >= 2}


def thinned(lab: FloatArray, most: int) -> NDArray[np.intp]:
    """Rows of (n, 3) colours that cover all of them: a farthest-point pick in L*a*b*, in order.

    A tray of thousands holds many near twins; the rows left out each have one near at hand.
    """
    if len(lab) <= most:
        return np.arange(len(lab))
    picked = [0]
    nearest = ((lab - lab[0]) ** 2).sum(axis=1)
    while len(picked) < most:
        picked.append(int(nearest.argmax()))
        nearest = np.minimum(nearest, ((lab - lab[picked[-1]]) ** 2).sum(axis=1))
    return np.sort(np.array(picked, dtype=np.intp))


def subsets(
    lab: FloatArray,
    matrix: FloatArray,
    searched: NDArray[np.intp],
    *,
    must: tuple[int, ...] = (),
    keep_all: bool,
    rng: np.random.Generator,
) -> tuple[Subset, ...]:
    """Groups to try, no group twice.

    Args:
        lab: the colours, (n, 3).
        matrix: how far apart they look, (n, n); only the searched rows and columns are read.
        searched: the places to choose from.
        must: places, searched ones, that are in every group.
        keep_all: whether every colour must be in every group.
        rng: chooses where each group starts.
    """
    everything = Subset(places=tuple(searched.tolist()), family="all")
    if keep_all or len(searched) <= 2:
        return (everything,)
    found = {everything.places: everything} if len(searched) <= MOST_IN_A_PIECE else {}
    for family, mask in families(lab[searched]).items():
        members = searched[mask]
        for size in range(2, min(len(members), MOST_IN_A_PIECE) + 1):
            start = list(must) or [int(rng.choice(members))]
            if len(must) == 1 and size > 2:
                # One settled colour would lead to one group a size: add one by chance.
                start = [*must, int(rng.choice(members[members != must[0]]))]
            places = tuple(sorted(farthest(matrix, members, start, size)))
            found.setdefault(places, Subset(places=places, family=family))
    return tuple(found.values())


def farthest(
    matrix: FloatArray, members: NDArray[np.intp], start: list[int], size: int
) -> list[int]:
    """A group grown from a few colours by whichever member is farthest from the group so far."""
    group = list(start)
    nearest = matrix[group][:, members].min(axis=0)
    while len(group) < size:
        nearest[np.isin(members, group)] = -1.0
        group.append(int(members[np.argmax(nearest)]))
        nearest = np.minimum(nearest, matrix[group[-1], members])
    return group
