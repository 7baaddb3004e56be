"""Writes a shelf as each version of its file left it: ``python -m tests.reference.write_shelves``.

Files that are there are never written again: they stand for what makers have. Those before version
5 are made by the steps that made such shelves then, and filled with the statements of that time;
from version 5 on they are made by the shelf itself, once, while that version is the newest.
"""

import sqlite3
from pathlib import Path

from explorer import shelf_figures, shelf_tables
from explorer.shelf import MIGRATIONS, VERSION, Shelf
from explorer.shelf_entry import Entry, Making, Photograph

HERE = Path(__file__).parent
FOLDER = HERE / "shelves"
DOCUMENT = (HERE / "pieces/v1-proposed.json").read_text("utf-8")
JPEG = (HERE / "shelves/photograph.jpg").read_bytes()
# Invented. The second is thrown away; the third stands there under a date before the others.
PIECES = (
    ("Harbour", "Ολυμπία", "long tail", "2025-03-14T10:00:00.000000+00:00", 0),
    ("Thaw", "", "", "2025-03-15T10:00:00.000000+00:00", 1),
    ("Ebbe & Flut 🌊", "Ida", "two\nlines", "2024-01-01T10:00:00.000000+00:00", 0),
)
MAKING = Making(made="2025-03-16", minutes=345, lots="Coral 4471")
MARK = "0123456789abcdef"
TRAY = b"name,kind,colour\nCoral,round 8/0,#ff7f50\n"


def write_old(path: Path, version: int) -> None:
    """A shelf of version 1 to 4."""
    connection = sqlite3.connect(path, isolation_level=None)
    for step in MIGRATIONS[:version]:
        step(connection)
    for name, who, notes, saved, thrown in PIECES:
        connection.execute(
            "INSERT INTO pieces (name, who, notes, saved, document, thrown_away) "
            "VALUES (?, ?, ?, ?, ?, ?)",
            (name, who, notes, saved, DOCUMENT, thrown),
        )
    for mark, used in ((MARK, "2025-03-15"), ("f" * 16, "2025-03-14")):
        connection.execute(
            "INSERT INTO tables (mark, used, document) VALUES (?, ?, ?)", (mark, used, f"on {mark}")
        )
    if version >= 2:
        connection.execute("INSERT INTO trays (kept, content) VALUES ('2025-03-14', ?)", (TRAY,))
    if version >= 3:
        connection.execute(
            "UPDATE pieces SET made = ?, minutes = ?, lots = ? WHERE number = 1",
            (MAKING.made, MAKING.minutes, MAKING.lots),
        )
        connection.execute(
            "INSERT INTO photographs (piece, added, jpeg) VALUES (1, '2025-03-16', ?)", (JPEG,)
        )
        connection.execute("INSERT INTO figures (name, document) VALUES ('prices', '{}')")
    if version >= 4:
        connection.execute("UPDATE tables SET steps = x'01', revision = 7 WHERE mark = ?", (MARK,))
    connection.execute(f"PRAGMA user_version = {version}")
    connection.close()


def write_now(path: Path) -> None:
    """A shelf of the newest version."""
    shelf = Shelf(path)
    photographs = (Photograph(added="2025-03-16", jpeg=JPEG),)
    for number, (name, who, notes, saved, thrown) in enumerate(PIECES, 1):
        first = number == 1
        entry = Entry(
            name=name, who=who, notes=notes, saved=saved, document=DOCUMENT,
            making=MAKING if first else Making(), photographs=photographs if first else (),
        )  # fmt: skip
        shelf.put_all([entry])
        if thrown:
            shelf.throw_away(number, by="command line")
    shelf_tables.keep(shelf, "f" * 16, f"on {'f' * 16}")
    for _ in range(7):
        shelf_tables.keep(shelf, MARK, f"on {MARK}", steps=b"\x01")
    shelf.keep_tray(TRAY)
    shelf_figures.keep(shelf, "prices", "{}")


def main() -> None:
    """Write those that are missing."""
    for version in range(1, VERSION + 1):
        path = FOLDER / f"v{version}.sqlite3"
        if path.exists():
            continue
        if version < 5:
            write_old(path, version)
        elif version == VERSION:
            write_now(path)


if __name__ == "__main__":
    main()
