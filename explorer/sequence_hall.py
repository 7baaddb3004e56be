"""A quick proof that a colour order cannot be: too few partners for the colours that need them.

Let S be colours of which no two may be neighbours, and N all colours that may stand beside one of
S. Along the strip every S stands between two N, or at an end. So S needs nearly as many N as there
are S; where the uses allowed do not give them, no order exists. It is Hall's marriage condition
(P. Hall, 1935, from memory), counted along a walk.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

# Chosen by us: 4096 sets of 12 colours take a fraction of a millisecond, each colour more doubles.
MOST_HALL_COLOURS = 14


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HallTable:
    """The sets that can prove an order impossible, one a row; built by :func:`hall_table`."""

    shy: NDArray[np.int64]
    partners: NDArray[np.int64]
    partner_bits: NDArray[np.int64]
    others: NDArray[np.int64]
    surplus: NDArray[np.int64]


@lru_cache(maxsize=512)
def hall_table(adjacent: tuple[int, ...], used: int) -> HallTable | None:
    """The independent sets of a graph of colours with all their partners.

    Args:
        adjacent: for each colour the colours that may stand beside it, as bits.
        used: the colours that may be used, as bits.

    Returns:
        The table, or None where there are too many colours to list their sets.
    """
    colours = [c for c in range(len(adjacent)) if used >> c & 1]
    if len(colours) > MOST_HALL_COLOURS:
        return None
    sets, partners = _unions(colours, adjacent, used)
    keep = (sets & partners) == 0
    keep[0] = False
    partners, first = np.unique(partners[keep], return_index=True)
    sets = np.zeros_like(first)
    for c in colours:
        # The strongest set for given partners holds every colour that has no other partners.
        sets |= np.where((adjacent[c] & used) & ~partners == 0, 1 << c, 0)
    columns = np.arange(len(adjacent))
    shy = sets[:, None] >> columns & 1
    beside = partners[:, None] >> columns & 1
    rest = (used & ~(sets | partners))[:, None] >> columns & 1
    return HallTable(
        shy=shy, partners=beside, partner_bits=partners, others=rest, surplus=beside - shy
    )


def _unions(
    colours: list[int], adjacent: tuple[int, ...], used: int
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    sets = np.zeros(1 << len(colours), dtype=np.int64)
    partners = np.zeros_like(sets)
    for bit, c in enumerate(colours):
        half = 1 << bit
        sets[half : 2 * half] = sets[:half] | (1 << c)
        partners[half : 2 * half] = partners[:half] | (adjacent[c] & used)
    return sets, partners


def rooms(
    table: HallTable,
    least: NDArray[np.int64],
    most: NDArray[np.int64],
    places: int,
    ends: NDArray[np.int64],
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """How far each set is from proving the places left impossible; below 0 it does.

    Args:
        table: the sets to look at.
        least: fewest uses still to come of each colour, (k,).
        most: most uses still to come of each colour, (k,).
        places: places still to fill, all in one row.
        ends: for each set, how many ends of that row give a shy colour what it needs: a partner
            beside it, or nothing at all. (sets,)

    Returns:
        The room of each set, and whether its shy colours must come at all.
    """
    shy_least = table.shy @ least
    partner_most = table.partners @ most
    other_least = table.others @ least
    other_most = table.others @ most
    shy_forced = np.maximum(0, places - shy_least - partner_most - other_most)
    room = partner_most - shy_least - shy_forced + ends - 1
    room -= np.maximum(0, shy_least + partner_most + other_least - places)
    # With nothing at both ends, other colours fill one of the gaps between two partners.
    room -= (ends == 2) & (other_least > 0)
    return room, shy_least + shy_forced > 0


def slack(
    table: HallTable,
    least: NDArray[np.int64],
    most: NDArray[np.int64],
    places: int,
    ends: NDArray[np.int64],
) -> int:
    """The smallest room over all sets, a large number when none matters; see :func:`rooms`."""
    room, matters = rooms(table, least, most, places, ends)
    return int(np.min(room[matters], initial=1 << 40))


def known_slack(table: HallTable, uses: NDArray[np.int64], ends: NDArray[np.int64]) -> int:
    """:func:`slack` where the uses still to come are known; much the quicker.

    Args:
        table: the sets to look at.
        uses: uses still to come of each colour, (k,).
        ends: as for :func:`rooms`.
    """
    shy = table.shy @ uses
    room = table.surplus @ uses + ends - 1
    room -= (ends == 2) & (table.others @ uses > 0)
    room[shy <= 0] = 1 << 40
    return int(room.min(initial=1 << 40))


def whole_slack(
    table: HallTable, least: NDArray[np.int64], most: NDArray[np.int64], places: int, *, ring: bool
) -> int:
    """The slack of a whole strip before anything is placed; see :func:`slack`."""
    free = np.full(len(table.partner_bits), 1 if ring else 2, dtype=np.int64)
    room = slack(table, least, most, places, free)
    if not ring:
        return room
    # Round a ring, shy colours that use up all their partners leave no way on to the others.
    shy_least = table.shy @ least
    tight = table.partners @ most == shy_least
    cut = tight & (shy_least > 0) & (table.others @ least > 0)
    return -1 if bool(cut.any()) else room
