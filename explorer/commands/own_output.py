"""Standard output is for the answer alone: what libraries print while a command works goes by."""

import contextlib
import ctypes
import os
import sys
from collections.abc import Iterator


@contextlib.contextmanager
def kept_for_the_answer() -> Iterator[None]:
    """Send to standard error what anything prints to standard output meanwhile.

    Native code too, which knows nothing of ``sys.stdout`` and writes to descriptor 1: the integer
    program's solver prints a line of its own there now and then.
    """
    if sys.stdout is not None:
        sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:
        # There is no standard output at all, as in a windowed program.
        with contextlib.redirect_stdout(sys.stderr):
            yield
        return
    try:
        _point_away()
        with contextlib.redirect_stdout(sys.stderr):
            yield
    finally:
        _flush_native()
        os.dup2(kept, 1)
        os.close(kept)


def _point_away() -> None:
    """Descriptor 1 becomes standard error, or nothing where there is none."""
    try:
        os.dup2(2, 1)
    except OSError:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.close(nowhere)


def _flush_native() -> None:
    """Write out what the C library still holds, or it would come after the answer's turn."""
    # A system without that library by that name keeps its own buffer; then a late line may come.
    with contextlib.suppress(OSError, AttributeError):
        ctypes.CDLL("ucrtbase" if os.name == "nt" else None).fflush(None)
