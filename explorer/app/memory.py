"""Keeps the server's memory bounded: garbage collected now and then, not after every run.

The framework collects all garbage after every run of a page. Measured, that was four fifths of what
a plain rerun cost, for the collector looks at every object of every library that is loaded. Here
it is done when the server has done some work and then rests, or a minute after the last time, and
what is free is given back to the system. Sessions that nobody came back to are dropped then too:
the framework's own store forgets them only when another session comes or goes.
"""

import ctypes
import gc
import sys
import threading
import time
from typing import Any

# glibc's mallopt(3): how many heaps threads are spread over. Left alone it makes eight a core, and
# each keeps what a drawing took at its peak; every session draws in a thread of its own. Two let
# two cores allocate at once. From memory (glibc's malloc.h).
_M_ARENA_MAX, _ARENAS = -8, 2
# Chosen by us: a look this often; after so much processor time there is something to tidy, and
# less than so much of it between two looks is rest.
_LOOK_S, _WORKED_S, _RESTING_S = 5.0, 1.0, 0.5
# A class that never rests has its garbage collected this often. Chosen by us, because what a minute
# leaves behind fits a small machine.
_AT_LATEST_S = 60.0


def begin_tidying() -> None:
    """Tidy up from now on, beside everything else, until the process ends."""
    limit_heaps()
    threading.Thread(target=_tidy_now_and_then, name="tidying", daemon=True).start()


def limit_heaps() -> None:
    """Spread allocations over few heaps, where the system's allocator is glibc's."""
    glibc = _glibc()
    if glibc is not None and hasattr(glibc, "mallopt"):
        glibc.mallopt(_M_ARENA_MAX, _ARENAS)


def tidy() -> None:
    """Drop sessions that are over, collect garbage, give free memory back to the system."""
    drop_ended_sessions()
    gc.collect()
    glibc = _glibc()
    if glibc is not None and hasattr(glibc, "malloc_trim"):
        glibc.malloc_trim(0)


def drop_ended_sessions() -> None:
    """Have the framework's store forget what is past its time.

    The names below are the framework's own; where a newer version has changed them, sessions are
    forgotten as that version does it.
    """
    from streamlit import runtime

    if not runtime.exists():
        return
    manager: Any = getattr(runtime.get_instance(), "_session_mgr", None)
    held: Any = getattr(getattr(manager, "_session_storage", None), "_cache", None)
    lock: Any = getattr(manager, "_storage_lock", None)
    if lock is None or not hasattr(held, "expire"):
        return
    with lock:
        held.expire()


class Rest:
    """Tells when to tidy up, from looks at the server.

    Args:
        now: the time in seconds.
        worked: the processor time that the server has taken, in seconds.
    """

    def __init__(self, now: float, worked: float) -> None:
        self._tidied, self._worked, self._before = now, worked, worked
        self._stored = False

    def due(self, now: float, worked: float, *, stored: bool) -> bool:
        """Whether to tidy up at this look, which is counted as done then.

        Args:
            now: the time in seconds.
            worked: the processor time that the server has taken, in seconds.
            stored: whether a session that is over is kept for whoever comes back to it.
        """
        rests = worked - self._before < _RESTING_S
        late = now - self._tidied > _AT_LATEST_S
        self._before = worked
        # What was stored since the last time may have come to its end meanwhile.
        self._stored = self._stored or stored
        busy = worked - self._worked > _WORKED_S and (rests or late)
        if not busy and not (late and rests and self._stored):
            return False
        self._tidied, self._worked, self._stored = now, worked, stored
        return True


def _tidy_now_and_then() -> None:
    rest = Rest(time.monotonic(), time.process_time())
    while True:
        time.sleep(_LOOK_S)
        if rest.due(time.monotonic(), time.process_time(), stored=_stored()):
            tidy()


def _stored() -> bool:
    """Whether the framework still keeps a session that is over."""
    from streamlit import runtime

    if not runtime.exists():
        return False
    manager: Any = getattr(runtime.get_instance(), "_session_mgr", None)
    storage: Any = getattr(manager, "_session_storage", None)
    # Those past their time are no longer counted, and not yet dropped.
    return bool(getattr(getattr(storage, "_cache", None), "currsize", 0))


def _glibc() -> Any:
    """The C library of this process where it is Linux's, with the calls named above."""
    if not sys.platform.startswith("linux"):
        return None
    try:
        return ctypes.CDLL(None)
    except OSError:
        return None
