"""The Size page: starting values, closures, swatches, closest fits, measuring half-way."""

import html
import math
import re
from dataclasses import replace
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from explorer.app import shaping, state, steps
from explorer.app.demo import demo
from explorer.app.sizing import Measured, measured
from explorer.app.sizing_words import closed_words, limb_words, room_words, takes_words
from explorer.app.state import History, Work
from explorer.fit import Fit
from explorer.remeasure import ways_on
from explorer.swatch import Swatch
from explorer.tips import hanging_kind
from explorer.wearers import LIMBS, Place, usual_ease_mm

WORK = demo()


def _size() -> None:
    from explorer.app import session
    from explorer.app.views import size

    session.begin()
    size.view()


def _run() -> AppTest:
    app = AppTest.from_function(_size, default_timeout=60).run()
    assert not app.exception
    return app


def _text(app: AppTest) -> str:
    held = " ".join(element.proto.body for element in app.get("html"))
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", held)))


def _work(app: AppTest) -> Work:
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    return held.now


def _measured(work: Work) -> Measured:
    found = measured(work.sizing)
    assert isinstance(found, Measured)
    return found


def test_a_usual_measurement_resizes_the_piece_and_asks_for_a_real_one() -> None:
    app = _run()
    app.selectbox(key="size_limb").select("0").run()
    assert not app.exception
    work = _work(app)
    assert _measured(work).wearer.snug_mm == LIMBS[0].girth_mm == 155.0
    assert "always measure" in _text(app)
    # the order stays, carried on or cut
    first = [motif[2].beads[0] for motif in WORK.piece.design.motifs]
    now = [motif[2].beads[0] for motif in work.piece.design.motifs]
    assert now == first[: len(now)]
    app.button(key="undo").click().run()
    assert _work(app).piece == WORK.piece


def test_usual_measurements_say_how_wide_they_spread() -> None:
    assert "147 mm or thicker than 163 mm" in limb_words(LIMBS[0])
    assert all("measure" in limb_words(limb) for limb in LIMBS)


def test_ease_in_words_is_written_into_its_box() -> None:
    app = _run()
    app.selectbox(key="size_ease_words").select("4").run()
    # ankle, comfortable: 1 to 1 1/2 in (trade pages), so 31.75 mm
    assert app.text_input(key="size_ease").value == "31.8 mm"


def test_a_closure_comes_with_its_length_and_may_be_typed_in_parts() -> None:
    app = _run()
    app.selectbox(key="size_fastening").select("toggle clasp").run()
    closure = _work(app).piece.design.closure
    assert (closure.kind, closure.length_mm) == ("toggle clasp", 20.0)
    app.text_input(key="size_closure").set_value("12 mm + 1/4 in").run()
    assert _work(app).piece.design.closure.length_mm == pytest.approx(18.35)
    app.text_input(key="size_closure").set_value("12 mm +").run()
    assert "dw-fault" in " ".join(e.proto.body for e in app.get("html"))
    assert app.text_input(key="size_closure").value == "12 mm +"


def test_an_extender_chain_is_drawn_and_said() -> None:
    app = _run()
    app.selectbox(key="size_extender").select("50.8 mm").run()
    assert not app.exception
    assert _work(app).piece.design.closure.extender_mm == 50.8
    assert "On its chain it closes anywhere from 225.7 mm to 276.5 mm" in _text(app)


@pytest.mark.parametrize("text", ["200 mm", "100 mm + 100 mm", "150 + 60"])
def test_a_closure_as_long_as_an_anklet_is_a_fault(text: str) -> None:
    found = measured(replace(WORK.sizing, closure=text, closure_counted=False))
    assert isinstance(found, tuple)
    assert found[0].field == "closure"


