"""The shelf's rows, each with a checksum over all that it says.

A row is read as the bytes that stand in the file, so that one with broken text stops no other. The
checksum is SHA-256 (FIPS 180-4) over the table's name and every column; a row whose checksum does
not fit was damaged since it was written.
"""

import hashlib
import sqlite3
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from explorer.errors import BriefError

SEAL = "seal"
# SHA-256 has so many (FIPS 180-4, 2015).
SEAL_BYTES = 32
# Chosen by us: no shelf counts so far, and beyond it a browser's numbers are no longer exact.
MOST_COUNT = 2**53
# What stands in a column: a number, the bytes of a text or of anything else, or nothing.
Value = int | bytes | None


@dataclass(frozen=True, slots=True)
class Layout:
    """A table: its columns in the order of the file, without the checksum, which comes last.

    Attributes:
        table: its name.
        columns: the first one tells the rows apart.
        numbered: whether the first one is a number that counts up and is never given again.
        texts: the columns that hold text.
        blobs: those that hold other bytes.
        empty: those that may hold nothing.
    """

    table: str
    columns: tuple[str, ...]
    numbered: bool
    texts: frozenset[str]
    blobs: frozenset[str] = frozenset()
    empty: frozenset[str] = frozenset()

    @property
    def key(self) -> str:
        """The column that tells the rows apart."""
        return self.columns[0]


PIECES = Layout(
    "pieces",
    (
        "number", "name", "who", "notes", "saved", "document", "thrown_away", "made", "minutes",
        "lots", "revision", "thrown_by", "thrown_at",
    ),
    numbered=True,
    texts=frozenset(
        {"name", "who", "notes", "saved", "document", "made", "lots", "thrown_by", "thrown_at"}
    ),
    empty=frozenset({"minutes"}),
)  # fmt: skip
PHOTOGRAPHS = Layout(
    "photographs",
    ("number", "piece", "added", "jpeg"),
    numbered=True,
    texts=frozenset({"added"}),
    blobs=frozenset({"jpeg"}),
)
TRAYS = Layout(
    "trays",
    ("number", "kept", "content"),
    numbered=True,
    texts=frozenset({"kept"}),
    blobs=frozenset({"content"}),
)
TABLES = Layout(
    "tables",
    ("mark", "used", "document", "steps", "revision", "turn"),
    numbered=False,
    texts=frozenset({"mark", "used", "document"}),
    blobs=frozenset({"steps"}),
)
FIGURES = Layout(
    "figures", ("name", "document"), numbered=False, texts=frozenset({"name", "document"})
)
LAYOUTS = (PIECES, PHOTOGRAPHS, TRAYS, TABLES, FIGURES)


@dataclass(frozen=True, slots=True)
class Row:
    """A row as it stands in the file.

    Attributes:
        layout: its table.
        values: by column.
        seal: the checksum that it was written with.
    """

    layout: Layout
    values: Mapping[str, Value]
    seal: Value

    @property
    def whole(self) -> bool:
        """Whether it is as it was written."""
        return self.seal == checksum(self.layout, self.values)

    def text(self, column: str) -> str:
        """A text; one that is damaged with a mark for what cannot be read."""
        value = self.values[column]
        return value.decode("utf-8", "replace") if isinstance(value, bytes) else ""

    def blob(self, column: str) -> bytes:
        """Bytes; none where something else stands there."""
        value = self.values[column]
        return value if isinstance(value, bytes) else b""

    def number(self, column: str) -> int:
        """A number; 0 where something else stands there."""
        value = self.values[column]
        return value if isinstance(value, int) else 0


def checksum(layout: Layout, values: Mapping[str, Value]) -> bytes:
    """The checksum of what a row says."""
    found = hashlib.sha256(layout.table.encode())
    for column in layout.columns:
        value = values[column]
        kind = b"b" if isinstance(value, bytes) else b"i" if isinstance(value, int) else b"n"
        plain = value if isinstance(value, bytes) else repr(value).encode()
        found.update(kind + len(plain).to_bytes(8, "big") + plain)
    return found.digest()


def read(
    connection: sqlite3.Connection,
    layout: Layout,
    tail: str = "",
    parameters: tuple[object, ...] = (),
) -> Iterator[Row]:
    """Rows as they stand in the file.

    Args:
        connection: to the shelf.
        layout: the table.
        tail: what follows the table's name in SQL, of our own words only.
        parameters: for the tail.
    """
    columns = ", ".join((*layout.columns, SEAL))
    statement = f"SELECT {columns} FROM {layout.table} {tail}"  # noqa: S608 - our own words
    cursor = connection.cursor()
    kept, connection.text_factory = connection.text_factory, bytes
    try:
        rows = cursor.execute(statement, parameters).fetchall()
    finally:
        connection.text_factory = kept
    for row in rows:
        yield Row(layout, dict(zip(layout.columns, row, strict=False)), row[-1])


