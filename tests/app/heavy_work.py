"""Pieces of heavy work for tests, where a helper process can find them."""

import os
import time
from collections.abc import Callable
from pathlib import Path

from explorer.errors import BriefError

Told = Callable[[float], bool]


def where(number: int, *, told: Told) -> tuple[int, int]:
    """The number, and the process that did it."""
    told(1.0)
    return number, os.getpid()


def until_ended(file: str, *, told: Told) -> str:
    """Tell that it has begun, and go on until it is to end."""
    Path(file).write_text(str(os.getpid()))
    while told(0.5):
        time.sleep(0.005)
    return "ended"


def until_there(file: str, *, told: Told) -> int:
    """Go on until a file is there."""
    while not Path(file).exists():
        told(0.25)
        time.sleep(0.005)
    return os.getpid()


def dies(file: str, *, told: Told) -> None:
    """End the process as the system would, and count how often."""
    told(0.1)
    with Path(file).open("a") as tries:
        tries.write(".")
    os._exit(9)


def fails(*, told: Told) -> None:
    """Raise what a maker can mend."""
    told(0.5)
    raise BriefError("snug", "-3", "a length", "Type another.")
