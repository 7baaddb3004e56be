"""All whole-number profiles under a maker's rules: counted exactly, listed, or drawn evenly.

A profile is chosen place by place (the first half only where it must be symmetric). For every place
a table says in how many ways the rest can still be chosen; from it come the number of profiles, the
profile of any rank in dictionary order, and so a draw in which each is exactly as likely as any
other (unranking; D. E. Knuth, The Art of Computer Programming 4A, 7.2.1, cited from memory).
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from explorer.brief import USUAL_MOST
from explorer.cautions import USUAL_DROP_MM, Wear
from explorer.design import MOST_DANGLE_BEADS
from explorer.errors import BriefError
from explorer.profile import check_limits, whole
from explorer.profile_scores import drop_mm
from palettes.beads import BeadKind

Ways = NDArray[np.object_]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProfileRules:
    """Which profiles are wanted.

    Attributes:
        width: dangles in the motif, 1 to 31.
        least, most: beads of the shortest and the longest dangle allowed.
        symmetric: whether each must be its own mirror image.
        greatest_step: how many beads neighbours may differ by; none for no limit.
        bead_budget: beads that all dangles together may take; none for no limit.

    Raises:
        BriefError: a number out of its range. Rules that no profile can keep are no error: there
            are then simply 0 profiles.
    """

    width: int
    least: int = 1
    most: int
    symmetric: bool = True
    greatest_step: int | None = None
    bead_budget: int | None = None

    def __post_init__(self) -> None:
        check_limits(self.width, self.least, self.most)
        _check_whole("greatest_step", self.greatest_step, 0)
        _check_whole("bead_budget", self.bead_budget, 1)

    @property
    def step(self) -> int:
        """The greatest step that the limits and the rule leave."""
        span = self.most - self.least
        return span if self.greatest_step is None else min(self.greatest_step, span)


def _check_whole(field: str, value: int | None, least: int) -> None:
    if value is not None and (not whole(value) or value < least):
        raise BriefError(
            field, value, f"a whole number of beads from {least}", "Give one, or leave it out."
        )


def usual_longest(wear: Wear, hang: BeadKind) -> int:
    """The longest dangle, in beads, that hangs no lower than is usual for what it is worn as."""
    return max(1, min(USUAL_MOST, longest_within(USUAL_DROP_MM[wear], hang)))


def longest_within(greatest_drop_mm: float, hang: BeadKind, tip: BeadKind | None = None) -> int:
    """The most beads of a dangle that hangs no lower than this; 0 where not even one bead may.

    Args:
        greatest_drop_mm: how far the lowest point may hang below the base.
        hang: the kind of the dangle's beads.
        tip: the kind of the turning bead, where it is another.

    Raises:
        BriefError: the drop is no number above 0.
    """
    if not (math.isfinite(greatest_drop_mm) and greatest_drop_mm > 0.0):
        raise BriefError(
            "drop", greatest_drop_mm, "a length above 0 mm", "Measure the drop wanted."
        )
    room_mm = greatest_drop_mm - (tip or hang).diameter_mm
    # A millionth of a millimetre in the maker's favour, so that an exact fit is not lost.
    beads = math.floor((room_mm + 1e-6) / hang.pitch_mm) + 1
    return max(0, min(beads, MOST_DANGLE_BEADS))


def within_drop(
    rules: ProfileRules, greatest_drop_mm: float, hang: BeadKind, tip: BeadKind | None = None
) -> ProfileRules:
    """The rules with the longest dangle cut to what a drop allows.

    Raises:
        BriefError: the drop is no length, or even the shortest dangle allowed hangs lower.
    """
    longest = longest_within(greatest_drop_mm, hang, tip)
    if longest < rules.least:
        least_mm = drop_mm(rules.least, hang, tip)
        raise BriefError(
            "drop",
            f"{greatest_drop_mm:g} mm",
            f"at least {least_mm:.1f} mm, the drop of a dangle of {rules.least}",
            "Allow a lower drop, a shorter dangle or smaller beads.",
        )
    return replace(rules, most=min(rules.most, longest))


def count_profiles(rules: ProfileRules) -> int:
    """How many profiles keep the rules, exactly."""
    slack, weights = _slack(rules)
    return 0 if slack < 0 else sum(_ways(rules, slack, weights)[0][:, -1].tolist())


def all_profiles(rules: ProfileRules) -> NDArray[np.int64]:
    """Every profile that keeps the rules, in dictionary order, shape (n, width).

    The caller asks ``count_profiles`` first: there may be more than any memory holds.
    """
    slack, weights = _slack(rules)
    span, step = rules.most - rules.least, rules.step
    if slack < 0:
        return np.empty((0, rules.width), dtype=np.int64)
    needs = _least_needs(span, step, weights)
    rows = np.empty((1, 0), dtype=np.int64)
    left = np.array([slack])
    values = np.arange(span + 1)
    for place, weight in enumerate(weights):
        fits = left[:, None] - weight * values >= needs[place + 1]
        if place:
            fits &= np.abs(rows[:, -1:] - values) <= step
        parents, chosen = np.nonzero(fits)
        rows = np.concatenate([rows[parents], chosen[:, None]], axis=1)
        left = left[parents] - weight * chosen
    return _full(rows + rules.least, rules)


def some_profiles(rules: ProfileRules, most: int, rng: np.random.Generator) -> NDArray[np.int64]:
    """All profiles if there are at most ``most``; else so many different ones, drawn evenly.

    Every set of ``most`` profiles is equally likely (Floyd's sampling; J. Bentley and R. Floyd,
    CACM 30, 1987, cited from memory). Rows stand in dictionary order.

    Args:
        rules: which profiles are wanted.
        most: the greatest number of rows.
        rng: where chance comes from.
    """
    if most < 1:
        raise ValueError(f"at least one profile is asked for; got {most}")
    slack, weights = _slack(rules)
    if slack < 0:
        return all_profiles(rules)
    ways = _ways(rules, slack, weights)
    total = sum(ways[0][:, -1].tolist())
    if total <= most:
        return all_profiles(rules)
    ranks: set[int] = set()
    for top in range(total - most, total):
        rank = _below(top + 1, rng)
        ranks.add(top if rank in ranks else rank)
    rows = [_unrank(rank, ways, rules, slack, weights) for rank in sorted(ranks)]
    return _full(np.array(rows, dtype=np.int64) + rules.least, rules)


def _slack(rules: ProfileRules) -> tuple[int, tuple[int, ...]]:
    """Beads to spend above the least profile, and how many a bead costs at each chosen place.

    Where the budget cannot bind, beads cost nothing, which keeps the tables one column wide.
    """
    half, odd = divmod(rules.width, 2)
    weights = (2,) * half + (1,) * odd if rules.symmetric else (1,) * rules.width
    if rules.bead_budget is None or rules.bead_budget >= rules.width * rules.most:
        return 0, (0,) * len(weights)
    return rules.bead_budget - rules.width * rules.least, weights


def _ways(rules: ProfileRules, slack: int, weights: tuple[int, ...]) -> list[Ways]:
    """For every place, in how many ways (length above least, slack before it) can go on.

    Whole Python numbers in object arrays: the counts outgrow 64 bits.
    """
    size = rules.most - rules.least + 1
    after = np.ones((size, slack + 1), dtype=object)
    tables: list[Ways] = []
    for weight in reversed(weights):
        here = np.zeros_like(after)
        for length in range(size):
            cost = weight * length
            if cost <= slack:
                here[length, cost:] = after[length, : slack + 1 - cost]
        tables.append(here)
        after = _window_sums(here, rules.step)
    return tables[::-1]


def _window_sums(table: Ways, step: int) -> Ways:
    """Each row's sum with the rows up to ``step`` above and below it."""
    size = len(table)
    running = np.zeros((size + 1, table.shape[1]), dtype=object)
    running[1:] = np.cumsum(table, axis=0)
    rows = np.arange(size)
    sums: Ways = (
        running[np.minimum(rows + step, size - 1) + 1] - running[np.maximum(rows - step, 0)]
    )
    return sums


