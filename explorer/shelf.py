"""The shelf: saved pieces in one SQLite file of the maker's, and the beads at hand.

Every call opens the file, does one thing in one transaction and closes it again, so that a save is
whole or not at all, and several windows and processes can share the file.
"""

import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from explorer.shelf_entry import MOST_PHOTOGRAPHS, MOST_WHO, Entry, Photograph, copied_name
from explorer.shelf_file import DamagedShelfError, NewerShelfError, ShelfError, ShelfFile
from explorer.shelf_rows import PHOTOGRAPHS, PIECES, TRAYS, Row, highest, insert, read, update
from explorer.shelf_saved import Apart, Conflict, Saved, Standing, Words, read_row, with_words
from explorer.shelf_versions import MIGRATIONS, VERSION

__all__ = [
    "MIGRATIONS", "MOST_WHO", "VERSION", "DamagedShelfError", "NewerShelfError", "Saved", "Shelf",
    "ShelfError", "default_path",
]  # fmt: skip

# So many states of the beads at hand stay, the present one among them. Chosen by us: a day's work,
# and a few megabytes for thousands of beads.
_MOST_TRAYS = 20


def default_path() -> Path:
    """The shelf's file in the maker's own data folder."""
    from platformdirs import user_data_path

    return user_data_path("danglewise", appauthor=False) / "shelf.sqlite3"


class Shelf(ShelfFile):
    """Saved pieces in a file; see ``explorer.shelf_file.ShelfFile``."""

    def put(self, name: str, document: str, *, who: str = "", notes: str = "") -> int:
        """Save a piece as a new one; its number."""
        (number,) = self.put_all([Entry(name=name, document=document, who=who, notes=notes)])
        return number

    def put_all(
        self, entries: Sequence[Entry], more: Mapping[int, Sequence[Photograph]] | None = None
    ) -> tuple[int, ...]:
        """Save pieces with all that belongs to them, every one of them or none; their numbers.

        Args:
            entries: the new pieces.
            more: photographs for pieces that stand there, by their numbers.

        Raises:
            ShelfError: one of those is gone, or has no room for so many; nothing was saved.
        """
        with self.transaction() as connection:
            for number, photographs in (more or {}).items():
                held = len(list(read(connection, PHOTOGRAPHS, "WHERE piece = ?", (number,))))
                most = MOST_PHOTOGRAPHS - len(photographs)
                if _row(connection, number) is None or held > most:
                    raise ShelfError(f"piece {number} was changed elsewhere meanwhile; try again")
                _put_photographs(connection, number, photographs)
            return tuple(_put(connection, entry) for entry in entries)

    def change(self, seen: Saved, words: Words) -> Saved | Conflict | None:
        """Write some words of a saved piece anew, and leave the others as they stand.

        Args:
            seen: the piece as it was when somebody began to change it.
            words: the words as they shall be, by the names in ``explorer.shelf_saved.WORDS``; those
                that are as in ``seen`` are not written.

        Returns:
            The piece as it stands now; what stands in the way where one of these words was changed
            elsewhere since it was seen, or where the piece was thrown away, and nothing was
            written; None where the piece is gone.

        Raises:
            BriefError: the shelf does not take such words; nothing was written.
        """
        wanted = {one: value for one, value in words.items() if value != seen.words[one]}
        with self.transaction() as connection:
            row = _row(connection, seen.number)
            if row is None:
                return None
            theirs = _usable(row, self.path)
            held = theirs.words
            if theirs.thrown is not None:
                return Conflict(words=(), theirs=theirs)
            if theirs.revision != seen.revision:
                apart = tuple(
                    one for one, value in wanted.items()
                    if held[one] not in (seen.words[one], value)
                )  # fmt: skip
                if apart:
                    return Conflict(words=apart, theirs=theirs)
            new = {one: value for one, value in wanted.items() if held[one] != value}
            with_words(theirs, new)
            if new:
                update(connection, row, {**new, "revision": theirs.revision + 1})
            return _usable(_row(connection, seen.number) or row, self.path)

    def copy(self, number: int) -> int | None:
        """Save a piece a second time; the copy's number, None where there is no such piece."""
        with self.transaction() as connection:
            row = _row(connection, number)
            if row is None:
                return None
            saved = _usable(row, self.path)
            entry = Entry(
                name=copied_name(saved.name), who=saved.who, notes=saved.notes,
                document=saved.document,
            )  # fmt: skip
            return _put(connection, entry)

    def throw_away(self, number: int, *, by: str = "") -> bool:
        """Put a piece to those thrown away; whether it stood on the shelf until now.

        Args:
            number: the piece's.
            by: who does it, as far as that is known.
        """
        with self.transaction() as connection:
            row = _row(connection, number)
            if row is None or row.number("thrown_away"):
                return False
            turn = 1 + highest(connection, PIECES, "thrown_away")
            changes = {"thrown_away": turn, "thrown_by": by, "thrown_at": _now()}
            update(connection, row, changes)
            return True

    def bring_back(self, number: int) -> bool:
        """Put a piece back that was thrown away; whether it was among those."""
        with self.transaction() as connection:
            row = _row(connection, number)
            if row is None or not row.number("thrown_away"):
                return False
            update(connection, row, {"thrown_away": 0, "thrown_by": "", "thrown_at": ""})
            return True

    def take_out(self, number: int) -> bool:
        """Take a piece that was thrown away out for good, with its photographs.

        Whether it was among those thrown away; one that somebody brought back stays.
        """
        with self.transaction() as connection:
            row = _row(connection, number)
            if row is None or not row.number("thrown_away"):
                return False
            connection.execute("DELETE FROM photographs WHERE piece = ?", (number,))
            connection.execute("DELETE FROM pieces WHERE number = ?", (number,))
            return True

    def find(self, words: str = "") -> tuple[Saved, ...]:
        """The pieces whose name, wearer, notes or lots hold every word, the newest first."""
        return self.standing(words).pieces

    def standing(self, words: str = "", *, thrown: bool = False) -> Standing:
        """What stands on the shelf: the pieces with every word, and what is set apart.

        Args:
            words: to look for, in name, wearer, notes and lots; what is set apart is always told.
            thrown: look at the pieces thrown away instead, the last one first.
        """
        if self.blank:
            # To look makes no shelf.
            return Standing(pieces=())
        trouble = ""
        try:
            with self.reading() as connection:
                self.look_through(connection, PIECES)
                rows = list(read(connection, PIECES))
        except NewerShelfError:
            raise
        except DamagedShelfError as error:
            rows, trouble = self.found_in_pages(PIECES), str(error)
            if not rows:
                raise
        found = [
            read_row(row) for row in _last_first(rows) if bool(row.number("thrown_away")) == thrown
        ]
        wanted = words.casefold().split()
        pieces = tuple(one for one in found if isinstance(one, Saved) and _holds(one, wanted))
        apart = tuple(one for one in found if isinstance(one, Apart))
        return Standing(pieces=pieces, apart=apart, trouble=trouble)

    def get(self, number: int) -> Saved | None:
        """One piece, thrown away or not; None where there is no such number."""
        with self.reading() as connection:
            row = _row(connection, number)
        return None if row is None else _usable(row, self.path)

    def keep_tray(self, content: bytes) -> int:
        """Remember the beads at hand as the content of their CSV file; the state's number."""
        with self.transaction() as connection:
            number = insert(connection, TRAYS, {"kept": _now(), "content": content})
            connection.execute(
                "DELETE FROM trays WHERE number NOT IN "
                "(SELECT number FROM trays ORDER BY number DESC LIMIT ?)",
                (_MOST_TRAYS,),
            )
            return number

    def tray(self, since: int = 0) -> tuple[int, bytes] | None:
        """The beads at hand with their state's number; None where nothing newer was kept.

        Where the newest state is damaged, it is the newest one that is whole.
        """
        with self.reading() as connection:
            for row in read(connection, TRAYS, "WHERE number > ? ORDER BY number DESC", (since,)):
                if row.whole:
                    return row.number("number"), row.blob("content")
        return None

    def newer_trays_damaged(self, number: int) -> int:
        """How many later states of the beads at hand than this one are damaged."""
        with self.reading() as connection:
            rows = read(connection, TRAYS, "WHERE number > ?", (number,))
            return sum(not row.whole for row in rows)


