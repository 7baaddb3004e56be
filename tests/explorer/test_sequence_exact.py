"""The exact parts one by one, against exhaustive search and against networkx."""

from collections import Counter
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from numpy.typing import NDArray

from explorer.sequence_budget import Budget, Verdict
from explorer.sequence_euler import meeting_counts
from explorer.sequence_layers import order_through_layers
from explorer.sequence_meetings import even_limits
from explorer.sequence_moves import spread_moves
from explorer.sequence_places import Places, free_places, settle
from explorer.sequence_search import find_order
from explorer.sequence_shares import likely_shares
from explorer.sequence_spread import shortfall
from explorer.sequence_strongest import ruled_out
from explorer.sequence_types import OrderBrief
from explorer.sequence_walk import walk
from explorer.sequence_windows import order_through_windows

PLENTY = 10**6


def random_graph(rng: np.random.Generator, colours: int, share: float) -> tuple[int, ...]:
    beside: NDArray[np.bool_] = np.triu(rng.random((colours, colours)) < share, 1)
    beside = beside | beside.T
    return tuple(sum(1 << b for b in range(colours) if beside[a, b]) for a in range(colours))


def random_places(rng: np.random.Generator, colours: int, motifs: int, gap: int) -> Places:
    least = tuple(int(x) for x in rng.integers(0, motifs // colours + 1, colours))
    most = tuple(low + int(x) for low, x in zip(least, rng.integers(0, 4, colours), strict=True))
    brief = OrderBrief(motifs=motifs, ring=bool(rng.random() < 0.5), gap=gap)
    return free_places(brief, least, most)


def keeps_to(places: Places, adjacent: tuple[int, ...], order: tuple[int, ...]) -> bool:
    uses = Counter(order)
    return (
        all(low <= uses[c] <= high for c, (low, high) in enumerate(limits(places)))
        and all(
            adjacent[order[i]] >> order[j] & 1 for j in range(places.count) for i in places.near[j]
        )
        and all(order[i] != order[j] for j in range(places.count) for i in places.apart[j])
        and all(domain >> c & 1 for domain, c in zip(places.domains, order, strict=True))
    )


def limits(places: Places) -> list[tuple[int, int]]:
    return list(zip(places.least, places.most, strict=True))


def exhaustive(places: Places, adjacent: tuple[int, ...]) -> bool:
    """Whether there is an order, by plain depth-first search that shares no code with ours."""
    count, order = places.count, [-1] * places.count

    def fill(place: int, left: tuple[int, ...]) -> bool:
        if place == count:
            return all(places.most[c] - left[c] >= low for c, low in enumerate(places.least))
        for c, high in enumerate(left):
            if high and places.domains[place] >> c & 1:
                fits = all(adjacent[order[i]] >> c & 1 for i in places.near[place])
                if fits and all(order[i] != c for i in places.apart[place]):
                    order[place] = c
                    if fill(place + 1, (*left[:c], high - 1, *left[c + 1 :])):
                        return True
        return False

    return fill(0, places.most)


@pytest.mark.parametrize("seed", range(150))
def test_meeting_counts_exist_just_where_an_order_does(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = random_places(rng, 5, 8, 0)
    adjacent = random_graph(rng, 5, 0.5)
    meetings = meeting_counts(places, adjacent, Budget(limit=PLENTY))
    assert meetings is not Verdict.UNDECIDED
    if isinstance(meetings, Verdict):
        assert not exhaustive(places, adjacent)
        return
    graph: nx.MultiGraph[int] = nx.MultiGraph()
    for (a, b), times in meetings.items():
        graph.add_edges_from([(a, b)] * times)
    assert nx.is_eulerian(graph)
    order = walk(meetings, places.count, ring=places.ring)
    assert keeps_to(places, adjacent, order)
    assert Counter(crossings(order, ring=places.ring)) == Counter(meetings)


def crossings(order: tuple[int, ...], *, ring: bool) -> list[tuple[int, int]]:
    if ring:
        steps = zip(order, order[1:] + order[:1], strict=True)
    else:
        steps = zip((-1, *order), (*order, -1), strict=True)
    return [(min(a, b), max(a, b)) for a, b in steps]


@pytest.mark.parametrize("seed", range(100))
def test_walking_any_eulerian_graph_takes_every_edge_once(seed: int) -> None:
    """Circuits from random closed walks; networkx agrees that they are Eulerian."""
    rng = np.random.default_rng(seed)
    colours, length = int(rng.integers(3, 7)), int(rng.integers(6, 60))
    order = [0]
    while len(order) < length or order[-1] == order[0]:
        order.append(int((order[-1] + rng.integers(1, colours)) % colours))
    meetings = dict(Counter(crossings(tuple(order), ring=True)))
    graph: nx.MultiGraph[int] = nx.MultiGraph(
        [edge for edge, times in meetings.items() for _ in range(times)]
    )
    assert nx.is_eulerian(graph)
    walked = walk(meetings, len(order), ring=True)
    assert Counter(crossings(walked, ring=True)) == meetings


@pytest.mark.parametrize("seed", range(120))
def test_windows_find_an_order_just_where_there_is_one(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = random_places(rng, 5, int(rng.integers(7, 10)), 1 + seed % 3)
    adjacent = random_graph(rng, 5, 0.75)
    answer = order_through_windows(places, adjacent, Budget(limit=PLENTY))
    assert answer is not Verdict.UNDECIDED
    if isinstance(answer, Verdict):
        assert not exhaustive(places, adjacent)
    else:
        assert keeps_to(places, adjacent, answer)


@pytest.mark.parametrize("seed", range(150))
def test_layers_find_an_order_just_where_there_is_one(seed: int) -> None:
    rng = np.random.default_rng(seed)
    motifs = int(rng.integers(7, 10))
    places = random_places(rng, 5, motifs, seed % 4)
    spots = rng.choice(motifs, 1 + seed % 3, replace=False)
    places = settle(places, tuple((int(p), int(rng.integers(5))) for p in spots))
    adjacent = random_graph(rng, 5, 0.8)
    answer = order_through_layers(places, adjacent, Budget(limit=PLENTY))
    assert answer is not Verdict.UNDECIDED
    if isinstance(answer, Verdict):
        assert not exhaustive(places, adjacent)
    else:
        assert keeps_to(places, adjacent, answer)


@pytest.mark.parametrize("seed", range(300))
def test_branches_find_an_order_just_where_there_is_one(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = random_places(rng, 5, int(rng.integers(6, 10)), seed % 3)
    if seed % 2:
        places = settle(places, ((int(rng.integers(places.count)), int(rng.integers(5))),))
    adjacent = random_graph(rng, 5, 0.6)
    answer = find_order(places, adjacent, Budget(limit=PLENTY))
    assert answer is not Verdict.UNDECIDED
    if isinstance(answer, Verdict):
        assert not exhaustive(places, adjacent)
    else:
        assert keeps_to(places, adjacent, answer)


@pytest.mark.parametrize("seed", range(300))
def test_counting_partners_never_rules_out_an_order_that_exists(seed: int) -> None:
    rng = np.random.default_rng(seed)
    places = random_places(rng, 5, int(rng.integers(3, 10)), 0)
    adjacent = random_graph(rng, 5, 0.5)
    if ruled_out(places, adjacent):
        assert not exhaustive(places, adjacent)
    for share in likely_shares(places, adjacent) or ():
        assert sum(share) == places.count
    if exhaustive(places, adjacent):
        shares = likely_shares(places, adjacent) or []
        assert any(
            exhaustive(replace(places, least=share, most=share), adjacent) for share in shares
        )


def test_counting_partners_does_rule_out_most_of_what_cannot_be() -> None:
    rng = np.random.default_rng(1)
    impossible = ruled = 0
    for _ in range(300):
        places = random_places(rng, 5, 9, 0)
        adjacent = random_graph(rng, 5, 0.5)
        if sum(places.least) <= 9 <= sum(places.most) and not exhaustive(places, adjacent):
            impossible += 1
            ruled += ruled_out(places, adjacent)
    assert impossible > 50
    assert ruled > 0.8 * impossible


@pytest.mark.parametrize("seed", range(40))
def test_moves_keep_every_demand_and_never_spread_worse(seed: int) -> None:
    rng = np.random.default_rng(seed)
    brief = OrderBrief(motifs=18, ring=bool(rng.random() < 0.5), gap=seed % 2)
    places = free_places(brief, (2,) * 6, (4,) * 6)
    if seed % 3 == 0:
        places = settle(places, ((4, 2), (9, 5)))
    adjacent = random_graph(rng, 6, 0.8)
    for _ in range(20):
        order = find_order(places, adjacent, Budget(limit=PLENTY))
        if not isinstance(order, Verdict):
            break
        adjacent = random_graph(rng, 6, 0.8)
    assert not isinstance(order, Verdict)
    better = spread_moves(order, places, adjacent, Budget(limit=PLENTY))
    assert keeps_to(places, adjacent, better)
    assert Counter(better) == Counter(order)
    assert shortfall(better, ring=places.ring) <= shortfall(order, ring=places.ring)


def test_even_limits_leave_every_colour_within_its_uses() -> None:
    for seed in range(20):
        rng = np.random.default_rng(seed)
        adjacent = random_graph(rng, 8, 0.6)
        places = free_places(OrderBrief(motifs=400), (50,) * 8, (50,) * 8)
        ends = Counter[int]()
        for (a, b), times in even_limits(places, adjacent, 1.0).items():
            assert times >= 0
            ends[a] += times
            ends[b] += times
        assert all(times <= 100 for times in ends.values())
