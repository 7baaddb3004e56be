"""Keeps copies of the shelf: at the start, and once a day while the app is used.

A thread of its own makes them, so that no page waits for a large shelf to be copied.
"""

import asyncio
import threading
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from dataclasses import dataclass
from datetime import datetime

from explorer.app.logging_setup import log_fault
from explorer.shelf import ShelfError, default_path
from explorer.shelf_copies import copies, keep_at_start, keep_for_the_day, start_copy

# How soon a copy is tried again that could not be made. Chosen by us: soon after somebody has seen
# to a damaged shelf, and rarely enough for one that nobody sees to.
_AGAIN_S = 600.0


@dataclass(slots=True)
class _State:
    """What became of the last copy; every session shares the one shelf."""

    fault: str = ""
    not_before: float = 0.0


_STATE = _State()
# Set when somebody used the app, and for the last time when the server ends.
_USED = threading.Event()


@asynccontextmanager
async def copied_beside() -> AsyncIterator[None]:
    """Copy the shelf now, and while this lasts whenever it is due; a copy begun is waited for."""
    ending = threading.Event()
    # Where the server is ended by force, nothing waits: a copy is whole or not there.
    thread = threading.Thread(target=_copy_until, args=(ending,), name="copying", daemon=True)
    thread.start()
    try:
        yield
    finally:
        ending.set()
        _USED.set()
        await asyncio.to_thread(thread.join)


def used() -> None:
    """Somebody used the app: a copy may be due. Returns at once."""
    _USED.set()


def _copy_until(ending: threading.Event) -> None:
    at_start()
    while not ending.is_set():
        _USED.wait()
        _USED.clear()
        if not ending.is_set():
            daily()


def at_start() -> None:
    """Copy the shelf as it is when the server starts."""
    try:
        keep_at_start(default_path())
        _STATE.fault = ""
    except ShelfError as error:
        _failed(error)


def daily() -> None:
    """Copy the shelf if a day has passed; what goes wrong is told on the shelf's page."""
    if _STATE.fault:
        # Whatever stood in the way may be mended by now.
        if time.monotonic() >= _STATE.not_before:
            at_start()
        return
    try:
        keep_for_the_day(default_path())
    except ShelfError as error:
        _failed(error)


def _failed(error: ShelfError) -> None:
    _STATE.fault, _STATE.not_before = str(error), time.monotonic() + _AGAIN_S
    log_fault(error)


def mended() -> None:
    """Something was done to the shelf that may be what a copy waited for: try again at once."""
    _STATE.not_before = 0.0


def fault() -> str:
    """Why the shelf could not be copied last; empty where it could."""
    return _STATE.fault


def last_day() -> str:
    """The day of the newest copy, ISO 8601; empty where there is none."""
    path = default_path()
    moments = []
    for copy in (start_copy(path), *copies(path)[:1]):
        with suppress(OSError):
            moments.append(copy.stat().st_mtime)
    if not moments:
        return ""
    return datetime.fromtimestamp(max(moments)).astimezone().date().isoformat()
