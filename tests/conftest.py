"""Settings that every test shares."""

import os
import signal

from hypothesis import HealthCheck, settings

# Started in a shell's background this process ignores Ctrl-C, and so would those that it starts to
# see what Ctrl-C does.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Derandomised, so that a failure on one machine is the same failure on every other; no deadline,
# since a slow machine is not a wrong program. The same examples come back in every run, so many of
# them find nothing that the first did not: with ``DANGLEWISE_LONG_CHECKS=1`` there are more.
LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
settings.register_profile(
    "danglewise",
    max_examples=200 if LONG else 40,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("danglewise")
