"""How far a long work is, for a person who waits at a terminal."""

import sys


def show_progress(done: int, total: int) -> None:
    """A bar on a person's screen; nothing where the output goes elsewhere."""
    if sys.stderr.isatty():
        bar = "#" * (30 * done // total)
        end = "\n" if done == total else ""
        sys.stderr.write(f"\r[{bar:<30}] {done} of {total}{end}")
        sys.stderr.flush()
