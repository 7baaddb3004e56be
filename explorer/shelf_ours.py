"""Tells a shelf from another program's file, before anything is written to it."""

import sqlite3

# What every version's shelf has; see explorer.shelf_versions.
_OURS = frozenset({"pieces", "tables"})
_COLUMNS = frozenset({"number", "name", "who", "notes", "saved", "document", "thrown_away"})


def may_be_used(connection: sqlite3.Connection) -> bool:
    """Whether the file is a shelf, of whatever version, or holds nothing at all; it is only read.

    Raises:
        sqlite3.Error: the file cannot be read.
    """
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    names = {name for (name,) in connection.execute("SELECT name FROM sqlite_schema")}
    if version:
        return names >= _OURS
    # A shelf whose version number is damaged is a shelf still, and said to be damaged later.
    columns = {row[1] for row in connection.execute("PRAGMA table_info(pieces)")}
    return not names or columns >= _COLUMNS
