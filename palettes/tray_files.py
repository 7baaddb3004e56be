"""The tray that comes with the program."""

from functools import cache

from palettes.charts import text_of
from palettes.tray import Tray
from palettes.tray_read import parse_tray


@cache
def starter_tray() -> Tray:
    """The tray that comes with the program: invented beads to try things with."""
    return parse_tray(text_of("starter_tray.csv"), "starter_tray.csv").tray
