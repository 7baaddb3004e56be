"""What is whole on a damaged shelf, saved into a new file; the damaged one is left as it is."""

import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from explorer.errors import BriefError
from explorer.shelf import Shelf
from explorer.shelf_carving import carved
from explorer.shelf_file import DamagedShelfError, NewerShelfError, ShelfError, checked
from explorer.shelf_missing import missing
from explorer.shelf_rows import (
    FIGURES,
    LAYOUTS,
    PHOTOGRAPHS,
    PIECES,
    TABLES,
    TRAYS,
    Layout,
    Row,
    put_as_it_is,
    read,
)
from explorer.shelf_saved import Apart, read_row
from palettes.errors import quoted

# How SQLite names the files beside one: the write-ahead log, and the journal that takes its place
# where there can be none.
_BESIDE = ("", "-wal", "-journal")
# Chosen by us, because a thousand pieces with six photographs each take less than a gigabyte, and
# what is looked through is copied first.
_MOST_BYTES = 2_000_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescued:
    """What became of a shelf.

    Attributes:
        pieces: whole ones in the new file, those thrown away among them.
        photographs: whole ones.
        apart: pieces that are not whole, set apart in the new file as far as they can be read.
        lost: what else is not whole, in words.
        damage: what is wrong with the old file; empty for nothing.
        missing: what may have stood there and was not found, in words.
    """

    pieces: int
    photographs: int
    apart: tuple[Apart, ...]
    lost: tuple[str, ...]
    damage: str
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Found:
    rows: dict[Layout, list[Row]]
    damage: str
    newer: str


def rescue(path: Path, out: Path) -> Rescued:
    """Save what is whole on a shelf into a new file, which SQLite itself then looks through.

    Args:
        path: the shelf, damaged or not; it is only read.
        out: the new file; nothing may stand there.

    Raises:
        BriefError: a file stands there, or there is nothing to save, or no place to save it.
    """
    if out.exists():
        raise BriefError("out", out, "the name of a new file", "Name one that is not there yet.")
    try:
        size = path.stat().st_size
        if size > _MOST_BYTES:
            raise BriefError(
                "shelf", path, f"a file of at most {_MOST_BYTES // 10**9} GB, as a shelf is",
                "Name the shelf's own file.",
            )  # fmt: skip
        found = _look(path)
    except OSError as error:
        raise BriefError(
            "shelf", path, f"a file that can be read ({error.strerror or error})", "Check the name."
        ) from error
    whole = [row for rows in found.rows.values() for row in rows if row.whole]
    if not whole and found.newer:
        raise BriefError("shelf", path, f"a shelf that this Danglewise knows ({found.newer})",
                         "Use the newer one to rescue it.")  # fmt: skip
    # A piece of which words can be read is kept, though it is not whole.
    readable = whole or any(_reads(row) for row in found.rows[PIECES])
    if not readable and found.damage:
        raise BriefError(
            "shelf", path, "a shelf on which something can be read",
            "Try a copy of it that stands beside it.",
        )  # fmt: skip
    try:
        may_be_missing = missing(path, found.rows) if found.damage else ()
        lost = _write(found, out)
    except (ShelfError, OSError, sqlite3.Error) as error:
        raise BriefError(
            "out",
            out,
            f"a place that can be written ({getattr(error, 'strerror', None) or error})",
            "Free some space, or name another.",
        ) from error
    return Rescued(
        pieces=sum(row.whole for row in found.rows[PIECES]),
        photographs=sum(row.whole for row in found.rows[PHOTOGRAPHS]),
        apart=tuple(one for row in found.rows[PIECES] if isinstance(one := read_row(row), Apart)),
        lost=lost,
        damage=found.damage or found.newer,
        missing=may_be_missing,
    )


def _reads(row: Row) -> bool:
    return any(row.blob(column).strip(b"\0 ") for column in ("name", "notes", "document"))


def _look(path: Path) -> _Found:
    """All that can be found on a shelf: by SQLite where it can read, else in the file's pages."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / path.name
        for more in _BESIDE:
            source = path.with_name(f"{path.name}{more}")
            if not more or source.is_file():
                shutil.copyfile(source, copy.with_name(f"{copy.name}{more}"))
        rows, damage, newer = dict[Layout, list[Row]](), "", ""
        try:
            with Shelf(copy).transaction() as connection:
                damage = checked(connection)
                for layout in () if damage else LAYOUTS:
                    rows[layout] = list(read(connection, layout))
        except NewerShelfError as error:
            newer = str(error)
        except DamagedShelfError as error:
            damage = error.what
        except ShelfError as error:
            damage = str(error)
    # Words of ours name the file that was meant, not the one that was looked at.
    damage, newer = (words.replace(str(copy), str(path)) for words in (damage, newer))
    if damage or newer:
        rows = {layout: carved(path, layout) for layout in LAYOUTS}
    return _Found(rows, damage, newer)


def _write(found: _Found, out: Path) -> tuple[str, ...]:
    """Make the new shelf aside, look through it, and put it in its place; what was left out."""
    out.parent.mkdir(parents=True, exist_ok=True)
    written, lost = _sorted_out(found)
    with tempfile.TemporaryDirectory(prefix=f".{out.name}.", dir=out.parent) as folder:
        aside = Shelf(Path(folder) / "shelf.sqlite3")
        with aside.transaction() as connection:
            for row in written:
                put_as_it_is(connection, row)
        with aside.transaction() as connection:
            wrong = checked(connection)
            held = sum(row.whole for layout in LAYOUTS for row in read(connection, layout))
        if wrong or held != sum(row.whole for row in written):
            raise ShelfError(f"what was written is not whole. {wrong}")
        aside.path.replace(out)
    return lost


def _sorted_out(found: _Found) -> tuple[list[Row], tuple[str, ...]]:
    """The rows for the new shelf, and in words what is left out of it."""
    written = list(found.rows[PIECES])
    there = {row.number("number") for row in written}
    lost = []
    for row in found.rows[PHOTOGRAPHS]:
        if row.number("piece") in there:
            written.append(row)
        if row.number("piece") not in there or not row.whole:
            where = f"photograph {row.number('number')} of piece {row.number('piece')}"
            lost.append(f"{where} {'is damaged' if not row.whole else 'is without its piece'}")
    names: dict[Layout, Callable[[Row], str]] = {
        TRAYS: lambda row: f"the beads at hand, state {row.number('number')},",
        TABLES: lambda row: f"what lay on the table {row.text('mark')!r}",
        FIGURES: lambda row: f"the figures {quoted(row.text('name'))}",
    }
    for layout, named in names.items():
        written += [row for row in found.rows[layout] if row.whole]
        lost += [f"{named(row)} is damaged" for row in found.rows[layout] if not row.whole]
    return written, tuple(lost)
