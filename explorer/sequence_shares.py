"""The ways to share out a strip's motifs among its colours, and which of them can be an order."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from explorer.sequence_hall import hall_table
from explorer.sequence_places import Places

# Chosen by us: balanced uses of 12 colours have at most 924 shares, and so many are quickly judged.
MOST_SHARES = 1000

Share = tuple[int, ...]


@lru_cache(maxsize=256)
def shares(least: Share, most: Share, count: int) -> tuple[Share, ...] | None:
    """All uses between least and most that add up to a count; None where there are too many."""
    rows: list[Share] = [()]
    for c in range(len(least)):
        later_least, later_most = sum(least[c + 1 :]), sum(most[c + 1 :])
        rows = [
            (*row, uses)
            for row in rows
            for uses in range(least[c], min(most[c], count) + 1)
            if later_least <= count - sum(row) - uses <= later_most
        ]
        if len(rows) > MOST_SHARES:
            return None
    return tuple(rows)


def likely_shares(places: Places, adjacent: tuple[int, ...]) -> list[Share] | None:
    """The shares that counting partners does not rule out, those with most room first.

    Args:
        places: a puzzle along one strip or ring.
        adjacent: for each colour the colours that may stand beside it, as bits.

    Returns:
        The shares, none when no order can exist; None where there are too many to judge.
    """
    rows = shares(places.least, places.most, places.count)
    used = 0
    for domain in places.domains:
        used |= domain
    table = hall_table(adjacent, used)
    if rows is None or table is None:
        return None
    if not rows:
        return []
    uses = np.array(rows, dtype=np.int64).T
    room = _room(table.shy @ uses, table.partners @ uses, table.others @ uses, ring=places.ring)
    fit = np.flatnonzero(room >= 0)
    return [rows[i] for i in fit[np.argsort(-room[fit], kind="stable")]]


def _room(
    shy: NDArray[np.int64], partners: NDArray[np.int64], others: NDArray[np.int64], *, ring: bool
) -> NDArray[np.int64]:
    """The least room over all sets for each share; as ``sequence_hall.rooms`` with uses known."""
    room = partners - shy + (0 if ring else 1)
    # Others must be reached: round a ring and along a strip alike they take one gap more.
    room = room - ((others > 0) & (shy > 0))
    least: NDArray[np.int64] = np.where(shy > 0, room, 1 << 40).min(axis=0, initial=1 << 40)
    return least
