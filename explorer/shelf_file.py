"""The shelf's file: opened, brought to this version, changed in one transaction, closed again."""

import errno
import os
import shutil
import sqlite3
import stat
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager, suppress
from pathlib import Path

from explorer.shelf_carving import carved
from explorer.shelf_generations import Kind, make_way, next_count
from explorer.shelf_ours import may_be_used
from explorer.shelf_rows import PIECES, TABLES, Layout, Row
from explorer.shelf_versions import MIGRATIONS, VERSION

# Chosen by us: longer than any other window's save takes.
_BUSY_MS = 5000
# What SQLite says of a file whose pages or tables are not what they must be: SQLITE_ERROR (a table
# or column that is not there), SQLITE_CORRUPT and SQLITE_NOTADB (sqlite.org/rescode.html).
_DAMAGE = (1, 11, 26)
# SQLITE_NOTADB among them (sqlite.org/rescode.html).
_NO_DATABASE = 26
# What SQLite says where a file may not be written to: SQLITE_READONLY (sqlite.org/rescode.html).
_READ_ONLY = 8


# What SQLite says where there is no room, where it may not write or open, and where reading or
# writing failed: SQLITE_FULL, SQLITE_PERM, SQLITE_READONLY, SQLITE_CANTOPEN and SQLITE_IOERR
# (sqlite.org/rescode.html); beside them what the system says.
_FULL, _NOT_OURS, _FAILED = 13, (3, 8, 14), 10
_NO_ROOM = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC))
_NO_RIGHT = (errno.EACCES, errno.EPERM, errno.EROFS)


class ShelfError(Exception):
    """The shelf cannot be used; what stands on it is untouched."""

    @property
    def why(self) -> str:
        """What is wrong, for a place that names the file itself."""
        return str(self)

    @property
    def remedy(self) -> str:
        """What to do now, as a sentence with a verb."""
        return "Mend what is said there; nothing was changed."


class UnusableShelfError(ShelfError):
    """The shelf's file cannot be read or written where it stands.

    Args:
        path: the file.
        what: what the system says.
        advice: what to do now, as a sentence with a verb; empty for nothing of its own.
    """

    def __init__(self, path: Path, what: object, advice: str = "") -> None:
        told = f"the shelf {path} cannot be used: {what}"
        # Whoever tells of it ends the sentence.
        super().__init__(f"{told}. {advice.rstrip('.')}" if advice else told)
        self.path = path
        self.what = str(what)
        self.advice = advice

    def __reduce__(self) -> tuple[type["UnusableShelfError"], tuple[Path, str, str]]:
        # An exception is copied from its message alone, which is not what makes ours.
        return type(self), (self.path, self.what, self.advice)

    @property
    def why(self) -> str:
        """What the system says."""
        return self.what

    @property
    def remedy(self) -> str:
        """What helps against it."""
        return self.advice or super().remedy


class NewerShelfError(ShelfError):
    """The shelf comes from a newer Danglewise; it is untouched.

    Args:
        path: the shelf.
        version: of the shelf.
    """

    def __init__(self, path: Path, version: int) -> None:
        self.path = path
        self.version = version
        super().__init__(f"the shelf {path} cannot be used: {self.why}. {self.remedy.rstrip('.')}")

    def __reduce__(self) -> tuple[type["NewerShelfError"], tuple[Path, int]]:
        # As above.
        return type(self), (self.path, self.version)

    @property
    def why(self) -> str:
        """Which version it is of."""
        return (
            f"it was written by a newer Danglewise: shelf version {self.version}, and this one "
            f"knows up to {VERSION}"
        )

    @property
    def remedy(self) -> str:
        """What opens it."""
        return "Update Danglewise to use it; it is untouched."


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
        # As above.
        return type(self), (self.path, self.what)

    @property
    def why(self) -> str:
        """What is wrong with it."""
        return f"it is damaged, or is no shelf: {self.what}"

    @property
    def remedy(self) -> str:
        """How to save what is whole."""
        return "Save what is whole with `danglewise shelf rescue FILE --out NEW`."


class NoShelfError(ShelfError):
    """The file is no shelf, such as another program's; it is untouched.

    Args:
        path: the file.
        what: what it is instead.
    """

    def __init__(self, path: Path, what: str) -> None:
        super().__init__(f"the file {path} is {what}, and no shelf; it is untouched")
        self.path = path
        self.what = what

    def __reduce__(self) -> tuple[type["NoShelfError"], tuple[Path, str]]:
        # As above.
        return type(self), (self.path, self.what)

    @property
    def why(self) -> str:
        """What it is instead."""
        return f"it is {self.what}, and no shelf; it is untouched"

    @property
    def remedy(self) -> str:
        """How to come to a shelf."""
        return "Name a shelf's file, or move this one elsewhere if a shelf is to stand there."


