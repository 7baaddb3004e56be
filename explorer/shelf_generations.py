"""Copies beside a shelf, kind by kind: each has a count, and the lowest counts make way.

The clock has no say in it, so that one set back loses nothing.
"""

import re
from enum import Enum
from pathlib import Path

# Chosen by us: a mishap is noticed within days of use, and a shelf with photographs is some 10 MB.
MOST_COPIES = 5


class Kind(Enum):
    """What a copy is of, as its name says it after the shelf's own."""

    DAY = r"-copy-(?P<count>\d{1,9})"
    # The first of all has no count.
    UPGRADE = r"-version-(?P<version>\d{1,9})(-(?P<count>\d{1,9}))?"


def held(path: Path, kind: Kind) -> tuple[Path, ...]:
    """The copies of a kind beside a shelf, the newest first; none where nobody can see."""
    try:
        return tuple(one for _, one in _counted(path, kind))
    except OSError:
        return ()


def next_count(path: Path, kind: Kind) -> int:
    """The count of the next copy; 0 for the first of all.

    Raises:
        OSError: nobody can see what is there, and a copy might be written over.
    """
    found = _counted(path, kind)
    return 1 + found[0][0][0] if found else 0


def make_way(path: Path, kind: Kind) -> None:
    """Take away all copies of a kind but the newest few.

    Raises:
        OSError: one cannot be taken away.
    """
    for _, old in _counted(path, kind)[MOST_COPIES:]:
        old.unlink(missing_ok=True)


def _counted(path: Path, kind: Kind) -> list[tuple[tuple[int, int], Path]]:
    """The copies with count and version, the highest first."""
    form = re.compile(re.escape(path.stem) + kind.value + r"\.sqlite3", re.ASCII)
    found = []
    for one in path.parent.iterdir():
        name = form.fullmatch(one.name)
        if name:
            said = name.groupdict(default="0")
            found.append(((int(said["count"]), int(said.get("version", "0"))), one))
    return sorted(found, reverse=True)
