"""No input comes through any door as anything but a value or one of our own errors.

Short in the ordinary run; with ``DANGLEWISE_LONG_CHECKS=1`` more than 200 000 inputs are thrown.
"""

import contextlib
import os
import signal
import sys
from collections.abc import Iterator
from types import FrameType

import pytest
from hypothesis import HealthCheck, given, settings

from tests.fuzz.doors import OURS, Door, doors

if sys.platform == "win32":
    pytest.skip("hangs and memory are watched by POSIX signals and limits", allow_module_level=True)

import resource

LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
DOORS = doors()
# So many inputs in all; each door gets its share.
INPUTS = 204_000 if LONG else 3_400
# No measure of speed: a reader that has not answered by now hangs. Chosen by us, hundreds of times
# what the slowest input takes.
_HANGS_S = 60
# A photograph of the largest size that we take fills 160 MB, and is held twice for a moment.
_MOST_GROWTH_KB = 900_000


def share(door: Door) -> int:
    return -(-INPUTS * door.weight // sum(one.weight for one in DOORS))


@contextlib.contextmanager
def bounded() -> Iterator[None]:
    """Fails where the work inside hangs or takes far more memory than any input of ours may."""

    def hangs(_signal: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"no answer within {_HANGS_S} seconds")

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


# Hypothesis warns of long examples, which are meant here.
@pytest.mark.filterwarnings("ignore:Generating overly large repr")
@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.name)
def test_only_our_errors_come_out(door: Door) -> None:
    outcomes = {"taken": 0, "refused": 0}

    @settings(
        max_examples=share(door),
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(door.inputs)
    def throw(value: object) -> None:
        try:
            with bounded():
                door.call(value)
        except OURS as error:
            outcomes["refused"] += 1
            told = str(error)
        else:
            outcomes["taken"] += 1
            told = "taken"
        # Every message can be printed and written down.
        assert 0 < len(told.encode("utf-8", "backslashreplace")) < 200_000

    throw()
    sys.stderr.write(f"{door.name}: {outcomes}\n")
    assert outcomes["refused"] or door.name in ("component events", "areas", "size boxes")
    assert outcomes["taken"]
