"""Reads trays from files: the second door to files in this package, beside ``charts``."""

from functools import cache
from pathlib import Path

from palettes.charts import text_of
from palettes.errors import unread
from palettes.tray import Tray
from palettes.tray_read import Reading, parse_tray
from palettes.tray_sheet import MOST_BYTES


def read_tray(path: str | Path) -> Reading:
    """The tray in a CSV file; no more of it is read than a tray may have.

    Raises:
        ChartError: it cannot be read, is too large, or is no such table.
    """
    try:
        with Path(path).open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        raise unread(str(path), error) from error
    return parse_tray(content, str(path))


@cache
def starter_tray() -> Tray:
    """The tray that comes with the program: invented beads to try things with."""
    return parse_tray(text_of("starter_tray.csv"), "starter_tray.csv").tray
