"""How evenly the repeats of each colour are spread along a strip.

Two measures, the first going before the second: the smallest distance between two uses of one
colour; and the sum of squared shortfalls from even spacing. A colour used m times over n places
would stand n / m apart if it were spread evenly; a repeat that comes sooner falls short by the
difference, and a repeat that comes later costs nothing by itself.
"""

from fractions import Fraction


def repeats(order: tuple[int, ...], *, ring: bool) -> dict[int, list[int]]:
    """The distances from each use of a colour to its next, by colour; round the ring if asked."""
    last: dict[int, int] = {}
    first: dict[int, int] = {}
    gaps: dict[int, list[int]] = {}
    for place, colour in enumerate(order):
        if colour in last:
            gaps.setdefault(colour, []).append(place - last[colour])
        first.setdefault(colour, place)
        last[colour] = place
    if ring:
        for colour, row in gaps.items():
            row.append(first[colour] + len(order) - last[colour])
    return gaps


def least_distance(order: tuple[int, ...], *, ring: bool) -> int | None:
    """The smallest distance between two uses of one colour; None where no colour repeats."""
    return min((min(row) for row in repeats(order, ring=ring).values()), default=None)


def shortfall(order: tuple[int, ...], *, ring: bool) -> Fraction:
    """The sum of squared shortfalls from even spacing, in places squared; exact."""
    total = Fraction(0)
    for row in repeats(order, ring=ring).values():
        uses = len(row) if ring else len(row) + 1
        short = sum(max(0, len(order) - gap * uses) ** 2 for gap in row)
        total += Fraction(short, uses * uses)
    return total


def least_shortfall(uses: int, places: int, *, ring: bool) -> Fraction:
    """The smallest share of the sum that a colour with this many uses can have."""
    if uses < 2:
        return Fraction(0)
    gaps, span = (uses, places) if ring else (uses - 1, places - 1)
    short_gap = places // uses
    long_gap = short_gap if places % uses == 0 else short_gap + 1
    # Long gaps cost nothing; as many as fit, the rest are as long as can be.
    if gaps * long_gap <= span:
        return Fraction(0)
    shorts = gaps * long_gap - span
    return shorts * Fraction(places - short_gap * uses, uses) ** 2


def most_distance(least: tuple[int, ...], places: int, colours: int, *, ring: bool) -> int:
    """No order of these places keeps two uses of a colour further apart than this."""
    best = places
    for uses in least:
        if uses > 1:
            best = min(best, places // uses if ring else (places - 1) // (uses - 1))
    # More places than colours: within any colours + 1 places in a row some colour comes twice.
    return min(best, colours) if places > colours else best
