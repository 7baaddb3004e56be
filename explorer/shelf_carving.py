"""Rows found in the pages of a shelf's file itself, where SQLite can no longer find its way in it.

A row's checksum proves it, so nothing else of the file need be whole: every place that looks like
the head of a row is tried. The forms of pages, rows and of the write-ahead log are SQLite's own
description (sqlite.org/fileformat2.html, sections 1.5, 1.6, 2.1 and 4).
"""

import errno
import os
import re
import struct
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from explorer.piece import from_json
from explorer.shelf_rows import (
    MOST_COUNT,
    PHOTOGRAPHS,
    PIECES,
    SEAL_BYTES,
    TRAYS,
    Layout,
    Row,
    Value,
    checksum,
    fitting,
    reads,
)
from palettes.errors import ChartError

# The page that SQLite makes unless told otherwise, and every size that it may be
# (sqlite.org/fileformat2.html, section 1.3.2).
_USUAL_PAGE = 4096
_PAGES = tuple(2**power for power in range(9, 17))
# A file is held in memory while it is looked through. Chosen by us: four times what an archive of a
# shelf may hold.
_MOST_BYTES = 2_000_000_000
# How SQLite's pages begin: with their kind or, where a long row runs on, with the number of the
# next one (sqlite.org/fileformat2.html, sections 1.6 and 1.7); 5 of 256 bytes do so by chance.
# Chosen by us: one in ten of a damaged shelf's pages does so still, and a file of this size is
# asked first, because another program's file takes long to look through.
_BEGINNINGS, _LEAST_SHARE, _LARGE_BYTES = frozenset((0, 2, 5, 10, 13)), 0.1, 1_000_000
# How a row says that its last column is as long as a checksum, and how many bytes numbers take
# (sqlite.org/fileformat2.html, section 2.1, serial types).
_SEALED = 12 + 2 * SEAL_BYTES
_NUMBER_BYTES = {0: 0, 1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8, 7: 8, 8: 0, 9: 0}
_FLOAT = 7
# The most bytes of a number of varying length, and of one that tells a column's size; heads in the
# write-ahead log (sqlite.org/fileformat2.html, sections 1.6 and 4.1).
_MOST_VARINT, _MOST_SIZE_VARINT = 9, 5
_LOG_HEAD, _FRAME_HEAD = 32, 24
# How many columns these tables had before there were checksums, by definition of those versions,
# and what the later ones get then; see ``explorer.shelf_versions``.
UNSEALED: Mapping[str, tuple[int, ...]] = {"pieces": (10, 7), "photographs": (4,), "trays": (3,)}
USUAL: Mapping[str, Value] = {
    "made": b"", "minutes": None, "lots": b"", "revision": 1, "thrown_by": b"", "thrown_at": b"",
}  # fmt: skip
_MOMENT = re.compile(rb"\d{4}-\d\d-\d\d")
# Such a row's head: its length, and that its number stands before it.
_UNSEALED_HEAD = re.compile(rb"(?=[\x04-\x30]\x00)", re.DOTALL)


def carved(path: Path, layout: Layout) -> list[Row]:
    """The rows of one table in a damaged file, each once: a whole one wherever there is one.

    Args:
        path: the shelf's file; its write-ahead log is read too where one lies beside it.
        layout: the table.

    Raises:
        OSError: the file cannot be read.
    """
    images = list(_images(path))
    found = _best(row for image in images for row in image.rows(layout))
    if any(row.whole for image in images for row in image.rows(PIECES)):
        return found
    # A shelf from before there were checksums.
    return _best((*found, *(row for image in images for row in image.unsealed_rows(layout))))


def _images(path: Path) -> Iterator["_Image"]:
    """The file, in every way that it may be cut into pages; none where it is no shelf's."""
    content = content_of(path)
    log = path.with_name(f"{path.name}-wal")
    frames = log.read_bytes() if log.is_file() else b""
    for page_bytes in _page_sizes(content):
        begun = content[::page_bytes]
        pages = sum(begun.count(byte) for byte in _BEGINNINGS)
        if len(content) > _LARGE_BYTES and pages < _LEAST_SHARE * len(begun):
            continue
        whole = _with_log(content, frames, page_bytes)
        for usable in sorted({page_bytes, page_bytes - content[20]} if len(content) > 20 else ()):
            yield _Image(whole, page_bytes, usable)


