"""Sharing what there is too little of: nobody gets more while somebody has less than needed."""

from collections.abc import Sequence


def share_fairly(needs: Sequence[int], supply: int) -> tuple[int, ...]:
    """So much of a supply for everyone that the one with least has as much as can be.

    Everybody gets all they need or the same as the others who lack (max-min fairness); what is
    left over of a whole round goes to the first in order.

    Args:
        needs: what everyone needs, 0 or more.
        supply: what there is.
    """
    if supply < 0 or any(need < 0 for need in needs):
        raise ValueError(f"needs and supply are 0 or more; got {needs!r} and {supply!r}")
    given = [0] * len(needs)
    left = min(supply, sum(needs))
    waiting = [place for place, need in enumerate(needs) if need]
    while left and waiting:
        # As much as everybody still waiting can have, but no more than the least need open.
        each = min(left // len(waiting), *(needs[p] - given[p] for p in waiting))
        if each == 0:
            for place in waiting[:left]:
                given[place] += 1
            break
        for place in waiting:
            given[place] += each
        left -= each * len(waiting)
        waiting = [place for place in waiting if given[place] < needs[place]]
    return tuple(given)