def test_dangle_beads_follow_the_base_unless_they_were_chosen() -> None:
    app = _run()
    app.selectbox(key="size_base").select("cube 1.8").run()
    assert not app.exception
    assert _work(app).sizing.hanging == "round 11/0"
    assert hanging_kind(_work(app).piece.design).name == "round 11/0"
    app.selectbox(key="size_hanging").select("round 15/0").run()
    app.selectbox(key="size_base").select("cube 4").run()
    assert _work(app).sizing.hanging == "round 15/0"
    at_hand = replace(WORK, tray=replace(WORK.tray, at_hand=True))
    smaller = replace(at_hand.sizing, base="cube 1.8")
    assert steps.with_partner(at_hand, smaller) == smaller


@pytest.mark.parametrize(
    ("box", "typed", "remedy"),
    [
        ("snug", "8 7/8", "8 7/8 in"),
        ("snug", "21.5", "21.5 cm"),
        ("ease", "3/4", "3/4 in"),
        ("ease", "0.75", "0.75 in"),
        ("closure", "1/2", "1/2 in"),
        ("swatch_length", "2 7/16", "2 7/16 in"),
    ],
)
def test_a_box_asks_for_the_unit_of_a_fraction_as_the_command_line_does(
    box: str, typed: str, remedy: str
) -> None:
    changed: dict[str, Any] = {box: typed}
    found = measured(replace(WORK.sizing, **changed))
    assert isinstance(found, tuple)
    assert f"Write {remedy} if" in found[0].remedy
    changed = {box: remedy}
    assert isinstance(measured(replace(WORK.sizing, **changed)), Measured)


def test_the_base_s_thickness_makes_the_strip_longer_by_pi_times_it() -> None:
    app = _run()
    app.checkbox(key="size_curvature").check().run()
    to = _measured(_work(app))
    assert to.wearer.curvature_mm == pytest.approx(math.pi * 3.0)
    assert to.wearer.target_mm(to.closure) == pytest.approx(209.0 + 3.0 * math.pi)


def test_a_swatch_says_how_sure_it_is() -> None:
    app = _run()
    app.text_input(key="size_swatch_length").set_value("62 mm").run()
    app.text_input(key="size_reading").set_value("1 mm").run()
    strip = _measured(_work(app)).strip
    assert strip.pitch_mm == 3.1
    assert strip.pitch_spread == pytest.approx(1 / 62)
    assert "give or take 1.6 %" in _text(app)
    app.text_input(key="size_reading").set_value("x").run()
    assert isinstance(measured(_work(app).sizing), tuple)
    assert app.text_input(key="size_reading").value == "x"


def test_the_pitch_of_another_unit_is_asked_about() -> None:
    app = _run()
    app.text_input(key="size_swatch_length").set_value("20 cm").run()
    app.number_input(key="size_swatch_beads").set_value(10).run()
    assert "Was another unit meant?" in _text(app)


def test_plain_ends_are_the_first_closer_fit_and_are_taken() -> None:
    app = _run()
    app.text_input(key="size_snug").set_value("199 mm").run()
    app.checkbox(key="size_plain_ends").uncheck().run()
    assert _work(app).piece.design.start_margin == ()
    first = app.button(key="alternative_0")
    found = re.search(r"(\d+) motifs of (\d+) dangles, (\d+) between", first.label)
    assert found
    assert found.groups()[1:] == ("5", "1")
    assert "plain at each end" in first.label
    first.click().run()
    assert not app.exception
    work = _work(app)
    to = _measured(work)
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    assert (fit.motifs, fit.repeat.dangles, fit.repeat.divider) == tuple(map(int, found.groups()))
    assert work.piece.design.base_beads == fit.base_beads
    assert work.sizing.plain_ends
    assert work.piece.design.start_margin == work.piece.design.end_margin != ()


def test_measuring_half_way_gives_ways_and_one_is_taken() -> None:
    app = _run()
    app.text_input(key="size_remeasured").set_value("40 base beads measure 130 mm").run()
    assert not app.exception
    wearer = WORK.piece.wearer
    assert wearer is not None
    ways = ways_on(WORK.piece.pattern, wearer, Swatch(beads=40, length_mm=130.0))
    assert f"{ways[0].counts.total} beads" in _text(app)
    app.button(key="way_0").click().run()
    assert not app.exception
    work = _work(app)
    assert work.piece.pattern == ways[0].pattern
    assert work.piece.pitch_measured
    assert (work.sizing.swatch_beads, work.sizing.swatch_length) == (40, "130 mm")
    app.button(key="undo").click().run()
    assert _work(app).piece == WORK.piece


