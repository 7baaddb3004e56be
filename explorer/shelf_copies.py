"""Copies of the shelf beside it: of the last start, and of the last days on which it was used.

A copy is made of a whole shelf only, so that a damaged one never pushes out a whole one, and of one
that holds something, so that an empty one is not all that a day leaves. The clock only says whether
a day has passed; ``explorer.shelf_generations`` says which copies make way.
"""

import os
import sqlite3
import tempfile
import time
from contextlib import closing
from pathlib import Path

from explorer.shelf import Shelf
from explorer.shelf_file import DamagedShelfError, ShelfError, checked, unwritable
from explorer.shelf_generations import Kind, held, make_way, next_count
from explorer.shelf_rows import LAYOUTS, PHOTOGRAPHS, PIECES, TABLES, Layout, Row, read
from gallery.files import make_private

_DAY_S = 86_400.0  # by definition: 24 hours of 3600 seconds

_GO_ON = (
    "Once such a piece is thrown away, where it stays as it is, or such a photograph is taken off, "
    "copying goes on"
)


def copies(path: Path) -> tuple[Path, ...]:
    """The copies of days that stand beside a shelf, the newest first."""
    return held(path, Kind.DAY)


def start_copy(path: Path) -> Path:
    """Where the copy of the last start stands."""
    return path.with_name(f"{path.stem}-copy-of-start.sqlite3")


def keep_at_start(path: Path) -> None:
    """Copy the shelf as it is when the program starts, and for the day if one has passed.

    Raises:
        ShelfError: the shelf cannot be used or is damaged, or there is no room; the copies that
            there are stay as they are.
    """
    if path.is_file() and _holds(path, LAYOUTS):
        _copy(path, start_copy(path))
        keep_for_the_day(path)


def keep_for_the_day(path: Path, now_s: float | None = None) -> Path | None:
    """Copy the shelf if a day has passed since it was copied last; the copy, None for none.

    Args:
        path: the shelf.
        now_s: what the clock says, in seconds since 1970; None looks at it.

    Raises:
        ShelfError: as ``keep_at_start``.
    """
    now = time.time() if now_s is None else now_s
    found = copies(path)
    try:
        if not path.is_file() or (found and not _day_passed(found[0], now)):
            return None
        # The first thing on a table would leave what is saved later that day without a copy.
        if not _holds(path, tuple(one for one in LAYOUTS if one != TABLES)):
            return None
        number = max(1, next_count(path, Kind.DAY))
        made = path.with_name(f"{path.stem}-copy-{number}.sqlite3")
        _copy(path, made)
        os.utime(made, (now, now))
        make_way(path, Kind.DAY)
    except OSError as error:
        raise _fault(path, f"the copies of the shelf {path} cannot be kept", error) from error
    return made


def _holds(path: Path, layouts: tuple[Layout, ...]) -> bool:
    """Whether a shelf holds a row of any of these tables."""
    shelf = Shelf(path)
    if shelf.blank:
        return False
    with shelf.transaction() as connection:
        return any(next(read(connection, one, "LIMIT 1"), None) is not None for one in layouts)


def _day_passed(copy: Path, now: float) -> bool:
    since = now - copy.stat().st_mtime
    if since < 0:
        # The clock was set back: the day begins anew, and no copy makes way for that.
        os.utime(copy, (now, now))
    return since >= _DAY_S


def _copy(path: Path, to: Path) -> None:
    """Copy a shelf that may be in use and was opened as one, whole or not at all."""
    try:
        with tempfile.TemporaryDirectory(prefix=f".{to.name}.", dir=to.parent) as folder:
            aside = Path(folder) / to.name
            make_private(aside)
            with closing(sqlite3.connect(path)) as held, closing(sqlite3.connect(aside)) as new:
                held.backup(new)
            _look_through(aside, path)
            aside.replace(to)
    except (sqlite3.Error, OSError) as error:
        raise _fault(path, f"no copy of the shelf {path} could be made", error) from error


def _fault(path: Path, what: str, error: Exception) -> ShelfError:
    why = getattr(error, "strerror", None) or error
    return unwritable(path, error) or ShelfError(f"{what}: {why}")


def _look_through(copy: Path, path: Path) -> None:
    """Refuse a copy that is not whole, in words about the shelf that it is of."""
    try:
        with Shelf(copy).transaction() as connection:
            wrong = checked(connection)
            bad = _bad(connection)
    except DamagedShelfError as error:
        raise DamagedShelfError(path, f"{error.what}; it is not copied") from error
    if wrong or bad:
        why = f"not as it was written: {', '.join(bad[:9])}; it is not copied. {_GO_ON}"
        raise DamagedShelfError(path, f"{wrong}; it is not copied" if wrong else why)


def _bad(connection: sqlite3.Connection) -> list[str]:
    """The rows that are damaged, in words; those of pieces that somebody threw away are known."""
    pieces = {row.number("number"): row for row in read(connection, PIECES)}
    # A flip can make a piece look thrown away, but writes down no moment.
    away = {
        number for number, row in pieces.items()
        if row.number("thrown_away") and row.text("thrown_at")
    }  # fmt: skip
    bad = [_called(row) for number, row in pieces.items() if not row.whole and number not in away]
    for row in read(connection, PHOTOGRAPHS):
        of = row.number("piece")
        if not row.whole and of not in away:
            whose = _called(pieces[of]) if of in pieces else "a piece that is gone"
            bad.append(f"a photograph of {whose}")
    return bad


def _called(row: Row) -> str:
    return f"“{row.text('name')}” (piece {row.number('number')})"
