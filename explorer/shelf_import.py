"""Putting pieces from files on the shelf: every one of them or none, and none twice."""

from dataclasses import dataclass

from explorer import shelf_photographs
from explorer.shelf import Shelf
from explorer.shelf_archive import from_archive, readable
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


def entries_in(
    content: bytes, path: str, left_out: list[ChartError] | None = None
) -> tuple[Entry, ...]:
    """The pieces in a file: one in JSON, or an archive of them.

    Args:
        content: the file's bytes.
        path: what to call the file in an error.
        left_out: where to note why single pieces of an archive cannot be read; None refuses the
            whole file then, and so does an archive of which nothing can be read.

    Raises:
        ChartError: it is neither, or damaged.
    """
    if content.startswith(_ZIP):
        return from_archive(content, path, left_out)
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
    # The first of a file is the newest there, and so it is here: it comes last.
    numbers = tuple(sorted(shelf.put_all(new[::-1]))) if new else ()
    return Imported(numbers=numbers, already=len(entries) - len(new))


def _same(entry: Entry) -> tuple[object, ...]:
    return (entry.name, entry.who, entry.notes, entry.making, entry.document)


def all_entries(
    shelf: Shelf, numbers: tuple[int, ...] = ()
) -> tuple[tuple[Entry, ...], tuple[ChartError, ...]]:
    """The pieces on the shelf, or those of some numbers, and why others cannot go along.

    The newest comes first, each with its photographs. One that cannot be read stays on the shelf as
    it is and stops no other.

    Raises:
        ShelfError: the shelf cannot be used.
    """
    standing = shelf.standing()
    chosen = [one for one in standing.pieces if not numbers or one.number in numbers]
    photographs = shelf_photographs.of_pieces(shelf, [one.number for one in chosen])
    entries, faults = [], []
    for saved in chosen:
        held = photographs[saved.number]
        whole = tuple(photo for photo in held if not photo.damaged)
        entries.append(entry_of(saved, whole))
        if len(whole) < len(held):
            why = f"{len(held) - len(whole)} of its photographs are damaged and stay behind"
            faults.append(ChartError(saved.name, f"piece {saved.number}", why))
    faults += [
        ChartError(one.name, f"piece {one.number}", one.why)
        for one in standing.apart
        if not numbers or one.number in numbers
    ]
    if standing.trouble:
        faults.append(ChartError(str(shelf.path), "the file", standing.trouble))
    good, unread = readable(entries)
    return good, (*unread, *faults)
