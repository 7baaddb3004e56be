"""What lies on each table: the work, the steps before and after it, and how often it was kept.

A table is known by its mark, which stands in the address of its page. Two pages can show the same
one; the revision tells a page that the other has kept something since.
"""

import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime

from explorer.shelf import Shelf, ShelfError
from explorer.shelf_rows import TABLES, Row, highest, insert, read

# Tables that nobody came back to are swept off after so many others were used. Chosen by us,
# because nobody comes back after so many others.
_MOST_TABLES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A table as it was kept last.

    Attributes:
        document: what lies on it.
        steps: the steps before and after that, as the app packed them; empty where none were kept.
        revision: how often it was kept, from 1.
    """

    document: str
    steps: bytes
    revision: int


def keep(
    shelf: Shelf, mark: str, document: str, *, steps: bytes = b"", seen: int | None = None
) -> int | None:
    """Remember what lies on a table, instead of what lay there before.

    Args:
        shelf: where.
        mark: the table's.
        document: what lies on it.
        steps: the steps before and after that.
        seen: the revision that this takes the place of, 0 for a table that is new; None takes the
            place of whatever there is.

    Returns:
        The new revision; None where another than ``seen`` was found, which then stays as it is.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    with shelf.transaction() as connection:
        row = _row(connection, mark)
        # One that was swept off meanwhile is in nobody's way.
        held = row.number("revision") if row and row.whole else seen or 0
        if seen is not None and row is not None and (seen != held or not row.whole):
            return None
        values = {
            "mark": mark, "used": _now(), "document": document, "steps": steps,
            "revision": held + 1, "turn": 1 + highest(connection, TABLES, "turn"),
        }  # fmt: skip
        insert(connection, TABLES, values)
        # By turns and not by the clock, which can be set back.
        connection.execute(
            "DELETE FROM tables WHERE mark NOT IN "
            "(SELECT mark FROM tables ORDER BY turn DESC LIMIT ?)",
            (_MOST_TABLES,),
        )
        return held + 1


def kept(shelf: Shelf, mark: str) -> Kept | None:
    """What lies on a table; None where nothing was ever kept.

    Raises:
        ShelfError: the shelf cannot be used, or what lies there is damaged; it is left as it is.
    """
    with shelf.reading() as connection:
        row = _row(connection, mark)
    if row is None:
        return None
    if not row.whole:
        raise ShelfError("what lay on this table is damaged: its checksum does not fit")
    return Kept(
        document=row.text("document"), steps=row.blob("steps"), revision=row.number("revision")
    )


def last(shelf: Shelf) -> str | None:
    """What lies on the table that was used last, whichever that is, of those that are whole.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    with shelf.reading() as connection:
        for row in read(connection, TABLES, "ORDER BY turn DESC LIMIT 9"):
            if row.whole:
                return row.text("document")
    return None


def _row(connection: sqlite3.Connection, mark: str) -> Row | None:
    return next(iter(read(connection, TABLES, "WHERE mark = ?", (mark,))), None)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")
