"""What a damaged shelf's file still says of rows that were not found in it.

SQLite keeps the highest number that it gave in a table of its own, ``sqlite_sequence``, and the
file's head says how many pages there are (sqlite.org/fileformat2.html, sections 1.3 and 2.6.2).
"""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from explorer.shelf_carving import content_of, signed
from explorer.shelf_rows import PHOTOGRAPHS, PIECES, Layout, Row

_NAMES = {PIECES: "piece", PHOTOGRAPHS: "photograph"}
# Where the head tells the size of a page and their count, and by what the count is known to be of
# the last change (sqlite.org/fileformat2.html, sections 1.3.2, 1.3.7 and 1.3.8).
_SIZE, _COUNT, _CHANGE, _COUNTED_AT = slice(16, 18), slice(28, 32), slice(24, 28), slice(92, 96)
# The kinds of whole numbers with their bytes, but for 0 and 1, which take none
# (sqlite.org/fileformat2.html, section 2.1).
_NUMBER_BYTES = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
# Chosen by us: a line of a terminal.
_MOST_NAMED = 15


def missing(path: Path, rows: Mapping[Layout, Sequence[Row]]) -> tuple[str, ...]:
    """What is known to be missing from a damaged shelf, or may be, in words.

    Args:
        path: the shelf's file.
        rows: what was found in it.

    Raises:
        OSError: the file cannot be read.
    """
    content = content_of(path)
    told = [_pages(content)]
    for layout, name in _NAMES.items():
        found = {row.number("number") for row in rows[layout]}
        # The number of a row that is damaged may be damaged itself.
        known = {0, *(row.number("number") for row in rows[layout] if row.whole)}
        if layout == PIECES:
            # A photograph names its piece.
            known |= {row.number("piece") for row in rows[PHOTOGRAPHS] if row.whole}
        told.append(_gaps(name, found, max(*known, _counter(content, layout.table))))
    return tuple(one for one in told if one)


def _pages(content: bytes) -> str:
    """How many pages are cut off, where the head can be believed."""
    size = int.from_bytes(content[_SIZE], "big")
    size = 65536 if size == 1 else size
    count = int.from_bytes(content[_COUNT], "big")
    if not size or content[_CHANGE] != content[_COUNTED_AT]:
        return ""
    lost = count - len(content) // size
    return f"{lost} of the file's {count} pages are cut off" if 0 < lost < count else ""


def _counter(content: bytes, table: str) -> int:
    """The highest number that the file says was given in a table; 0 where it does not say."""
    name = table.encode()
    # The row's head: its length, the kinds of its two columns; then the columns themselves.
    kinds = b"[" + bytes(_NUMBER_BYTES) + b"\x09]"
    form = re.escape(bytes((3, 13 + 2 * len(name)))) + b"(" + kinds + b")" + name
    found = [0]
    for match in re.finditer(form, content):
        (kind,) = match[1]
        many = _NUMBER_BYTES.get(kind, 0)
        number = signed(content[match.end() : match.end() + many]) if many else 1
        # A damaged counter can say anything. Chosen by us: a row takes more than one byte.
        found.append(number if 0 < number <= len(content) else 0)
    return max(found)


def _gaps(name: str, found: set[int], highest: int) -> str:
    """Which numbers were given and are not there."""
    count = highest - len({number for number in found if 0 < number <= highest})
    if not count:
        return ""
    numbers = (number for number in range(1, highest + 1) if number not in found)
    named = ", ".join(str(number) for number, _ in zip(numbers, range(_MOST_NAMED), strict=False))
    more = ", ..." * (count > _MOST_NAMED)
    return (
        f"up to {count} {name}{'s' * (count > 1)} may be missing, unless taken out for good: "
        f"numbers up to {highest} were given, and there is no {named}{more}"
    )
