"""Putting pieces from files on the shelf: every one of them or none, and none a second time."""

from collections import defaultdict
from contextlib import suppress
from dataclasses import dataclass, replace
from itertools import chain

from explorer import shelf_photographs
from explorer.errors import BriefError
from explorer.piece import from_json, to_json
from explorer.shelf import Saved, Shelf
from explorer.shelf_archive import from_archive, readable
from explorer.shelf_archive_cut import ENDED, PART
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Entry, Photograph
from explorer.shelf_json import entry_of, from_text
from palettes.errors import ChartError

# How a ZIP file begins, an empty one too.
_ZIP = (PART, ENDED)
# So many pieces that stand there with other words are named. Chosen by us: a line that is read.
_MOST_NAMED = 3
# The words beside a piece, as a maker knows them.
_NAMED = {
    "who": "who it is for", "notes": "notes", "made": "day it was finished",
    "minutes": "minutes it took", "lots": "lots of the beads",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What became of pieces from files.

    Attributes:
        numbers: of those that were put on the shelf.
        already: how many stood there before.
        again: how many are in an earlier one of the files too.
        photographs: how many photographs were added to pieces that stood there before.
        left_out: which were not, and why.
        differing: how new pieces differ from those of the same name and beads that stood there.
    """

    numbers: tuple[int, ...]
    already: int
    again: int = 0
    photographs: int = 0
    left_out: tuple[ChartError, ...] = ()
    differing: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """All of that in a sentence but for what was left out."""
        count, more = len(self.numbers), self.photographs
        unlike = len(self.differing) - _MOST_NAMED
        parts = (
            f"{count} piece{'s' * (count != 1)} put on the shelf",
            f"{self.already} stood there before" if self.already else "",
            f"{self.again} in an earlier file too" if self.again else "",
            f"{more} photograph{'s' * (more != 1)} added to pieces that stood there" * bool(more),
            *self.differing[:_MOST_NAMED],
            f"{unlike} more that differ so" if unlike > 0 else "",
        )
        return ", ".join(part for part in parts if part)


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


def put_new(shelf: Shelf, *files: tuple[Entry, ...]) -> Imported:
    """Put those pieces on the shelf that do not stand there just so, with all their photographs.

    A photograph more is no difference: it is added to the piece that stands there. Two equal pieces
    in one file stay two; one in two files is one.

    Raises:
        ShelfError: the shelf cannot be used; nothing was put there.
    """
    standing = defaultdict[_Key, list[_Place]](list)
    words = {_words(entry) for entry in chain(*files)}
    found = shelf.find()
    for saved in found:
        # The others cannot be meant, and reading a piece takes its time.
        if _words(entry_of(saved)) in words:
            standing[_same(entry_of(saved))].append(_Place(saved.number, saved.name))
    keyed = [[(entry, _same(entry)) for entry in entries] for entries in files]
    held = shelf_photographs.of_pieces(shelf, [
        place.number for entry, key in chain(*keyed) if entry.photographs
        for place in standing[key]
    ])  # fmt: skip
    for place in chain(*standing.values()):
        place.photographs = list(held.get(place.number, ()))
    new, already, again = list[tuple[Entry, _Place]](), 0, 0
    for entries in keyed:
        taken = set[int]()
        for entry, key in entries:
            places = standing[key]
            free = [place for place in places if id(place) not in taken]
            if free:
                place = min(free, key=lambda place: place.unlike(entry))
                already, again = already + bool(place.number), again + (not place.number)
            else:
                place = _Place(0, entry.name)
                places.append(place)
                new.append((entry, place))
            place.take(entry)
            taken.add(id(place))
    more = {
        place.number: place.added for place in chain(*standing.values())
        if place.number and place.added
    }  # fmt: skip
    # The first of a file is the newest there, and so it is here: it comes last.
    entries_new = [replace(entry, photographs=tuple(place.added)) for entry, place in new[::-1]]
    numbers = tuple(sorted(shelf.put_all(entries_new, more))) if new or more else ()
    return Imported(
        numbers=numbers,
        already=already,
        again=again,
        photographs=sum(map(len, more.values())),
        left_out=tuple(place.left_out() for place in chain(*standing.values()) if place.too_many),
        differing=tuple(filter(None, (_differing(entry, found) for entry, _ in new))),
    )


def _differing(entry: Entry, found: tuple[Saved, ...]) -> str:
    """In what a piece differs from the one of its name and beads that stood there, if one did."""
    beads = _same(entry)[-1]
    for saved in found:
        other = entry_of(saved)
        if other.name == entry.name and _same(other)[-1] == beads:
            words = [
                named for one, named in _NAMED.items() if _word(other, one) != _word(entry, one)
            ]
            return f"“{entry.name}” differs from number {saved.number} in {', '.join(words)}"
    return ""


def _word(entry: Entry, name: str) -> object:
    return getattr(entry if name in ("who", "notes") else entry.making, name)


_Key = tuple[object, ...]


class _Place:
    """A piece on the shelf, or on its way there, and the photographs that come to it.

    Args:
        number: the piece's; 0 for one that is new.
        name: what it is called.
    """

    def __init__(self, number: int, name: str) -> None:
        self.number = number
        self.photographs: list[Photograph] = []
        self.added: list[Photograph] = []
        self.too_many = 0
        self._name = name
        self._written_anew: set[bytes] | None = None

    def unlike(self, entry: Entry) -> int:
        """How many photographs the two do not share."""
        mine = {photo.jpeg for photo in (*self.photographs, *self.added)}
        return len(mine ^ {photo.jpeg for photo in entry.photographs})

    def take(self, entry: Entry) -> None:
        """Take the photographs that are not there yet, as long as there is room."""
        before = {photo.jpeg for photo in (*self.photographs, *self.added) if not photo.damaged}
        for photo in entry.photographs:
            if photo.jpeg in before or photo.jpeg in self._as_read():
                continue
            if len(self.photographs) + len(self.added) < MOST_PHOTOGRAPHS:
                self.added.append(photo)
            else:
                self.too_many += 1

    def left_out(self) -> ChartError:
        """That there was no room for all of them."""
        return ChartError(
            self._name,
            f"piece {self.number}" if self.number else "a new piece",
            f"{self.too_many} of its photographs: a piece has at most {MOST_PHOTOGRAPHS}. Take "
            "some off first",
        )

    def _as_read(self) -> set[bytes]:
        """The photographs that stand there as an archive brings them: an older one written anew."""
        if self._written_anew is None:
            self._written_anew = set()
            for photo in (one for one in self.photographs if not one.damaged):
                with suppress(BriefError):
                    self._written_anew.add(shelf_photographs.as_jpeg(photo.jpeg))
        return self._written_anew


def _words(entry: Entry) -> _Key:
    return (entry.name, entry.who, entry.notes, entry.making)


def _same(entry: Entry) -> _Key:
    """What two equal pieces share; an earlier version may have written the same piece otherwise."""
    try:
        return (*_words(entry), to_json(from_json(entry.document)))
    except ChartError:
        return (*_words(entry), entry.document)


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
