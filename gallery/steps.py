"""How far a long work is, told by those who do its parts to someone who waits."""

from collections.abc import Callable

# Told how much is done, of how much.
Progress = Callable[[int, int], None]


class Steps:
    """Counts what is done of a work, whoever does it.

    Args:
        progress: told after every part; None where nobody waits.
        total: how much there is to do.
    """

    def __init__(self, progress: Progress | None, total: int) -> None:
        self._progress, self._total = progress, total
        self._done = 0

    def __call__(self, more: int) -> None:
        """So much more is done."""
        self._done += more
        if self._progress is not None:
            self._progress(self._done, self._total)
