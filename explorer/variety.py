"""How different two pieces look, and a pick that keeps the good ones apart.

The difference of two pieces has three parts, each scaled so that 1 is plain to see:

* colour: each motif colour of one against the nearest colour of the other, in HyAB, averaged over
  the strip and over both directions;
* outline: the drop at 64 places along the strip, in mm, its mean difference;
* rhythm: how alike motifs are that stand 1, 2, ... 8 apart, in HyAB, its mean difference.

Details that one has and the other has not, such as tips, count beside these.

All of it is ours; the colour part is the symmetric Chamfer distance of two sets of colours.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from palettes.difference import delta_e_hyab
from palettes.spaces import FloatArray

# Chosen by us, by looking at pairs of thumbnails: from these differences on, one sees at a glance
# that two pieces differ in that part.
PLAIN_COLOUR = 14.0
PLAIN_OUTLINE_MM = 2.0
PLAIN_RHYTHM = 16.0
# A detail is seen at the second glance. Chosen by us, likewise.
DETAIL = 0.3
OUTLINE_PLACES = 64
RHYTHM_STEPS = 8


@dataclass(frozen=True, slots=True)
class Looks:
    """What many pieces look like, row by row: arrays to compute with, not values to keep.

    Attributes:
        colours: Lab of up to k colours, (m, k, 3); unused rows repeat the first.
        shares: how much of the strip each colour takes, (m, k); 0 for unused rows.
        outline: drop in mm at ``OUTLINE_PLACES`` places, (m, 64).
        rhythm: HyAB between motifs 1 to 8 apart, (m, 8).
        details: which details each has, 0 or 1, (m, d).
    """

    colours: FloatArray
    shares: FloatArray
    outline: FloatArray
    rhythm: FloatArray
    details: FloatArray

    def __len__(self) -> int:
        return len(self.shares)


def looks(
    orders: Sequence[Sequence[int]],
    labs: Sequence[FloatArray],
    drops_mm: Sequence[Sequence[float]],
    details: Sequence[Sequence[bool]] = (),
) -> Looks:
    """The looks of many pieces.

    Args:
        orders: for each piece, its motifs' colours as rows of its ``labs``.
        labs: for each piece, its colours, (k, 3).
        drops_mm: for each piece, the drop at every base bead, in strip order.
        details: for each piece, which details it has; none to leave them out of account.
    """
    most = max(len(lab) for lab in labs)
    colours = np.stack(
        [np.concatenate([lab, np.repeat(lab[:1], most - len(lab), 0)]) for lab in labs]
    )
    shares = np.stack([np.bincount(order, minlength=most) / len(order) for order in orders])
    outline = np.stack([_resampled(drop) for drop in drops_mm])
    rhythm = np.stack([_rhythm(lab[list(o)]) for o, lab in zip(orders, labs, strict=True)])
    had = np.array(details, dtype=np.float64) if details else np.zeros((len(orders), 0))
    return Looks(colours, shares, outline, rhythm, had)


def _resampled(drop_mm: Sequence[float]) -> FloatArray:
    places = (np.arange(OUTLINE_PLACES) * len(drop_mm)) // OUTLINE_PLACES
    return np.asarray(drop_mm, dtype=np.float64)[places]


def _rhythm(lab: FloatArray) -> FloatArray:
    steps = range(1, min(RHYTHM_STEPS, len(lab) - 1) + 1)
    means = [float(delta_e_hyab(lab[:-step], lab[step:]).mean()) for step in steps]
    return np.array(means + [0.0] * (RHYTHM_STEPS - len(means)))


def differences(all_looks: Looks, one: int) -> FloatArray:
    """How different every piece looks from one of them, (m,); 1 is plain to see."""
    between = delta_e_hyab(
        all_looks.colours[:, :, None, :], all_looks.colours[one][None, None, :, :]
    )
    unused = all_looks.shares[one] == 0.0
    to_one = np.where(unused[None, None, :], np.inf, between).min(axis=2)
    from_one = np.where((all_looks.shares == 0.0)[:, :, None], np.inf, between).min(axis=1)
    colour = 0.5 * (
        (to_one * all_looks.shares).sum(axis=1)
        + (from_one * all_looks.shares[one][None, :]).sum(axis=1)
    )
    outline = np.abs(all_looks.outline - all_looks.outline[one]).mean(axis=1)
    rhythm = np.abs(all_looks.rhythm - all_looks.rhythm[one]).mean(axis=1)
    details = DETAIL * np.abs(all_looks.details - all_looks.details[one]).sum(axis=1)
    seen = colour / PLAIN_COLOUR + outline / PLAIN_OUTLINE_MM + rhythm / PLAIN_RHYTHM
    return np.asarray(seen + details)


def spread_pick(all_looks: Looks, quality: FloatArray, count: int) -> list[int]:
    """Rows of good pieces that look different from each other, the best first.

    A farthest-point pick (T. Gonzalez 1985) weighed by quality: each next piece is the one whose
    difference from the nearest piece picked so far, times its quality, is largest.

    Args:
        all_looks: what the pieces look like.
        quality: how good each is, above 0.
        count: how many to pick; all of them if there are fewer.
    """
    picked = [int(np.argmax(quality))]
    nearest = differences(all_looks, picked[0])
    while len(picked) < min(count, len(all_looks)):
        gain = nearest * quality
        gain[picked] = -1.0
        picked.append(int(np.argmax(gain)))
        nearest = np.minimum(nearest, differences(all_looks, picked[-1]))
    return picked