def insert(connection: sqlite3.Connection, layout: Layout, values: Mapping[str, object]) -> int:
    """Put a row into a table; its number, 0 where it has none.

    A row with a name of its own takes the place of the one with the same name.

    Args:
        connection: to the shelf.
        layout: the table.
        values: by column; a number that is left out is the next one.

    Raises:
        BriefError: a text holds half of a character.
    """
    number, verb, given = 0, "INSERT OR REPLACE", dict(values)
    if layout.numbered:
        held = given.get(layout.key)
        number = held if isinstance(held, int) and held else _next(connection, layout)
        # A number that is taken is a fault, and nothing is written over.
        verb, given[layout.key] = "INSERT", number
    seal = checksum(layout, {column: _plain(column, given[column]) for column in layout.columns})
    columns = (*layout.columns, SEAL)
    marks = ", ".join("?" * len(columns))
    connection.execute(
        f"{verb} INTO {layout.table} ({', '.join(columns)}) VALUES ({marks})",
        (*(given[column] for column in layout.columns), seal),
    )
    return number


def highest(connection: sqlite3.Connection, layout: Layout, column: str) -> int:
    """How far a counter of a table has come, 0 in an empty one; what is no count is passed over."""
    (found,) = connection.execute(
        f"SELECT max({column}) FROM {layout.table} "  # noqa: S608 - our own words
        f"WHERE {column} BETWEEN 0 AND {MOST_COUNT}"
    ).fetchone()
    return found if isinstance(found, int) else 0


def _next(connection: sqlite3.Connection, layout: Layout) -> int:
    """A number that no row of the table has or had."""
    given = connection.execute(
        "SELECT seq FROM sqlite_sequence WHERE name = ?", (layout.table,)
    ).fetchone()
    # SQLite takes anything for that.
    had = given[0] if given and isinstance(given[0], int) and 0 <= given[0] < MOST_COUNT else 0
    return 1 + max(had, highest(connection, layout, layout.key))


def update(connection: sqlite3.Connection, row: Row, changes: Mapping[str, object]) -> None:
    """Write some columns of a row anew, and no other; a damaged row stays known as damaged.

    Raises:
        BriefError: a text holds half of a character.
    """
    layout = row.layout
    after = {**row.values, **{column: _plain(column, value) for column, value in changes.items()}}
    seal = checksum(layout, after) if row.whole else row.seal
    names = ", ".join(f"{column} = ?" for column in (*changes, SEAL))
    key = row.values[layout.key]
    connection.execute(
        f"UPDATE {layout.table} SET {names} WHERE {layout.key} = ?",  # noqa: S608 - our own words
        (*changes.values(), seal, key.decode() if isinstance(key, bytes) else key),
    )


def put_as_it_is(connection: sqlite3.Connection, row: Row) -> None:
    """Put a row into another shelf just as it stands, with the checksum that it has.

    What is damaged so far that the table would not take it is put there as nothing.
    """
    layout = row.layout
    columns = (*layout.columns, SEAL)
    marks = ", ".join("CAST(? AS TEXT)" if name in layout.texts else "?" for name in columns)
    values = fitting(layout, row.values).values()
    seal = row.seal if isinstance(row.seal, bytes) else b""
    connection.execute(
        f"INSERT INTO {layout.table} ({', '.join(columns)}) VALUES ({marks})",  # noqa: S608 - as above
        (*values, seal),
    )


def fitting(layout: Layout, values: Mapping[str, Value]) -> dict[str, Value]:
    """What a table takes of a row: nothing where something of another kind stands."""
    return {column: _fit(layout, column, values[column]) for column in layout.columns}


def _fit(layout: Layout, column: str, value: Value) -> Value:
    if column in layout.texts or column in layout.blobs:
        return value if isinstance(value, bytes) else b""
    if column in layout.empty:
        return value if isinstance(value, int) else None
    return value if isinstance(value, int) else 0


def seal_all(connection: sqlite3.Connection) -> None:
    """Give every row its checksum; one whose text cannot be read gets none and is known by that."""
    for layout in LAYOUTS:
        for row in list(read(connection, layout)):
            if all(reads(row.values[column]) for column in layout.texts):
                key = row.values[layout.key]
                connection.execute(
                    f"UPDATE {layout.table} SET {SEAL} = ? "  # noqa: S608 - our own words
                    f"WHERE {layout.key} = ?",
                    (
                        checksum(layout, row.values),
                        key.decode() if isinstance(key, bytes) else key,
                    ),
                )


def reads(value: Value) -> bool:
    """Whether what stands in a column of text can be read."""
    try:
        return not isinstance(value, bytes) or value.decode() is not None
    except UnicodeDecodeError:
        return False


def _plain(column: str, value: object) -> Value:
    """A value as the file holds it."""
    if isinstance(value, str):
        try:
            return value.encode()
        except UnicodeEncodeError as error:
            raise BriefError(
                column, ascii(value[:40]), "text of whole characters", "Write it anew."
            ) from error
    if isinstance(value, int):
        return int(value)
    if value is None or isinstance(value, bytes):
        return value
    raise TypeError(f"a shelf holds text, bytes and whole numbers; got {type(value).__name__}")