def content_of(path: Path) -> bytes:
    """What a shelf's file holds.

    Raises:
        OSError: it cannot be read, or is larger than a shelf.
    """
    if path.stat().st_size > _MOST_BYTES:
        raise OSError(errno.EFBIG, os.strerror(errno.EFBIG), str(path))
    return path.read_bytes()


def _best(rows: Iterable[Row]) -> list[Row]:
    """Each row once."""
    found: dict[Value, Row] = {}
    for row in rows:
        key = row.values[row.layout.key]
        if key not in found or _better(row, found[key]):
            found[key] = row
    return list(found.values())


def _better(row: Row, held: Row) -> bool:
    def worth(one: Row) -> tuple[bool, int]:
        return one.whole, one.number("revision") if "revision" in one.layout.columns else 0

    return worth(row) > worth(held)


def _page_sizes(content: bytes) -> list[int]:
    """The size that the file names, and the usual one, since its name can be damaged too."""
    named = int.from_bytes(content[16:18], "big")
    named = 65536 if named == 1 else named
    return sorted({_USUAL_PAGE, named} & set(_PAGES))


def _with_log(content: bytes, log: bytes, page_bytes: int) -> bytes:
    """The file with what its write-ahead log holds of saves that were done."""
    if len(log) < _LOG_HEAD or int.from_bytes(log[8:12], "big") != page_bytes:
        return content
    image, salts, waiting = bytearray(content), log[16:24], dict[int, bytes]()
    step = _FRAME_HEAD + page_bytes
    # Chosen by us: a number of a page beyond what both hold is damage, and must not fill memory.
    most_pages = (len(content) + len(log)) // page_bytes + 1
    for at in range(_LOG_HEAD, len(log) - step + 1, step):
        number, done = struct.unpack(">II", log[at : at + 8])
        if log[at + 8 : at + 16] != salts:
            break
        if 1 <= number <= most_pages:
            waiting[number] = log[at + _FRAME_HEAD : at + step]
        if done:
            for one, page in waiting.items():
                start = (one - 1) * page_bytes
                image.extend(bytes(max(0, start + page_bytes - len(image))))
                image[start : start + page_bytes] = page
            waiting = {}
    return bytes(image)


@dataclass(frozen=True, slots=True)
class _Values:
    """The columns of a row, and whether the length that stands before it is theirs."""

    values: tuple[Value, ...]
    fits: bool


class _Image:
    """The bytes of a file, cut into pages of which so many bytes are used."""

    def __init__(self, content: bytes, page_bytes: int, usable: int) -> None:
        self._content = content
        self._page_bytes = page_bytes
        self._usable = usable

    def rows(self, layout: Layout) -> Iterator[Row]:
        """Every row that some page holds."""
        least = len(layout.columns) + 2
        most = 1 + _MOST_SIZE_VARINT * (len(layout.columns) + 1)
        for start in range(0, len(self._content), self._page_bytes):
            page = self._content[start : start + self._usable]
            for head in _heads(page, least, most) if _SEALED in page else ():
                row = self._row(layout, page, head)
                if row is not None:
                    yield row

    def unsealed_rows(self, layout: Layout) -> Iterator[Row]:
        """Every row of the versions before there were checksums that reads as one in every part."""
        counts, empty = UNSEALED.get(layout.table, ()), bytes(self._usable)
        for start in range(0, len(self._content) if counts else 0, self._page_bytes):
            page = self._content[start : start + self._usable]
            if page == empty:
                continue
            for match in _UNSEALED_HEAD.finditer(page):
                for count in counts:
                    columns = layout.columns[:count]
                    found = self._values(page, match.start(), count, numbered=True)
                    if found is None or not found.fits:
                        continue
                    values = {**USUAL, **dict(zip(columns, found.values, strict=True))}
                    values = {column: values[column] for column in layout.columns}
                    if _plausible(layout, values):
                        yield Row(layout, values, checksum(layout, values))

    def _row(self, layout: Layout, page: bytes, head: int) -> Row | None:
        """The row whose head begins there; None where there is none.

        One that is not whole is given only where the length before it fits too: then it is a row.
        """
        found = self._values(page, head, len(layout.columns) + 1, numbered=layout.numbered)
        if found is None:
            return None
        values = dict(zip(layout.columns, found.values, strict=False))
        row = Row(layout, values, found.values[-1])
        named = not layout.numbered or 0 < row.number(layout.key) < MOST_COUNT
        return row if row.whole or (found.fits and named) else None

    def _values(self, page: bytes, head: int, count: int, *, numbered: bool) -> "_Values | None":
        """So many columns of the row whose head begins there; None where there are not so many."""
        kinds = _kinds(page[head + 1 : head + page[head]], count)
        if kinds is None or (numbered and kinds[0]):
            return None
        sizes = [_size(kind) for kind in kinds]
        total = page[head] + sum(sizes)
        number, before = _number_before(page, head)
        if total > len(self._content):
            return None
        payload = self._payload(page, head, total)
        at, values = page[head], list[Value]()
        for kind, size in zip(kinds, sizes, strict=True):
            values.append(_value(kind, payload[at : at + size]))
            at += size
        if numbered:
            values[0] = number
        told = _varint(total)
        fits = len(payload) == total and page[max(0, before - len(told)) : before] == told
        return _Values(tuple(values), fits)

    def _payload(self, page: bytes, head: int, total: int) -> bytes:
        """What a row holds, from its page and those it runs over to, as far as they are there."""
        usable = self._usable
        most = usable - 35
        if total <= most:
            return page[head : head + total]
        least = (usable - 12) * 32 // 255 - 23
        here = least + (total - least) % (usable - 4)
        here = here if here <= most else least
        parts, left = [page[head : head + here]], total - here
        following = int.from_bytes(page[head + here : head + here + 4], "big")
        while left > 0 and following:
            start = (following - 1) * self._page_bytes
            more = self._content[start : start + usable]
            if len(more) <= 4:
                break
            parts.append(more[4 : 4 + left])
            left -= len(parts[-1])
            following = int.from_bytes(more[:4], "big")
        return b"".join(parts)


