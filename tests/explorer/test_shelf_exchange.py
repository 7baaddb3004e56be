"""Pieces in and out of the shelf: JSON, archives, hostile archives, and the command."""

import errno
import io
import json
import os
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from explorer import shelf_archive, shelf_photographs
from explorer.__main__ import main
from explorer.piece import from_json
from explorer.shelf import Shelf
from explorer.shelf_archive import INDEX, from_archive, readable, to_archive
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Entry, Making, Photograph
from explorer.shelf_import import entries_in, put_new
from explorer.shelf_json import from_text, to_text
from palettes.errors import ChartError
from tests.explorer.test_shelf_making import photo

Capture = pytest.CaptureFixture[str]
ROOT = Path(__file__).parents[2]
DOCUMENT = (ROOT / "tests/reference/pieces/v1-everything.json").read_text("utf-8")
SCHEMA = json.loads((ROOT / "explorer/data/piece-2.schema.json").read_text("utf-8"))
MAKING = Making(made="2025-03-14", minutes=345, lots="Coral 4471")


def entry(name: str = "Harbour", **changes: Any) -> Entry:
    plain = Entry(
        name=name,
        who="Ολυμπία",
        notes="long tail",
        saved="2025-03-15T10:00:00.000000+00:00",
        making=MAKING,
        document=from_text(DOCUMENT, "it").document,
    )
    return replace(plain, **changes)


def test_one_piece_comes_back_as_it_was() -> None:
    text = to_text(entry())
    assert from_text(text, "it") == entry()
    # and it is a saved piece like any other, by the published schema
    jsonschema.validate(json.loads(text), SCHEMA)
    assert from_json(text) == from_json(DOCUMENT)


def test_a_piece_that_never_stood_on_a_shelf_brings_its_own_name() -> None:
    found = from_text(DOCUMENT, "it")
    piece = from_json(DOCUMENT)
    assert (found.name, found.notes, found.who) == (piece.name, piece.notes, "")


@pytest.mark.parametrize(
    "own",
    ["5", '{"name": ""}', '{"name": "a", "minutes": "long"}', '{"name": "a", "made": "soon"}',
     '{"name": "a", "minutes": 1e400}', '{"name": "\\ud800"}', '{"name": "a", "who": 3}',
     '{"name": "a", "minutes": -4}', "[]"],
)  # fmt: skip
def test_words_of_a_shelf_that_cannot_be_are_refused(own: str) -> None:
    text = DOCUMENT.strip().removesuffix("}") + f', "shelf": {own}}}'
    with pytest.raises(ChartError):
        from_text(text, "it")


def test_an_archive_comes_back_with_its_photographs() -> None:
    jpeg = shelf_photographs.as_jpeg(photo())
    given = (
        entry(photographs=(Photograph(added="2025-03-16", jpeg=jpeg),)),
        entry("Second", making=Making()),
    )
    content = to_archive(given)
    assert content == to_archive(given)
    found = from_archive(content, "it")
    assert [replace(one, photographs=()) for one in found] == [
        replace(one, photographs=()) for one in given
    ]
    (shown,) = found[0].photographs
    assert shown.added == "2025-03-16"
    assert shown.jpeg.startswith(b"\xff\xd8")


def test_what_cannot_be_read_is_left_out_and_told() -> None:
    good, faults = readable([entry(), entry("Broken", document="{")])
    assert [one.name for one in good] == ["Harbour"]
    assert [fault.path for fault in faults] == ["Broken"]


def packed(parts: dict[str, bytes], **options: Any) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content, **options)
    return out.getvalue()


def index(*rows: dict[str, Any]) -> bytes:
    return json.dumps({"danglewise_shelf": 1, "pieces": list(rows)}).encode()


ROW = {"file": "pieces/0001.json", "photographs": []}
PIECE = DOCUMENT.encode()


def _twice() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr(INDEX, index())
        with pytest.warns(UserWarning, match="Duplicate"):
            archive.writestr(INDEX, index(ROW))
    return out.getvalue()


