"""The folder that command lines are run in: good files, bad ones, and what became of them after."""

import io
import json
import os
import random
import shutil
import sqlite3
import stat
import tomllib
import zipfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
from PIL import Image

from explorer.brief import Wearer
from explorer.design import build
from explorer.piece import Piece, piece_of, to_json
from explorer.shelf import Shelf
from explorer.shelf_archive import to_archive
from explorer.shelf_import import all_entries
from palettes.beads import Bead
from palettes.charts import bead_kinds
from tests.fuzz.pictures import png_bomb, text_bomb
from tests.robust import damage

FILES = {
    "empty.json": b"",
    "list.json": b"[]",
    "deep.json": b"[" * 100_000,
    "digits.json": b'{"danglewise_piece": 1, "x": ' + b"9" * 6000 + b"}",
    "newer.json": b'{"danglewise_piece": 2}',
    "zeros.json": b"\0" * 100,
    "latin.json": b'{"name": "\xe9"}',
    "half.json": b'{"danglewise_piece": 1, "name": "\\ud800"}',
    "bytes.csv": b"\xff\xfe\xff",
    "nul.csv": b"name,snug\nM\0,wide\n",
    "quote.csv": b'name,snug\n"Mia,150\n',
    "huge.csv": b"name,snug\nMia," + b"9" * 5000 + b"\n",
    "minus.csv": b"name,kind,colour,grams\nA,round 8/0,#ff0000,-5\n",
    "inf.csv": b"name,kind,colour,grams\nA,round 8/0,#ff0000,1e999\n",
    "open.csv": b'name,kind,colour\n"A,round 8/0,#f00\n',
    "cut.png": b"\x89PNG\r\n\x1a\n" + b"x" * 50,
    "text.jpg": b"hello",
}
_REFERENCE = Path(__file__).resolve().parents[1] / "reference"
_TRAY = (
    "name,kind,colour,finish,grams,count,price,lot,kept\r\n"
    "Ember,round 8/0,#d7263d,opaque,12.5,460,0.12,A1,tin\r\n"
    "Deep,round 8/0,#1b998b,matte,,,,,\r\nNight,round 8/0,#2e294e,opaque,9,300,0.1,,\r\n"
    "Sun,round 8/0,#f4d35e,metallic,9,300,0.1,,\r\nFoam,round 8/0,#e8f1f2,opaque,9,900,0.05,,\r\n"
    "Ink,round 11/0,#101018,opaque,5,600,0.2,,\r\nRose,round 11/0,#d98ba8,matte,5,600,0.2,,\r\n"
    "Slate,cube 3,#39424b,matte,40,800,0.02,,\r\n"
)
_ROSTER = "name,snug,ease,picks,colours\nWren,152 mm,10 mm,,\nIda,6 in,,Ember;Deep,\n"
# Files that one program's run leaves beside a shelf: SQLite's own, and our copies of it.
_BESIDE_A_SHELF = ("-wal", "-shm", "-journal")


