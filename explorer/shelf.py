"""The shelf: saved pieces in one SQLite file of the maker's, and the beads at hand.

Every call opens the file, does one thing in one transaction and closes it again, so that a save is
whole or not at all, and several windows and processes can share the file.
"""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from explorer.shelf_entry import MOST_WHO, Entry, Making, check_words
from explorer.shelf_ours import may_be_used
from explorer.shelf_versions import MIGRATIONS, VERSION

__all__ = ["MIGRATIONS", "MOST_WHO", "VERSION", "Saved", "Shelf", "ShelfError", "default_path"]

# Chosen by us: longer than any other window's save takes.
_BUSY_MS = 5000
# So many states of the beads at hand stay, the present one among them. Chosen by us: a day's work,
# and a few megabytes for thousands of beads.
_MOST_TRAYS = 20
_COLUMNS = "number, name, who, notes, saved, document, made, minutes, lots"


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """A piece on the shelf.

    Attributes:
        number: its number on this shelf.
        name: what the maker calls it.
        who: who it is for.
        notes: anything.
        saved: when it was put there, UTC, ISO 8601.
        document: the piece as ``explorer.piece.to_json`` wrote it.
        making: how it was made.
    """

    number: int
    name: str
    who: str
    notes: str
    saved: str
    document: str
    making: Making = field(default_factory=Making)


class ShelfError(Exception):
    """The shelf cannot be used; what stands on it is untouched."""


def default_path() -> Path:
    """The shelf's file in the maker's own data folder."""
    from platformdirs import user_data_path

    return user_data_path("danglewise", appauthor=False) / "shelf.sqlite3"


class Shelf:
    """Saved pieces in a file.

    Args:
        path: the file; it and its folder are made when they are missing.

    Every method raises ``ShelfError`` where the file cannot be read or written, or comes from a
    newer Danglewise.
    """

    def __init__(self, path: Path) -> None:
        self.path = path

    @contextmanager
    def transaction(self) -> Iterator[sqlite3.Connection]:
        """A connection whose changes are kept together at the end, or none of them."""
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            with closing(sqlite3.connect(self.path, isolation_level=None)) as connection:
                connection.execute(f"PRAGMA busy_timeout = {_BUSY_MS:d}")
                _quick_journal(connection)
                connection.execute("BEGIN IMMEDIATE")
                try:
                    self._migrate(connection)
                    yield connection
                except BaseException:
                    connection.execute("ROLLBACK")
                    raise
                connection.execute("COMMIT")
        except (sqlite3.Error, OSError) as error:
            raise ShelfError(f"the shelf {self.path} cannot be used: {error}") from error

    def _migrate(self, connection: sqlite3.Connection) -> None:
        (found,) = connection.execute("PRAGMA user_version").fetchone()
        if found > VERSION:
            raise ShelfError(
                f"the shelf {self.path} was written by a newer Danglewise (shelf version {found}; "
                f"this one knows up to {VERSION}). Update Danglewise to use it; it is untouched"
            )
        if 0 < found < VERSION:
            self._back_up(connection, found)
        for step in MIGRATIONS[found:]:
            step(connection)
        if found < VERSION:
            connection.execute(f"PRAGMA user_version = {VERSION:d}")

    def _back_up(self, connection: sqlite3.Connection, version: int) -> None:
        """Copy the shelf as it is before it is brought to another version; no copy is replaced."""
        from gallery.files import write_bytes

        stem = f"{self.path.stem}-version-{version}"
        tries = (f"-{number}" if number else "" for number in range(1000))
        names = (self.path.with_name(f"{stem}{more}.sqlite3") for more in tries)
        write_bytes(next(path for path in names if not path.exists()), connection.serialize())

    def put(self, name: str, document: str, *, who: str = "", notes: str = "") -> int:
        """Save a piece as a new one; its number."""
        (number,) = self.put_all([Entry(name=name, document=document, who=who, notes=notes)])
        return number

    def put_all(self, entries: Sequence[Entry]) -> tuple[int, ...]:
        """Save pieces with all that belongs to them, every one of them or none; their numbers."""
        with self.transaction() as connection:
            return tuple(_put(connection, entry) for entry in entries)

    def change(
        self, number: int, *, name: str, who: str, notes: str, making: Making | None = None
    ) -> None:
        """Give a saved piece another name, wearer or notes; and another making, if one is given."""
        check_words(name, who)
        with self.transaction() as connection:
            connection.execute(
                "UPDATE pieces SET name = ?, who = ?, notes = ? WHERE number = ?",
                (name, who, notes, number),
            )
            if making is not None:
                connection.execute(
                    "UPDATE pieces SET made = ?, minutes = ?, lots = ? WHERE number = ?",
                    (making.made, making.minutes, making.lots, number),
                )

    def copy(self, number: int) -> int | None:
        """Save a piece a second time; the copy's number, None where there is no such piece."""
        with self.transaction() as connection:
            cursor = connection.execute(
                "INSERT INTO pieces (name, who, notes, saved, document) "
                "SELECT 'Copy of ' || name, who, notes, ?, document FROM pieces WHERE number = ?",
                (_now(), number),
            )
            return int(cursor.lastrowid or 0) if cursor.rowcount else None

    def throw_away(self, number: int) -> None:
        """Take a piece off the shelf; ``bring_back`` puts it there again."""
        self._mark_thrown(number, thrown=True)

    def bring_back(self, number: int) -> None:
        """Put a piece back that was thrown away."""
        self._mark_thrown(number, thrown=False)

    def _mark_thrown(self, number: int, *, thrown: bool) -> None:
        with self.transaction() as connection:
            connection.execute(
                "UPDATE pieces SET thrown_away = ? WHERE number = ?", (int(thrown), number)
            )

    def find(self, words: str = "") -> tuple[Saved, ...]:
        """The pieces whose name, wearer, notes or lots hold every word, the newest first."""
        with self.transaction() as connection:
            rows = connection.execute(
                f"SELECT {_COLUMNS} FROM pieces "  # noqa: S608 - our own names of columns
                "WHERE NOT thrown_away ORDER BY saved DESC, number DESC"
            ).fetchall()
        found = [_saved(row) for row in rows]
        texts = [f"{one.name} {one.who} {one.notes} {one.making.lots}".casefold() for one in found]
        wanted = words.casefold().split()
        return tuple(
            piece
            for piece, text in zip(found, texts, strict=True)
            if all(word in text for word in wanted)
        )

    def get(self, number: int) -> Saved | None:
        """One piece, thrown away or not; None where there is no such number."""
        with self.transaction() as connection:
            row = connection.execute(
                f"SELECT {_COLUMNS} FROM pieces WHERE number = ?",  # noqa: S608 - as above
                (number,),
            ).fetchone()
        return None if row is None else _saved(row)

    def keep_tray(self, content: bytes) -> int:
        """Remember the beads at hand as the content of their CSV file; the state's number."""
        with self.transaction() as connection:
            cursor = connection.execute(
                "INSERT INTO trays (kept, content) VALUES (?, ?)", (_now(), content)
            )
            connection.execute(
                "DELETE FROM trays WHERE number NOT IN "
                "(SELECT number FROM trays ORDER BY number DESC LIMIT ?)",
                (_MOST_TRAYS,),
            )
            return int(cursor.lastrowid or 0)

    def tray(self, since: int = 0) -> tuple[int, bytes] | None:
        """The beads at hand with their state's number; None where nothing newer was kept."""
        with self.transaction() as connection:
            row = connection.execute(
                "SELECT number, content FROM trays WHERE number > ? ORDER BY number DESC LIMIT 1",
                (since,),
            ).fetchone()
        return None if row is None else (int(row[0]), bytes(row[1]))