def _lying_about_its_size() -> bytes:
    """A part whose headers say ten bytes and whose content is far more."""
    bomb = packed({INDEX: b'{"pieces": "' + b"x" * 30_000_000 + b'"}'})
    return bomb.replace((30_000_014).to_bytes(4, "little"), (10).to_bytes(4, "little"))


HOSTILE: dict[str, Callable[[], bytes]] = {
    "a way up": lambda: packed({INDEX: index(), "../../evil.json": PIECE}),
    "a path from the root": lambda: packed({INDEX: index(), "/etc/passwd": b"x"}),
    "a drive": lambda: packed({INDEX: index(), "C:\\evil.json": b"x"}),
    "a way up inside": lambda: packed({INDEX: index(), "pieces/../../0001.json": PIECE}),
    "another part": lambda: packed({INDEX: index(), "run.sh": b"x"}),
    "an index to elsewhere": lambda: packed({INDEX: index({"file": "../x", "photographs": []})}),
    "an index to nothing": lambda: packed({INDEX: index(ROW)}),
    "one piece twice": lambda: packed({INDEX: index(ROW, ROW), "pieces/0001.json": PIECE}),
    "no index": lambda: packed({"pieces/0001.json": PIECE}),
    "a part twice": _twice,
    "a bomb": lambda: packed({INDEX: b" " * 40_000_000}),
    "a bomb of a piece": lambda: packed({INDEX: index(ROW), "pieces/0001.json": b" " * 40_000_000}),
    "a lie about its size": _lying_about_its_size,
    "packed otherwise": lambda: packed({INDEX: index()}, compress_type=zipfile.ZIP_LZMA),
    "deep lists": lambda: packed({INDEX: b"[" * 100_000}),
    "no table": lambda: packed({INDEX: b"[]"}),
    "newer": lambda: packed({INDEX: b'{"danglewise_shelf": 2, "pieces": []}'}),
    "cut short": lambda: to_archive([entry()])[:-40],
    "changed": lambda: to_archive([entry()]).replace(b"pieces/0001", b"pieces/0009", 1),
    "a piece that is none": lambda: packed({INDEX: index(ROW), "pieces/0001.json": b"{}"}),
    "no text": lambda: packed({INDEX: index(ROW), "pieces/0001.json": b"\xff\xfe\x00"}),
    "no photograph": lambda: packed(
        {
            INDEX: index({**ROW, "photographs": [{"file": "photographs/0001-1.jpg", "added": ""}]}),
            "pieces/0001.json": PIECE,
            "photographs/0001-1.jpg": b"<svg onload=x>",
        }
    ),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_archive_is_refused_and_nothing_changes(kind: str, tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    shelf.put("mine", DOCUMENT)
    before = sorted(tmp_path.iterdir())
    with pytest.raises(ChartError):
        put_new(shelf, entries_in(HOSTILE[kind](), "it"))
    assert [saved.name for saved in shelf.find()] == ["mine"]
    assert sorted(tmp_path.iterdir()) == before


def test_what_stands_there_is_not_put_there_twice(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    given = (entry(), entry("Second"))
    assert put_new(shelf, given).numbers == (1, 2)
    again = put_new(shelf, (*given, entry("Third")))
    assert (len(again.numbers), again.already) == (1, 2)
    assert len(shelf.find()) == 3


def test_a_piece_that_was_written_otherwise_is_known_again(tmp_path: Path) -> None:
    """As an earlier version wrote it; an archive brings it as this one writes it."""
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    older = entry(document=json.dumps(json.loads(DOCUMENT), indent=7))
    shelf.put_all([older])
    done = put_new(shelf, from_archive(to_archive([older]), "it"))
    assert (done.numbers, done.already) == ((), 1)


def test_photographs_of_a_piece_that_stands_there_are_added_to_it(tmp_path: Path) -> None:
    jpegs = [shelf_photographs.as_jpeg(photo(shade=shade)) for shade in range(4)]
    full = tuple(Photograph(added=f"2025-03-1{at}", jpeg=jpeg) for at, jpeg in enumerate(jpegs))
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    shelf.put_all([entry(), entry("Second", photographs=full[:1])])
    given = from_archive(
        to_archive([entry(photographs=full), entry("Second", photographs=full[:2])]), "it"
    )
    done = put_new(shelf, given)
    assert (done.numbers, done.already, done.photographs, done.left_out) == ((), 2, 5, ())
    assert done.words == (
        "0 pieces put on the shelf, 2 stood there before, 5 photographs added to pieces that "
        "stood there"
    )
    for number, count in ((1, 4), (2, 2)):
        held = shelf_photographs.of_piece(shelf, number)
        assert [(one.added, one.jpeg) for one in held] == [
            (one.added, one.jpeg) for one in full[:count]
        ]
    # A second time there is nothing to add.
    assert put_new(shelf, given).photographs == 0


def test_an_older_photograph_is_not_added_a_second_time(tmp_path: Path) -> None:
    """One that an archive brings written anew, since it is not as this version writes it."""
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    older = photo()
    assert shelf_photographs.as_jpeg(older) != older
    given = (entry(photographs=(Photograph(added="2025-03-16", jpeg=older),)),)
    put_new(shelf, given)
    assert put_new(shelf, from_archive(to_archive(given), "it")).photographs == 0


def test_photographs_beyond_the_room_are_told_as_left_out(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    many = tuple(Photograph(added="x", jpeg=f"{at}".encode()) for at in range(MOST_PHOTOGRAPHS))
    shelf.put_all([entry(photographs=many[2:])])
    done = put_new(shelf, (entry(photographs=(*many[:2], Photograph(added="x", jpeg=b"more"))),))
    assert done.photographs == 2
    (told,) = done.left_out
    assert str(told) == (
        "Harbour, piece 1: 1 of its photographs: a piece has at most 12. Take some off first"
    )
    assert len(shelf_photographs.of_piece(shelf, 1)) == MOST_PHOTOGRAPHS


def test_two_equal_pieces_of_an_archive_stay_two(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    seen = tuple(Photograph(added="x", jpeg=name) for name in (b"a", b"b"))
    given = (entry(), entry(photographs=seen[:1]), entry("Second"))
    # One file named twice is no reason to put its pieces there twice.
    done = put_new(shelf, given, given)
    assert (len(done.numbers), done.already, done.again) == (3, 0, 3)
    # Each is known again by its photographs, whatever their order.
    done = put_new(shelf, (entry(photographs=seen), entry()))
    assert (done.numbers, done.already, done.photographs) == ((), 2, 1)
    counts = [len(shelf_photographs.of_piece(shelf, number)) for number in done_numbers(shelf)]
    assert sorted(counts) == [0, 0, 2]
    # A third one is new.
    assert put_new(shelf, (entry(),) * 3).already == 2
    assert len(shelf.find()) == 4


def damaged(content: bytes, part: str) -> bytes:
    """An archive with a flip in a part's bytes, behind its local head (PKWARE APPNOTE 4.3.7)."""
    at = content.index(part.encode()) + len(part) + 20
    return content[:at] + bytes([content[at] ^ 0xFF]) + content[at + 1 :]


@pytest.mark.parametrize(
    ("part", "numbers", "photographs"),
    [("pieces/0001.json", 1, 0), ("photographs/0001-1.jpg", 2, 1)],
)
def test_a_damaged_part_is_named_by_its_piece_and_ends_with_2(
    part: str, numbers: int, photographs: int, tmp_path: Path, capsys: Capture
) -> None:
    jpegs = [shelf_photographs.as_jpeg(photo(shade=shade)) for shade in (1, 2)]
    own = tuple(Photograph(added="2025-03-16", jpeg=jpeg) for jpeg in jpegs)
    path, there = tmp_path / "all.zip", str(tmp_path / "there.sqlite3")
    path.write_bytes(damaged(to_archive([entry(photographs=own), entry("Second")]), part))
    done = run(capsys, "import", str(path), "--shelf", there, code=2)
    assert len(done["numbers"]) == numbers
    (told,) = done["left_out"]
    assert told.startswith(f"{path}, {part} of 'Harbour': it cannot be unpacked (")
    assert (done["error"]["field"], done["error"]["got"]) == ("files", str(path))
    remedy = done["error"]["remedy"]
    assert remedy.startswith("Mend what is said there, or export those pieces anew")
    held = shelf_photographs.of_pieces(Shelf(Path(there)), done["numbers"])
    assert sum(map(len, held.values())) == photographs
    assert main(["shelf", "import", str(path), "--shelf", there]) == 2
    captured = capsys.readouterr()
    assert f"left out: {told}" in captured.out
    assert captured.err.rstrip().endswith(remedy)


def test_nothing_more_is_unpacked_once_the_room_is_used_up(monkeypatch: pytest.MonkeyPatch) -> None:
    name, content = "photographs/0001-1.jpg", shelf_photographs.as_jpeg(photo())
    rows = [
        {"file": f"pieces/000{at}.json", "photographs": [{"file": name, "added": ""}] * 2}
        for at in (1, 2)
    ]
    pieces: dict[str, bytes] = {str(row["file"]): PIECE for row in rows}
    monkeypatch.setattr(shelf_archive, "_MOST_TOTAL_BYTES", 500 + len(PIECE) + len(content))
    asked, read = list[int](), zipfile.ZipExtFile.read

    def noted(part: zipfile.ZipExtFile, most: int) -> bytes:
        asked.append(most)
        return read(part, most)

    monkeypatch.setattr(zipfile.ZipExtFile, "read", noted)
    with pytest.raises(ChartError):
        from_archive(packed({INDEX: index(*rows), name: content, **pieces}), "it", [])
    # A negative number would unpack all of a part, however much that is.
    assert len(asked) > 2
    assert min(asked) > 0


def test_of_several_files_one_that_is_wrong_is_left_out_and_named(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("one.json").write_text(to_text(entry()), "utf-8")
    Path("cut.json").write_text(to_text(entry())[:99], "utf-8")
    Path("two.zip").write_bytes(to_archive([entry("Second"), entry("Third")]))
    named = ("import", "one.json", "cut.json", "lacking.zip", "two.zip", "--shelf", "s.sqlite3")
    done = run(capsys, *named, code=2)
    assert done["came_in"] == ["one.json", "two.zip"]
    assert len(done["numbers"]) == 3
    cut, lacking = done["left_out"]
    assert cut.startswith("cut.json, the file: ")
    assert lacking.startswith("lacking.zip: ")
    assert main(["shelf", *named]) == 2
    assert "\ncame in: one.json, two.zip\nleft out: cut.json" in capsys.readouterr().out
    assert main(["shelf", "import", "cut.json", "lacking.zip", "--shelf", "new.sqlite3"]) == 2
    assert not Path("new.sqlite3").exists()
    assert "\nnone came in\nleft out: cut.json" in capsys.readouterr().out


def test_a_new_shelf_that_an_import_makes_is_told(capsys: Capture, tmp_path: Path) -> None:
    path, at = tmp_path / "one.json", tmp_path / "new" / "s.sqlite3"
    path.write_text(to_text(entry()), "utf-8")
    done = run(capsys, "import", str(path), "--shelf", str(at))
    told = f"there was no shelf there; a new one was made at {at}"
    assert done["changed"] == [told]
    assert run(capsys, "import", str(path), "--shelf", str(at))["changed"] == []
    at.unlink()
    assert main(["shelf", "import", str(path), "--shelf", str(at)]) == 0
    assert told in capsys.readouterr().out


def three() -> bytes:
    photograph = Photograph(added="2025-03-16", jpeg=shelf_photographs.as_jpeg(photo()))
    return to_archive([entry(), entry("Second", photographs=(photograph,)), entry("Third")])


def without(content: bytes, *left_out: str) -> bytes:
    """The archive without some of its parts."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return packed(
            {name: archive.read(name) for name in archive.namelist() if name not in left_out}
        )


def flipped(content: bytes, part: str) -> bytes:
    """The archive with a bit of one part changed."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        at = archive.getinfo(part).header_offset + 30 + len(part) + 9
    return content[:at] + bytes([content[at] ^ 4]) + content[at + 1 :]


def cut_in(content: bytes, part: str) -> bytes:
    """The archive as far as into one part."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return content[: archive.getinfo(part).header_offset + 60]


@pytest.mark.parametrize(
    ("damage", "names", "photographs", "told"),
    [
        (lambda whole: without(whole, INDEX), 3, 1, [INDEX]),
        (lambda whole: flipped(whole, INDEX), 3, 1, [INDEX]),
        (lambda whole: without(whole, INDEX, "pieces/0002.json"), 2, 0, ["pieces/0002.json"]),
        (lambda whole: flipped(whole, "pieces/0002.json"), 2, 0, ["pieces/0002.json"]),
        (lambda whole: flipped(whole, "photographs/0002-1.jpg"), 3, 0, ["photographs/0002-1"]),
        (lambda whole: cut_in(whole, "pieces/0003.json"), 2, 1, ["pieces/0003.json: it is cut"]),
        (lambda whole: cut_in(whole, "photographs/0002-1.jpg"), 2, 0, ["photographs/0002-1.jpg"]),
        (lambda whole: cut_in(whole, INDEX), 3, 1, ["no whole ZIP archive", INDEX]),
        (lambda whole: whole[:-10], 3, 1, ["no whole ZIP archive"]),
    ],
)
def test_whatever_is_whole_in_a_damaged_archive_comes_in_and_the_rest_is_told(
    damage: Callable[[bytes], bytes],
    names: int,
    photographs: int,
    told: list[str],
    capsys: Capture,
    tmp_path: Path,
) -> None:
    path, at = tmp_path / "all.zip", ("--shelf", str(tmp_path / "s.sqlite3"))
    path.write_bytes(damage(three()))
    done = run(capsys, "import", str(path), *at, code=2)
    assert len(done["numbers"]) == names
    shelf = Shelf(tmp_path / "s.sqlite3")
    assert {one.name for one in shelf.find()} <= {"Harbour", "Second", "Third"}
    held = shelf_photographs.of_pieces(shelf, done["numbers"])
    assert sum(map(len, held.values())) == photographs
    for words in told:
        assert words in " ".join(done["left_out"])
    assert done["error"]["field"] == "files"


def done_numbers(shelf: Shelf) -> list[int]:
    return [saved.number for saved in shelf.find()]


def run(capsys: Capture, *arguments: str, code: int = 0) -> dict[str, Any]:
    assert main(["shelf", *arguments, "--json"]) == code
    captured = capsys.readouterr()
    assert captured.err == ""
    found: dict[str, Any] = json.loads(captured.out)
    return found


def test_the_command_takes_a_shelf_from_one_place_to_another(
    capsys: Capture, tmp_path: Path
) -> None:
    here, there = str(tmp_path / "here.sqlite3"), str(tmp_path / "there.sqlite3")
    shelf = Shelf(Path(here))
    number = shelf.put_all([entry(), entry("Second", who="Wren")])[0]
    shelf_photographs.add(shelf, number, photo())
    listed = run(capsys, "list", "--shelf", here)["pieces"]
    assert {one["name"] for one in listed} == {"Harbour", "Second"}
    assert [one["name"] for one in run(capsys, "list", "wren", "--shelf", here)["pieces"]] == [
        "Second"
    ]
    out = str(tmp_path / "all.zip")
    done = run(capsys, "export", "--out", out, "--shelf", here)
    assert (done["pieces"], done["photographs"], done["left_out"]) == (2, 1, [])
    assert {"beads at hand", "pieces thrown away"} < set(done["not_taken"])
    single = str(tmp_path / "single.zip")
    assert run(capsys, "export", "1", "--out", single, "--shelf", here)["not_taken"] == []
    assert main(["shelf", "export", "--out", out, "--shelf", here]) == 0
    told = capsys.readouterr().out
    assert f"2 pieces and 1 photograph in {out}" in told
    assert (
        "Not in it: beads at hand, what lies on the table, figures of your own and pieces thrown "
        f"away. To take all of it along, close the app and copy {here}." in told
    )
    assert len(run(capsys, "import", out, "--shelf", there)["numbers"]) == 2
    assert run(capsys, "import", out, "--shelf", there)["already"] == 2
    again = run(capsys, "list", "--shelf", there)["pieces"]
    assert sorted(map(str, (drop(one) for one in again))) == sorted(
        map(str, (drop(one) for one in listed))
    )
    one = str(tmp_path / "one.json")
    run(capsys, "export", str(number), "--out", one, "--shelf", here)
    assert run(capsys, "import", one, "--shelf", there)["already"] == 1
    assert main(["shelf", "list", "--shelf", there]) == 0
    assert "Harbour: for Ολυμπία" in capsys.readouterr().out


def drop(listed: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in listed.items() if key != "number"}


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["burn"], "act"),
        (["list", "--out", "x"], "out"),
        (["list", "--shelf", "no such"], "shelf"),
        (["export"], "out"),
        (["export", "--out", "x.zip"], "shelf"),
        (["export", "7", "--out", "x.zip"], "number"),
        (["export", "x", "--out", "x.zip"], "number"),
        (["import"], "files"),
        (["import", "no such.json"], "files"),
        ([], "act"),
    ],
)
def test_every_fault_names_its_field(
    capsys: Capture,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    arguments: list[str],
    field: str,
) -> None:
    monkeypatch.setattr("explorer.commands.shelf.default_path", lambda: tmp_path / "s.sqlite3")
    monkeypatch.chdir(tmp_path)
    error = run(capsys, *arguments, code=2)["error"]
    assert error["field"] == field
    assert error["wanted"]
    assert error["remedy"]


@pytest.mark.parametrize(
    "text", ["1e3", "-1", "999", "1.0", "+1", "1_0", "x", "", "\N{ARABIC-INDIC DIGIT ONE}"]
)
@pytest.mark.parametrize("act", ["throw-away", "export"])
def test_a_piece_is_named_by_digits_of_this_shelf(
    capsys: Capture, tmp_path: Path, act: str, text: str
) -> None:
    path = str(tmp_path / "shelf.sqlite3")
    Shelf(Path(path)).put_all([entry(str(number)) for number in range(18)])
    out = ["--out", str(tmp_path / "x.zip")] * (act == "export")
    error = run(capsys, act, "3", text, "--shelf", path, *out, code=2)["error"]
    assert (error["field"], error["got"]) == ("number", text)
    assert error["wanted"] == "numbers of pieces on the shelf; the highest is 18"
    assert len(Shelf(Path(path)).find()) == 18


def test_what_is_missing_altogether_is_told_as_such(capsys: Capture, tmp_path: Path) -> None:
    path = str(tmp_path / "shelf.sqlite3")
    Shelf(Path(path)).put_all([entry()])
    error = run(capsys, code=2)["error"]
    assert (error["field"], error["got"]) == ("act", "nothing")
    assert "list, export, import, throw-away, bring-back, take-out, rescue" in error["wanted"]
    assert "`shelf list`" in error["remedy"]
    error = run(capsys, "throw-away", "--shelf", path, code=2)["error"]
    assert (error["field"], error["got"]) == ("number", "nothing")
    error = run(capsys, "take-out", "1", "--shelf", path, code=2)["error"]
    assert error["wanted"] == "numbers of pieces thrown away; there is none"


def test_a_full_disk_is_told_with_what_helps(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), "shelf.sqlite3")

    path = tmp_path / "shelf.sqlite3"
    Shelf(path).put_all([entry()])
    monkeypatch.setattr("explorer.shelf.update", full)
    error = run(capsys, "throw-away", "1", "--shelf", str(path), code=2)["error"]
    assert error["got"] == str(path)
    assert error["wanted"] == f"a shelf that can be used ({os.strerror(errno.ENOSPC)})"
    assert error["remedy"] == "Free some space on its disk, and try again; nothing was changed."


def test_a_bare_name_is_looked_for_beside_the_usual_shelf(
    capsys: Capture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data, here = tmp_path / "data", tmp_path / "here"
    here.mkdir()
    monkeypatch.setattr("explorer.commands.shelf.default_path", lambda: data / "shelf.sqlite3")
    monkeypatch.chdir(here)
    Shelf(data / "lesson.sqlite3").put_all([entry()])
    done = run(capsys, "export", "--shelf", "lesson.sqlite3", "--out", "lesson.zip")
    assert done["pieces"] == 1
    done = run(capsys, "import", "lesson.zip", "--shelf", "lesson.sqlite3")
    assert (done["shelf"], done["already"]) == (str(data / "lesson.sqlite3"), 1)
    assert run(capsys, "rescue", "lesson.sqlite3", "--out", "new.sqlite3")["pieces"] == 1
    # One that stands in the working folder comes first; another folder's name means that folder.
    Shelf(here / "lesson.sqlite3").put_all([entry(), entry("Second")])
    assert len(run(capsys, "list", "--shelf", "lesson.sqlite3")["pieces"]) == 2
    for name in ("lessen.sqlite3", "./shelf.sqlite3"):
        error = run(capsys, "list", "--shelf", name, code=2)["error"]
        assert error["got"] == name
        assert str(data) in error["wanted"]
    # A shelf that is there nowhere is made where it was named.
    run(capsys, "import", "lesson.zip", "--shelf", "fresh.sqlite3")
    assert (here / "fresh.sqlite3").is_file()


@pytest.mark.parametrize("act", ["list", "rescue", "import"])
def test_a_shelf_that_is_no_regular_file_is_refused_as_such(
    capsys: Capture, tmp_path: Path, act: str
) -> None:
    os.mkfifo(tmp_path / "pipe")
    for name, wanted in (("pipe", "a regular file, no device"), (".", "this is a folder")):
        given = str(tmp_path / name)
        arguments = {
            "list": ["list", "--shelf", given],
            "rescue": ["rescue", given, "--out", str(tmp_path / "new.sqlite3")],
            "import": ["import", "none.json", "--shelf", given],
        }
        error = run(capsys, *arguments[act], code=2)["error"]
        assert (error["field"], error["got"]) == ("shelf", given)
        assert wanted in error["wanted"]


def test_files_that_are_no_shelf_and_no_piece(capsys: Capture, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.sqlite3"
    wrong.write_bytes(b"not a database, and long enough that nobody takes it for an empty one" * 9)
    assert run(capsys, "list", "--shelf", str(wrong), code=2)["error"]["field"] == "shelf"
    for content in (b"", b"\xff\xfe", b"{}", b"PK\x03\x04"):
        path = tmp_path / "file"
        path.write_bytes(content)
        error = run(capsys, "import", str(path), "--shelf", str(tmp_path / "s"), code=2)["error"]
        assert error["field"] == (str(path) if content else "files")


def test_an_export_replaces_regular_files_only_and_says_so(capsys: Capture, tmp_path: Path) -> None:
    shelf = tmp_path / "shelf.sqlite3"
    Shelf(shelf).put_all([entry()])
    target, link, pipe = tmp_path / "target.zip", tmp_path / "link.zip", tmp_path / "pipe.zip"
    target.write_bytes(b"mine")
    link.symlink_to(target)
    os.mkfifo(pipe)
    for out in (link, pipe):
        error = run(capsys, "export", "--out", str(out), "--shelf", str(shelf), code=2)["error"]
        assert (error["field"], error["got"]) == ("out", str(out))
    assert link.is_symlink()
    assert pipe.is_fifo()
    assert target.read_bytes() == b"mine"
    done = run(capsys, "export", "--out", str(target), "--shelf", str(shelf))
    assert done["changed"] == [f"{target} was there and was replaced"]
    new = tmp_path / "a" / "b.zip"
    done = run(capsys, "export", "--out", str(new), "--shelf", str(shelf))
    assert done["changed"] == [f"the folder {new.parent} was made"]
    assert main(["shelf", "export", "--out", str(new), "--shelf", str(shelf)]) == 0
    assert f"{new} was there and was replaced" in capsys.readouterr().out


def test_an_export_replaces_no_archive_of_more_whole_pieces(
    capsys: Capture, tmp_path: Path
) -> None:
    shelf, out = Shelf(tmp_path / "shelf.sqlite3"), tmp_path / "all.zip"
    shelf.put_all([entry(), entry("Second"), entry("Third")])
    at = ("--out", str(out), "--shelf", str(shelf.path))
    run(capsys, "export", *at)
    before = out.read_bytes()
    with shelf.transaction() as connection:
        connection.execute("UPDATE pieces SET notes = 'flipped' WHERE number = 2")
    error = run(capsys, "export", *at, code=2)["error"]
    assert (error["field"], error["got"]) == ("out", str(out))
    assert "at most 2 whole pieces" in error["wanted"]
    assert "that one holds 3" in error["wanted"]
    assert "another file" in error["remedy"]
    assert run(capsys, "export", "1", *at, code=2)["error"]["field"] == "out"
    assert out.read_bytes() == before
    # Of an archive that is damaged itself only what is whole counts.
    out.write_bytes(damaged(before, "pieces/0001.json"))
    assert run(capsys, "export", *at, code=2)["pieces"] == 2


@pytest.mark.parametrize("name", ["x.json", "x.txt", "folder/below/x.zip"])
def test_where_an_export_cannot_go(capsys: Capture, tmp_path: Path, name: str) -> None:
    shelf = tmp_path / "shelf.sqlite3"
    Shelf(shelf).put_all([entry(), entry("Second")])
    (tmp_path / "folder").write_text("a file")
    out = str(tmp_path / name)
    error = run(capsys, "export", "--out", out, "--shelf", str(shelf), code=2)["error"]
    assert error["field"] == "out"
    assert not Path(out).exists()


def test_a_piece_in_a_file_of_its_own_tells_of_the_photographs_that_stay(
    capsys: Capture, tmp_path: Path
) -> None:
    path, out = tmp_path / "shelf.sqlite3", tmp_path / "one.json"
    two = [shelf_photographs.as_jpeg(photo(shade=shade)) for shade in (1, 9)]
    put_new(Shelf(path), (entry(photographs=tuple(Photograph(jpeg=one) for one in two)),))
    assert main(["shelf", "export", "1", "--out", str(out), "--shelf", str(path)]) == 0
    told = capsys.readouterr().out
    assert "not in it: 2 photographs of the piece, for only a .zip file takes them" in told


def test_a_shelf_without_a_name_is_told_as_such(capsys: Capture) -> None:
    for act in (["list"], ["import", "x.json"]):
        assert main(["shelf", *act, "--shelf", "", "--json"]) == 2
        assert json.loads(capsys.readouterr().out)["error"]["got"] == ""


def test_a_piece_that_differs_in_its_words_alone_is_told_as_such(tmp_path: Path) -> None:
    shelf = Shelf(tmp_path / "shelf.sqlite3")
    put_new(shelf, (entry(notes="short"),))
    done = put_new(shelf, (entry(notes="long", who="Wren"),))
    assert done.words == (
        "1 piece put on the shelf, “Harbour” differs from number 1 in who it is for, notes"
    )
    assert put_new(shelf, (entry("Other"),)).words == "1 piece put on the shelf"
