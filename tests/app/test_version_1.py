"""A table of the last program of version 1: what lies on it, and what can be taken back."""

import json
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from explorer import shelf_tables
from explorer.app.kept import from_text
from explorer.app.kept_steps import Packer
from explorer.app.state import History, redone, undone
from explorer.shelf import Shelf
from tests.reference.version_1 import MARK, check, shelf_at

PRESENT, PAST, FUTURE = range(3)


@pytest.fixture
def table(tmp_path: Path) -> shelf_tables.Kept:
    found = shelf_tables.kept(Shelf(shelf_at(tmp_path / "shelf.sqlite3")), MARK)
    assert found is not None
    return found


def steps(content: bytes) -> Iterator[tuple[int, dict[str, Any]]]:
    """What was packed, read by the standard library alone; the nearest comes first."""
    at, near = len(b"dw-steps-1"), {PRESENT: b""}
    while at < len(content):
        side, length = struct.unpack_from(">BI", content, at)
        at += 5
        spread = zlib.decompressobj(zdict=near[side]) if near[side] else zlib.decompressobj()
        text = spread.decompress(content[at : at + length])
        at += length
        near = {PAST: text, FUTURE: text} if side == PRESENT else {**near, side: text}
        yield side, json.loads(text)


def test_the_piece_lies_there_with_its_boxes_and_colours(table: shelf_tables.Kept) -> None:
    document = json.loads(table.document)
    work, stitch = from_text(table.document)
    check(json.loads(document["piece"]), work.piece)
    assert stitch == document["stitch"] == 17
    assert work.sizing.snug == document["sizing"]["snug"]
    assert work.sizing.dangles == document["sizing"]["dangles"]
    assert [swatch.hex for swatch in work.tray.swatches] == [
        swatch["hex"] for swatch in document["swatches"]
    ]


def test_twenty_steps_can_be_taken_back_and_four_again(table: shelf_tables.Kept) -> None:
    written = list(steps(table.steps))
    work, _ = from_text(table.document)
    history = Packer().unpacked(table.steps, work)
    assert (len(history.past), len(history.future)) == (20, 4)
    for side, step in ((PAST, undone), (FUTURE, redone)):
        now: History = history
        for document in (one for found, one in written if found == side):
            now = step(now)
            check(json.loads(document["piece"]), now.now.piece)
