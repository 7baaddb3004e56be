"""Makes the framework do what a press asks for wholly, or leave it to the press that follows.

The framework ends a run of the page as soon as the next press arrives: at the next use of the
session or the next thing drawn, inside callbacks too. What a callback had not done by then was
lost, for the framework counted its press as told: a colour picked and a bead tapped at once lost
the colour. Here a run first asks whether it is still wanted, and then its callbacks run to their
end, one run's after another's.

The framework has no setting for this; the names used below are its own, so a newer version that
has changed them is left as it is (and the tests tell).
"""

import threading
from functools import wraps
from typing import Any

from streamlit.runtime.state.safe_session_state import SafeSessionState

_DONE = "_danglewise_whole"
# What a run of the framework keeps True while presses may end it.
_ENDABLE = "_execing"
# Each run of one session has a thread and a lock of its own; one of these they share. Chosen by us:
# so many that two of a class's sessions seldom wait for each other, which harms nothing.
_LOCKS = tuple(threading.RLock() for _ in range(64))


def keep_callbacks_whole() -> None:
    """Do it, once in a process."""
    before = getattr(SafeSessionState, "on_script_will_rerun", None)
    if before is None or hasattr(before, _DONE):
        return

    @wraps(before)
    def whole(self: Any, *args: Any, **options: Any) -> None:
        asked = getattr(self, "_yield_callback", None)
        runner = getattr(asked, "__self__", None)
        held = getattr(self, "_state", None)
        if asked is None or not hasattr(runner, _ENDABLE) or held is None:
            before(self, *args, **options)
            return
        # A tuple's hash spreads addresses, which are all multiples of sixteen.
        with _LOCKS[hash((id(held),)) % len(_LOCKS)]:
            asked()
            setattr(runner, _ENDABLE, False)
            try:
                before(self, *args, **options)
            finally:
                setattr(runner, _ENDABLE, True)

    setattr(whole, _DONE, True)
    SafeSessionState.on_script_will_rerun = whole  # type: ignore[method-assign]
