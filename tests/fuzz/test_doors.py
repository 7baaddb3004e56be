"""No input comes through any door as anything but a value or one of our own errors.

Short in the ordinary run; with ``DANGLEWISE_LONG_CHECKS=1`` more than 200 000 inputs are thrown.
"""

import os
import sys

import pytest
from hypothesis import HealthCheck, given, settings

if sys.platform == "win32":
    pytest.skip("hangs and memory are watched by POSIX signals and limits", allow_module_level=True)

from tests.fuzz.bounds import bounded
from tests.fuzz.doors import OURS, Door, doors

LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
DOORS = doors()
# So many inputs in all; each door gets its share.
INPUTS = 204_000 if LONG else 3_400


def share(door: Door) -> int:
    return -(-INPUTS * door.weight // sum(one.weight for one in DOORS))


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
