"""The saved form of a piece."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.brief import Wearer
from explorer.design import Design
from explorer.errors import BriefError
from explorer.piece import VERSION, VERSION_KEY, Piece, from_json, migrated, to_json
from palettes.errors import ChartError

HERE = Path(__file__).parent
SCHEMA = json.loads(
    (HERE.parent.parent / "explorer" / "data" / "piece-1.schema.json").read_text("utf-8")
)
KEPT = sorted((HERE.parent / "reference" / "pieces").glob("*.json"))


def pieces(designs: st.SearchStrategy[Design]) -> st.SearchStrategy[Piece]:
    return st.builds(
        Piece,
        design=designs,
        name=st.text(min_size=1, max_size=20).filter(lambda text: bool(text.strip())),
        wearer=st.none() | st.builds(Wearer, snug_mm=st.floats(60.0, 400.0)),
        pitch_measured=st.booleans(),
        seed=st.none() | st.integers(0, 2**32 - 1),
        notes=st.text(max_size=30),
        origin=st.none() | designs,
    )


@given(data=st.data())
def test_written_read_and_written_again_is_the_same(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    piece = data.draw(pieces(designs))
    text = to_json(piece)
    again = from_json(text)
    assert again == piece
    assert to_json(again) == text


@given(data=st.data())
def test_what_is_written_keeps_to_the_published_schema(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    piece = data.draw(pieces(designs))
    jsonschema.validate(json.loads(to_json(piece)), SCHEMA)


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_pieces_of_every_version_open(path: Path) -> None:
    piece = from_json(path.read_text("utf-8"), path.name)
    assert piece.name
    assert json.loads(to_json(piece))[VERSION_KEY] == VERSION


def test_there_are_kept_pieces() -> None:
    assert len(KEPT) >= 2


def plain() -> Piece:
    return from_json(KEPT[0].read_text("utf-8"))


def test_a_newer_piece_is_refused_by_name() -> None:
    document = json.loads(to_json(plain()))
    document[VERSION_KEY] = VERSION + 1
    with pytest.raises(ChartError, match="newer Danglewise"):
        from_json(json.dumps(document), "from-the-future.json")


def test_an_older_piece_is_migrated_step_by_step() -> None:
    steps = {
        1: lambda document: {**document, "second": True},
        2: lambda document: {**document, "third": document["second"]},
    }
    document = migrated({VERSION_KEY: 1}, "old.json", version=3, migrations=steps)
    assert document == {VERSION_KEY: 3, "second": True, "third": True}
    with pytest.raises(ChartError, match="no piece version 0"):
        migrated({VERSION_KEY: 0}, "old.json", version=3, migrations=steps)


@pytest.mark.parametrize(
    "text",
    ["", "[]", "{}", "null", '{"danglewise_piece": NaN}', '{"danglewise_piece": 1', "[" * 100_000],
)
def test_what_is_no_piece_is_told(text: str) -> None:
    with pytest.raises(ChartError):
        from_json(text, "odd.json")


def broken(document: dict[str, Any], path: tuple[str | int, ...], value: object) -> str:
    copy = json.loads(json.dumps(document))
    place = copy
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return json.dumps(copy)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("danglewise_piece",), "1"),
        (("danglewise_piece",), True),
        (("name",), ""),
        (("name",), 7),
        (("base_pitch_mm",), "wide"),
        (("base_pitch_mm",), 10**400),
        (("base_pitch_mm",), -1),
        (("motifs",), []),
        (("motifs",), {}),
        (("motifs", 0), [[]]),
        (("motifs", 0, 0, 0), 99),
        (("motifs", 0, 0, 0), -1),
        (("motifs", 0, 0, 0), 0.5),
        (("dividers",), [[]]),
        (("margins",), [[]]),
        (("links",), [[0, 0, 0, 0], []]),
        (("beads", 0, "hex"), "red"),
        (("beads", 0, "kind"), "round 99/0"),
        (("beads", 0, "finish"), "sticky"),
        (("kinds", 0, "form"), "pyramid"),
        (("kinds", 0, "hole_mm"), 400),
        (("wearer",), {"snug_mm": 4, "ease_mm": 0, "closure_mm": 0, "closure_counted": True}),
        (("wearer",), 3),
        (("closure", "length_mm"), 4000),
        (("seed",), "lucky"),
        (("pitch_measured",), "yes"),
    ],
)
def test_a_damaged_piece_names_the_damage(path: tuple[str | int, ...], value: object) -> None:
    document = json.loads(to_json(plain()))
    with pytest.raises(ChartError) as caught:
        from_json(broken(document, path, value), "hand-edited.json")
    assert caught.value.path == "hand-edited.json"
    assert caught.value.why


@given(st.integers(0, 5000))
def test_a_piece_cut_short_is_told(cut: int) -> None:
    text = to_json(plain())
    with pytest.raises(ChartError):
        from_json(text[: min(cut, len(text) - 3)], "short.json")


def test_names_and_notes_have_limits() -> None:
    with pytest.raises(BriefError, match="name"):
        replace(plain(), name="  ")
    with pytest.raises(BriefError, match="notes"):
        replace(plain(), notes="x" * 20_001)
