"""The Contrast page: choices, answer, tables, strips and changes that act."""

import html
import io
import math
import re
from collections.abc import Callable
from typing import TYPE_CHECKING
from urllib.parse import urlencode

import numpy as np
import pytest
from PIL import Image
from streamlit.testing.v1 import AppTest

from explorer.app import address, state
from explorer.app.demo import demo
from explorer.app.drawings import motif_boxes, pair_from
from explorer.app.parts.judging import rows_of
from explorer.app.parts.judging_asked import (
    OWN,
    Asked,
    to_text,
)
from explorer.app.parts.judging_strips import joined, weakest_under
from explorer.app.parts.judging_words import (
    light_words,
    number,
    reach_words,
    verdict_words,
    viewer_words,
)
from explorer.app.shaping import with_pattern
from explorer.app.state import History
from explorer.changes import with_motifs
from explorer.contrast import looks_of
from explorer.contrast_piece import Meeting, judge_piece
from explorer.contrast_words import summary, tenths
from explorer.layout import rows_scene
from explorer.weave import weave
from palettes.difference import pairwise
from palettes.lights import Light
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab
from palettes.viewing import lab_under
from palettes.vision import Sight

if TYPE_CHECKING:
    from tests.app.conftest import Site


def _neighbours() -> None:
    from explorer.app import session
    from explorer.app.views import neighbours

    session.begin()
    neighbours.view()


def _run(script: Callable[[], None] = _neighbours, judging: str = "") -> AppTest:
    app = AppTest.from_function(script, default_timeout=90)
    if judging:
        app.query_params[address.JUDGING] = judging
    app.run()
    assert not app.exception
    return app


def _history(app: AppTest) -> History:
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    return held


def _words(app: AppTest) -> str:
    bodies = " ".join(element.proto.body for element in app.get("html"))
    bare = re.sub(r"<(style|i)\b.*?</\1>|<[^>]*>", " ", bodies, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(bare))


def _faults(app: AppTest) -> str:
    bodies = (element.proto.body for element in app.get("html"))
    return " ".join(body for body in bodies if 'class="dw-note dw-fault"' in body)


def _listed(value: object) -> list[object]:
    return list(value) if isinstance(value, list) else [value]


# Quick to draw: one viewer in one light.
_PLAIN = to_text(Asked(sights=(Sight.TYPICAL,), lights=(Light.DAYLIGHT,)))
_TWO = to_text(Asked(sights=(Sight.TYPICAL, Sight.PROTAN), lights=(Light.DAYLIGHT,)))


def test_the_page_answers_for_the_demo_piece() -> None:
    app = _run()
    words = _words(app)
    design = demo().piece.design
    judgement = judge_piece(
        design, looks=looks_of("typical,protan,deutan,tritan", "daylight,lamplight")
    )
    weakest = judgement.weakest
    assert weakest is not None
    assert summary(judgement) in words
    assert f"Motifs {weakest.i + 1} and {weakest.j + 1}" in words
    for asked in ("Which two", "To whom", "Which light", "From how far", "How sure", "What to do"):
        assert asked in words
    assert number(weakest) in words
    assert viewer_words(weakest.worst_look) in words
    assert "1 man in 45" in words
    assert light_words(weakest) in words
    lit = [row for row in judgement.motifs if "instead of" in light_words(row)]
    assert lit
    assert all(f"of {tenths(row.worst)} instead" in light_words(row) for row in lit)
    assert reach_words(weakest) in words
    # Every neighbour has its row, the one over the closure too.
    for row in (*judgement.motifs, judgement.closure):
        assert row is not None
        assert f"{row.i + 1}, {row.j + 1}" in words