def _unrank(
    rank: int, ways: list[Ways], rules: ProfileRules, slack: int, weights: tuple[int, ...]
) -> list[int]:
    chosen: list[int] = []
    for table, weight in zip(ways, weights, strict=True):
        low = max(0, chosen[-1] - rules.step) if chosen else 0
        length = low
        while rank >= table[length, slack]:
            rank -= table[length, slack]
            length += 1
        chosen.append(length)
        slack -= weight * length
    return chosen


def _least_needs(span: int, step: int, weights: tuple[int, ...]) -> list[NDArray[np.int64]]:
    """For every place, the least slack that the places from it on take, by the length before it."""
    before = np.arange(span + 1)
    needs = []
    for place in range(len(weights) + 1):
        # The cheapest way on falls by a whole step at every place.
        falls = np.arange(1, len(weights) - place + 1)
        lengths = np.maximum(before[:, None] - step * falls, 0)
        needs.append((lengths * np.array(weights[place:], dtype=np.int64)).sum(axis=1))
    return needs


def _full(rows: NDArray[np.int64], rules: ProfileRules) -> NDArray[np.int64]:
    """The chosen places with their mirror image beside them, where symmetry is asked for."""
    if not rules.symmetric:
        return rows
    return np.concatenate([rows, rows[:, : rules.width // 2][:, ::-1]], axis=1)


def _below(limit: int, rng: np.random.Generator) -> int:
    """A whole number from 0 to ``limit - 1``, each equally likely, however large the limit."""
    bits = limit.bit_length()
    size = (bits + 7) // 8
    while True:
        # Draws outside are thrown away: a remainder would favour small numbers.
        number = int.from_bytes(rng.bytes(size), "little") >> (8 * size - bits)
        if number < limit:
            return number
