"""A table that version 1 kept, bead by bead, lies there again as it was, with all that it held."""

import base64
import json
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from explorer.app import steps
from explorer.app.choosing import Choosing, from_text, mark, shown, to_text
from explorer.app.kept import choosing_from
from explorer.app.kept import from_text as table_from
from explorer.app.kept_steps import Packer
from explorer.app.state import Work
from explorer.contrast_piece import motifs_as_seen
from explorer.design import Design
from explorer.piece import digest
from explorer.weave import weave
from palettes.beads import Bead

# As the program wrote it before a piece was kept as what was meant: the table, its steps, and marks
# of every step's beads, of what was kept among proposals and of all twelve that were asked for.
_FILE = Path(__file__).parents[1] / "reference/tables/v1.json"
KEPT: dict[str, Any] = json.loads(_FILE.read_text("utf-8"))
TABLE = json.dumps(KEPT["table"])


@cache
def _work() -> Work:
    work, stitch = table_from(TABLE)
    assert stitch == 4
    return work


@cache
def _choosing() -> Choosing:
    return choosing_from(TABLE)


def test_every_step_before_and_after_weaves_the_beads_that_it_had() -> None:
    history = Packer().unpacked(base64.b64decode(KEPT["steps"]), _work())
    works = (*history.past, history.now, *history.future)
    assert [digest(work.piece.design) for work in works] == KEPT["beads"]
    assert (len(history.past), len(history.future)) == (6, 1)


def test_another_size_goes_on_from_the_first_form() -> None:
    history = Packer().unpacked(base64.b64decode(KEPT["steps"]), _work())
    before, after = history.past[-1], history.future[0]
    # The piece on the table was made shorter; what was cut off is not lost by it.
    assert len(_work().piece.design.motifs) < len(before.piece.design.motifs)
    back = steps.resized(_work(), before.sizing).piece.design
    assert _motifs(back) == _motifs(before.piece.design)
    longer = steps.resized(_work(), after.sizing).piece.design
    # What was done by hand is its motif's alone: those that come go by the rules.
    kept = len(before.piece.design.motifs)
    assert len(longer.motifs) == len(after.piece.design.motifs) > kept
    assert _motifs(longer)[:kept] == _motifs(after.piece.design)[:kept]


def _motifs(design: Design) -> list[list[list[Bead]]]:
    return [[[design.beads[n] for n in one.beads] for one in motif] for motif in design.motifs]


def test_what_was_kept_and_put_away_and_asked_for_stands() -> None:
    choosing = _choosing()
    assert choosing.seed == 7
    assert [digest(proposal.design) for proposal in choosing.kept] == KEPT["kept"]
    assert [proposal.weakest for proposal in choosing.kept] == pytest.approx(KEPT["weakest"])
    assert choosing.like is not None
    # Relatives were asked for of the piece as it was before it was made shorter.
    history = Packer().unpacked(base64.b64decode(KEPT["steps"]), _work())
    assert weave(choosing.like) == history.past[-1].piece.design
    assert choosing.put is not None
    assert from_text(to_text(choosing)) == choosing


def test_what_was_put_away_is_known_again_by_the_same_mark() -> None:
    choosing = _choosing()
    assert len(choosing.away) == 2
    assert choosing.away == set(KEPT["asked"][-2:])
    # Marks are of beads as they are numbered: a piece that is woven now has the one it had.
    marks = [mark(proposal.design) for proposal in choosing.kept]
    assert marks == [KEPT["asked"][0], KEPT["asked"][6]]
    both = replace(choosing, away=choosing.away | {marks[0]})
    assert shown(both, choosing.kept) == choosing.kept[1:]


def test_proposals_kept_before_the_strongest_was_told_are_judged_anew() -> None:
    plain = json.loads(KEPT["table"]["choosing"])
    for old in plain["kept"]:
        for name in ("strongest", "strongest_proven", "gave_up_for", "repeats"):
            del old[name]
        old["weakest"], old["proven"] = 99.0, True
    found = from_text(json.dumps(plain)).kept
    assert [proposal.design for proposal in found] == [p.design for p in _choosing().kept]
    for proposal in found:
        weakest = motifs_as_seen(proposal.design).weakest
        assert weakest is not None
        assert proposal.weakest == pytest.approx(weakest.delta_e_2000)
        assert not proposal.proven


@pytest.mark.parametrize("part", ["design", "recipe", "fit"])
def test_damage_to_it_only_begins_choosing_anew(part: str) -> None:
    damages: tuple[object, ...] = (None, 7, "x", [], {}, {"motifs": []})
    for wrong in damages:
        plain = json.loads(KEPT["table"]["choosing"])
        plain["kept"][0][part] = wrong
        assert from_text(json.dumps(plain)) == Choosing()
    plain = json.loads(KEPT["table"]["choosing"])
    plain["like"]["motifs"] = [[{"base": 99, "beads": [99]}]]
    assert from_text(json.dumps(plain)) == Choosing()
