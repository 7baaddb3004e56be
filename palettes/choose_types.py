"""What may be asked of a choice of k out of N, and what comes back."""

import math
from dataclasses import dataclass

HARMONY = "harmony"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """How many to choose, and what else the choice must hold to.

    Places count from 0. Tuples with one entry a colour are empty where they do not matter.

    Attributes:
        size: how many.
        must: places that are in the choice; how far apart these are among themselves is given and
            not part of what is searched for.
        never: places that are not.
        groups: a number of a group for each colour, such as a region of a mood.
        most_of: how many of each group at most, by the group's number.
        never_both: a number for each colour; no two of the same number are chosen, such as beads
            of one finish.
        lightness: L* of each colour, for the next two.
        least_gap: every two of the choice differ by so much in L* at least.
        least_range: the lightest and the darkest of the choice differ by so much in L* at least.
        costs: what each colour costs.
        most_cost: what all chosen cost together at most.
    """

    size: int
    must: tuple[int, ...] = ()
    never: tuple[int, ...] = ()
    groups: tuple[int, ...] = ()
    most_of: tuple[int, ...] = ()
    never_both: tuple[int, ...] = ()
    lightness: tuple[float, ...] = ()
    least_gap: float = 0.0
    least_range: float = 0.0
    costs: tuple[float, ...] = ()
    most_cost: float = math.inf

    def __post_init__(self) -> None:
        if self.size < 1:
            raise ValueError(f"one colour or more is chosen; got {self.size}")
        if len(set(self.must)) != len(self.must) or set(self.must) & set(self.never):
            raise ValueError(f"{self.must} must be in once each and not among {self.never}")
        if self.groups and not all(0 <= group < len(self.most_of) for group in self.groups):
            raise ValueError(f"every group has its most; got {self.groups} with {self.most_of}")
        if (self.least_gap > 0.0 or self.least_range > 0.0) and not self.lightness:
            raise ValueError("a demand on lightness needs the lightness of each colour")
        if not all(cost >= 0.0 for cost in self.costs) or math.isnan(self.most_cost):
            raise ValueError("a cost is 0 or more")

    def check_length(self, count: int) -> None:
        """Raise ``ValueError`` where a tuple or a place does not suit so many colours."""
        for name in ("groups", "never_both", "lightness", "costs"):
            given = len(getattr(self, name))
            if given not in (0, count):
                raise ValueError(f"{name}: {count} colours have {count} entries; got {given}")
        if not all(0 <= place < count for place in (*self.must, *self.never)):
            raise ValueError(f"places lie from 0 to {count - 1}; got {self.must}, {self.never}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A choice of colours.

    Attributes:
        places: the chosen, in ascending order.
        weakest: the smallest difference among all of them; infinite for one colour.
        weakest_pair: the two places that have it; none for one colour.
        reached: the smallest difference among pairs that are not both must-haves; what was
            searched for.
        bound: what no choice passes, in the same sense as ``reached``.
        proven: whether no choice reaches more.
        strongest: what the strongest choice found reaches, where it was given up; else None.
        gave_up_for: what for: ``palettes.difference.HYAB``, which decides where all are far apart,
            or ``HARMONY``; empty for nothing.
        stopped: whether the search was ended before its end.
    """

    places: tuple[int, ...]
    weakest: float
    weakest_pair: tuple[int, int] | None
    reached: float
    bound: float
    proven: bool
    strongest: float | None = None
    gave_up_for: str = ""
    stopped: bool = False

    @property
    def gap(self) -> float:
        """How much a better choice could gain at most; 0 where there is none."""
        return 0.0 if self.proven else self.bound - self.reached


@dataclass(frozen=True, slots=True, kw_only=True)
class NoChoice:
    """Why there is no choice.

    Attributes:
        why: a sentence.
        certain: whether it is proved that there is none, rather than none was found.
    """

    why: str
    certain: bool = True
