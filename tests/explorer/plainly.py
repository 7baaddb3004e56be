"""Fit, counts and thread worked out a second time, the slow way, to hold the program against.

Written from what the trade does at the table, not from the program: lay beads down one after the
other, tick them off one by one, follow the needle from bead to bead. Only loops and sums. Lengths
that are given are whole hundredths of a millimetre, so that nothing is lost to rounding.
"""

import math
from collections import Counter
from dataclasses import dataclass, field

from explorer.design import Column, Design


@dataclass(frozen=True)
class Laid:
    """A strip laid down bead by bead."""

    motifs: int
    beads: int
    left_over: int
    plain_each_end: int


def lay_down(target: int, pitch: int, dangles: int, divider: int) -> Laid | None:
    """The longest strip of whole motifs between dividers that is no longer than the target.

    Begin with a divider. Add a motif and another divider as long as they fit; common practice, no
    source. Then plain base beads, one at each end, as long as a pair of them fits.

    Args:
        target: the longest strip wanted, in hundredths of a millimetre.
        pitch: what a base bead takes of it, in the same.
        dangles: base beads of a motif.
        divider: base beads of a divider.

    Returns:
        The strip; None where not even one motif fits.
    """
    beads, motifs = divider, 0
    while (beads + dangles + divider) * pitch <= target:
        beads = beads + dangles + divider
        motifs = motifs + 1
    if motifs == 0:
        return None
    ends = 0
    while (beads + 2 * (ends + 1)) * pitch <= target:
        ends = ends + 1
    return Laid(motifs, beads, target - beads * pitch, ends)


def quickly(target: int, pitch: int, dangles: int, divider: int) -> tuple[int, int]:
    """Motifs and base beads by the trade's quick rule; common practice, no source.

    Lay whole repeats down, motif and divider together, and one bead for the end.
    """
    width, motifs = (dangles + divider) * pitch, 0
    while (motifs + 1) * width <= target:
        motifs = motifs + 1
    return motifs, motifs * (dangles + divider) + 1


@dataclass
class Ticked:
    """Beads ticked off one by one, by their number."""

    base: Counter[int] = field(default_factory=Counter)
    dangles: Counter[int] = field(default_factory=Counter)
    dividers: Counter[int] = field(default_factory=Counter)
    links: Counter[int] = field(default_factory=Counter)


def tick_off(design: Design) -> Ticked:
    """Every bead of a piece: its margins, then its dividers, motifs and links."""
    ticked = Ticked()
    for column in (*design.start_margin, *design.end_margin):
        ticked.base[column.base] += 1
    for rows, hanging in ((design.dividers, ticked.dividers), (design.motifs, ticked.dangles)):
        for row in rows:
            for column in row:
                ticked.base[column.base] += 1
                for bead in column.beads:
                    hanging[bead] += 1
    for bead in (*design.start_links, *design.end_links):
        ticked.links[bead] += 1
    return ticked


def spares(count: int, percent: int, least: int) -> int:
    """So many in a hundred, a part of a bead counting as a whole one, and never under the least."""
    extra = 0
    while extra * 100 < count * percent:
        extra = extra + 1
    return 0 if count == 0 else max(extra, least)


def in_a_row(design: Design) -> list[Column]:
    """The base beads from the start to the end, each with what hangs from it."""
    row = list(design.start_margin)
    for place, divider in enumerate(design.dividers):
        row.extend(divider)
        if place < len(design.motifs):
            row.extend(design.motifs[place])
    row.extend(design.end_margin)
    return row


class Needle:
    """A needle that is followed through a piece: what it passes and the thread it draws."""

    def __init__(self, design: Design) -> None:
        self.design, self.row = design, in_a_row(design)
        self.passed: Counter[tuple[int, int]] = Counter()
        self.drawn_mm = 0.0

    def through(self, bead: int, column: int, down: int = 0) -> None:
        """Through a bead: the thread in it is as long as the bead along its hole."""
        self.passed[column, down] += 1
        self.drawn_mm += self.design.beads[bead].kind.pitch_mm

    def through_base(self, column: int) -> None:
        """Through a base bead."""
        self.through(self.row[column].base, column)

    def across(self, beads: int = 1) -> None:
        """From a base bead to its neighbour."""
        self.drawn_mm += beads * self.design.base_pitch_mm

    def took(self) -> float:
        """The thread drawn since the last time this was asked, in mm."""
        drawn, self.drawn_mm = self.drawn_mm, 0.0
        return drawn


def ladder(needle: Needle) -> None:
    """String a bead, back through the one before, through the new one again; then zigzag back."""
    needle.through_base(0)
    for new in range(1, len(needle.row)):
        needle.across()
        needle.through_base(new)
        needle.across()
        needle.through_base(new - 1)
        needle.across()
        needle.through_base(new)


def straighten(needle: Needle) -> None:
    """From the last bead of the ladder back through every bead to the first."""
    for column in reversed(range(len(needle.row) - 1)):
        needle.across()
        needle.through_base(column)


def hang(needle: Needle, column: int, slack_beads: float) -> None:
    """Down through the base bead and its dangle, through the last bead sideways, and up again."""
    if column:
        needle.across()
    beads = needle.row[column].beads
    if not beads:
        return  # past a bare bead the thread runs under the ladder's own
    needle.through_base(column)
    for down, bead in enumerate(beads[:-1], start=1):
        needle.through(bead, column, down)
    turning = needle.design.beads[beads[-1]].kind
    # From under the bead above to one end of the turning bead's hole, and back from the other.
    needle.drawn_mm += 2.0 * math.sqrt((turning.diameter_mm / 2) ** 2 + (turning.pitch_mm / 2) ** 2)
    needle.through(beads[-1], column, len(beads))
    for down in range(len(beads) - 1, 0, -1):
        needle.through(beads[down - 1], column, down)
    needle.through_base(column)
    first = needle.design.beads[beads[0]].kind
    needle.drawn_mm += 2.0 * slack_beads * first.pitch_mm


def sew_closure(needle: Needle, *, at_end: bool) -> None:
    """Out through the links, round the ring, back, and twice through the end bead."""
    links = needle.design.end_links if at_end else needle.design.start_links
    end, outward = (len(needle.row) - 1, 1) if at_end else (0, -1)
    hole = needle.design.beads[needle.row[end].base].kind.pitch_mm
    # From the mouth of the end bead's hole to the middle of its side, and back to the other mouth.
    needle.drawn_mm += 2.0 * math.sqrt((needle.design.base_pitch_mm / 2) ** 2 + (hole / 2) ** 2)
    for place, bead in enumerate(links, start=1):
        needle.through(bead, end + outward * place)
    needle.drawn_mm += 3.0  # round a ring's wire: pi times 0.95 mm
    for place in range(len(links), 0, -1):
        needle.through(links[place - 1], end + outward * place)
    needle.through_base(end)
    needle.across()  # round the ladder's thread, which holds the stitch
    needle.through_base(end)


def weave_in(needle: Needle, beads: int, *, at_end: bool) -> None:
    """A tail through the base beads next to an end, inward, as many as there are."""
    for step in range(1, beads + 1):
        column = len(needle.row) - 1 - step if at_end else step
        if 0 <= column < len(needle.row):
            needle.across()
            needle.through_base(column)
