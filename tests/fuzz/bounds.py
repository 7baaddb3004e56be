"""A bound of time and memory round what is tried out."""

import contextlib
import resource
import signal
from collections.abc import Iterator
from types import FrameType

# No measure of speed: what has not answered by now hangs. Chosen by us, because the largest picture
# took as long beside six others' work on two cores.
_HANGS_S = 300
# A photograph of the largest size that we take fills 160 MB, and is held twice for a moment.
_MOST_GROWTH_KB = 900_000


class HangsError(BaseException):
    """There is no answer; nothing that catches faults of every kind catches this."""


@contextlib.contextmanager
def bounded() -> Iterator[None]:
    """Fails where the work inside hangs or takes far more memory than any input of ours may."""

    def hangs(_signal: int, _frame: FrameType | None) -> None:
        raise HangsError(f"no answer within {_HANGS_S} seconds")

    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    old = signal.signal(signal.SIGALRM, hangs)
    signal.alarm(_HANGS_S)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, old)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    assert grown < _MOST_GROWTH_KB, f"{grown} KB for one input"
