"""The Counting page: every figure follows from its box, and every box keeps what was typed."""

import html
import math
import re
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from streamlit.testing.v1 import AppTest

from explorer.app import state, steps
from explorer.app.assumed import USUAL, bead_key, reckoned
from explorer.app.choosing import Choosing
from explorer.app.counting_words import cost_words, hours, pack_words, takes_words
from explorer.app.demo import demo
from explorer.app.handing import Handing, with_box
from explorer.app.offers import candidates, offer
from explorer.app.state import History
from explorer.app.views.counting import shopping
from explorer.buying import buying, total_cost
from explorer.counts import Spares, counts
from explorer.errors import BriefError
from explorer.sheet_letters import letters
from explorer.thread import thread_plan
from explorer.thread_setup import ThreadSetup
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.tray import Tray, TrayBead

WORK = demo()
DESIGN = WORK.piece.design


def _counting() -> None:
    from explorer.app import session
    from explorer.app.views import counting

    session.begin()
    counting.view()


def _run() -> AppTest:
    app = AppTest.from_function(_counting, default_timeout=60).run()
    assert not app.exception
    return app


def _text(app: AppTest) -> str:
    """The page's own words, tags taken out."""
    held = " ".join(element.proto.body for element in app.get("html"))
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", " ", held)))


def _history(app: AppTest) -> History:
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    return held


def _type(app: AppTest, box: str, text: str) -> None:
    app.text_input(key=f"figure_{box}").set_value(text).run()
    assert not app.exception


def test_the_page_says_what_the_core_reckons() -> None:
    app = _run()
    tally, plan = counts(DESIGN), thread_plan(DESIGN)
    text = _text(app)
    assert f"{tally.total + tally.spares} beads to count out" in text
    assert f"{plan.length_mm / 1000:.2f} m of thread" in text
    assert f"{len(plan.pieces_mm)} pieces" in text
    for line in buying(DESIGN, tally):
        assert f"{line.used} + {line.spares} spare" in text
        assert f"{line.least_g:.1f} to {line.most_g:.1f} g, buy" in text
    assert "A model, not calibrated" in text


def test_spares_change_the_counts_here_and_in_the_line_of_figures() -> None:
    app = _run()
    _type(app, "spares", "20")
    tally = counts(DESIGN, Spares(percent=20.0))
    assert _text(app).count(f"{tally.total + tally.spares} beads to count out") == 2
    app.button(key="undo").click().run()
    assert _text(app).count("303 beads to count out") == 2


@pytest.mark.parametrize(
    ("box", "text"),
    [
        ("spares", "lots"),
        ("per_gram", "95"),
        ("thread", "15 mm"),
        ("needle", "0"),
        ("working", "2 mm"),
        ("pace", "0"),
        ("packs:cube 3", "five grams"),
        (f"at_hand:{bead_key(DESIGN.beads[0])}", "-3"),
    ],
)
def test_what_makes_no_sense_stays_with_the_reason_beside_it(box: str, text: str) -> None:
    app = _run()
    before = _text(app)
    _type(app, box, text)
    assert app.text_input(key=f"figure_{box}").value == text
    assert "Until then the usual figure is used" in _text(app)
    assert _history(app).past == ()
    _type(app, box, "")
    assert _text(app) == before
    assert _history(app).now.assumed == USUAL


def test_a_working_length_that_does_not_reach_is_told_and_the_rest_stays() -> None:
    app = _run()
    _type(app, "working", "320 mm")
    assert "the longest stitch and two tails" in _text(app)
    assert "303 beads to count out" in _text(app)


def test_prices_give_the_cost_and_beads_at_hand_take_from_it() -> None:
    app = _run()
    _type(app, "packs:cube 3", "5 g 2.50; 50 g 18")
    assert "Write prices" in _text(app)
    _type(app, "packs:round 8/0", "5 g 1.50")
    # one pack of cubes, seven of rounds
    assert f"The packs cost {2.5 + 7 * 1.5:.2f}" in _text(app)
    _type(app, f"at_hand:{bead_key(DESIGN.beads[0])}", "200")
    assert f"The packs cost {7 * 1.5:.2f}" in _text(app)
    assert "all at hand" in _text(app)
    _type(app, f"at_hand:{bead_key(DESIGN.beads[0])}", "70")
    assert "4 lacking" in _text(app)