def _heads(page: bytes, least: int, most: int) -> list[int]:
    """Where a row's head may begin that is so long and ends in a checksum's mark."""
    cells = np.frombuffer(page, dtype=np.uint8)
    heads = np.flatnonzero((cells >= least) & (cells <= most))
    ends = heads + cells[heads] - 1
    inside = ends < len(page)
    heads, ends = heads[inside], ends[inside]
    found = heads[cells[ends] == _SEALED]
    return [int(head) for head in found]


def _plausible(layout: Layout, values: Mapping[str, Value]) -> bool:
    """Whether a row without a checksum reads as what it should be."""
    row = Row(layout, values, None)
    if fitting(layout, values) != values or not all(reads(values[one]) for one in layout.texts):
        return False
    if layout == PHOTOGRAPHS:
        # How a JPEG begins and ends (ITU-T T.81, B.1.1.3).
        return row.blob("jpeg").startswith(b"\xff\xd8") and row.blob("jpeg").endswith(b"\xff\xd9")
    if layout == TRAYS:
        return bool(_MOMENT.match(row.blob("kept"))) and reads(values["content"])
    if layout == PIECES:
        try:
            from_json(row.text("document"))
        except (ChartError, RecursionError):
            return False
    return row.number("number") > 0


def _kinds(head: bytes, wanted: int) -> list[int] | None:
    """The kinds of the columns that a row's head tells, if it tells of so many."""
    kinds, now, length = list[int](), 0, 0
    for byte in head:
        now, length = now << 7 | byte & 0x7F, length + 1
        if length > _MOST_SIZE_VARINT or len(kinds) == wanted:
            return None
        if byte < 0x80:
            if now in (10, 11):
                return None
            kinds.append(now)
            now, length = 0, 0
    return kinds if len(kinds) == wanted and not length else None


def _size(kind: int) -> int:
    return _NUMBER_BYTES[kind] if kind in _NUMBER_BYTES else (kind - 12) // 2


def _value(kind: int, raw: bytes) -> Value:
    if kind >= 12:
        return raw
    if kind in (0, _FLOAT):
        return None
    return kind - 8 if kind in (8, 9) else signed(raw)


def signed(raw: bytes) -> int:
    """A whole number as a row holds it."""
    return int.from_bytes(raw, "big", signed=True)


def _number_before(page: bytes, head: int) -> tuple[int, int]:
    """The row's number, which stands before its head, and where that begins."""
    first = head - 1
    while first > 0 and head - first < _MOST_VARINT and page[first - 1] >= 0x80:
        first -= 1
    number = 0
    for byte in page[max(first, 0) : head]:
        number = number << 7 | byte & 0x7F
    return number, max(first, 0)


def _varint(number: int) -> bytes:
    """A number as SQLite writes one of fewer than 57 bits (section 1.6)."""
    out = [number & 0x7F]
    while number := number >> 7:
        out.append(number & 0x7F | 0x80)
    return bytes(reversed(out))
