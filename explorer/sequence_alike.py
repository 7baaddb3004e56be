"""Orders of colours that are all one to the eye: any order is as good, if the uses add up."""

from explorer.sequence_places import Places


def any_order(places: Places) -> tuple[int, ...] | None:
    """A filling that keeps uses and settled places and heeds no neighbours; None where none does.

    Args:
        places: a puzzle without a gap.
    """
    colours = len(places.least)
    least, most = list(places.least), list(places.most)
    order = [-1] * places.count
    tightest = sorted(range(places.count), key=lambda p: (places.domains[p].bit_count(), p))
    for place in tightest:
        weight = places.weights[place]
        fits = [c for c in range(colours) if places.domains[place] >> c & 1 and most[c] >= weight]
        if not fits:
            return None
        colour = max(fits, key=lambda c: (least[c] > 0, most[c], -c))
        order[place] = colour
        least[colour] -= weight
        most[colour] -= weight
    return tuple(order) if max(least) <= 0 else None
