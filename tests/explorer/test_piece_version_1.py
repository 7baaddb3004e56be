"""What version 1 saved opens: the same beads, and the rules that they came from."""

import json
from dataclasses import asdict, replace
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.changes import with_motifs
from explorer.design import Column, Design
from explorer.pattern import LengthEdit, PaintEdit
from explorer.piece import Piece, digest, from_json, to_json
from explorer.weave import weave
from palettes.errors import ChartError
from tests.reference.version_1 import Kept, check, kept, opened, woven, written

ROOT = Path(__file__).parents[2]
PIECES = sorted((ROOT / "tests/reference/pieces").glob("v1-*.json"))
SCHEMA = ROOT / "explorer/data/piece-1.schema.json"
# A few dozen at a time, so that two runners share them.
PARTS = range(0, 515, 103)


@cache
def part(first: int) -> tuple[tuple[Kept, dict[str, Any], Piece], ...]:
    chosen = kept()[first : first + PARTS.step]
    return tuple((one, json.loads(one.piece), opened(one)) for one in chosen)


def test_the_kept_pieces_are_all_there() -> None:
    how = [one.how for one in kept()]
    assert (how.count("proposed"), how.count("by hand"), how.count("example")) == (375, 125, 15)
    assert len(kept()) == PARTS.stop
    edits = {edit for one in kept() for edit in one.edits}
    assert len(edits) == 21
    assert all(bool(one.edits) == (one.how == "by hand") for one in kept())


@pytest.mark.parametrize("first", PARTS)
def test_it_opens_bead_by_bead_and_is_saved_again_by_its_rules(first: int) -> None:
    for _, document, piece in part(first):
        check(document, piece)
        again = from_json(to_json(piece))
        assert again == piece
        assert woven(again.design) == written(document)


@pytest.mark.parametrize("first", PARTS)
def test_its_beads_are_known_by_rules_and_what_nobody_changed_by_rules_alone(first: int) -> None:
    """Of the 5 939 motifs none is kept bead by bead."""
    for one, _, piece in part(first):
        assert all(by_hand.held is None for _, by_hand in piece.pattern.motifs)
        if one.how != "by hand":
            assert (piece.pattern.motifs, piece.pattern.gaps) == ((), ())


def test_one_change_of_one_motif_is_one_exception_and_any_other_change_a_rule() -> None:
    found: set[str] = set()
    for one in kept():
        # Outlines in turn over colours that change along the drop are many changes.
        if len(one.edits) != 1 or one.edits[0] in {"pattern", "strip"}:
            continue
        pattern = opened(one).pattern
        assert len(pattern.motifs) == (
            one.edits[0] in {"dangle", "length", "outline", "tips of one"}
        )
        assert not pattern.gaps
        edits = [edit for _, by_hand in pattern.motifs for edit in by_hand.edits]
        if one.edits[0] == "dangle":
            assert [isinstance(edit, PaintEdit) and edit.along is None for edit in edits] == [True]
        if one.edits[0] == "length":
            assert [isinstance(edit, LengthEdit) for edit in edits] == [True]
        found.update(one.edits)
    assert len(found) == 10


@pytest.mark.parametrize("first", PARTS)
def test_a_resized_piece_goes_back_to_its_first_form(first: int) -> None:
    found = 0
    for _, document, piece in part(first):
        if "origin" not in document:
            continue
        origin = {**document["origin"], "closure": document["closure"]}
        pattern = with_motifs(piece.pattern, len(origin["motifs"]))
        margins = len(origin["margins"][0]), len(origin["margins"][1])
        back = weave(replace(pattern, run=replace(pattern.run, margins=margins)))
        assert woven(back) == written(origin)
        found += 1
    assert found or first < 300


def as_written(design: Design) -> dict[str, Any]:
    """A design as version 1 wrote it."""

    def rows(columns: tuple[Column, ...]) -> list[list[int]]:
        return [[one.base, *one.beads] for one in columns]

    return {
        **json.loads(kept()[0].piece),
        "wearer": None,
        "base_pitch_mm": design.base_pitch_mm,
        "kinds": list({bead.kind.name: asdict(bead.kind) for bead in design.beads}.values()),
        "beads": [
            {"name": bead.name, "kind": bead.kind.name, "hex": bead.hex, "finish": bead.finish}
            for bead in design.beads
        ],
        "motifs": [rows(motif) for motif in design.motifs],
        "dividers": [rows(divider) for divider in design.dividers],
        "margins": [rows(design.start_margin), rows(design.end_margin)],
        "links": [design.start_links, design.end_links],
        "closure": asdict(design.closure),
    }


@given(data=st.data())
def test_whatever_hangs_wherever_opens_bead_by_bead(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    document = json.loads(json.dumps(as_written(data.draw(designs))))
    check(document, from_json(json.dumps(document)))


@pytest.mark.parametrize("path", PIECES, ids=lambda path: path.stem)
def test_the_first_pieces_of_version_1_open(path: Path) -> None:
    document = json.loads(path.read_text("utf-8"))
    piece = from_json(path.read_text("utf-8"), path.name)
    assert woven(piece.design) == written(document)
    assert (piece.name, piece.notes, piece.seed) == (
        document["name"],
        document["notes"],
        document["seed"],
    )
    assert digest(from_json(to_json(piece)).design) == digest(piece.design)


def test_they_keep_to_the_schema_that_was_published_then() -> None:
    check = jsonschema.Draft202012Validator(json.loads(SCHEMA.read_text("utf-8")))
    for one in kept()[::13]:
        check.validate(json.loads(one.piece))


def broken(path: tuple[str | int, ...], value: object) -> str:
    copy = json.loads(kept()[0].piece)
    place = copy
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return json.dumps(copy)


@pytest.mark.parametrize(
    ("path", "value"),
    [
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
        (("origin",), 5),
    ],
)
def test_a_damaged_piece_of_version_1_names_the_damage(
    path: tuple[str | int, ...], value: object
) -> None:
    with pytest.raises(ChartError) as caught:
        from_json(broken(path, value), "hand-edited.json")
    assert caught.value.path == "hand-edited.json"
    assert caught.value.why
