"""The log: a file of the user's that says what went wrong and where in the program, nothing more.

A message of an exception can quote what was typed, so messages are left out: the log holds kinds of
exceptions and places in the code, never a name, a note or a measurement.
"""

import logging
import sys
import traceback
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

from gallery.files import make_private

LOGGER = logging.getLogger("danglewise")
# Chosen by us: a few hundred faults, and with the older file at most a megabyte in all.
_MOST_BYTES = 500_000
_FRAMEWORK = "streamlit.error_util"
# Chosen by us: deeper than any call of ours; only runaway recursion goes further.
_MOST_FRAMES = 40


def log_path() -> Path:
    """The log's file in the user's own folder for logs."""
    from platformdirs import user_log_path

    return user_log_path("danglewise", appauthor=False) / "danglewise.log"


class _OwnersAlone(RotatingFileHandler):
    """A log that nobody but its owner reads, also where an earlier version made it for all."""

    def _open(self) -> TextIOWrapper:
        make_private(Path(self.baseFilename))
        return super()._open()


def begin_log() -> None:
    """Write to the log from now on; where its folder cannot be written, to nowhere.

    The framework prints an exception with its message to the terminal before it asks us; it is told
    not to, since the terminal may be kept in a file too.
    """
    if LOGGER.handlers:
        return
    LOGGER.setLevel(logging.INFO)
    LOGGER.propagate = False
    handler: logging.Handler
    try:
        path = log_path()
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = _OwnersAlone(
            path, maxBytes=_MOST_BYTES, backupCount=1, encoding="utf-8", delay=True
        )
    except OSError:
        handler = logging.NullHandler()
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    LOGGER.addHandler(handler)
    # A full disk must not turn a line of the log into a traceback on the terminal.
    logging.raiseExceptions = False
    logging.getLogger(_FRAMEWORK).addFilter(_no_exception)
    LOGGER.info("started: %s, Python %s", sys.platform, sys.version.split()[0])


def _no_exception(record: logging.LogRecord) -> bool:
    return record.exc_info is None


def log_fault(error: BaseException) -> None:
    """Write down an exception that nobody expected."""
    LOGGER.error("\n".join(told(error)))


def told(error: BaseException) -> list[str]:
    """An exception and what led to it, without their messages: kinds, files, lines, functions."""
    lines: list[str] = []
    seen: set[int] = set()
    now: BaseException | None = error
    while now is not None and id(now) not in seen:
        seen.add(id(now))
        kind = type(now)
        lines.append(f"{'' if not lines else 'after '}{kind.__module__}.{kind.__qualname__}")
        frames = traceback.extract_tb(now.__traceback__)[-_MOST_FRAMES:]
        lines += [f"  {_short(frame.filename)}:{frame.lineno} {frame.name}" for frame in frames]
        now = now.__cause__ or (None if now.__suppress_context__ else now.__context__)
    return lines


def _short(filename: str) -> str:
    """A file's last three parts: the folders before them can hold the user's name."""
    return "/".join(Path(filename).parts[-3:])
