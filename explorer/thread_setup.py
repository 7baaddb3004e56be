"""The maker's thread and needle, and the habits that decide how much thread a piece takes."""

import math
from dataclasses import dataclass

from explorer.errors import BriefError

# Diameters in mm by trade size. Needle 10: Threading the Details, beads.co; all others, threads
# too, are from memory (angling charts give braids 0.02-0.05 mm thinner). Where a range is known,
# its middle. A maker's own measuring wins.
NEEDLES_MM = (("10", 0.46), ("11", 0.41), ("12", 0.36), ("13", 0.33), ("15", 0.275))
THREADS_MM = (
    ("nylon OO", 0.115),
    ("braided 4 lb", 0.13),
    ("braided 6 lb", 0.15),
    ("braided 8 lb", 0.18),
    ("braided 10 lb", 0.20),
    ("nylon B", 0.20),
    ("nylon D", 0.30),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadSetup:
    """Thread, needle and habits; every default can be replaced by the maker's own figure.

    Attributes:
        thread_mm: the thread's diameter (default braided 6 lb, from memory).
        needle_mm: the needle's diameter (default size 12, from memory).
        working_mm: one piece of thread (default one wingspan, as in How Much Thread??,
            baublesbybalonis.blogspot.com, August 2016; its 1.5-1.8 m from memory; longer tangles).
        tail_mm: left at either end of every piece (default from memory).
        closure_tail_mm: left at the very start, where it sews the first closure (default from
            memory).
        allowance: for tension and handling, as a part of the worked length (default a tenth; from
            memory 10-15 %).
        slack_beads: slack in a dangle in beads, lest it stand stiff (default from memory).
        rounds: times the thread goes through each closure (default 2, worked out: it gives the
            trade's 8-10 passes of an end bead).
        weave_beads: base beads that a tail is woven through (3 chosen by us, because three turns
            hold).
    """

    thread_mm: float = 0.15
    needle_mm: float = 0.36
    working_mm: float = 1650.0
    tail_mm: float = 150.0
    closure_tail_mm: float = 250.0
    allowance: float = 0.10
    slack_beads: float = 0.5
    rounds: int = 2
    weave_beads: int = 3

    def __post_init__(self) -> None:
        # Limits chosen by us: wider than anything on sale, narrow enough to catch a wrong unit.
        _within("thread", self.thread_mm, 0.02, 1.5, "mm", "Measure ten turns round a pin.")
        _within("needle", self.needle_mm, 0.1, 2.0, "mm", "Measure it with a caliper.")
        _within("working_length", self.working_mm, 300.0, 20_000.0, "mm", "Give it in mm or m.")
        _within("tail", self.tail_mm, 0.0, 1000.0, "mm", "Give it in mm.")
        _within("closure_tail", self.closure_tail_mm, 0.0, 1000.0, "mm", "Give it in mm.")
        _within("allowance", self.allowance, 0.0, 1.0, "", "0.1 adds a tenth.")
        _within("slack", self.slack_beads, 0.0, 5.0, "beads", "Half a bead is usual.")
        _within("rounds", self.rounds, 1, 9, "rounds", "Two or three are usual.", whole=True)
        _within("weave_beads", self.weave_beads, 1, 20, "beads", "Three are usual.", whole=True)

    @property
    def slack_words(self) -> str:
        """The slack of a dangle as a sheet says it: ``half a bead of slack``."""
        if self.slack_beads == 0.0:
            return "no slack"
        usual = {0.5: "half a bead", 1.0: "one bead"}
        return f"{usual.get(self.slack_beads, f'{self.slack_beads:g} beads')} of slack"


def _within(
    field: str,
    value: float,
    least: float,
    most: float,
    unit: str,
    remedy: str,
    whole: bool = False,
) -> None:
    fits = math.isfinite(value) and least <= value <= most
    if not fits or (whole and value != int(value)):
        kind = "a whole number from " if whole else ""
        raise BriefError(field, value, f"{kind}{least:g} to {most:g} {unit}".strip(), remedy)
