"""A shelf of the last program of version 1: its pieces are there, and can be handed on."""

import json
from pathlib import Path

import pytest

from explorer.piece import VERSION, VERSION_KEY, from_json
from explorer.shelf import Shelf
from explorer.shelf_archive import from_archive, to_archive
from explorer.shelf_import import put_new
from explorer.shelf_json import entry_of
from explorer.shelf_rescue import rescue
from tests.reference.version_1 import check, kept, shelf_at


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(shelf_at(tmp_path / "shelf.sqlite3"))


def test_its_pieces_open_bead_by_bead(shelf: Shelf) -> None:
    found = shelf.find()
    assert len(found) == 30
    assert {saved.document for saved in found} <= {one.piece for one in kept()}
    for saved in found:
        check(json.loads(saved.document), from_json(saved.document))
    assert sum(saved.making.minutes is not None for saved in found) == 6
    assert shelf.standing().apart == ()


def test_an_archive_of_it_holds_rules_and_is_known_where_the_beads_stand(
    shelf: Shelf, tmp_path: Path
) -> None:
    old = {(saved.name, saved.saved): saved for saved in shelf.find()}
    given = from_archive(to_archive([entry_of(saved) for saved in old.values()]), "it")
    assert len(given) == 30
    for entry in given:
        assert json.loads(entry.document)[VERSION_KEY] == VERSION
        before = old[entry.name, entry.saved]
        check(json.loads(before.document), from_json(entry.document))
        assert (entry.who, entry.notes, entry.making) == (before.who, before.notes, before.making)
    done = put_new(shelf, given)
    assert (done.numbers, done.already) == ((), 30)
    done = put_new(Shelf(tmp_path / "new.sqlite3"), given)
    assert (len(done.numbers), done.already) == (30, 0)


def test_it_is_rescued_though_damaged(shelf: Shelf, tmp_path: Path) -> None:
    path, new = shelf_at(tmp_path / "damaged.sqlite3"), tmp_path / "new.sqlite3"
    content = bytearray(path.read_bytes())
    content[100] ^= 0x40
    path.write_bytes(content)
    done = rescue(path, new)
    assert done.damage
    assert (done.pieces, done.apart) == (30, ())
    texts = sorted(saved.document for saved in Shelf(new).find())
    assert texts == sorted(saved.document for saved in shelf.find())