def _quick_journal(connection: sqlite3.Connection) -> None:
    """Use a write-ahead log where the file system can; a rollback journal works everywhere.

    Network file systems may refuse the log's shared memory. Exclusive locking does without it
    (SQLite's own description of write-ahead logging, "Use of WAL Without Shared-Memory"), so that a
    file already in that mode can be put back.
    """
    known = False
    try:
        _refuse_others(connection)
        known = True
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError:
        connection.execute("PRAGMA locking_mode = EXCLUSIVE")
        if not known:
            _refuse_others(connection)
        connection.execute("PRAGMA journal_mode = DELETE")


def _refuse_others(connection: sqlite3.Connection) -> None:
    if not may_be_used(connection):
        raise ShelfError("this file is another program's, and no shelf; it is untouched")


def _put(connection: sqlite3.Connection, entry: Entry) -> int:
    making, now = entry.making, _now()
    cursor = connection.execute(
        "INSERT INTO pieces (name, who, notes, saved, document, made, minutes, lots) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        (
            entry.name, entry.who, entry.notes, entry.saved or now, entry.document,
            making.made, making.minutes, making.lots,
        ),
    )  # fmt: skip
    number = int(cursor.lastrowid or 0)
    connection.executemany(
        "INSERT INTO photographs (piece, added, jpeg) VALUES (?, ?, ?)",
        [(number, photo.added or now, photo.jpeg) for photo in entry.photographs],
    )
    return number


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")


def _saved(row: tuple[int, str, str, str, str, str, str, int | None, str]) -> Saved:
    number, name, who, notes, saved, document, made, minutes, lots = row
    return Saved(
        number=number,
        name=name,
        who=who,
        notes=notes,
        saved=saved,
        document=document,
        making=Making(made=made, minutes=minutes, lots=lots),
    )
