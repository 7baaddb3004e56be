"""A process that works on a shelf, telling on its output what it begins and what is done.

``python -m tests.robust.crash_child PATH SEED STEPS`` makes the steps that ``steps(SEED)`` gives.
"""

import random
import sqlite3
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from explorer import shelf_tables
from explorer.shelf import Saved, Shelf
from explorer.shelf_entry import Entry, Making, Photograph
from explorer.shelf_saved import Conflict

# The words of SQL with which a shelf is written.
WRITING = ("INSERT", "UPDATE", "DELETE", "CREATE", "ALTER")


@dataclass(frozen=True, slots=True)
class Step:
    """One thing done to a shelf: its kind and what it needs."""

    kind: str
    values: tuple[Any, ...]


def steps(seed: int, held: int = 0) -> Iterator[Step]:
    """Endless steps of saves, imports and changes of stock, the same for the same seed.

    Args:
        seed: of the choices.
        held: how many pieces stand on the shelf already.
    """
    rng = random.Random(seed)  # noqa: S311 - choices, no secrets
    while True:
        kind = rng.choice(("put", "import", "import", "change", "copy", "throw", "table", "tray"))
        size = rng.choice((20, 3_000, 60_000))
        body = f"{rng.random()}" * (size // 18 + 1)
        if kind == "put":
            held += 1
            yield Step(kind, (f"piece {rng.random()}", body))
        elif kind == "import":
            count = rng.randint(2, 7)
            held += count
            yield Step(kind, (count, body))
        elif kind in ("change", "copy", "throw") and held:
            number = rng.randint(1, held)
            held += kind == "copy"
            yield Step(kind, (number, f"name {rng.random()}"))
        elif kind in ("table", "tray"):
            yield Step(kind, (f"{rng.randint(0, 3):016x}", body))


def entries(count: int, body: str) -> list[Entry]:
    """What an import brings: pieces, each with how it was made and two photographs."""
    return [
        Entry(
            name=f"imported {place}",
            who="Wren",
            document=f"{place} {body}",
            making=Making(made="2025-03-14", minutes=place, lots="A1"),
            photographs=(Photograph(jpeg=body.encode()), Photograph(jpeg=b"x" * 999)),
        )
        for place in range(count)
    ]


def change(shelf: Shelf, number: int, **words: str | int | None) -> Saved | Conflict | None:
    """Give a saved piece other words, as it stands now."""
    seen = shelf.get(number)
    return None if seen is None else shelf.change(seen, words)


def do(shelf: Shelf, step: Step) -> None:
    """Make a step."""
    a, b = step.values
    acts: dict[str, Callable[[], object]] = {
        "put": lambda: shelf.put(a, b),
        "import": lambda: shelf.put_all(entries(a, b)),
        "change": lambda: change(shelf, a, name=b, who="Ida", notes="changed"),
        "copy": lambda: shelf.copy(a),
        "throw": lambda: shelf.throw_away(a),
        "table": lambda: shelf_tables.keep(shelf, a, b),
        "tray": lambda: shelf.keep_tray(b.encode()),
    }
    acts[step.kind]()


def tell(line: str) -> None:
    """Say a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


class _Telling(sqlite3.Connection):
    """A connection that tells each word of SQL before it is done, to be killed in its midst."""

    def execute(self, sql: str, parameters: Any = ()) -> sqlite3.Cursor:
        word = sql.split(maxsplit=1)[0]
        if word in ("BEGIN", *WRITING, "COMMIT"):
            tell(f"sql {word}")
        return super().execute(sql, parameters)


def main() -> None:
    """Make the steps, each announced and each reported."""
    path, seed, count, held = Path(sys.argv[1]), *map(int, sys.argv[2:5])
    real = sqlite3.connect
    sqlite3.connect = lambda *a, **k: real(*a, factory=_Telling, **k)  # type: ignore[assignment]
    shelf = Shelf(path)
    tell("ready")
    # Opening it brings an older shelf up to this version.
    shelf.find()
    for number, step in zip(range(count), steps(seed, held), strict=False):
        tell(f"begin {number}")
        do(shelf, step)
        tell(f"done {number}")


if __name__ == "__main__":
    main()
