"""Pieces off the shelf as one ZIP archive, with their photographs, and back.

Nothing of an archive is ever written under a name that stands in it: its parts are read in memory,
checked like anything a stranger sends, and only then put on the shelf.
"""

import hashlib
import io
import json
import re
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from explorer.errors import BriefError
from explorer.piece import MOST_BYTES as MOST_PIECE_BYTES
from explorer.reading import Reader
from explorer.shelf_archive_cut import LISTED, PART, listed_anew
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Entry, Photograph
from explorer.shelf_json import from_text, to_text
from explorer.shelf_photographs import as_jpeg
from gallery.photos import PhotoError, photo_pixels
from palettes.errors import ChartError, quoted

INDEX = "shelf.json"
VERSION_KEY = "danglewise_shelf"
VERSION = 1
# Chosen by us: far more than one maker's pieces; what is read stays below some 600 MB.
MOST_PIECES = 5000
MOST_ARCHIVE_BYTES = 500_000_000
_MOST_TOTAL_BYTES = 600_000_000
_MOST_INDEX_BYTES = 5_000_000
# Chosen by us: our own photographs are a tenth of it.
_MOST_PHOTOGRAPH_BYTES = 5_000_000
# Chosen by us: as many photographs of ours as the bytes allow, 600 MB at some 130 kB each.
MOST_ARCHIVE_PIXELS = 5_000_000_000
_PIECE = re.compile(r"pieces/\d{4,5}\.json", re.ASCII)
_PHOTOGRAPH = re.compile(r"photographs/\d{4,5}-\d{1,2}\.jpg", re.ASCII)
_MOST_PARTS = 1 + MOST_PIECES * (1 + MOST_PHOTOGRAPHS)
# Chosen by us: enough of a piece's name to know it by.
# What stands on a shelf beside the pieces, and does not go along with them.
NOT_TAKEN = ("beads at hand", "what lies on the table", "figures of your own", "pieces thrown away")
_MOST_CALLED = 80
# The earliest moment that the format knows (PKWARE APPNOTE 4.4.6), so that the same pieces give the
# same bytes.
_MOMENT = (1980, 1, 1, 0, 0, 0)
_ENCRYPTED = 0x1  # general purpose bit 0 (PKWARE APPNOTE 4.4.4)
# What reading a damaged archive can raise.
_UNREAD = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    ValueError,
    NotImplementedError,
    RuntimeError,
    RecursionError,
)


def not_taken_words(where: object) -> str:
    """What is not in an archive, and how to take it along.

    Args:
        where: the shelf's file, as much of its place as may be told.
    """
    return (
        f"Not in it: {', '.join(NOT_TAKEN[:-1])} and {NOT_TAKEN[-1]}. To take all of it along, "
        f"close the app and copy {where}."
    )


def to_archive(entries: Sequence[Entry]) -> bytes:
    """Pieces with all that belongs to them as the bytes of a ZIP file.

    Raises:
        ChartError: one of them cannot be read; see ``readable``.
        BriefError: there are too many.
    """
    if len(entries) > MOST_PIECES:
        raise BriefError("pieces", len(entries), f"at most {MOST_PIECES}", "Name fewer of them.")
    out = io.BytesIO()
    rows: list[dict[str, Any]] = []
    with zipfile.ZipFile(out, "w") as archive:
        for number, entry in enumerate(entries, 1):
            piece = f"pieces/{number:04d}.json"
            _write(archive, piece, to_text(entry).encode())
            photographs = []
            for at, photo in enumerate(entry.photographs, 1):
                name = f"photographs/{number:04d}-{at}.jpg"
                # A JPEG is packed already.
                _write(archive, name, photo.jpeg, zipfile.ZIP_STORED)
                photographs.append({"file": name, "added": photo.added})
            # The name is for people, and for an error where the piece itself is damaged.
            rows.append({"file": piece, "name": entry.name, "photographs": photographs})
        index = {VERSION_KEY: VERSION, "pieces": rows}
        _write(archive, INDEX, (json.dumps(index, indent=1) + "\n").encode())
    return out.getvalue()


def readable(entries: Sequence[Entry]) -> tuple[tuple[Entry, ...], tuple[ChartError, ...]]:
    """The pieces that can be written out, and why the others cannot."""
    good, faults = [], []
    for entry in entries:
        try:
            to_text(entry)
        except ChartError as error:
            faults.append(error)
        else:
            good.append(entry)
    return tuple(good), tuple(faults)


def _write(
    archive: zipfile.ZipFile, name: str, content: bytes, how: int = zipfile.ZIP_DEFLATED
) -> None:
    info = zipfile.ZipInfo(name, _MOMENT)
    info.compress_type = how
    info.external_attr = 0o644 << 16
    archive.writestr(info, content)


