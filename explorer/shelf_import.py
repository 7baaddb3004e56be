"""Putting pieces from files on the shelf: every one of them or none, and none twice."""

from collections.abc import Iterator
from dataclasses import dataclass

from explorer import shelf_photographs
from explorer.shelf import Shelf
from explorer.shelf_archive import from_archive
from explorer.shelf_entry import Entry
from explorer.shelf_json import entry_of, from_text
from palettes.errors import ChartError

# How a ZIP file begins, an empty one too (PKWARE APPNOTE 4.3.7 and 4.3.16).
_ZIP = (b"PK\x03\x04", b"PK\x05\x06")


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What was put on the shelf, by number, and how many pieces stood there already."""

    numbers: tuple[int, ...]
    already: int


def entries_in(content: bytes, path: str) -> tuple[Entry, ...]:
    """The pieces in a file: one in JSON, or an archive of them.

    Raises:
        ChartError: it is neither, or damaged.
    """
    if content.startswith(_ZIP):
        return from_archive(content, path)
    try:
        return (from_text(content.decode("utf-8-sig"), path),)
    except UnicodeDecodeError as error:
        raise ChartError(path, "the file", "it is neither a piece nor an archive") from error


def put_new(shelf: Shelf, entries: tuple[Entry, ...]) -> Imported:
    """Put those on the shelf that do not stand there just so; a photograph more is no difference.

    Raises:
        ShelfError: the shelf cannot be used; nothing was put there.
    """
    held = {_same(entry_of(saved)) for saved in shelf.find()}
    new = []
    for entry in entries:
        key = _same(entry)
        if key not in held:
            held.add(key)
            new.append(entry)
    numbers = shelf.put_all(new) if new else ()
    return Imported(numbers=numbers, already=len(entries) - len(new))


def _same(entry: Entry) -> tuple[object, ...]:
    return (entry.name, entry.who, entry.notes, entry.making, entry.document)


def all_entries(shelf: Shelf, numbers: tuple[int, ...] = ()) -> Iterator[Entry]:
    """The pieces on the shelf, the newest first, or those of some numbers, with photographs."""
    for saved in shelf.find():
        if not numbers or saved.number in numbers:
            yield entry_of(saved, shelf_photographs.of_piece(shelf, saved.number))