def test_a_sentence_that_cannot_be_read_stays_with_the_reason() -> None:
    app = _run()
    for text in ("soon", "3 beads measure 9 mm", "40 beads measure 9 m"):
        app.text_input(key="size_remeasured").set_value(text).run()
        assert app.text_input(key="size_remeasured").value == text
        assert "dw-fault" in " ".join(e.proto.body for e in app.get("html"))


def test_a_strip_made_over_takes_margins_and_gives_them_up() -> None:
    work = shaping.with_margin(WORK, 2)
    assert len(work.piece.design.start_margin) == 2
    to = _measured(work)
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    assert work.piece.design.base_beads == fit.base_beads
    back = steps.resized(work, WORK.sizing)
    assert back.piece.design.start_margin == back.piece.design.end_margin == ()
    assert back.piece.design.base_beads == WORK.piece.design.base_beads


def test_an_emptied_ease_is_the_usual_one_for_where_it_is_worn() -> None:
    app = _run()
    app.text_input(key="size_ease").set_value("").run()
    assert not app.exception
    assert _measured(_work(app)).wearer.ease_mm == usual_ease_mm(Place.ANKLE)


def test_a_piece_opened_fills_closure_chain_and_margin() -> None:
    sizing = replace(
        WORK.sizing, fastening="toggle clasp", extender="25.4 mm", margin=1, plain_ends=False
    )
    work = steps.resized(WORK, sizing)
    after = steps.opened(WORK, work.piece)
    assert (after.sizing.fastening, after.sizing.extender) == ("toggle clasp", "25.4 mm")
    assert (after.sizing.margin, after.sizing.plain_ends) == (1, False)
    assert measured(after.sizing) == measured(sizing)


def test_one_sum_tells_ease_closure_and_what_is_left_over() -> None:
    # By hand: 205 + 22 - 18 = 209; 67 x 3.1 = 207.7; 209 - 207.7 = 1.3; 22 - 1.3 = 20.7.
    to = _measured(WORK)
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    assert room_words(fit, to.wearer) == (
        "205 mm measured + 22 mm of ease \N{MINUS SIGN} 18 mm of closure = 209 mm (8 1/4 in) of "
        "room for the strip."
    )
    assert takes_words(fit) == (
        "11 motifs fit on 67 base beads: a strip of 207.7 mm (8 3/16 in), so 1.3 mm (1/16 in) are "
        "left over."
    )
    assert closed_words(fit, to.wearer) == (
        "Closed, the piece is 225.7 mm (8 7/8 in) round and sits with 20.7 mm (13/16 in) of ease: "
        "the 22 mm asked for, less the 1.3 mm left over."
    )


@pytest.mark.parametrize("counted", [True, False])
@pytest.mark.parametrize("thick", [True, False])
def test_the_sum_adds_up(counted: bool, thick: bool) -> None:
    sizing = replace(WORK.sizing, closure_counted=counted, curvature=thick)
    to = _measured(replace(WORK, sizing=sizing))
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    room = room_words(fit, to.wearer).replace("\N{MINUS SIGN} ", "-")
    *parts, total = (float(number) for number in re.findall(r"(-?[\d.]+) mm", room))
    assert math.isclose(sum(parts), total, abs_tol=0.11)
    closed = closed_words(fit, to.wearer)
    got, *asked = (float(number) for number in re.findall(r"([\d.]+) mm", closed)[1:])
    left = asked.pop() if "left over" in closed else 0.0
    # Each is told to a tenth.
    assert math.isclose(sum(asked) - left, got, abs_tol=0.16)