def test_a_change_reaches_the_number_on_its_button_and_is_undone() -> None:
    app = _run(judging=to_text(Asked(sights=(Sight.PROTAN,), lights=(Light.DAYLIGHT,))))
    before = _history(app).now
    looks = looks_of("protan", "daylight")
    weakest = judge_piece(before.piece.design, looks=looks).weakest
    assert weakest is not None
    button = app.button(key="judging_do_0")
    found = re.search(r"from (\d+\.\d) to (\d+\.\d)", button.label)
    assert found is not None
    button.click().run()
    assert not app.exception
    after = judge_piece(_history(app).now.piece.design, looks=looks)
    rows = (*after.motifs, *after.dangles)
    same = next(r for r in rows if (r.meeting, r.i) == (weakest.meeting, weakest.i))
    # Rounded down to tenths, as the list and the line under the picture have it.
    assert f"{math.floor(10 * weakest.worst) / 10:.1f}" == found[1]
    assert f"{math.floor(10 * same.worst) / 10:.1f}" == found[2]
    app.button(key="undo").click().run()
    assert _history(app).now == before


def test_another_pair_is_looked_at() -> None:
    app = _run(judging=_PLAIN)
    app.selectbox(key="judging_pick").set_value(3).run()
    assert not app.exception
    rows = rows_of(judge_piece(demo().piece.design))
    assert f"Motifs {rows[3].i + 1} and {rows[3].j + 1}:" in _words(app)
    assert app.selectbox(key="judging_pick").value == 3


def test_choices_stand_in_the_address_and_come_back() -> None:
    app = _run(judging=_PLAIN)
    app.selectbox(key="judging_behind").set_value("skin 6").run()
    app.text_input(key="judging_distance").set_value("4 m").run()
    assert not app.exception
    (text,) = [str(text) for text in _listed(app.query_params[address.JUDGING])]
    again = _run(judging=text)
    assert again.selectbox(key="judging_behind").value == "skin 6"
    assert again.text_input(key="judging_distance").value == "4 m"
    assert "Steps at 4 m" in _words(again)
    assert "Against what lies behind" in [head.value for head in again.subheader]


def test_what_was_typed_stays_with_the_fault_beside_it() -> None:
    app = _run(judging=_PLAIN)
    app.text_input(key="judging_distance").set_value("4 furlongs").run()
    assert not app.exception
    assert app.text_input(key="judging_distance").value == "4 furlongs"
    assert "4 furlongs" in _faults(app)
    app.selectbox(key="judging_behind").set_value(OWN).run()
    app.text_input(key="judging_own").set_value("skin").run()
    assert app.text_input(key="judging_own").value == "skin"
    assert "skin" in _faults(app)
    assert "4 furlongs" in _faults(app)
    app.text_input(key="judging_own").set_value("#a07e56").run()
    app.text_input(key="judging_distance").set_value("").run()
    assert _faults(app) == ""


def test_the_matrix_holds_the_worst_of_all_that_was_asked() -> None:
    asked = Asked(sights=(Sight.TYPICAL, Sight.TRITAN), lights=(Light.DAYLIGHT, Light.LED))
    app = _run(judging=to_text(asked))
    hexes = [swatch.hex for swatch in demo().tray.swatches]
    looks = looks_of("typical,tritan", "daylight,led")
    worst = pairwise(lab_under(hexes_to_srgb1(hexes), looks)).min(axis=0)
    (table,) = [e.proto.body for e in app.get("html") if '<table class="dw-apart">' in e.proto.body]
    cells = re.findall(r"<small>(\S+)</small> (\d+)<", table)
    expected = [
        (verdict_words(worst[at, other]).split()[0], str(math.floor(worst[at, other])))
        for at in range(1, len(hexes))
        for other in range(at)
    ]
    assert cells == expected
    # Asking tritans and lamps must have cost some pair, or the table shows daylight alone.
    assert (worst < pairwise(srgb1_to_lab(hexes_to_srgb1(hexes))) - 1.0).any()


