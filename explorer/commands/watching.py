"""A long search on the command line: a line on a person's screen, and Ctrl+C keeps the best."""

import math
import signal
import sys
import threading
from types import FrameType, TracebackType

from palettes.choose_watch import Sofar


class Watching:
    """Shows how a search stands while it runs, and ends it at Ctrl+C.

    As long as nothing is found, and at the second press, Ctrl+C ends the program as ever. Nothing
    is shown where errors go elsewhere than to a screen.

    Args:
        words: what the difference is that was reached so far.
    """

    def __init__(self, words: str) -> None:
        self._words = words
        self._found = self._ended = self._handling = False
        self._shown = ""

    def __enter__(self) -> "Watching":
        """Begin to watch."""
        usual = signal.getsignal(signal.SIGINT) is signal.default_int_handler
        # Only the main thread may ask for signals, and who ignores them goes on ignoring them.
        if usual and threading.current_thread() is threading.main_thread():
            signal.signal(signal.SIGINT, self._pressed)
            self._handling = True
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Leave the screen and Ctrl+C as they were."""
        if self._handling:
            signal.signal(signal.SIGINT, signal.default_int_handler)
        self._show("")

    def __call__(self, sofar: Sofar) -> bool:
        """Show how it stands; whether to go on."""
        self._found = sofar.reached is not None
        if sofar.reached is not None and not math.isinf(sofar.reached):
            self._show(
                f"{sofar.part:4.0%} looked at, {self._words} {sofar.reached:.1f} (Ctrl+C keeps it)"
            )
        return not self._ended

    def _pressed(self, number: int, frame: FrameType | None) -> None:
        if self._ended or not self._found:
            signal.default_int_handler(number, frame)
        self._ended = True

    def _show(self, words: str) -> None:
        if words == self._shown or not sys.stderr.isatty():
            return
        # What stood there is covered, and the next word begins where it began.
        sys.stderr.write(f"\r{words:<{len(self._shown)}}" + ("" if words else "\r"))
        sys.stderr.flush()
        self._shown = words