def test_a_thicker_thread_is_picked_and_its_tight_bead_named_with_a_remedy() -> None:
    app = _run()
    app.selectbox(key="usual_thread").select("0.3 mm nylon D").run()
    assert not app.exception
    assert app.text_input(key="figure_thread").value == "0.3 mm"
    tight = thread_plan(DESIGN, ThreadSetup(thread_mm=0.3)).tightest
    assert tight.remedy in _text(app)
    assert f"{tight.needed_mm:.2f} of {tight.hole_mm:.2f} mm" in _text(app)
    _type(app, "thread", "0.29 mm")
    assert "as written below" in app.selectbox(key="usual_thread").options[0]


def test_beads_are_gathered_by_colour_finish_and_motif() -> None:
    app = _run()
    app.segmented_control(key="counting_group").set_value("motif").run()
    assert "Motif 11" in _text(app)
    app.segmented_control(key="counting_group").set_value("finish").run()
    assert not app.exception
    assert "silver-lined" in _text(app)


def test_a_child_s_piece_has_shorter_drops() -> None:
    app = _run()
    assert "usual for" not in _text(app)
    app.selectbox(key="counting_wear").select("child's piece").run()
    assert "usual for a child's piece is up to 10 mm" in _text(app)


def test_a_new_pace_gives_a_new_time() -> None:
    app = _run()
    _type(app, "pace", "30")
    total = counts(DESIGN).total
    assert hours(30.0 * total) in _text(app)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (20.0, "1 minute"),
        (2700.0, "45 minutes"),
        (3600.0, "1 h"),
        (4200.0, "1 h 10 min"),
        (7190.0, "2 h"),
    ],
)
def test_times_are_read_as_hours(seconds: float, words: str) -> None:
    assert hours(seconds) == words


def test_from_a_strip_of_nine_and_three_eighths_to_a_list() -> None:
    # Worked out by hand: 9 3/8 in are 238.125 mm; 5 dangles and a divider of cubes at 3.1 mm take
    # 18.6 mm, so 12 repeats and the last divider, 73 base beads, 226.3 mm. The quick rule (common
    # practice, no source) gives the same 12 and 12 x 6 + 1 beads. 11.8 mm are left over: one plain
    # bead more at each end.
    sizing = replace(WORK.sizing, snug="9 3/8 in", ease="0", closure="0")
    work = steps.resized(WORK, sizing)
    design = work.piece.design
    assert (len(design.motifs), design.base_beads) == (12, 75)
    assert work.piece.wearer is not None
    assert work.piece.wearer.target_mm(design.closure) - design.strip_mm == pytest.approx(
        238.125 - 75 * 3.1
    )
    tally = counts(design)
    lines = shopping(design, tally, reckoned(USUAL))
    cubes = next(line for line in lines if line.bead.kind.name == "cube 3")
    # a tenth more, rounded up; 19 cubes a gram, a tenth either way
    assert (cubes.used, cubes.spares) == (75, 8)
    assert (cubes.least_g, cubes.most_g) == pytest.approx((83 / 19 / 1.1, 83 / 19 / 0.9))
    assert sum(line.used for line in lines) == tally.total == 75 + tally.dangle_beads
    assert all(sum(p.weight_g for p in line.packs) >= line.most_g for line in lines)


def test_packs_of_one_size_are_gathered() -> None:
    lines = buying(DESIGN, counts(DESIGN, Spares(percent=300.0)))
    cubes = lines[0]
    assert sum(pack.weight_g for pack in cubes.packs) >= cubes.most_g
    assert pack_words(cubes).count("g") == len({pack.weight_g for pack in cubes.packs})
    assert total_cost(lines) is None
    assert takes_words(7, (), None, 60.0) == (
        "7 beads to count out · 0 packs to buy, 0.0 g needed · thread: see below · about 1 minute"
    )


def test_a_bead_s_key_tells_kind_colour_finish_and_name_apart() -> None:
    kinds = list(bead_kinds().values())[:2]
    beads = [
        Bead(name=name, kind=kind, hex=hex_)
        for name in ("a", "b")
        for kind in kinds
        for hex_ in ("#000000", "#ffffff")
    ]
    assert len({bead_key(bead) for bead in beads}) == 8


def test_beads_stand_in_the_order_of_the_printed_sheet() -> None:
    held = "".join(element.proto.body for element in _run().get("html"))
    names = [DESIGN.beads[number].name for number in letters(DESIGN)]
    places = [held.index(f"<span>{name}<small>") for name in dict.fromkeys(names)]
    assert places == sorted(places)
    assert len(places) > 5


def _tray(price: float | None, count: int | None, cubes: float | None = 0.4) -> Tray:
    """All beads of the piece at hand, the cubes with a price of their own."""
    return Tray(
        beads=tuple(
            TrayBead(
                name=bead.name,
                kind=bead.kind,
                hex=bead.hex,
                finish=bead.finish,
                count=count,
                price=cubes if bead.kind.name == "cube 3" else price,
            )
            for bead in dict.fromkeys(DESIGN.beads)
        )
    )


