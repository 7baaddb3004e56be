"""The saved form of a piece."""

import json
from dataclasses import replace
from typing import Any

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.design import Design
from explorer.errors import BriefError
from explorer.piece import VERSION, VERSION_KEY, Piece, from_json, piece_of, to_json
from palettes.errors import ChartError
from tests.explorer.test_command_change import plain as seven
from tests.reference import write_piece_schema
from tests.reference.add_woven import entries
from tests.reference.version_1 import kept

SCHEMA = json.loads(write_piece_schema.FILE.read_text("utf-8"))


def pieces(designs: st.SearchStrategy[Design]) -> st.SearchStrategy[Piece]:
    return st.builds(
        piece_of,
        designs,
        name=st.text(min_size=1, max_size=20).filter(lambda text: bool(text.strip())),
        wearer=st.none() | st.builds(Wearer, snug_mm=st.floats(60.0, 400.0)),
        wear=st.none() | st.sampled_from(Wear),
        pitch_measured=st.booleans(),
        plain_ends=st.booleans(),
        seed=st.none() | st.integers(0, 2**32 - 1),
        notes=st.text(max_size=30),
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


def test_the_published_schema_is_that_of_the_code() -> None:
    """Else ``python -m tests.reference.write_piece_schema`` writes it anew."""
    assert write_piece_schema.FILE.read_text("utf-8") == write_piece_schema.text()


@given(data=st.data())
@settings(max_examples=30)
def test_what_is_written_keeps_to_the_published_schema(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    jsonschema.validate(json.loads(to_json(data.draw(pieces(designs)))), SCHEMA)


def test_all_rules_keep_to_the_published_schema() -> None:
    check = jsonschema.Draft202012Validator(SCHEMA)
    check.check_schema(SCHEMA)
    for entry in entries().values():
        check.validate(entry["saved"])


@pytest.mark.parametrize("place", [(), ("run",), ("colours", 0), ("motifs", 0, 1)])
def test_the_published_schema_knows_no_other_parts(place: tuple[str | int, ...]) -> None:
    by_hand = next(one["saved"] for one in entries().values() if "motifs" in one["saved"])
    whole = json.loads(json.dumps(by_hand))
    part: Any = whole
    for key in place:
        part = part[key]
    part["sparkle"] = 1
    with pytest.raises(jsonschema.ValidationError, match="sparkle"):
        jsonschema.validate(whole, SCHEMA)
    with pytest.raises(ChartError, match="no such part"):
        from_json(json.dumps(whole))


def plain() -> Piece:
    return from_json(kept()[0].piece)


def document() -> dict[str, Any]:
    found = json.loads(to_json(plain()))
    assert isinstance(found, dict)
    return found


def test_a_newer_piece_is_refused_by_name() -> None:
    newer = {**document(), VERSION_KEY: VERSION + 1}
    with pytest.raises(ChartError, match="newer Danglewise") as caught:
        from_json(json.dumps(newer), "from-the-future.json")
    assert caught.value.path == "from-the-future.json"
    assert f"piece version {VERSION + 1}" in caught.value.why


@pytest.mark.parametrize("version", [0, -1])
def test_there_was_no_version_before_the_first(version: int) -> None:
    with pytest.raises(ChartError, match=f"no piece version {version}"):
        from_json(json.dumps({**document(), VERSION_KEY: version}), "odd.json")


@pytest.mark.parametrize(
    "text",
    ["", "[]", "{}", "null", '{"danglewise_piece": NaN}', '{"danglewise_piece": 1', "[" * 100_000],
)
def test_what_is_no_piece_is_told(text: str) -> None:
    with pytest.raises(ChartError):
        from_json(text, "odd.json")


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("danglewise_piece",), "2"),
        (("danglewise_piece",), True),
        (("name",), ""),
        (("name",), 7),
        (("seed",), "lucky"),
        (("seed",), -1),
        (("base", "pitch_mm"), "wide"),
        (("base", "keys"), []),
        (("base", "keys"), [99]),
        (("run", "motifs"), 0),
        (("run", "motifs"), 2.5),
        (("run", "motifs"), 10**12),
        (("colours", 0, "hex"), "red"),
        (("colours", 0, "finish"), "sticky"),
        (("hanging", "form"), "pyramid"),
        (("hanging", "hole_mm"), 400),
        (("order", "keys"), []),
        (("worn", "wearer"), {"snug_mm": 4}),
        (("worn", "wearer"), 3),
        (("ends", "closure"), {"length_mm": 4000}),
        (("sparkle",), 1),
        (("run", "sparkle"), 1),
    ],
)
def test_a_damaged_piece_names_the_damage(path: tuple[str | int, ...], value: object) -> None:
    place: Any = (whole := document())
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    with pytest.raises(ChartError) as caught:
        from_json(json.dumps(whole), "hand-edited.json")
    assert caught.value.path == "hand-edited.json"
    assert caught.value.why


@pytest.mark.parametrize(
    ("was", "now", "place", "why"),
    [
        ('"base":', '"bose":', "bose", "no such part as 'bose' in a piece of this version; wanted"),
        ('"motifs":', '"motfs":', "run.motfs", "wanted 'motifs'"),
        ('"divider": 1', '"dividr": 1', "run.dividr", "wanted 'divider'"),
        ('"motifs": 7', '"motifs": 0', "run", "motifs: 1 to 20000; got 0"),
        ('"motifs": 7', '"motifs": "x"', "run.motifs", "a whole number is wanted; got 'x'"),
        ('"keys": [1]', '"keys": null', "base.keys", "a list is wanted; got nothing"),
        ('"keys": [1]', '"keys": [9]', "the pattern", "the palette has no colour with the key 9"),
        ('"hole_mm": 1.0, ', "", "base.kind.hole_mm", "a value is wanted; got nothing"),
        ('"next_key"', '"seed": [], "next_key"', "seed", "a whole number is wanted; got a list of"),
        (
            '"name": "Sea"',
            '"name": "Ocean"',
            "woven",
            "other beads, colours or names of colours than those it was saved with",
        ),
    ],
)
def test_a_spoilt_piece_is_told_in_plain_words(was: str, now: str, place: str, why: str) -> None:
    text = to_json(seven())
    assert was in text
    with pytest.raises(ChartError) as caught:
        from_json(text.replace(was, now, 1), "hand-edited.json")
    assert caught.value.entry == place
    assert why in caught.value.why
    assert "older copy" in caught.value.why
    for strange in ("Value error", "Field required", "Input should", "None", "{"):
        assert strange not in caught.value.why


def test_a_piece_whose_rules_weave_other_beads_is_told() -> None:
    changed = document()
    changed["order"]["keys"][0] = changed["order"]["keys"][1]
    with pytest.raises(ChartError, match="other beads") as caught:
        from_json(json.dumps(changed), "hand-edited.json")
    assert caught.value.entry == "woven"
    del changed["woven"]
    assert from_json(json.dumps(changed)).design != plain().design


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
