"""Several best orders of one brief that are truly different, for a maker to choose from.

Colours are numbered anew and the search repeated, so that other orders come first; the best levels
go before those a little weaker. Of all that are found those are picked that differ most.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from explorer.arrangements import lay_out, uses_of
from explorer.sequence import best_order, checked_matrix, described, is_alike
from explorer.sequence_budget import Budget, KeepGoing, Verdict
from explorer.sequence_moves import spread_moves
from explorer.sequence_places import Places, with_gap
from explorer.sequence_run import ends_of
from explorer.sequence_search import Search, find_order
from explorer.sequence_strongest import adjacency, levels_of
from explorer.sequence_types import Arrangement, NoOrder, Order, OrderBrief

# Chosen by us: an order down to nine tenths of the best looks as strong to most eyes.
NEAR = 0.9

# Chosen by us: so many are found for each that is asked for, to pick different ones from.
FOUND_PER_PICK = 4

# Chosen by us: renumberings tried at a level, and orders listed one after another from each.
RENUMBERINGS = 12
LISTED = 6

# Chosen by us: turning longer strips against each other takes more time than it is worth.
LONGEST_TURNED = 400


def several_orders(
    matrix: NDArray[np.float64],
    brief: OrderBrief,
    count: int,
    keep_going: KeepGoing | None = None,
    first: Order | None = None,
) -> tuple[Order, ...] | NoOrder:
    """The best order and others nearly as good, none a rotation or reflection of another.

    Args:
        matrix: difference of every two colours, (k, k), symmetric.
        brief: what is asked; its steps are for all orders together.
        count: how many orders are wanted; fewer come where there are no more.
        keep_going: called now and then with the steps spent; False ends the search with what has
            been found.
        first: the order that others are to differ from; None for the best.

    Returns:
        That order first, then the others, the stronger ones first; or why there is none.

    Raises:
        ValueError: no order is asked for, or matrix and brief do not belong together.
    """
    if count < 1:
        raise ValueError(f"at least 1 order is asked for; got {count!r}")
    best = best_order(matrix, brief, keep_going)
    if isinstance(best, NoOrder):
        return best
    checked = checked_matrix(matrix)
    if brief.arrangement is Arrangement.RUN:
        found = list(_other_runs(checked, brief, best))
    elif is_alike(checked, uses_of(brief, len(checked))[1]):
        found = []
    else:
        budget = Budget(limit=brief.steps, keep_going=keep_going)
        found = list(_near(checked, brief, best, count * FOUND_PER_PICK, budget))
    if first is not None:
        name = canonical(first.order)
        found = [order for order in (best, *found) if canonical(order.order) != name]
    picked = _pick(first or best, found, count)
    others = sorted(picked[1:], key=lambda order: (-(order.weakest or 0.0), -order_distance(order)))
    return (picked[0], *others)


def order_distance(order: Order) -> int:
    """The least distance between repeats, the whole strip where nothing repeats."""
    return len(order.order) if order.distance is None else order.distance


def _near(
    matrix: NDArray[np.float64], brief: OrderBrief, best: Order, wanted: int, budget: Budget
) -> Iterator[Order]:
    """Different orders at the best level, then at weaker ones."""
    layout = lay_out(brief, len(matrix))
    weakest = best.weakest if best.weakest is not None else 0.0
    seen = {canonical(best.order)}
    for level in levels_of(matrix, (1 << len(matrix)) - 1):
        if level > weakest or (best.weakest is not None and level < NEAR * weakest):
            continue
        adjacent = adjacency(matrix, level)
        for filling in _fillings(layout.places, adjacent, best, budget):
            order = described(matrix, layout, filling, bound=best.bound)
            name = canonical(order.order)
            if name not in seen:
                seen.add(name)
                yield order
        if len(seen) > wanted or not budget.left:
            return


def _fillings(
    places: Places, adjacent: tuple[int, ...], best: Order, budget: Budget
) -> Iterator[tuple[int, ...]]:
    for names in _renumberings(len(adjacent)):
        if not budget.left:
            return
        there = _renamed(places, names)
        graph = _renamed_graph(adjacent, names)
        spaced = with_gap(there, order_distance(best) - 1)
        for puzzle in (spaced, there):
            part = budget.part(10 * places.count)
            first = find_order(puzzle, graph, part)
            budget.take_back(part)
            if not isinstance(first, Verdict):
                evener = spread_moves(first, puzzle, graph, budget)
                yield tuple(names[c] for c in evener)
                break
        part = budget.part(4 * places.count)
        listed = Search(there, graph, hopeless=_never).orders(part)
        for filling in islice((f for f in listed if not isinstance(f, Verdict)), LISTED):
            yield tuple(names[c] for c in filling)
        budget.take_back(part)


def _never(_search: Search) -> bool:
    return False


def _renumberings(colours: int) -> Iterator[tuple[int, ...]]:
    """Numbers of the colours in other orders: turned, and turned backwards; always the same."""
    for turn in range(min(colours, RENUMBERINGS // 2)):
        names = tuple((c + turn) % colours for c in range(colours))
        yield names
        yield names[::-1]


def _renamed(places: Places, names: tuple[int, ...]) -> Places:
    """The puzzle with colour ``names[i]`` called i."""
    return replace(
        places,
        domains=tuple(_bits(domain, names) for domain in places.domains),
        least=tuple(places.least[c] for c in names),
        most=tuple(places.most[c] for c in names),
    )


def _renamed_graph(adjacent: tuple[int, ...], names: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(_bits(adjacent[c], names) for c in names)


def _bits(colours: int, names: tuple[int, ...]) -> int:
    return sum(1 << i for i, c in enumerate(names) if colours >> c & 1)


def _other_runs(matrix: NDArray[np.float64], brief: OrderBrief, best: Order) -> Iterator[Order]:
    """Runs between other ends, those far apart first, where the maker has settled none."""
    if brief.ends is not None or brief.fixed:
        return
    _, most = uses_of(brief, len(matrix))
    allowed = sum(1 << c for c, high in enumerate(most) if high)
    used = {ends_of(matrix, brief, allowed)}
    pairs = [
        (a, b) for a in range(len(matrix)) for b in range(a) if allowed >> a & allowed >> b & 1
    ]
    seen = {canonical(best.order)}
    for a, b in sorted(pairs, key=lambda pair: (-matrix[pair], pair)):
        if {(a, b), (b, a)} & used:
            continue
        order = best_order(matrix, replace(brief, ends=(b, a)))
        if isinstance(order, Order) and canonical(order.order) not in seen:
            seen.add(canonical(order.order))
            yield order


def canonical(order: tuple[int, ...]) -> tuple[int, ...]:
    """One name for an order and all its rotations and reflections: the first of them in sequence.

    A strip longer than ``LONGEST_TURNED`` is only reflected.
    """
    ways = (order, order[::-1])
    if len(order) > LONGEST_TURNED:
        return min(ways)
    return min(way[i:] + way[:i] for way in ways for i in range(len(way)))


def differing_places(one: tuple[int, ...], other: tuple[int, ...]) -> int:
    """How many places differ when one strip is turned against the other as well as it can be."""
    a = np.array(one)
    turns = range(len(one) if len(one) <= LONGEST_TURNED else 1)
    ways = (np.array(other), np.array(other[::-1]))
    return min(int((a != np.roll(way, turn)).sum()) for way in ways for turn in turns)


def _pick(best: Order, found: list[Order], count: int) -> list[Order]:
    """The best, then again and again the order that differs most from all picked; first at ties."""
    picked = [best]
    apart = [differing_places(best.order, order.order) for order in found]
    while len(picked) < count and any(apart):
        chosen = max(range(len(found)), key=lambda i: (apart[i], -i))
        picked.append(found[chosen])
        apart = [
            min(old, differing_places(found[chosen].order, order.order))
            for old, order in zip(apart, found, strict=True)
        ]
    return picked
