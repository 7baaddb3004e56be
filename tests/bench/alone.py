"""A command of ours in a process of its own, measured from outside."""

import os
import subprocess
import sys
import time
from typing import NamedTuple


class Used(NamedTuple):
    """What a process took: the processor's seconds, the clock's, and its peak of memory in MB."""

    seconds: float
    clock_s: float
    peak_mb: float


def command(*arguments: str) -> Used:
    """Runs ``danglewise`` with these arguments to its end.

    Raises:
        RuntimeError: it did not answer.
    """
    start = time.perf_counter()
    line = (sys.executable, "-m", "explorer", *arguments)
    with subprocess.Popen(line, stdout=subprocess.DEVNULL) as child:
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise RuntimeError(f"{arguments[0]} ended with {child.returncode}")
    # Linux counts in KiB.
    return Used(used.ru_utime + used.ru_stime, time.perf_counter() - start, used.ru_maxrss / 1024.0)
