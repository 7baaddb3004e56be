"""Link beads: what is left over, spent on nought to three beads at each end before the closure."""

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.design import MOST_LINKS, Design
from explorer.fit import TOLERANCE_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Links:
    """As many link beads at each end, and what is still left over.

    Attributes:
        bead: the place of the bead among those tried.
        each_end: how many at each end.
        length_mm: what they add to the strip together.
        slack_mm: what is left over with them.
    """

    bead: int
    each_end: int
    length_mm: float
    slack_mm: float


def best_links(slack_mm: float, pitches_mm: Sequence[float]) -> Links:
    """The link beads that leave least over, fewest beads at a tie; none if none fits.

    Args:
        slack_mm: what is left over without links.
        pitches_mm: the pitches of the beads to try, in order of liking. A link bead lies along
            the thread, so it adds its pitch.
    """
    best = Links(bead=0, each_end=0, length_mm=0.0, slack_mm=slack_mm)
    for bead, pitch_mm in enumerate(pitches_mm):
        for each_end in range(1, MOST_LINKS + 1):
            length_mm = 2.0 * each_end * pitch_mm
            left_mm = slack_mm - length_mm
            if left_mm >= -TOLERANCE_MM and left_mm < best.slack_mm - TOLERANCE_MM:
                best = Links(
                    bead=bead, each_end=each_end, length_mm=length_mm, slack_mm=max(0.0, left_mm)
                )
    return best


def links_mm(design: Design) -> float:
    """What the design's link beads add to its strip."""
    return sum(design.beads[n].kind.pitch_mm for n in design.start_links + design.end_links)