def from_archive(
    content: bytes, path: str, left_out: list[ChartError] | None = None
) -> tuple[Entry, ...]:
    """The pieces in an archive that ``to_archive`` made.

    Args:
        content: the file's bytes.
        path: what to call the file in an error.
        left_out: where to note why single pieces cannot be read, with all that belongs to them;
            None refuses the whole archive then, and so does one of which nothing can be read.

    Raises:
        ChartError: it is no such archive, is damaged, holds anything else, or more than it says.
    """
    if len(content) > MOST_ARCHIVE_BYTES:
        raise ChartError(path, "the file", f"at most {MOST_ARCHIVE_BYTES // 1_000_000} MB are read")
    # Counted before the list is read, since a list of millions would fill the memory by itself.
    if max(content.count(LISTED), content.count(PART)) > _MOST_PARTS:
        raise ChartError(path, "the file", f"at most {MOST_PIECES} pieces are read")
    try:
        faults: list[ChartError] = []
        with zipfile.ZipFile(io.BytesIO(_listed(content, path, faults))) as archive:
            found = tuple(_Archive(archive, path).entries(faults))
    except ChartError:
        raise
    except _UNREAD as error:
        raise ChartError(path, "the file", f"it is no whole ZIP archive ({error})") from error
    if faults and (left_out is None or not found):
        raise faults[0]
    if left_out is not None:
        left_out += faults
    return found


def _listed(content: bytes, path: str, faults: list[ChartError]) -> bytes:
    """The archive; one whose list is lost with a new one, and why parts are not in it."""
    try:
        zipfile.ZipFile(io.BytesIO(content)).close()
    except _UNREAD as error:
        content, cut = listed_anew(content, _is_ours, _MOST_PARTS)
        why = f"it is no whole ZIP archive ({error}); what is whole in it was looked for"
        faults.append(ChartError(path, "the file", why))
        faults += (ChartError(path, name, "it is cut short") for name in cut)
    return content


def _is_ours(name: str) -> bool:
    return bool(name == INDEX or _PIECE.fullmatch(name) or _PHOTOGRAPH.fullmatch(name))


