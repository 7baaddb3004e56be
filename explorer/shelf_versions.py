"""The shelf's tables, version by version, and what brings an older shelf up to the newest."""

import sqlite3
from collections.abc import Callable

from explorer.shelf_rows import LAYOUTS, seal_all


def _first(connection: sqlite3.Connection) -> None:
    connection.execute(
        "CREATE TABLE pieces (number INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, "
        "who TEXT NOT NULL, notes TEXT NOT NULL, saved TEXT NOT NULL, document TEXT NOT NULL, "
        "thrown_away INTEGER NOT NULL DEFAULT 0) STRICT"
    )
    connection.execute(
        "CREATE TABLE tables (mark TEXT PRIMARY KEY, used TEXT NOT NULL, document TEXT NOT NULL) "
        "STRICT"
    )


def _with_trays(connection: sqlite3.Connection) -> None:
    """The beads at hand, one row for every state of them."""
    connection.execute(
        "CREATE TABLE trays (number INTEGER PRIMARY KEY AUTOINCREMENT, kept TEXT NOT NULL, "
        "content BLOB NOT NULL) STRICT"
    )


def _with_makings(connection: sqlite3.Connection) -> None:
    """When a piece was made, how long it took, from which lots; photographs; the maker's figures.

    ``made`` is an ISO 8601 date or empty; ``minutes`` is null where nobody looked at the clock.
    """
    connection.execute("ALTER TABLE pieces ADD COLUMN made TEXT NOT NULL DEFAULT ''")
    connection.execute("ALTER TABLE pieces ADD COLUMN minutes INTEGER")
    connection.execute("ALTER TABLE pieces ADD COLUMN lots TEXT NOT NULL DEFAULT ''")
    connection.execute(
        "CREATE TABLE photographs (number INTEGER PRIMARY KEY AUTOINCREMENT, piece INTEGER NOT "
        "NULL REFERENCES pieces (number), added TEXT NOT NULL, jpeg BLOB NOT NULL) STRICT"
    )
    connection.execute("CREATE INDEX photographs_of ON photographs (piece)")
    connection.execute(
        "CREATE TABLE figures (name TEXT PRIMARY KEY, document TEXT NOT NULL) STRICT"
    )


def _with_steps(connection: sqlite3.Connection) -> None:
    """The steps before and after what lies on a table, and how often it was kept."""
    connection.execute("ALTER TABLE tables ADD COLUMN steps BLOB NOT NULL DEFAULT x''")
    connection.execute("ALTER TABLE tables ADD COLUMN revision INTEGER NOT NULL DEFAULT 1")


def _with_care(connection: sqlite3.Connection) -> None:
    """Checksums; what a change of a piece is based on; who threw it away and when; turns of tables.

    ``thrown_away`` counts the pieces thrown away, so that the last one is known without a clock: 0
    for a piece that stands on the shelf. ``turn`` does the same for the table that was used last.
    """
    connection.execute("ALTER TABLE pieces ADD COLUMN revision INTEGER NOT NULL DEFAULT 1")
    connection.execute("ALTER TABLE pieces ADD COLUMN thrown_by TEXT NOT NULL DEFAULT ''")
    connection.execute("ALTER TABLE pieces ADD COLUMN thrown_at TEXT NOT NULL DEFAULT ''")
    connection.execute("ALTER TABLE tables ADD COLUMN turn INTEGER NOT NULL DEFAULT 0")
    connection.execute(
        "UPDATE tables SET turn = (SELECT count(*) FROM tables AS other "
        "WHERE (other.used, other.mark) <= (tables.used, tables.mark))"
    )
    for layout in LAYOUTS:
        connection.execute(f"ALTER TABLE {layout.table} ADD COLUMN seal BLOB NOT NULL DEFAULT x''")
    seal_all(connection)


# What brings a shelf from each version to the next; version 0 is an empty file.
MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (
    _first,
    _with_trays,
    _with_makings,
    _with_steps,
    _with_care,
)
VERSION = len(MIGRATIONS)