def test_a_piece_of_one_motif_has_no_neighbours_and_no_fault() -> None:
    single = with_motifs(demo().piece.pattern, 1)
    app = AppTest.from_function(_neighbours, default_timeout=90)
    app.query_params[address.JUDGING] = _PLAIN
    work = with_pattern(demo(), single)
    app.run()
    app.session_state[state.HISTORY] = History(now=work)
    app.run()
    assert not app.exception
    assert "One motif has no neighbours." in _words(app)


def test_facing_dangles_are_named_only_where_they_differ() -> None:
    from explorer.app.events import painted

    pattern = demo().piece.pattern
    assert {row.meeting for row in rows_of(judge_piece(weave(pattern)))} == {Meeting.MOTIFS}
    last = pattern.width(0) - 1
    accent = painted(pattern, (0, last), demo().tray.swatches[2]).pattern
    rows = rows_of(judge_piece(weave(accent)))
    assert [(row.i, row.meeting) for row in rows if row.meeting is Meeting.DANGLES] == [
        (0, Meeting.DANGLES)
    ]


def test_each_strip_marks_its_own_weakest_two() -> None:
    design = demo().piece.design
    looks = looks_of("typical,protan,grey", "daylight")
    judgement = judge_piece(design, looks=looks)
    for look in looks:
        found = weakest_under(judgement, look)
        alone = judge_piece(design, looks=(look,)).motifs[0]
        assert found is not None
        assert found[0].i == alone.i
        assert found[1] == pytest.approx(alone.worst)


def test_marks_hold_the_motifs_and_part_at_the_end_of_a_row() -> None:
    design = demo().piece.design
    one_row, two_rows = (motif_boxes(rows_scene(design, rows=rows)) for rows in (1, 2))
    lefts = [one_row[motif][0] for motif in range(len(design.motifs))]
    assert lefts == sorted(lefts)
    assert all(0.0 < left < 1.0 and top > 0.0 for left, top, _, _ in one_row.values())
    assert len(joined(one_row[5], one_row[6])) == 1
    (box,) = joined(one_row[5], one_row[6])
    assert box[2] == pytest.approx(one_row[6][0] + one_row[6][2] - one_row[5][0])
    # Eleven motifs break after the sixth.
    assert len(joined(two_rows[5], two_rows[6])) == 2


@pytest.mark.browser
def test_choices_survive_pages_and_reload_and_a_change_acts(site: "Site") -> None:
    from playwright.sync_api import expect

    site.open(f"neighbours?{urlencode({address.JUDGING: _TWO})}")
    page = site.page
    expect(page.locator(".dw-strip")).to_have_count(2)
    page.get_by_role("button", name="No colour (grey photo)").click()
    expect(page.locator(".dw-strip")).to_have_count(3)
    page.locator(".dw-answer", has_text="look the same in a grey photo").wait_for()
    site.settle()
    site.go("Colours")
    site.go("Contrast")
    expect(page.locator(".dw-strip")).to_have_count(3)
    page.reload()
    page.wait_for_selector(".table:not(.waiting)")
    expect(page.locator(".dw-strip")).to_have_count(3)
    site.settle()
    page.locator(".st-key-judging_answer button").first.click()
    page.locator(".dw-answer", has_text="All neighbours can be told apart").wait_for()
    site.settle()
    page.get_by_role("button", name="Undo").click()
    page.locator(".dw-answer", has_text="look the same in a grey photo").wait_for()
    site.settle()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")


def test_from_afar_the_two_are_more_blurred_the_farther_they_are() -> None:
    def sharpness(distance_m: float) -> float:
        drawn = Image.open(io.BytesIO(pair_from(demo().piece.design, 0, None, distance_m))).convert(
            "L"
        )
        return float(np.abs(np.diff(np.asarray(drawn, np.float64), axis=1)).mean())

    table, room, hall = (sharpness(distance_m) for distance_m in (1.0, 2.5, 8.0))
    assert table > 1.2 * room > 1.2 * 1.2 * hall