def make(place: Path) -> None:
    """Fill a folder with what the lines name, but for what cannot be copied; see ``special``."""
    place.mkdir(parents=True)
    for name, content in {**FILES, **dict(_good()), **dict(_bad())}.items():
        (place / name).write_bytes(content)
    for version in range(1, 6):
        shutil.copyfile(_REFERENCE / f"shelves/v{version}.sqlite3", place / f"v{version}.sqlite3")
    own = place / "own.sqlite3"
    damage.build(own, 3)
    with closing(sqlite3.connect(own)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    entries, _ = all_entries(Shelf(own))
    (place / "shelf.zip").write_bytes(to_archive(entries[:3]))
    (place / "broken.zip").write_bytes(damage.damaged((place / "shelf.zip").read_bytes(), 5))
    for seed in range(1, 4):
        (place / f"damaged-{seed}.sqlite3").write_bytes(damage.damaged(own.read_bytes(), seed))
    with closing(sqlite3.connect(place / "another's.sqlite3")) as other:
        other.execute("CREATE TABLE notes (words TEXT)")
    shutil.copyfile(own, place / "newer.sqlite3")
    with closing(sqlite3.connect(place / "newer.sqlite3")) as newer:
        newer.execute("PRAGMA user_version = 99")
    for path in place.glob("*.sqlite3-*"):
        path.unlink()


def special(place: Path) -> None:
    """What is no file and no copy: folders, pipes, links and a file of holes."""
    for name in ("folder", "folder.png"):
        (place / name).mkdir()
    for name in ("fifo", "fifo.png"):
        os.mkfifo(place / name)
    (place / "loop").symlink_to("loop")
    (place / "dangling").symlink_to("nowhere")
    with (place / "huge.json").open("wb") as file:
        # Three gigabytes that take no room.
        file.truncate(3_000_000_000)


def _good() -> Iterator[tuple[str, bytes]]:
    small = to_json(_small()).encode()
    yield "small.json", small
    yield "a small piece ✿.json", b"\xef\xbb\xbf" + small
    for name in ("proposed", "everything"):
        yield f"{name}.json", (_REFERENCE / f"pieces/v1-{name}.json").read_bytes()
    for start in ("", "a "):
        yield f"{start}tray.csv", (_TRAY if not start else _TRAY.replace(",", ";")).encode()
        yield f"{start}roster.csv", _ROSTER.encode() if not start else b"Wren;150 - 165 mm\n"
    yield "photo.jpg", (_REFERENCE / "shelves/photograph.jpg").read_bytes()
    colours = np.random.default_rng(1).integers(0, 255, (5, 6, 3)).repeat(8, 0).repeat(8, 1)
    for name, kind in (("photo.png", "PNG"), ("a photo.webp", "WEBP")):
        out = io.BytesIO()
        Image.fromarray(colours.astype(np.uint8)).save(out, format=kind)
        yield name, out.getvalue()


def _small() -> Piece:
    kinds = bead_kinds()
    beads = tuple(
        Bead(name=name, kind=kinds[kind], hex=hex_)
        for name, kind, hex_ in (
            ("Ember", "round 8/0", "#d7263d"), ("Deep", "round 8/0", "#1b998b"),
            ("Slate", "cube 3", "#39424b"),
        )
    )  # fmt: skip
    design = build(
        beads=beads, base=2, base_pitch_mm=3.0, profiles=((1, 2, 1),), order=(0, 1, 0, 1),
        divider_base_beads=1, divider_hangs=(0,),
    )  # fmt: skip
    return piece_of(design=design, name="A small piece", wearer=Wearer(snug_mm=45.0, ease_mm=6.0))


def _bad() -> Iterator[tuple[str, bytes]]:
    small = to_json(_small()).encode()
    for name, content, seeds in (
        ("json", small, range(1, 5)), ("csv", (_TRAY + _ROSTER).encode(), range(1, 4)),
    ):  # fmt: skip
        for seed in seeds:
            yield f"broken-{seed}.{name}", damage.damaged(content, seed)
    yield "faults.csv", (_TRAY + "Mist,no kind,#zz,,,,,,\r\n").encode()
    yield "bomb.png", png_bomb(60_000, 60_000)
    yield "text.png", text_bomb()
    photo = (_REFERENCE / "shelves/photograph.jpg").read_bytes()
    yield "broken.jpg", photo[: len(photo) // 2]


State = dict[str, tuple[int, ...]]


def seen(root: Path) -> State:
    """All files beneath a folder, each with what changes when it is written."""
    found: State = {}
    folders = [str(root)]
    while folders:
        with os.scandir(folders.pop()) as entries:
            for entry in entries:
                told = entry.stat(follow_symlinks=False)
                if stat.S_ISDIR(told.st_mode):
                    folders.append(entry.path)
                    found[entry.path] = (told.st_mode,)
                else:
                    found[entry.path] = (
                        told.st_mode, told.st_size, told.st_mtime_ns, told.st_ino
                    )  # fmt: skip
    return found


def is_shelf(path: str, shelves: set[str]) -> bool:
    """Whether a file is one of these shelves, SQLite's beside it, or a copy of ours."""
    folder, name = os.path.split(path)
    for shelf in shelves:
        home, own = os.path.split(shelf)
        stem = own.rpartition(".")[0] or own
        if folder == home and (
            name in (own, *(own + more for more in _BESIDE_A_SHELF))
            or (name.startswith((f"{stem}-version-", f"{stem}-copy-")))
        ):
            return True
        # The folders on the way to it.
        if shelf.startswith(path + os.sep):
            return True
    return False


def half(path: Path) -> str:
    """What is wrong with a file that was written; empty for nothing."""
    try:
        content = path.read_bytes()
        _whole(path, content)
    except (OSError, ValueError, SyntaxError, zipfile.BadZipFile, sqlite3.Error) as error:
        return f"{path.name} is half written: {type(error).__name__}: {error}"
    return ""


# How a file begins that says so, and how it ends when it is whole.
_ENDS = ((b"\x89PNG", b"IEND\xaeB`\x82"), (b"%PDF", b"%%EOF\n"), (b"", b"\n"))


def _whole(path: Path, content: bytes) -> None:
    """Raises what a file's reader raises where something of it is missing."""
    if content.startswith(b"PK"):
        if zipfile.ZipFile(io.BytesIO(content)).testzip() is not None:
            raise ValueError("no whole archive")
    elif content.startswith(b"SQLite format 3"):
        with closing(sqlite3.connect(path)) as connection:
            (told,) = connection.execute("PRAGMA quick_check").fetchone()
        if told != "ok":
            raise ValueError(told)
    elif content.startswith(b"<"):
        ET.fromstring(content)  # noqa: S314 - a file of ours
    elif content.startswith(b"{"):
        json.loads(content)
    else:
        ends = (end for start, end in _ENDS if content.startswith(start))
        if not content.endswith(next(ends)):
            raise ValueError("no end")
        if path.suffix.lower() == ".toml":
            tomllib.loads(content.decode())


def damaged_shelf(rng: random.Random, own: Path) -> None:
    """Now and then the maker's own shelf is of another version, damaged, or not there."""
    kind = rng.random()
    own.parent.mkdir(parents=True, exist_ok=True)
    if kind < 0.06:
        return
    if kind < 0.16:
        shutil.copyfile(_REFERENCE / f"shelves/v{rng.randint(1, 5)}.sqlite3", own)
    elif kind < 0.26:
        own.write_bytes(damage.damaged((_REFERENCE / "shelves/v5.sqlite3").read_bytes(),
                                       rng.randrange(10**6)))  # fmt: skip
