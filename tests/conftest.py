"""Settings that every test shares."""

import signal

from hypothesis import HealthCheck, settings

# Started in a shell's background this process ignores Ctrl-C, and so would those that it starts to
# see what Ctrl-C does.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Derandomised, so that a failure on one machine is the same failure on every other; no deadline,
# since a slow machine is not a wrong program.
settings.register_profile(
    "danglewise",
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("danglewise")
