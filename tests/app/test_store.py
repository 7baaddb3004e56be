"""What is kept is bounded by its bytes, made once for all who ask, and never half."""

import pickle
import sys
import threading
import time
from collections.abc import Callable

import numpy as np
import pytest

from explorer.app import cache, drawings
from explorer.app.areas import Reach
from explorer.app.demo import demo
from explorer.app.store import Kept, kept, weight


def _zeros(size: int) -> bytes:
    return bytes(size)


def test_it_keeps_what_was_asked_for_last_within_its_bytes() -> None:
    made: list[int] = []

    def work(number: int) -> bytes:
        made.append(number)
        return bytes(1000)

    keeper = Kept(work, 4000)
    for number in (1, 2, 3, 1, 4):
        assert keeper(number) == bytes(1000)
        assert keeper.held_bytes <= 4000
    assert made == [1, 2, 3, 4]
    # 2 was asked for longest ago.
    assert keeper.get(2) is None
    assert keeper.get(1) == bytes(1000)
    keeper(2)
    assert made[-1] == 2


def test_what_is_larger_than_all_of_it_is_made_and_not_kept() -> None:
    keeper = Kept(_zeros, 1000)
    assert len(keeper(5000)) == 5000
    assert keeper.held_bytes == 0


def test_two_who_ask_at_once_get_one_result_and_a_failure_is_nobodys() -> None:
    made, gate = [], threading.Event()

    @kept(1)
    def work(number: int) -> list[int]:
        made.append(number)
        gate.wait(60)
        if len(made) == 1:
            raise ValueError("broken")
        return [number]

    found: list[object] = []

    def ask() -> None:
        try:
            found.append(work(7))
        except ValueError as error:
            found.append(str(error))

    threads = [threading.Thread(target=ask) for _ in range(4)]
    for thread in threads:
        thread.start()
    while not made:
        time.sleep(0.005)
    gate.set()
    for thread in threads:
        thread.join(60)
    # One made it and failed; one of those that waited made it again, for all of them.
    assert made == [7, 7]
    assert found.count("broken") == 1
    results = [one for one in found if one != "broken"]
    assert all(one is results[0] for one in results)
    assert results[0] == [7]


def test_what_was_made_elsewhere_is_kept_under_the_same_arguments() -> None:
    @kept(1)
    def keeper(number: int, *, more: int) -> int:
        return number + more

    keeper.put(99, 1, more=2)
    assert keeper(1, more=2) == 99
    assert keeper(1, more=3) == 4


@pytest.mark.parametrize("kind", ["areas", "scene", "picture", "piece"])
def test_a_weight_is_not_far_below_what_a_value_takes(kind: str) -> None:
    piece = demo().piece
    values: dict[str, Callable[[], object]] = {
        "areas": lambda: cache.pointed(piece.design, "strip", Reach.BEAD),
        "scene": lambda: cache._scene(piece.design, "strip"),
        "picture": lambda: drawings.thumbnail(piece.design),
        "piece": lambda: piece,
    }
    value = values[kind]()
    # Written out, a value takes less than it does as objects (numbers of 8 bytes as 24 and more),
    # but names everything that belongs to it.
    assert weight(value) > 0.9 * len(pickle.dumps(value))


def test_weights_of_plain_things_follow_python_and_numpy() -> None:
    assert weight(b"x" * 5000) == sys.getsizeof(b"x" * 5000)
    assert 8000 <= weight(np.zeros(1000)) < 8200
    row = tuple(float(i) for i in range(1000))
    # A number and its place in the row.
    assert weight(row) >= sys.getsizeof(row) + 24 * len(row)
