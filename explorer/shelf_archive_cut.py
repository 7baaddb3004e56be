"""A ZIP archive that lost its list, such as one that is cut: the list is made anew from its parts.

Each part stands behind a header of its own that says as much of it as the list at the end does
(PKWARE APPNOTE 4.3.7 and 4.3.12). Whether a part is whole, its checksum says when it is read.
"""

import struct
from collections.abc import Callable

# A part's header, its line in the list, and the list's end (PKWARE APPNOTE 4.3.7, 4.3.12, 4.3.16).
_PART = struct.Struct("<4s5H3I2H")
_LINE = struct.Struct("<4s6H3I5H2I")
_END = struct.Struct("<4s4H2IH")
PART, LISTED, ENDED = b"PK\x03\x04", b"PK\x01\x02", b"PK\x05\x06"
# Version 2.0 knows all that we read (PKWARE APPNOTE 4.4.3.2).
_VERSION = 20


def listed_anew(
    content: bytes, known: Callable[[str], bool], most: int
) -> tuple[bytes, tuple[str, ...]]:
    """The archive with a list of the parts that end in it, and the names of those that do not.

    Args:
        content: the file's bytes.
        known: whether a part may have such a name; what else looks like a part is passed over.
        most: no more parts than so many are listed.
    """
    lines: dict[str, bytes] = {}
    cut: list[str] = []
    at = content.find(PART)
    while 0 <= at <= len(content) - _PART.size and len(lines) < most:
        _, _, flags, how, clock, day, crc, packed, plain, named, more = _PART.unpack_from(
            content, at
        )
        begins = at + _PART.size
        raw = content[begins : begins + named]
        name, ends = raw.decode("ascii", "replace"), begins + named + more + packed
        if not known(name) or name in lines:
            at = content.find(PART, at + 1)
        elif ends > len(content):
            cut.append(name)
            at = content.find(PART, at + 1)
        else:
            line = _LINE.pack(
                LISTED, _VERSION, _VERSION, flags, how, clock, day, crc, packed, plain,
                named, 0, 0, 0, 0, 0, at,
            )  # fmt: skip
            lines[name] = line + raw
            at = content.find(PART, ends)
    table = b"".join(lines.values())
    count = len(lines)
    end = _END.pack(ENDED, 0, 0, count, count, len(table), len(content), 0)
    return content + table + end, tuple(cut)
