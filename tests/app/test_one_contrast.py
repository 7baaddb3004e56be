"""One figure of contrast: the same number and words wherever a piece's contrast is told."""

import html
import json
import re
from dataclasses import replace
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from explorer.__main__ import main
from explorer.app import address, state
from explorer.app import cache as kept
from explorer.app.choosing import differences
from explorer.app.demo import demo
from explorer.app.parts.judging_asked import Asked
from explorer.app.parts.judging_asked import to_text as asked_text
from explorer.app.parts.judging_strips import weakest_under
from explorer.app.state import History
from explorer.app.tradeoff import FIRST, tradeoff
from explorer.app.units import Units
from explorer.app.views.proposals import card_figures
from explorer.brief import Brief, Strip, Wearer
from explorer.candidates import Choices, settled
from explorer.changes import tips
from explorer.colouring import Colouring
from explorer.commands.propose import proposal_lines
from explorer.contrast_piece import judge_piece
from explorer.contrast_words import measure_words, summary, tenths, weakest_words
from explorer.design import Design
from explorer.fit import Fit
from explorer.lift import lift
from explorer.mixture import Mixture
from explorer.orders import Orders
from explorer.piece import piece_of, to_json
from explorer.propose import Proposal, Proposals, propose
from explorer.recipe import make
from explorer.sequence_types import Arrangement
from explorer.subsets import Subset
from explorer.weave import weave
from palettes.beads import Bead
from palettes.charts import bead_kinds, palette
from palettes.difference import pairwise
from palettes.lights import Light
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.swatches import Swatch
from palettes.viewing import TYPICAL_DAYLIGHT
from palettes.vision import Sight
from tests.explorer.exact_orders import weakest

KINDS = bead_kinds()
EVERY = tuple(product(Colouring, Arrangement))
PLAIN = asked_text(Asked(sights=(Sight.TYPICAL,), lights=(Light.DAYLIGHT,)))


def _brief(way: Arrangement, snug_mm: float = 190.0) -> Brief:
    return Brief(
        wearer=Wearer(snug_mm=snug_mm),
        strip=Strip(base=KINDS["cube 3"]),
        colours=tuple(
            Bead(name=s.name, kind=KINDS["round 8/0"], hex=s.hex, finish=s.finish)
            for s in palette("rockpool").swatches[:5]
        ),
        base_bead=Bead(name="base", kind=KINDS["cube 3"], hex="#202020"),
        arrangements=(way,),
    )


@cache
def woven(colouring: Colouring, way: Arrangement) -> Design:
    """A piece of ten motifs in that colouring and arrangement, as proposals make it."""
    brief = _brief(way)
    lab = srgb1_to_lab(hexes_to_srgb1([bead.hex for bead in brief.colours]))
    fit = brief.strip.fit(brief.wearer)
    assert isinstance(fit, Fit)
    assert fit.motifs == 10
    group = Subset(places=(0, 1, 2, 3, 4), family="all")
    choices = Choices(strips=(fit,), groups=(group,), lightness=tuple(lab[:, 0].tolist()))
    mixed = Mixture(
        outline="peak",
        profile=(2, 3, 5, 3, 2),
        fit=fit,
        group=group,
        arrangement=way,
        colouring=colouring,
    )
    candidate = settled(mixed, choices, Orders(brief, pairwise(lab)))
    assert candidate is not None
    assert candidate.recipe.colouring is colouring
    return make(brief, candidate.recipe)