class _Archive:
    """An archive that is not trusted."""

    def __init__(self, archive: zipfile.ZipFile, path: str) -> None:
        self._archive = archive
        self._path = path
        self._left = _MOST_TOTAL_BYTES
        self._pixels_left = MOST_ARCHIVE_PIXELS
        # Each photograph is looked at once, under however many names and pieces it stands.
        self._jpegs: dict[bytes, bytes] = {}
        self._jpegs_by_name: dict[str, bytes] = {}
        self._parts: dict[str, zipfile.ZipInfo] = {}
        for part in archive.infolist():
            self._admit(part)

    def _fail(self, entry: str, why: str) -> ChartError:
        return ChartError(self._path, entry[:80], why)

    def _admit(self, part: zipfile.ZipInfo) -> None:
        name = part.filename
        if not _is_ours(name):
            raise self._fail(repr(name), "a shelf's archive holds no such part; nothing was read")
        if name in self._parts:
            raise self._fail(name, "it stands there twice")
        if part.flag_bits & _ENCRYPTED:
            raise self._fail(name, "it is locked with a password; pack it without one")
        if part.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise self._fail(name, "it is packed in a way that we do not read")
        self._parts[name] = part

    def _read(self, name: str, most: int) -> bytes:
        """A part, no more of it than it may have, whatever it says of itself."""
        if name not in self._parts:
            raise self._fail(name, "it is missing from the archive")
        most = max(0, min(most, self._left))
        with self._archive.open(self._parts[name]) as file:
            found = file.read(most + 1)
        self._left -= min(len(found), most)
        if len(found) > most:
            raise self._fail(name, f"it unpacks to more than {most} bytes")
        return found

    def entries(self, faults: list[ChartError]) -> Iterator[Entry]:
        """Every piece that the index names, and why others cannot be read."""
        reader = Reader(self._path)
        try:
            found = json.loads(self._read(INDEX, _MOST_INDEX_BYTES))
        except (ChartError, *_UNREAD) as error:
            faults.append(self._left_out(INDEX, "", error))
            found = self._by_names(faults)
        index = reader.table(found, INDEX)
        version = reader.whole(index.get(VERSION_KEY), VERSION_KEY)
        if version > VERSION:
            raise self._fail(
                VERSION_KEY, f"it was made by a newer Danglewise (version {version}); update"
            )
        rows = reader.rows(index.get("pieces"), "pieces")
        if len(rows) > MOST_PIECES:
            raise self._fail("pieces", f"at most {MOST_PIECES} pieces are read")
        taken: set[str] = set()
        for row in rows:
            table = reader.table(row, "pieces")
            name = reader.text(table, "file")
            if not _PIECE.fullmatch(name) or name in taken:
                raise self._fail(repr(name), "it is no piece of this archive")
            taken.add(name)
            called = str(table.get("name", ""))
            try:
                photographs = tuple(self._photographs(reader, table, called, faults))
                yield from_text(self._text(name), f"{self._path}, {name}", photographs)
            except (ChartError, *_UNREAD) as error:
                faults.append(self._left_out(name, called, error))

    def _by_names(self, faults: list[ChartError]) -> dict[str, Any]:
        """An index of what the parts' names tell, and why parts that must have been there lack."""
        photographs: dict[str, list[dict[str, str]]] = {}
        pieces = sorted(filter(_PIECE.fullmatch, self._parts), key=_number)
        for name in sorted(filter(_PHOTOGRAPH.fullmatch, self._parts), key=_number):
            piece = f"pieces/{name.partition('/')[2].partition('-')[0]}.json"
            photographs.setdefault(piece, []).append({"file": name, "added": ""})
        numbered = {f"pieces/{number:04d}.json" for number in range(1, _last(self._parts) + 1)}
        lacking = sorted({*numbered, *photographs}.difference(pieces), key=_number)
        faults += (self._fail(name, "it is missing from the archive") for name in lacking)
        rows = [{"file": name, "photographs": photographs.get(name, [])} for name in pieces]
        return {VERSION_KEY: VERSION, "pieces": rows}

    def _text(self, name: str) -> str:
        try:
            return self._read(name, MOST_PIECE_BYTES).decode()
        except UnicodeDecodeError as error:
            raise self._fail(name, "it is no text in UTF-8") from error

    def _left_out(self, part: str, called: str, error: Exception) -> ChartError:
        """Why a part is left out, with the name of the piece that it is of where that is known."""
        told = f"{part} of {quoted(called[:_MOST_CALLED])}" if called else part
        if isinstance(error, ChartError):
            entry = told if error.entry == part else f"{told}, {error.entry}"
            return ChartError(self._path, entry, error.why)
        return ChartError(self._path, told, f"it cannot be unpacked ({error})")

    def _photographs(
        self, reader: Reader, table: dict[str, Any], called: str, faults: list[ChartError]
    ) -> Iterator[Photograph]:
        """The photographs of a piece; one that cannot be read stops neither it nor another."""
        rows = reader.rows(table.get("photographs"), "photographs")
        if len(rows) > MOST_PHOTOGRAPHS:
            raise self._fail("photographs", f"at most {MOST_PHOTOGRAPHS} of a piece are read")
        for row in rows:
            one = reader.table(row, "photographs")
            name = reader.text(one, "file")
            try:
                yield self._photograph(reader, one)
            except (ChartError, *_UNREAD) as error:
                faults.append(self._left_out(name, called, error))

    def _photograph(self, reader: Reader, table: dict[str, Any]) -> Photograph:
        name = reader.text(table, "file")
        if not _PHOTOGRAPH.fullmatch(name):
            raise self._fail(repr(name), "it is no photograph of this archive")
        jpeg = self._jpegs_by_name.get(name)
        if jpeg is None:
            jpeg = self._jpegs_by_name[name] = self._jpeg(name)
        else:
            # It is not unpacked again, but takes its room on the shelf again.
            self._left -= len(jpeg)
            if self._left < 0:
                raise self._fail(name, f"the archive holds more than {_MOST_TOTAL_BYTES} bytes")
        return Photograph(added=reader.text(table, "added")[:40], jpeg=jpeg)

    def _jpeg(self, name: str) -> bytes:
        """A part as a photograph of ours, its pixels counted before they are read."""
        content = self._read(name, _MOST_PHOTOGRAPH_BYTES)
        key = hashlib.sha256(content).digest()
        if key not in self._jpegs:
            try:
                self._pixels_left -= photo_pixels(content, name)
                if self._pixels_left < 0:
                    most = MOST_ARCHIVE_PIXELS // 1_000_000
                    raise self._fail(name, f"at most {most} million pixels of an archive are read")
                self._jpegs[key] = as_jpeg(content, name)
            except (PhotoError, BriefError) as error:
                raise self._fail(name, f"{error.got}; wanted {error.wanted}") from error
        return self._jpegs[key]


def _number(name: str) -> tuple[int, ...]:
    """The numbers in a part's name, of the piece first."""
    return tuple(map(int, re.findall(r"\d+", name)))


def _last(names: Iterable[str]) -> int:
    """The highest number of a piece that parts are of; no more than an archive may hold."""
    return min(MOST_PIECES, max((_number(name)[0] for name in names if name != INDEX), default=0))