def _row(connection: sqlite3.Connection, number: int) -> Row | None:
    return next(iter(read(connection, PIECES, "WHERE number = ?", (number,))), None)


def _usable(row: Row, path: Path) -> Saved:
    """A saved piece that is as it was written, though its words may not fit.

    Raises:
        ShelfError: it is damaged.
    """
    found = read_row(row)
    if isinstance(found, Saved):
        return found
    if found.damaged:
        raise ShelfError(f"piece {found.number} on the shelf {path} is damaged: {found.why}")
    return found.saved


def _last_first(rows: Iterable[Row]) -> list[Row]:
    """By counters of the shelf's own: what the clock said can be wrong."""
    return sorted(
        rows, key=lambda row: (row.number("thrown_away"), row.number("number")), reverse=True
    )


def _holds(saved: Saved, wanted: list[str]) -> bool:
    text = f"{saved.name} {saved.who} {saved.notes} {saved.making.lots}".casefold()
    return all(word in text for word in wanted)


def _put(connection: sqlite3.Connection, entry: Entry) -> int:
    making, now = entry.making, _now()
    values = {
        "name": entry.name, "who": entry.who, "notes": entry.notes, "saved": entry.saved or now,
        "document": entry.document, "thrown_away": 0, "made": making.made,
        "minutes": making.minutes, "lots": making.lots, "revision": 1, "thrown_by": "",
        "thrown_at": "",
    }  # fmt: skip
    number = insert(connection, PIECES, values)
    _put_photographs(connection, number, entry.photographs)
    return number


def _put_photographs(
    connection: sqlite3.Connection, piece: int, photographs: Sequence[Photograph]
) -> None:
    now = _now()
    for photo in photographs:
        row = {"piece": piece, "added": photo.added or now, "jpeg": photo.jpeg}
        insert(connection, PHOTOGRAPHS, row)


def _now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")
