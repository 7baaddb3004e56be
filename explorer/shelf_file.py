"""The shelf's file: opened, brought to this version, changed in one transaction, closed again."""

import errno
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from explorer.shelf_carving import carved
from explorer.shelf_generations import Kind, held, make_way, next_count
from explorer.shelf_ours import may_be_used
from explorer.shelf_rows import PIECES, Layout, Row
from explorer.shelf_versions import MIGRATIONS, VERSION

# Chosen by us: longer than any other window's save takes.
_BUSY_MS = 5000
# What SQLite says of a file whose pages or tables are not what they must be: SQLITE_ERROR (a table
# or column that is not there), SQLITE_CORRUPT and SQLITE_NOTADB (sqlite.org/rescode.html).
_DAMAGE = (1, 11, 26)
# What the system says where writing is not allowed.
_NO_WRITING = (errno.EROFS, errno.EACCES, errno.EPERM)
# What SQLite says there: SQLITE_READONLY (sqlite.org/rescode.html).
_READ_ONLY = 8


class ShelfError(Exception):
    """The shelf cannot be used; what stands on it is untouched."""


class NewerShelfError(ShelfError):
    """The shelf comes from a newer Danglewise."""


class DamagedShelfError(ShelfError):
    """The shelf's file is not as it was written.

    Args:
        path: the file.
        what: what is wrong with it.
    """

    def __init__(self, path: Path, what: object) -> None:
        super().__init__(
            f"the shelf {path} is damaged, or is no shelf: {what}. `danglewise shelf rescue FILE "
            "--out NEW` saves what is whole"
        )
        self.path = path
        self.what = str(what)

    def __reduce__(self) -> tuple[type["DamagedShelfError"], tuple[Path, str]]:
        # An exception is copied from its message alone, which is not what makes ours.
        return type(self), (self.path, self.what)


class _OthersError(ShelfError):
    """The file is another program's, as far as its tables tell."""


class ShelfFile:
    """A file of saved pieces.

    Args:
        path: the file; it and its folder are made when they are missing, for its owner alone.

    Every method raises ``ShelfError`` where the file cannot be read or written, or comes from a
    newer Danglewise.
    """

    def __init__(self, path: Path) -> None:
        self.path = path

    @contextmanager
    def transaction(self) -> Iterator[sqlite3.Connection]:
        """A connection whose changes are kept together at the end, or none of them."""
        from gallery.files import make_private

        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            make_private(self.path)
            with closing(sqlite3.connect(self.path, isolation_level=None)) as connection:
                _prepare(connection)
                connection.execute("BEGIN IMMEDIATE")
                try:
                    self._migrate(connection)
                    yield connection
                except BaseException:
                    # SQLite takes a transaction back by itself where a disk is full, say.
                    if connection.in_transaction:
                        connection.execute("ROLLBACK")
                    raise
                connection.execute("COMMIT")
        except _OthersError:
            # Where the names of its tables are damaged, a shelf is known by its rows.
            if any(row.whole for row in self.found_in_pages(PIECES)):
                raise DamagedShelfError(self.path, "its tables are not named as ours are") from None
            raise
        # SQLite's own words can quote what is damaged, and then they are no text.
        except (sqlite3.Error, OSError, UnicodeDecodeError) as error:
            raise self._fault(error) from error

    def found_in_pages(self, layout: Layout) -> list[Row]:
        """The rows of a table that can be found in a damaged file, past SQLite."""
        try:
            return carved(self.path, layout)
        except OSError as error:
            raise self._fault(error) from error

    def look_through(self, connection: sqlite3.Connection, layout: Layout) -> None:
        """Make sure that no row of a table is passed over: a damaged page can hide them silently.

        Raises:
            DamagedShelfError: SQLite's check finds something wrong.
        """
        wrong = checked(connection, layout)
        if wrong:
            raise DamagedShelfError(self.path, wrong)

    def _fault(self, error: Exception) -> ShelfError:
        code = getattr(error, "sqlite_errorcode", 0) & 0xFF
        if code in _DAMAGE or isinstance(error, UnicodeDecodeError):
            what = "it holds unreadable words" if isinstance(error, UnicodeDecodeError) else error
            return DamagedShelfError(self.path, what)
        return unwritable(self.path, error) or ShelfError(
            f"the shelf {self.path} cannot be used: {getattr(error, 'strerror', None) or error}"
        )

    def _migrate(self, connection: sqlite3.Connection) -> None:
        (found,) = connection.execute("PRAGMA user_version").fetchone()
        if found > VERSION:
            raise NewerShelfError(
                f"the shelf {self.path} was written by a newer Danglewise (shelf version {found}; "
                f"this one knows up to {VERSION}). Update Danglewise to use it; it is untouched"
            )
        if found < 0:
            raise DamagedShelfError(self.path, f"it says that it is of version {found}")
        if found == VERSION:
            return
        before = connection.serialize() if found else b""
        for step in MIGRATIONS[found:]:
            step(connection)
        connection.execute(f"PRAGMA user_version = {VERSION:d}")
        # Once it is sure that the shelf can be brought to this version: one that is damaged would
        # be copied anew whenever it is opened.
        if found:
            self._back_up(before, found)

    def _back_up(self, content: bytes, version: int) -> None:
        """Copy the shelf as it was before it came to another version; the oldest such make way."""
        from gallery import files

        newest = held(self.path, Kind.UPGRADE)[:1]
        # Where the upgrade was taken back, the shelf was copied already.
        if any(copy.read_bytes() == content for copy in newest):
            return
        count = next_count(self.path, Kind.UPGRADE)
        name = f"{self.path.stem}-version-{version}{f'-{count}' if count else ''}.sqlite3"
        files.write_bytes(self.path.with_name(name), content, private=True)
        # An old copy that cannot be taken away stands in the way of nothing.
        with suppress(OSError):
            make_way(self.path, Kind.UPGRADE)


def unwritable(path: Path, error: Exception) -> ShelfError | None:
    """The fault in plain words where a shelf's folder or file is for reading only; else None.

    Args:
        path: the shelf.
        error: what the system or SQLite said.
    """
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    folder = next((one for one in path.parents if one.is_dir()), path.parent)
    # SQLite says many things of a folder in which it can make no file of its own.
    closed = not os.access(folder, os.W_OK)
    refused = getattr(error, "errno", None) in _NO_WRITING
    if not (refused or code == _READ_ONLY or (code and closed)):
        return None
    # A folder may be written to while one file in it may not.
    what = f"the folder {folder}" if closed or refused else f"the file {path}"
    return ShelfError(
        f"{what} cannot be written to, and until it can, nothing can be saved on the shelf "
        f"{path.name}. Give yourself the right to write there, or look whether its disk is locked "
        "or connected for reading only; then try again"
    )


def checked(connection: sqlite3.Connection, layout: Layout | None = None) -> str:
    """What SQLite's own check finds wrong with a file, or with one table; empty for nothing."""
    what = "1" if layout is None else layout.table
    (first,) = connection.execute(f"PRAGMA integrity_check({what})").fetchone()
    return "" if first == "ok" else f"SQLite's check says: {first}"


def _prepare(connection: sqlite3.Connection) -> None:
    connection.execute(f"PRAGMA busy_timeout = {_BUSY_MS:d}")
    # What is taken out for good is not left in the file; nothing that a file brings along is run.
    connection.execute("PRAGMA secure_delete = ON")
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    _quick_journal(connection)


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
        raise _OthersError("this file is another program's, and no shelf; it is untouched")
