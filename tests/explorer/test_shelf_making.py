"""The shelf's own words of a piece: its making, photographs, and the copy before an upgrade."""

import io
import sqlite3
from pathlib import Path

import pytest
from PIL import Image

from explorer import shelf_figures, shelf_photographs
from explorer.errors import BriefError
from explorer.shelf import MIGRATIONS, VERSION, Shelf, ShelfError
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Entry, Making
from explorer.shelf_generations import MOST_COPIES, Kind, held
from tests.robust.crash_child import change


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "shelf.sqlite3")


def photo(*, place: bool = False, shade: int = 60) -> bytes:
    out = io.BytesIO()
    image = Image.new("RGB", (1600, 900), (200, 80, shade))
    exif = Image.Exif()
    if place:
        # GPSInfo, latitude (CIPA DC-008, 4.6.6)
        exif.get_ifd(0x8825)[2] = (51.0, 30.0, 0.0)
        exif[0x010F] = "Some camera"
    image.save(out, format="JPEG", exif=exif)
    return out.getvalue()


def test_the_making_is_remembered_and_searched(shelf: Shelf) -> None:
    number = shelf.put("one", "{}")
    making = Making(made="2025-03-14", minutes=345, lots="Coral 4471")
    change(shelf, number, who="Wren", made=making.made, minutes=345, lots=making.lots)
    saved = shelf.get(number)
    assert saved is not None
    assert saved.making == making
    assert len(shelf.find("4471 wren")) == 1
    change(shelf, number, name="two")
    saved = shelf.get(number)
    assert saved is not None
    assert (saved.name, saved.making) == ("two", making)


@pytest.mark.parametrize(
    ("field", "value"),
    [("made", "14th of March"), ("made", "2025-02-30"), ("minutes", -1), ("minutes", 10**9),
     ("lots", "x" * 2001)],
)  # fmt: skip
def test_a_making_that_cannot_be_is_refused(field: str, value: object) -> None:
    with pytest.raises(BriefError) as raised:
        Making(**{field: value})  # type: ignore[arg-type]
    assert raised.value.field == field


def test_a_photograph_leaves_its_place_behind(shelf: Shelf) -> None:
    number = shelf.put("one", "{}")
    given = photo(place=True)
    assert Image.open(io.BytesIO(given)).getexif().get_ifd(0x8825)
    added = shelf_photographs.add(shelf, number, given)
    (held,) = shelf_photographs.of_piece(shelf, number)
    assert held.number == added
    image = Image.open(io.BytesIO(held.jpeg))
    assert (image.format, image.size) == ("JPEG", (1200, 675))
    assert len(image.getexif()) == 0
    assert b"Some camera" not in held.jpeg


def test_photographs_are_bounded_and_checked(shelf: Shelf) -> None:
    number = shelf.put("one", "{}")
    with pytest.raises(BriefError) as caught:
        shelf_photographs.add(shelf, number, b"no picture", "list.jpg")
    assert caught.value.got == "list.jpg"
    for _ in range(MOST_PHOTOGRAPHS):
        shelf_photographs.add(shelf, number, photo())
    with pytest.raises(BriefError, match="at most"):
        shelf_photographs.add(shelf, number, photo())
    held = shelf_photographs.of_piece(shelf, number)
    assert len(held) == MOST_PHOTOGRAPHS
    shelf_photographs.take_off(shelf, held[0].number)
    assert shelf_photographs.of_piece(shelf, number) == held[1:]
    assert shelf_photographs.add(shelf, 999, photo()) is None


