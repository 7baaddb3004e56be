"""Ctrl+C: one plain line that says what was written by then, also while all is still being loaded.

It loads next to nothing itself, so that it is there before anything else is.
"""

import os
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

# What shells give a command that Ctrl+C ended: 128 and the signal's number (2 by POSIX.1-2017).
CODE = 130
# What was done so far, each in a few words.
written: list[str] = []


def stopped_words() -> str:
    """What to say at the end."""
    return f"stopped; {'; '.join(written) or 'nothing was written'}"


@contextmanager
def loading() -> Iterator[None]:
    """End at once at Ctrl+C: what is half loaded may take an exception for a fault of its own."""
    usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
    # Only the main thread may ask for signals, and who ignores them goes on ignoring them.
    if not usual or threading.current_thread() is not threading.main_thread():
        yield
        return
    signal.signal(signal.SIGINT, _end)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def _end(_number: int, _frame: FrameType | None) -> None:
    os.write(2, f"{stopped_words()}\n".encode())
    os._exit(CODE)
