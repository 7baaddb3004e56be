"""A newcomer's three answers give a piece that fits, or say what is wrong."""

import html

import pytest
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import TextInput

from explorer.app import state
from explorer.app.demo import demo
from explorer.app.parts.start_mine import PLACES, started
from explorer.app.refit import motif_hexes
from explorer.app.state import Work
from explorer.app.steps import brief_of
from explorer.brief import Brief
from explorer.cautions import USUAL_DROP_MM, Topic, Wear, cautions
from explorer.ends import BREAKAWAY
from explorer.errors import BriefError
from explorer.fit import TOLERANCE_MM
from explorer.lengths import parse_mm
from explorer.profile_scores import drop_mm
from explorer.wearers import LIMBS, usual_ease_mm
from palettes.charts import bead_kinds, palette


@pytest.mark.parametrize("limb", list(PLACES))
@pytest.mark.parametrize("snug", ["17 cm", "6 3/4 in", "230"])
def test_three_answers_give_a_piece_that_fits(limb: str, snug: str) -> None:
    work = started(demo(), limb, snug, "lolly-van")
    assert isinstance(work, Work)
    wearer = work.piece.wearer
    assert wearer is not None
    assert wearer.snug_mm == parse_mm(snug, "snug")
    left_mm = wearer.target_mm(work.piece.design.closure) - work.piece.design.strip_mm
    assert -TOLERANCE_MM <= left_mm < 2 * 3.1
    assert wearer.ease_mm == usual_ease_mm(PLACES[limb])
    assert set(motif_hexes(work.piece.design)) <= set(palette("lolly-van").hexes)
    assert work.piece.name != demo().piece.name
    # Nobody set that ease by hand, wherever a measurement alone would put the piece.
    assert not work.piece.pattern.worn.own_ease


@pytest.mark.parametrize("snug", ["", "seventeen", "-17 cm", "17 m", "0"])
def test_a_measurement_that_is_none_is_said_so(snug: str) -> None:
    fault = started(demo(), "Ankle", snug, "lolly-van")
    assert isinstance(fault, BriefError)
    assert fault.field == "snug"


def test_a_childs_piece_closes_with_what_comes_open() -> None:
    for child, wear in ((True, Wear.CHILD), (False, Wear.ANKLET)):
        work = started(demo(), "Ankle", "17 cm", "lolly-van", child=child)
        assert isinstance(work, Work)
        assert work.piece.wear is wear
        assert (work.sizing.fastening == BREAKAWAY) is child
        assert (work.sizing.closure != demo().sizing.closure) is child
        said = [c.words for c in cautions(work.piece.design, wear) if c.topic is Topic.CLOSURE]
        assert said == []
    # It is sold as 18 to 25 mm long; the maker's own writing of the middle.
    work = started(
        demo(), "Ankle", "17 cm", "hush", child=True, written=lambda text: text.replace(".", ",")
    )
    assert isinstance(work, Work)
    assert work.sizing.closure == "21,5 mm"


def test_a_childs_piece_hangs_no_lower_than_is_usual_for_a_child() -> None:
    lowest = {}
    for child in (False, True):
        work = started(demo(), "Ankle", "17 cm", "lolly-van", child=child)
        assert isinstance(work, Work)
        said = [c for c in cautions(work.piece.design, Wear.CHILD) if c.topic is Topic.DROP]
        assert (said == []) is child
        lowest[child] = max(len(column.beads) for _, column in work.piece.design.columns())
        brief = brief_of(work, seed=1, count=4)
        assert isinstance(brief, Brief)
        kind = bead_kinds()[work.sizing.hanging]
        fits = drop_mm(brief.most_beads, kind) <= USUAL_DROP_MM[Wear.CHILD]
        assert fits is child
        if child:
            # The most that hangs so, not less.
            assert drop_mm(brief.most_beads + 1, kind) > USUAL_DROP_MM[Wear.CHILD]
            assert lowest[True] == brief.most_beads
    assert lowest[True] < lowest[False]


def test_size_says_that_a_childs_piece_hangs_low_and_shortens_it() -> None:
    app = AppTest.from_function(_page, default_timeout=90).run()
    assert "it can catch" not in _notes(app)
    app.selectbox(key="size_wear").select(Wear.CHILD.value).run()
    assert "it can catch" in _notes(app)
    app.button(key="size_shorter").click().run()
    assert not app.exception
    assert "it can catch" not in _notes(app)


def _page() -> None:
    from explorer.app import session
    from explorer.app.parts.start_mine import say_started
    from explorer.app.views import size

    session.begin()
    say_started("size")
    size.view()


def test_a_start_is_said_until_something_else_is_done() -> None:
    app = AppTest.from_function(_page, default_timeout=90).run()
    assert "Yours is on the table" not in _notes(app)
    app.text_input(key="start_snug").set_value("17 cm").run()
    next(b for b in app.button if b.label == "Start mine").click().run()
    assert "Yours is on the table: 9 motifs for 17 cm round the ankle" in _notes(app)
    _snug(app).set_value("18 cm").run()
    assert not app.exception
    assert "Yours is on the table" not in _notes(app)


def test_what_a_box_held_before_a_start_is_not_heard_after_it() -> None:
    app = AppTest.from_function(_page, default_timeout=90).run()
    app.text_input(key="start_snug").set_value("17 cm").run()
    late = app.text_input(key="size_snug")
    assert late.value == "205 mm"
    next(b for b in app.button if b.label == "Start mine").click().run()
    # The box is another one now, so that a browser that still reports the old one changes nothing.
    assert _snug(app).key != late.key
    assert _snug(app).value == "17 cm"
    assert app.session_state[state.HISTORY].now.sizing.snug == "17 cm"
    _snug(app).set_value("18 cm").run()
    assert app.session_state[state.HISTORY].now.sizing.snug == "18 cm"


def test_a_childs_closure_is_cautioned_where_it_is_chosen_and_mended_there() -> None:
    app = AppTest.from_function(_page, default_timeout=90).run()
    assert "Magnetic closures never go on children's pieces" not in _notes(app)
    app.selectbox(key="size_limb").select_index(
        1 + next(i for i, limb in enumerate(LIMBS) if limb.name == "ankle at six")
    ).run()
    assert app.selectbox(key="size_wear").value == Wear.CHILD.value
    assert "A lobster clasp on a child's piece does not open when it is pulled." in _notes(app)
    assert "Magnetic closures never go on children's pieces" in _notes(app)
    assert "the law where you live" in _notes(app)
    app.button(key="size_safer").click().run()
    assert not app.exception
    assert app.selectbox(key="size_fastening").value == "breakaway clasp"
    assert "does not open when it is pulled" not in _notes(app)
    # One step back is the clasp alone.
    assert app.session_state[state.HISTORY].past[-1].sizing.fastening == "lobster clasp"


def test_a_size_that_children_have_too_is_said_so() -> None:
    app = AppTest.from_function(_page, default_timeout=90).run()
    app.text_input(key="size_snug").set_value("170").run()
    app.selectbox(key="size_wear").select(Wear.ANKLET.value).run()
    assert "Children have ankles of this size too" in _notes(app)
    app.text_input(key="size_snug").set_value("230").run()
    assert "of this size too" not in _notes(app)


def _snug(app: AppTest) -> TextInput:
    return next(box for box in app.text_input if box.label == "Round the ankle or wrist")


def _notes(app: AppTest) -> str:
    return html.unescape(" ".join(str(one.proto.body) for one in app.get("html")))