def test_many_saved_at_once_are_saved_whole_or_not_at_all(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    entries = [Entry(name=str(number), document="{}") for number in range(5)]
    assert shelf.put_all(entries[:2]) == (1, 2)
    from explorer import shelf as module

    real = module._put

    def fails(connection: sqlite3.Connection, entry: Entry) -> int:
        if entry.name == "4":
            raise sqlite3.OperationalError("database or disk is full")
        return real(connection, entry)

    monkeypatch.setattr(module, "_put", fails)
    with pytest.raises(ShelfError, match="disk is full"):
        shelf.put_all(entries[2:])
    assert len(shelf.find()) == 2


def old_shelf(path: Path, version: int) -> None:
    connection = sqlite3.connect(path)
    for step in MIGRATIONS[:version]:
        step(connection)
    connection.execute(
        "INSERT INTO pieces (name, who, notes, saved, document) VALUES ('old', '', '', 'x', '{}')"
    )
    connection.execute(f"PRAGMA user_version = {version}")
    connection.commit()
    connection.close()


def written(path: Path) -> None:
    """A change of a shelf, though of nothing in it; reading leaves an older one as it is."""
    with Shelf(path).transaction():
        pass


@pytest.mark.parametrize("version", range(1, VERSION))
def test_an_older_shelf_is_copied_before_it_is_changed(tmp_path: Path, version: int) -> None:
    path = tmp_path / "shelf.sqlite3"
    old_shelf(path, version)
    written(path)
    assert [saved.name for saved in Shelf(path).find()] == ["old"]
    copies = [p for p in tmp_path.iterdir() if "version" in p.name]
    assert [p.name for p in copies] == [f"shelf-version-{version}.sqlite3"]
    with sqlite3.connect(copies[0]) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (version,)
        assert connection.execute("SELECT name FROM pieces").fetchall() == [("old",)]
    connection.close()
    # Nothing more is copied, and no copy is written over.
    written(path)
    old = tmp_path / "again.sqlite3"
    old_shelf(old, version)
    (tmp_path / f"again-version-{version}.sqlite3").write_text("mine")
    written(old)
    assert (tmp_path / f"again-version-{version}.sqlite3").read_text() == "mine"
    assert (tmp_path / f"again-version-{version}-1.sqlite3").stat().st_size > 0


def test_copies_before_upgrades_make_way_as_those_of_days_do(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    # Higher versions first: what came last is known by its count, not by its version.
    versions = [1 + n % (VERSION - 1) for n in range(MOST_COPIES + 4)][::-1]
    for version in versions:
        path.unlink(missing_ok=True)
        old_shelf(path, version)
        written(path)
    copies = held(path, Kind.UPGRADE)
    assert [copy.name for copy in copies] == [
        f"shelf-version-{versions[count]}-{count}.sqlite3"
        for count in reversed(range(4, MOST_COPIES + 4))
    ]
    assert {one for one in tmp_path.iterdir() if "-version-" in one.name} == set(copies)


def test_an_upgrade_that_is_taken_back_pushes_no_copy_out(tmp_path: Path) -> None:
    path = tmp_path / "shelf.sqlite3"
    old_shelf(path, 1)
    for _ in range(MOST_COPIES + 1):
        with pytest.raises(KeyError), Shelf(path).transaction():
            raise KeyError
    assert held(path, Kind.UPGRADE) == ()
    written(path)
    assert [saved.name for saved in Shelf(path).find()] == ["old"]
    assert [copy.name for copy in held(path, Kind.UPGRADE)] == ["shelf-version-1.sqlite3"]


def test_without_a_copy_an_older_shelf_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "shelf.sqlite3"
    old_shelf(path, 1)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("gallery.files.write_bytes", full)
    with pytest.raises(ShelfError, match="No space left"):
        written(path)
    with sqlite3.connect(path) as connection:
        assert connection.execute("PRAGMA user_version").fetchone() == (1,)
    connection.close()


def test_figures_are_kept_by_name(shelf: Shelf) -> None:
    assert shelf_figures.kept(shelf, "prices") is None
    shelf_figures.keep(shelf, "prices", "1")
    shelf_figures.keep(shelf, "prices", "2")
    assert shelf_figures.kept(shelf, "prices") == "2"