def asked(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    capsys.readouterr()
    assert main(list(arguments)) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize(("colouring", "way"), EVERY)
def test_line_panel_strip_and_command_tell_one_number(
    colouring: Colouring, way: Arrangement, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    design = woven(colouring, way)
    path = tmp_path / "piece.json"
    path.write_text(to_json(piece_of(design=design)), encoding="utf-8")
    judged = json.loads(asked(capsys, "judge", str(path), "--json"))
    # Against another library, on the woven beads; it rounds its matrix otherwise.
    assert judged["weakest"] == pytest.approx(weakest(design), abs=0.05)
    assert judged["worst"] == judged["weakest"]
    assert judged["worst_pair"] == judged["weakest_pair"]
    words = measure_words(judged["weakest"])
    line = weakest_words(kept.as_seen(design))
    assert line.startswith(f"weakest neighbours, most people by day: {words}")
    pairs = len(judged["repeats"])
    assert line.endswith(words) if not pairs else f"{pairs} pair" in line
    # A mirrored piece of an even number of motifs repeats its middle; blocks repeat within.
    if way is Arrangement.MIRROR:
        assert judged["repeats"] == [[4, 5]]
        assert "Motifs 5 and 6 repeat the same beads." in judged["summary"]
    assert bool(pairs) == (way in {Arrangement.MIRROR, Arrangement.BLOCKS, Arrangement.RUN})
    panel = judge_piece(design, looks=(TYPICAL_DAYLIGHT,))
    assert panel.weakest is not None
    assert measure_words(panel.weakest.worst) == words
    strip = weakest_under(panel, TYPICAL_DAYLIGHT)
    assert strip is not None
    assert strip == (panel.weakest, judged["weakest"])
    text = asked(capsys, "judge", str(path))
    assert text.startswith(summary(panel))
    assert f"(difference {tenths(judged['weakest'])})" in text.splitlines()[1]


@pytest.mark.parametrize("way", Arrangement)
def test_list_card_comparison_and_chart_tell_what_the_command_judges(
    way: Arrangement, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    size = ["--snug", "190", "--palette", "rockpool", "--count", "6", "--seed", "3"]
    size += ["--arrangement", way.value, "--extras", "plain"]
    out = tmp_path / "out"
    found = json.loads(asked(capsys, "propose", *size, "--out", str(out), "--json"))["proposals"]
    text = asked(capsys, "propose", *size)
    assert len({one["colouring"] for one in found}) > 1
    for at, one in enumerate(found, start=1):
        judged = json.loads(asked(capsys, "judge", str(out / one["piece"]), "--json"))
        assert one["weakest"] == judged["weakest"]
        assert one["weakest_pair"] == judged["weakest_pair"]
        assert one["repeats"] == judged["repeats"]
        number = tenths(one["weakest"])
        (row,) = (
            line for line in text.splitlines() if line.startswith(f"{at:3d}  {one['reason']};")
        )
        assert re.search(rf"weakest {number}( \(|, \d+ pairs? repeats?|$)", row)
        if one["gave_up_for"] and tenths(one["strongest"]) != number:
            assert f"weakest {number} ({tenths(one['strongest'])} possible; " in row
            assert one["gave_up_for"] in row
    proposals = _proposed(way)
    shown = dict(differences(proposals))["Weakest neighbours"]
    chart = tradeoff(proposals, *FIRST).marks
    lines = list(proposal_lines(proposals))
    for at, (proposal, cell, mark) in enumerate(zip(proposals, shown, chart, strict=True)):
        assert proposal.weakest is not None
        words = measure_words(proposal.weakest)
        assert f"weakest neighbours {words}" in card_figures(proposal, Units.MM)
        assert cell.startswith(words)
        assert mark.values[0] == tenths(proposal.weakest)
        assert f"weakest {mark.values[0]}" in lines[at]
        for told in ("gave some up for variety", "HyAB", "the same beads"):
            places = (cell, card_figures(proposal, Units.MM), lines[at])
            assert len({told in place for place in places}) == 1


@cache
def _proposed(way: Arrangement) -> tuple[Proposal, ...]:
    found = propose(replace(_brief(way), count=4))
    assert isinstance(found, Proposals)
    return found.proposals


def test_one_colour_and_one_motif_have_no_figure_and_say_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = replace(_brief(Arrangement.FREE), colours=_brief(Arrangement.FREE).colours[:1])
    for brief, words in (
        (whole, "all neighbours repeat"),
        (replace(whole, wearer=Wearer(snug_mm=40.0)), "one motif"),
    ):
        found = propose(replace(brief, count=1))
        assert isinstance(found, Proposals)
        (one,) = found.proposals
        assert (one.weakest, one.strongest, one.gave_up_for) == (None, None, "")
        assert words in next(iter(proposal_lines((one,))))
        assert words in card_figures(one, Units.MM)
        path = tmp_path / "piece.json"
        path.write_text(to_json(piece_of(design=one.design)), encoding="utf-8")
        judged = json.loads(asked(capsys, "judge", str(path), "--json"))
        assert (judged["weakest"], judged["weakest_pair"], judged["worst"]) == (None, None, None)
        assert judged["summary"]


def _neighbours() -> None:
    from explorer.app import session
    from explorer.app.views import neighbours

    session.begin()
    neighbours.view()


TWICE = tuple(zip(Colouring, (*Arrangement, *Arrangement), strict=False))


# Every colouring, and every arrangement, once at least.
@pytest.mark.parametrize(("colouring", "way"), TWICE)
def test_the_page_tells_above_and_below_the_same(colouring: Colouring, way: Arrangement) -> None:
    design = woven(colouring, way)
    app = AppTest.from_function(_neighbours, default_timeout=90)
    app.query_params[address.JUDGING] = PLAIN
    app.run()
    work = demo()
    piece = piece_of(design, wearer=work.piece.wearer)
    app.session_state[state.HISTORY] = History(now=replace(work, piece=piece))
    app.run()
    assert not app.exception
    bodies = [element.proto.body for element in app.get("html")]
    (line,) = (body for body in bodies if 'class="dw-figures"' in body)
    panel = next(body for body in bodies if 'class="dw-facts"' in body)
    strip = next(body for body in bodies if 'class="dw-strip"' in body)
    row = judge_piece(design).weakest
    assert row is not None
    number = tenths(row.worst)
    assert f"(difference {number})" in html.unescape(line)
    assert f"difference {number}" in html.unescape(panel)
    assert f"(difference {number})" in html.unescape(strip)
    told = re.findall(r"Motifs (\d+) and (\d+)", html.unescape(panel))[0]
    assert told == (str(row.i + 1), str(row.j + 1))


def test_tips_of_another_colour_count_in_the_line_as_they_do_in_the_panel() -> None:
    # The line once told the main beads alone: 20 or more apart from what the motifs look like.
    plain = woven(Colouring.PLAIN, Arrangement.FREE)
    design = weave(tips(lift(plain), swatch=Swatch(name="tip", hex="#f4f2ea")).pattern)
    line = weakest_words(kept.as_seen(design))
    panel = judge_piece(design).weakest
    before = judge_piece(plain).weakest
    assert panel is not None
    assert before is not None
    assert line.endswith(measure_words(panel.worst))
    assert panel.worst < before.worst - 3.0
    assert panel.worst == pytest.approx(weakest(design), abs=0.05)
