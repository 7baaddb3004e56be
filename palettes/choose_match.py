"""Colours matched to beads at hand, each to a bead of its own, with the difference told."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from palettes.difference import delta_e_2000
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """A bead for a colour.

    Attributes:
        place: of the bead.
        difference: CIEDE2000 between the two in daylight.
    """

    place: int
    difference: float


def match(wanted: Sequence[str], at_hand: Sequence[str]) -> tuple[Match, ...]:
    """For each colour a bead of its own, so that the differences together are least.

    Args:
        wanted: hex colours.
        at_hand: hex colours of the beads, at least as many.

    Raises:
        ValueError: there are fewer beads than colours.
    """
    if len(at_hand) < len(wanted):
        raise ValueError(f"{len(wanted)} colours need as many beads; got {len(at_hand)}")
    if not wanted:
        return ()
    from scipy.optimize import linear_sum_assignment

    lab = srgb1_to_lab(hexes_to_srgb1(list(wanted)))
    beads = srgb1_to_lab(hexes_to_srgb1(list(at_hand)))
    apart = delta_e_2000(lab[:, None], beads[None])
    # The square makes two small differences better than none and a large one.
    rows, columns = linear_sum_assignment(np.square(apart))
    return tuple(
        Match(place=int(column), difference=float(apart[row, column]))
        for row, column in zip(rows, columns, strict=True)
    )