class _OthersError(Exception):
    """The file is another program's, as far as its tables tell."""


class ShelfFile:
    """A file of saved pieces.

    Args:
        path: the file; it and its folder are made when they are missing, for its owner alone.

    Attributes:
        closed: why nothing can be saved there, where that was found out by reading; empty for
            nothing.

    Every method raises ``ShelfError`` where the file cannot be read or written, or comes from a
    newer Danglewise.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.closed = ""

    @property
    def blank(self) -> bool:
        """Whether it is a file into which nothing was ever written."""
        try:
            return self.path.is_file() and not self.path.stat().st_size
        except OSError:
            return False

    @contextmanager
    def transaction(self) -> Iterator[sqlite3.Connection]:
        """A connection whose changes are kept together at the end, or none of them."""
        from gallery.files import make_private

        with self._faults():
            self.path.parent.mkdir(parents=True, exist_ok=True)
            # The log that SQLite puts beside a file has the rights of the file when it is read.
            make_private(self.path)
            with closing(sqlite3.connect(self.path, isolation_level=None)) as connection:
                _prepare(connection)
                connection.execute("BEGIN IMMEDIATE")
                copy = None
                try:
                    copy = self._migrate(connection)
                    yield connection
                except BaseException:
                    # SQLite takes a transaction back by itself where a disk is full, say.
                    if connection.in_transaction:
                        connection.execute("ROLLBACK")
                    self._copied(copy, kept=False)
                    raise
                connection.execute("COMMIT")
                self._copied(copy, kept=True)

    @contextmanager
    def _faults(self) -> Iterator[None]:
        """What SQLite or the system says while the file is used, as a fault of this shelf."""
        try:
            rights = self.path.stat().st_mode
        except OSError:
            rights = None
        try:
            yield
        except _OthersError:
            self._spare(rights, "another program's")
            raise DamagedShelfError(self.path, "its tables are not named as ours are") from None
        # SQLite's own words can quote what is damaged, and then they are no text.
        except (sqlite3.Error, OSError, UnicodeDecodeError) as error:
            if getattr(error, "sqlite_errorcode", 0) == _NO_DATABASE:
                self._spare(rights, "no database")
            raise self._fault(error) from error

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """A connection to read through, also where nothing can be written: then as the file stands.

        SQLite itself needs to write beside a file that it reads with a log; what it writes there is
        gone again afterwards, and the file and its rights are left as they are.
        """
        self.closed = ""
        with ExitStack() as stack:
            try:
                connection = stack.enter_context(self._to_read())
            except UnusableShelfError as error:
                # Without advice it is no matter of writing, and without a file there is no shelf.
                if not (error.advice and self.path.is_file()):
                    raise
                try:
                    connection = stack.enter_context(self._as_it_stands())
                except (OSError, sqlite3.Error):
                    raise error from None
                self.closed = error.why
            yield connection

    @contextmanager
    def _to_read(self) -> Iterator[sqlite3.Connection]:
        """A connection that changes nothing of a shelf that is there; a missing one is made.

        Raises:
            UnusableShelfError: the file cannot be written to, and what SQLite would write beside it
                would stay there.
        """
        with ExitStack() as stack:
            stack.enter_context(self._faults())
            connection = None
            if self.path.is_file() and not self.blank:
                if not all(os.access(one, os.W_OK) for one in (self.path, self.path.parent)):
                    raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
                held = stack.enter_context(
                    closing(sqlite3.connect(self.path, isolation_level=None))
                )
                version = _begin_reading(held)
                if version > VERSION:
                    raise NewerShelfError(self.path, version)
                if version == VERSION:
                    connection = held
                else:
                    held.close()
                    if version:
                        connection = stack.enter_context(self._as_it_stands())
            yield connection or stack.enter_context(self.transaction())

    @contextmanager
    def _as_it_stands(self) -> Iterator[sqlite3.Connection]:
        """The file without its locks and its log, which nobody can write to, or a copy of both."""
        log = self.path.with_name(f"{self.path.name}-wal")
        logged = log.is_file() and log.stat().st_size
        # Nobody changes the file meanwhile (sqlite.org/uri.html, "immutable").
        address = f"{self.path.absolute().as_uri()}?mode=ro&immutable=1"
        with closing(sqlite3.connect(address, uri=True, isolation_level=None)) as connection:
            (version,) = connection.execute("PRAGMA user_version").fetchone()
            if version == VERSION and not logged:
                connection.execute("PRAGMA trusted_schema = OFF")
                connection.execute("PRAGMA cell_size_check = ON")
                yield connection
                return
        with tempfile.TemporaryDirectory() as folder:
            aside = Path(folder) / self.path.name
            shutil.copyfile(self.path, aside)
            if logged:
                shutil.copyfile(log, aside.with_name(log.name))
            try:
                with ShelfFile(aside).transaction() as connection:
                    yield connection
            except DamagedShelfError as error:
                raise DamagedShelfError(self.path, error.what) from error

    def _spare(self, rights: int | None, what: str) -> None:
        """Leave a file that is no shelf as it was; a shelf with a damaged head has rows of ours.

        Raises:
            NoShelfError: it is none.
        """
        if not any(row.whole for one in (PIECES, TABLES) for row in self.found_in_pages(one)):
            if rights is not None:
                self.path.chmod(stat.S_IMODE(rights))
            raise NoShelfError(self.path, what) from None

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
        why = getattr(error, "strerror", None) or error
        number = getattr(error, "errno", None)
        return unwritable(self.path, error) or UnusableShelfError(
            self.path, why, _advice(code, number)
        )

    def _migrate(self, connection: sqlite3.Connection) -> Path | None:
        """Bring the shelf to this version; the copy of it as it was, None where none was made."""
        (found,) = connection.execute("PRAGMA user_version").fetchone()
        if found > VERSION:
            raise NewerShelfError(self.path, found)
        if found < 0:
            raise DamagedShelfError(self.path, f"it says that it is of version {found}")
        if found == VERSION:
            return None
        before = connection.serialize() if found else b""
        for step in MIGRATIONS[found:]:
            step(connection)
        connection.execute(f"PRAGMA user_version = {VERSION:d}")
        # Once it is sure that the shelf can be brought to this version: one that is damaged would
        # be copied anew whenever it is opened.
        return self._back_up(before, found) if found else None

    def _back_up(self, content: bytes, version: int) -> Path:
        """Copy the shelf as it was before it came to another version; no copy is replaced."""
        from gallery import files

        count = next_count(self.path, Kind.UPGRADE)
        name = f"{self.path.stem}-version-{version}{f'-{count}' if count else ''}.sqlite3"
        copy = self.path.with_name(name)
        files.write_bytes(copy, content, private=True)
        return copy

    def _copied(self, copy: Path | None, *, kept: bool) -> None:
        """Once an upgrade is kept the oldest copies make way; one taken back needs no copy."""
        if copy is None:
            return
        # A copy that cannot be taken away stands in the way of nothing.
        with suppress(OSError):
            if kept:
                make_way(self.path, Kind.UPGRADE)
            else:
                copy.unlink()


def _advice(code: int, number: int | None) -> str:
    """What to do about what SQLite or the system says."""
    if code == _FULL or number in _NO_ROOM:
        return "Free some space on its disk, and try again; nothing was changed."
    if code in _NOT_OURS or number in _NO_RIGHT:
        return "Make the file and its folder writable, and try again; nothing was changed."
    if code == _FAILED:
        return "See whether its disk is full, read-only or failing; nothing was changed."
    return ""


def unwritable(path: Path, error: Exception) -> UnusableShelfError | None:
    """The fault in plain words where a shelf's folder or file is for reading only; else None.

    Args:
        path: the shelf.
        error: what the system or SQLite said.
    """
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if path.is_file() and not os.access(path, os.R_OK):
        return UnusableShelfError(
            path,
            f"the file {path} cannot be read",
            "Give yourself the right to read and write it, and try again; nothing was changed.",
        )
    folder = next((one for one in path.parents if one.is_dir()), path.parent)
    # SQLite says many things of a folder in which it can make no file of its own.
    closed = not os.access(folder, os.W_OK)
    refused = getattr(error, "errno", None) in _NO_RIGHT
    if not (refused or code == _READ_ONLY or (code and closed)):
        return None
    # A folder may be written to while one file in it may not.
    file = not closed and path.is_file() and not os.access(path, os.W_OK)
    what = f"the file {path}" if file or not (closed or refused) else f"the folder {folder}"
    return UnusableShelfError(
        path,
        f"{what} cannot be written to, and until it can, nothing can be saved",
        "Give yourself the right to write there, or look whether its disk is locked or read-only; "
        "then try again. Nothing was changed.",
    )


def checked(connection: sqlite3.Connection, layout: Layout | None = None) -> str:
    """What SQLite's own check finds wrong with a file, or with one table; empty for nothing."""
    what = "1" if layout is None else layout.table
    (first,) = connection.execute(f"PRAGMA integrity_check({what})").fetchone()
    return "" if first == "ok" else f"SQLite's check says: {first}"


def _begin_reading(connection: sqlite3.Connection) -> int:
    """Begin to read as a log or its lack allows, and change neither; the version of the shelf."""
    connection.execute(f"PRAGMA busy_timeout = {_BUSY_MS:d}")
    connection.execute("PRAGMA trusted_schema = OFF")
    connection.execute("PRAGMA cell_size_check = ON")
    _refuse_others(connection)
    connection.execute("BEGIN")
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    return int(version)


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
        raise _OthersError