def _cost(tray: Tray, **boxes: tuple[tuple[str, str], ...]) -> str:
    changed: dict[str, Any] = {**boxes}
    known = reckoned(replace(USUAL, **changed))
    return cost_words(shopping(DESIGN, counts(DESIGN), known, tray))


def _sums(words: str) -> list[float]:
    return [float(found) for found in re.findall(r"\d+\.\d\d", words)]


def _worth(cubes: float, rounds: float) -> float:
    tally = counts(DESIGN)
    return math.fsum(
        entry.used
        / DESIGN.beads[entry.bead].kind.beads_per_gram
        * (cubes if DESIGN.beads[entry.bead].kind.name == "cube 3" else rounds)
        for entry in tally.by_bead
    )


def test_a_price_for_every_bead_of_the_tray_is_enough() -> None:
    words = _cost(_tray(0.6, None))
    assert "Write prices" not in words
    paid, worth = _sums(words)
    packs = [pack for line in buying(DESIGN, counts(DESIGN)) for pack in line.packs]
    cubes = sum(p.weight_g for p in buying(DESIGN, counts(DESIGN))[0].packs)
    assert paid == pytest.approx(0.4 * cubes + 0.6 * (sum(p.weight_g for p in packs) - cubes))
    assert worth == pytest.approx(_worth(0.4, 0.6), abs=0.005)


def test_a_worth_is_never_a_part_of_what_is_to_be_paid() -> None:
    # All but the cubes is at hand, so that the packs cost less than the beads are worth.
    tray = _tray(0.6, 1000)
    some = Tray(beads=tuple(b for b in tray.beads if b.kind.name != "cube 3"))
    words = _cost(some, packs=(("cube 3", "5 g 1.20"),))
    paid, worth = _sums(words)
    assert paid == 1.20
    assert worth > paid
    assert "of it" not in words
    assert "what you have at hand is not counted in that" in words
    assert "at hand or not" in words


def test_nothing_counts_as_free_without_a_word() -> None:
    nothing = _cost(_tray(0.6, 1000))
    assert "Nothing is to be bought" in nothing
    assert _sums(nothing) == [pytest.approx(_worth(0.4, 0.6), abs=0.005)]
    no_price = _cost(_tray(None, 1000))
    assert "no price for" in no_price
    assert _sums(no_price) == []
    free = _cost(_tray(0.6, 1000, cubes=0.0))
    assert f"At a price of 0: {DESIGN.beads[0].name} (cube 3)." in free
    for words in (nothing, free):
        assert "Thread and closure are in neither sum" in words
    assert "At a price of 0" not in nothing
    unknown = _cost(_tray(None, None, cubes=None))
    assert "Write prices beside the packs of cube 3, round 8/0" in unknown
    assert _sums(unknown) == []


@given(st.floats(0.01, 5.0), st.floats(0.01, 5.0), st.integers(0, 200), st.floats(0.5, 20.0))
@settings(max_examples=30, deadline=None)
def test_both_sums_are_what_independent_arithmetic_gives(
    rounds: float, cubes: float, count: int, pack: float
) -> None:
    offers = (("cube 3", f"5 g {pack:.2f}"), ("round 8/0", f"5 g {pack:.2f}"))
    words = _cost(_tray(rounds, count, cubes=cubes), packs=offers)
    paid = 0.0
    for entry in counts(DESIGN).by_bead:
        lacking = max(0, entry.used + entry.spares - count) if entry.used else 0
        grams = lacking / DESIGN.beads[entry.bead].kind.beads_per_gram / 0.9
        paid += math.ceil(grams / 5.0 - 1e-9) * float(f"{pack:.2f}")
    worth = _worth(cubes, rounds)
    expected = [worth] if paid == 0.0 else [paid, worth]
    assert _sums(words.replace(",", "")) == pytest.approx(expected, abs=0.011)


def test_a_customer_pays_by_the_tray_s_prices_first() -> None:
    found = candidates(WORK, Choosing(), {})["table"]
    with pytest.raises(BriefError):
        offer(WORK, Handing(), "table", found)
    made = offer(WORK, Handing(), "table", found, _tray(0.6, None))
    assert float(made.materials) == pytest.approx(_worth(0.4, 0.6), abs=0.006)
    assert made.beads_alone
    typed = offer(WORK, with_box(Handing(), "materials:table", "7"), "table", found)
    assert (typed.materials, typed.beads_alone) == (Decimal(7), False)
