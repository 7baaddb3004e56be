"""Results of pure functions, kept by their arguments, bounded by the memory they take.

What is asked for by two sessions at once is made once; the other waits for it. A result depends on
nothing but its arguments, so a session finds here only what it could have made itself.
"""

import sys
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import fields, is_dataclass
from functools import update_wrapper
from typing import Any, Generic, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")

# Of a long row so many are weighed, spread over it. Chosen by us: rows hold things of one kind.
_WEIGHED = 8
# What a number or a word of an enumeration takes at most, itself and its place
# (CPython, 64 bits; from memory).
_SMALL = 40


def weight(value: object) -> int:
    """About how many bytes a value takes; what it shares with others is counted with it."""
    if isinstance(value, float | int | None):
        return _SMALL
    if isinstance(value, bytes | str):
        return sys.getsizeof(value)
    if isinstance(value, tuple | list):
        return _of_row(value)
    if isinstance(value, frozenset | set):
        return 2 * _of_row(tuple(value))
    if isinstance(value, dict):
        return 2 * (_of_row(tuple(value)) + _of_row(tuple(value.values())))
    if is_dataclass(value) and not isinstance(value, type):
        return _SMALL + sum(weight(getattr(value, one.name)) for one in fields(value))
    # An array's own bytes; anything else is small.
    return _SMALL + int(getattr(value, "nbytes", 0))


def _of_row(row: Sequence[Any]) -> int:
    step = max(1, len(row) // _WEIGHED)
    some = row[::step]
    each = sum(map(weight, some)) / len(some) if some else 0.0
    return _SMALL + round(len(row) * each)


class Kept(Generic[P, R]):
    """A pure function whose latest results are kept.

    Args:
        work: the function; its arguments are hashable and never changed, and so are its results.
        most_bytes: how much its arguments and results may take, as ``weight`` reckons; what was
            asked for longest ago goes first, and what is larger than all of it is not kept.
    """

    def __init__(self, work: Callable[P, R], most_bytes: int) -> None:
        self._work = work
        self._most = most_bytes
        self._lock = threading.Lock()
        self._held: OrderedDict[Hashable, tuple[R, int]] = OrderedDict()
        self._making: dict[Hashable, threading.Event] = {}
        self._bytes = 0
        update_wrapper(self, work)

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """The result, kept or made now; what the function raises is raised and not kept."""
        return self.made(lambda: self._work(*args, **kwargs), *args, **kwargs)

    def made(self, make: Callable[[], R], /, *args: P.args, **kwargs: P.kwargs) -> R:
        """As a call, but made in a way that tells somebody how far it is."""
        key = (args, tuple(sorted(kwargs.items())))
        while True:
            with self._lock:
                if key in self._held:
                    self._held.move_to_end(key)
                    return self._held[key][0]
                made = self._making.get(key)
                if made is None:
                    self._making[key] = made = threading.Event()
                    break
            # Another session makes it; where that fails, this one tries for itself.
            made.wait()
        try:
            result = make()
            self._keep(key, result)
        finally:
            with self._lock:
                del self._making[key]
            made.set()
        return result

    def put(self, result: R, /, *args: P.args, **kwargs: P.kwargs) -> None:
        """Keep a result that was made elsewhere."""
        self._keep((args, tuple(sorted(kwargs.items()))), result)

    def get(self, *args: P.args, **kwargs: P.kwargs) -> R | None:
        """The result if it is kept; nothing is made."""
        with self._lock:
            held = self._held.get((args, tuple(sorted(kwargs.items()))))
        return None if held is None else held[0]

    @property
    def held_bytes(self) -> int:
        """What it keeps now, as ``weight`` reckons."""
        return self._bytes

    def _keep(self, key: Hashable, result: R) -> None:
        size = weight(key) + weight(result)
        if size > self._most:
            return
        with self._lock:
            if key in self._held:
                return
            self._held[key] = (result, size)
            self._bytes += size
            while self._bytes > self._most:
                _, (_, gone) = self._held.popitem(last=False)
                self._bytes -= gone


def kept(megabytes: float) -> Callable[[Callable[P, R]], Kept[P, R]]:
    """Keep a pure function's latest results, so many megabytes of them."""

    def keeper(work: Callable[P, R]) -> Kept[P, R]:
        return Kept(work, round(megabytes * 1e6))

    return keeper
