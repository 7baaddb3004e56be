"""Many different meetings rather than a few: lower limits that spread how often colours meet.

An integer program answers with as few different pairs as it can, and a strip walked from such an
answer goes back and forth between two colours. The most even multiplicities with given uses are the
product of two factors, one of each colour (the scaling of Sinkhorn and Knopp, 1967, from memory).
Rounded down they are lower limits, and the program has only the small rest to settle.
"""

import numpy as np

from explorer.sequence_hall import hall_table, rooms
from explorer.sequence_places import Places

# Chosen by us: the factors have settled to well under one meeting after as many rounds.
ROUNDS = 150

# Chosen by us: where partners have less room than this share of the strip, they are kept for the
# colours that need them; the program still may, and decides exactly.
SCARCE = 0.02

Edge = tuple[int, int]


def even_limits(places: Places, adjacent: tuple[int, ...], share: float) -> dict[Edge, int]:
    """How often each two colours should meet at the least, so that meetings are spread.

    Args:
        places: a strip or ring with no place settled.
        adjacent: for each colour the colours that may stand beside it, as bits.
        share: how much of the even multiplicities to ask for, 0 to 1.

    Returns:
        Lower limits by pair ``(a, b)`` with a < b. They leave every colour within its uses.
    """
    colours = [c for c in range(len(adjacent)) if places.domains[0] >> c & 1]
    adjacent = _without_waste(places, adjacent)
    room = {c: 2.0 * uses for c, uses in _target_uses(places, colours).items()}
    factor = {c: room[c] ** 0.5 for c in colours}
    beside = {c: [b for b in colours if adjacent[c] >> b & 1] for c in colours}
    for _ in range(ROUNDS):
        sums = {c: factor[c] * sum(factor[b] for b in beside[c]) for c in colours}
        factor = {
            c: factor[c] * (room[c] / sums[c]) ** 0.5 if sums[c] > 0.0 else 0.0 for c in colours
        }
    degree = {c: factor[c] * sum(factor[b] for b in beside[c]) for c in colours}
    fit = {c: min(1.0, room[c] / degree[c]) if degree[c] > 0.0 else 0.0 for c in colours}
    return {
        (a, b): int(share * factor[a] * factor[b] * min(fit[a], fit[b]))
        for a in colours
        for b in beside[a]
        if a < b
    }


def _target_uses(places: Places, colours: list[int]) -> dict[int, float]:
    """Uses between the fewest and the most, so that they fill the strip; a little less."""
    least = {c: places.least[c] for c in colours}
    room = {c: min(places.most[c], places.count) - places.least[c] for c in colours}
    missing, spare = places.count - sum(least.values()), sum(room.values())
    part = missing / spare if spare else 0.0
    return {c: max(0.0, least[c] + part * room[c] - 1.0) for c in colours}


def _without_waste(places: Places, adjacent: tuple[int, ...]) -> tuple[int, ...]:
    """The pairs that may meet, less those that waste partners which other colours need."""
    table = hall_table(adjacent, places.domains[0])
    if table is None:
        return adjacent
    least, most = np.array(places.least), np.minimum(places.most, places.count)
    ends = np.full(len(table.partner_bits), 1, dtype=np.int64)
    room, matters = rooms(table, least, most, places.count, ends)
    kept = list(adjacent)
    for row in np.flatnonzero(matters & (room < SCARCE * places.count)):
        for a in np.flatnonzero(table.partners[row]):
            for b in range(len(kept)):
                if not table.shy[row, b]:
                    kept[a] &= ~(1 << b)
                    kept[b] &= ~(1 << int(a))
    return tuple(kept)
