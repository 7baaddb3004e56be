"""Shelves to damage, and which of their bytes each piece needs, found by walking SQLite's own tree.

The walk follows the file's format (sqlite.org/fileformat2.html, sections 1.5 and 1.6) from a
table's root down; it shares nothing with the code that saves pieces from damaged files.
"""

import random
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from explorer import shelf_figures, shelf_tables
from explorer.shelf import Shelf
from explorer.shelf_entry import Entry, Making, Photograph

HERE = Path(__file__).resolve().parents[1] / "reference"
DOCUMENT = (HERE / "pieces/v1-proposed.json").read_text("utf-8")
JPEG = (HERE / "shelves/photograph.jpg").read_bytes()
_PAGE = 4096
Span = tuple[int, int]


def build(path: Path, seed: int) -> None:
    """A shelf of many kinds of pieces: short and long, thrown away, copied, changed, taken out."""
    rng = random.Random(seed)  # noqa: S311 - invented pieces, no secrets
    shelf = Shelf(path)
    for number in range(1, rng.randint(6, 22)):
        pad = " " * rng.choice((0, 500, 3_000, 20_000))
        entry = Entry(
            name=f"piece {number} {rng.random()}",
            who=rng.choice(("", "Wren", "Ολυμπία")),
            notes="x" * rng.choice((0, 10, 900)),
            making=Making(minutes=rng.choice((None, 0, 1, 345))),
            document=DOCUMENT + pad,
            photographs=(Photograph(jpeg=JPEG),) * rng.randint(0, 2),
        )
        shelf.put_all([entry])
    for number in (2, 4):
        shelf.throw_away(number, by="command line")
    shelf.take_out(4)
    shelf.copy(1)
    seen = shelf.get(3)
    assert seen is not None
    shelf.change(seen, {"notes": "changed"})
    for mark in ("a" * 16, "b" * 16, "a" * 16):
        shelf_tables.keep(shelf, mark, DOCUMENT, steps=bytes(rng.randint(0, 3_000)))
    shelf.keep_tray(b"name,kind,colour\n")
    shelf_figures.keep(shelf, "prices", "{}")


def spans(path: Path, table: str) -> dict[int, list[Span]]:
    """The bytes that each row of a table takes, by its number."""
    connection = sqlite3.connect(path)
    (root,) = connection.execute(
        "SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)
    ).fetchone()
    connection.close()
    return dict(_leaves(path.read_bytes(), root))


def _varint(content: bytes, at: int) -> tuple[int, int]:
    number = 0
    for place in range(9):
        byte = content[at + place]
        if place == 8:
            return number << 8 | byte, at + 9
        number = number << 7 | byte & 0x7F
        if byte < 0x80:
            return number, at + place + 1
    raise AssertionError


def _leaves(content: bytes, page: int) -> Iterator[tuple[int, list[Span]]]:
    start = (page - 1) * _PAGE
    inner = content[start] == 5
    assert inner or content[start] == 13
    count = int.from_bytes(content[start + 3 : start + 5], "big")
    first = start + (12 if inner else 8)
    for place in range(count):
        at = start + int.from_bytes(content[first + 2 * place : first + 2 * place + 2], "big")
        if inner:
            yield from _leaves(content, int.from_bytes(content[at : at + 4], "big"))
        else:
            yield _cell(content, at)
    if inner:
        yield from _leaves(content, int.from_bytes(content[start + 8 : start + 12], "big"))


def _cell(content: bytes, at: int) -> tuple[int, list[Span]]:
    total, after = _varint(content, at)
    number, body = _varint(content, after)
    most, least = _PAGE - 35, (_PAGE - 12) * 32 // 255 - 23
    if total <= most:
        return number, [(at, body + total)]
    here = least + (total - least) % (_PAGE - 4)
    here = here if here <= most else least
    found = [(at, body + here + 4)]
    left, page = total - here, int.from_bytes(content[body + here : body + here + 4], "big")
    while left:
        start, size = (page - 1) * _PAGE, min(left, _PAGE - 4)
        found.append((start, start + 4 + size))
        left -= size
        page = int.from_bytes(content[start : start + 4], "big")
    return number, found


def damaged(content: bytes, seed: int) -> bytes:
    """The same bytes after a mishap: flipped bits, a lost end, or a lost block."""
    rng = random.Random(seed)  # noqa: S311 - where a file is damaged
    after = bytearray(content)
    kind = rng.random()
    if kind < 0.7:
        # Many flips fall where all else hangs on them: the head, the tables' list, the roots.
        for _ in range(rng.choice((1, 1, 2, 5, 20, 200))):
            where = rng.randrange(len(after)) if rng.random() < 0.7 else rng.randrange(5 * _PAGE)
            after[where % len(after)] ^= 1 << rng.randrange(8)
    elif kind < 0.85:
        del after[rng.randrange(len(after)) :]
    else:
        start, size = rng.randrange(len(after)), rng.choice((512, 4096, 9000))
        after[start : start + size] = bytes(len(after[start : start + size]))
    return bytes(after)


def untouched(before: bytes, after: bytes, where: list[Span]) -> bool:
    """Whether all those bytes are as they were."""
    return all(before[a:b] == after[a:b] for a, b in where)
