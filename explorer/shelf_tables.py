"""What lies on each table: the work, the steps before and after it, and how often it was kept.

A table is known by its mark, which stands in the address of its page. Two pages can show the same
one; the revision tells a page that the other has kept something since.
"""

from dataclasses import dataclass
from datetime import UTC, datetime

from explorer.shelf import Shelf

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
        row = connection.execute("SELECT revision FROM tables WHERE mark = ?", (mark,)).fetchone()
        # One that was swept off meanwhile is in nobody's way.
        held = int(row[0]) if row else seen or 0
        if seen is not None and seen != held:
            return None
        connection.execute(
            "INSERT INTO tables (mark, used, document, steps, revision) VALUES (?, ?, ?, ?, ?) "
            "ON CONFLICT (mark) DO UPDATE SET used = excluded.used, document = excluded.document, "
            "steps = excluded.steps, revision = excluded.revision",
            (mark, _now(), document, steps, held + 1),
        )
        connection.execute(
            "DELETE FROM tables WHERE mark NOT IN "
            "(SELECT mark FROM tables ORDER BY used DESC LIMIT ?)",
            (_MOST_TABLES,),
        )
        return held + 1


def kept(shelf: Shelf, mark: str) -> Kept | None:
    """What lies on a table; None where nothing was ever kept.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    with shelf.transaction() as connection:
        row = connection.execute(
            "SELECT document, steps, revision FROM tables WHERE mark = ?", (mark,)
        ).fetchone()
    if row is None:
        return None
    return Kept(document=str(row[0]), steps=bytes(row[1]), revision=int(row[2]))


def last(shelf: Shelf) -> str | None:
    """What lies on the table that was used last, whichever that is.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    with shelf.transaction() as connection:
        row = connection.execute(
            "SELECT document FROM tables ORDER BY used DESC LIMIT 1"
        ).fetchone()
    return None if row is None else str(row[0])


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")
