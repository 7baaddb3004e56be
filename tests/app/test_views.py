"""Each page by itself, without a browser: boxes, faults, what a change does."""

from collections.abc import Callable

from streamlit.testing.v1 import AppTest

from explorer.app import state
from explorer.app.state import History
from explorer.piece import MOST_NAME, MOST_NOTES


def _size() -> None:
    from explorer.app import session
    from explorer.app.views import size

    session.begin()
    size.view()


def _colours() -> None:
    from explorer.app import session
    from explorer.app.views import colours

    session.begin()
    colours.view()


def _proposals() -> None:
    from explorer.app import session
    from explorer.app.views import proposals

    session.begin()
    proposals.view()


def _piece() -> None:
    from explorer.app import session
    from explorer.app.views import piece

    session.begin()
    piece.view()


def _run(script: Callable[[], None]) -> AppTest:
    app = AppTest.from_function(script, default_timeout=60).run()
    assert not app.exception
    return app


def _history(app: AppTest) -> History:
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    return held


def _notes(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


def test_a_measurement_changes_the_piece_at_once() -> None:
    app = _run(_size)
    app.text_input(key="size_snug").set_value("6 1/2 in").run()
    assert not app.exception
    piece = _history(app).now.piece
    assert piece.wearer is not None
    assert piece.wearer.snug_mm == 6.5 * 25.4
    assert f"{len(piece.design.motifs)} motifs" in _notes(app)


def test_what_was_typed_stays_with_the_fault_beside_it() -> None:
    app = _run(_size)
    before = _history(app).now.piece
    for text in ("-3in", "40 m", "", "6 furlongs", "0"):
        app.text_input(key="size_snug").set_value(text).run()
        assert not app.exception
        assert app.text_input(key="size_snug").value == text
        assert "dw-fault" in _notes(app)
        assert _history(app).now.piece == before
    app.text_input(key="size_snug").set_value("180 mm").run()
    assert "dw-fault" not in _notes(app)


def test_faults_are_no_steps_to_undo() -> None:
    app = _run(_size)
    app.text_input(key="size_snug").set_value("x").run()
    assert _history(app).past == ()


def test_too_short_says_what_would_do() -> None:
    app = _run(_size)
    app.text_input(key="size_snug").set_value("41 mm").run()
    app.number_input(key="size_dangles").set_value(25).run()
    assert "Not even one motif fits" in _notes(app)
    assert not app.exception


def test_a_neighbouring_fit_is_taken_by_a_tap() -> None:
    app = _run(_size)
    app.text_input(key="size_snug").set_value("199 mm").run()
    app.checkbox(key="size_plain_ends").uncheck().run()
    app.button(key="alternative_1").click().run()
    assert not app.exception
    sizing = _history(app).now.sizing
    assert (sizing.dangles, sizing.divider) != (5, 1)
    dangles = next(box for box in app.number_input if box.label == "Dangles in a motif")
    assert dangles.value == sizing.dangles


def test_undo_brings_box_and_piece_back_together() -> None:
    app = _run(_size)
    before = _history(app).now
    app.text_input(key="size_snug").set_value("170 mm").run()
    app.button(key="undo").click().run()
    assert _history(app).now == before
    assert _snug(app) == before.sizing.snug
    app.button(key="redo").click().run()
    assert _snug(app) == "170 mm"


def _snug(app: AppTest) -> str:
    box = next(box for box in app.text_input if box.label == "Round the ankle or wrist")
    return str(box.value)


def test_a_swatch_replaces_the_catalogue_pitch() -> None:
    app = _run(_size)
    app.text_input(key="size_swatch_length").set_value("64 mm").run()
    app.number_input(key="size_swatch_beads").set_value(20).run()
    assert not app.exception
    assert _history(app).now.piece.design.base_pitch_mm == 3.2


def test_own_colours_and_a_fault_beside_them() -> None:
    app = _run(_colours)
    app.text_input(key="colours_own").set_value("#1f8a83 #f2c14e #d1495b").run()
    assert not app.exception
    assert [s.hex for s in _history(app).now.tray.swatches] == ["#1f8a83", "#f2c14e", "#d1495b"]
    app.text_input(key="colours_own").set_value("#1f8a83 teal").run()
    assert app.text_input(key="colours_own").value == "#1f8a83 teal"
    assert "teal" in _notes(app)
    assert "dw-fault" in _notes(app)


def test_a_colour_is_changed_by_hand() -> None:
    app = _run(_colours)
    app.color_picker(key="hand_swatch").set_value("#445566").run()
    assert not app.exception
    assert _history(app).now.tray.swatches[0].hex == "#445566"
    app.color_picker(key="hand_base_0").set_value("#ffffff").run()
    assert _history(app).now.tray.base.hex == "#ffffff"


def test_each_colour_of_a_base_of_two_is_picked_and_changed() -> None:
    def bases(app: AppTest) -> list[str]:
        pattern = _history(app).now.piece.pattern
        return [pattern.colour(key).hex for key in pattern.base.keys]

    app = _run(_colours)
    first = bases(app)
    app.selectbox(key="rules_base").set_value("beads").run()
    assert bases(app)[:1] == first
    assert len(bases(app)) == 2
    app.color_picker(key="hand_base_1").set_value("#445566").run()
    assert bases(app) == [*first, "#445566"]
    app.color_picker(key="hand_base_0").set_value("#ddeeff").run()
    assert bases(app) == ["#ddeeff", "#445566"]
    assert _history(app).now.tray.base.hex == "#ddeeff"
    named = {s.name: s.hex for s in _history(app).now.tray.swatches}
    for number in (0, 1):
        name = list(named)[number + 2]
        app.selectbox(key=f"rules_base_{number}").set_value(name).run()
        assert not app.exception
        assert bases(app)[number] == named[name]
    held = bases(app)
    app.selectbox(key="rules_base").set_value("motifs").run()
    assert (bases(app), _history(app).now.piece.pattern.base.by_motif) == (held, True)


def test_proposals_are_shown_and_one_is_put_on_the_table() -> None:
    app = _run(_proposals)
    puts = [b for b in app.button if b.key and b.key.startswith("put_")]
    assert len(puts) == 24
    before = _history(app).now.piece
    app.button(key="put_5").click().run()
    assert not app.exception
    after = _history(app)
    assert after.now.piece.design != before.design
    assert after.past[-1].piece == before


def test_a_seed_shows_the_same_proposals_again() -> None:
    def reasons(app: AppTest) -> list[str]:
        return [e.proto.body for e in app.get("html") if "dw-plain" in e.proto.body]

    app = _run(_proposals)
    first = reasons(app)
    app.number_input(key="proposals_seed").set_value(7).run()
    assert reasons(app) != first
    app.number_input(key="proposals_seed").set_value(1).run()
    assert reasons(app) == first


def test_the_piece_page_counts_names_and_opens() -> None:
    app = _run(_piece)
    assert "303" in _notes(app)
    app.text_input(key="piece_name").set_value("For Wren").run()
    assert _history(app).now.piece.name == "For Wren"
    app.text_input(key="piece_name").set_value("   ").run()
    assert app.text_input(key="piece_name").value == "   "
    assert _history(app).now.piece.name == "For Wren"
    assert "dw-fault" in _notes(app)
    app.text_input(key="piece_name").set_value("x" * (MOST_NAME + 1)).run()
    assert len(str(app.text_input(key="piece_name").value)) == MOST_NAME + 1
    assert f"“{MOST_NAME + 1} characters” cannot be taken here" in _notes(app)
    app.text_input(key="piece_name").set_value("For Ida").run()
    app.text_area(key="piece_notes").set_value("x" * (MOST_NOTES + 1)).run()
    assert len(str(app.text_area(key="piece_notes").value)) == MOST_NOTES + 1
    assert f"“{MOST_NOTES + 1} characters” cannot be taken here" in _notes(app)
    assert _history(app).now.piece.notes == ""
    app.text_area(key="piece_notes").set_value("long tail").run()
    assert (_history(app).now.piece.name, _history(app).now.piece.notes) == ("For Ida", "long tail")
    assert "dw-fault" not in _notes(app)


def test_a_file_that_is_no_piece_is_refused_and_a_piece_is_opened() -> None:
    from explorer.app import steps
    from explorer.app.demo import demo, tray_of
    from explorer.piece import to_json

    app = _run(_piece)
    app.file_uploader(key="piece_open").upload("x.json", b"{}", "application/json").run()
    assert not app.exception
    assert "dw-fault" in _notes(app)
    other = steps.with_tray(demo(), tray_of("hush")).piece
    text = to_json(other).encode()
    app.file_uploader(key="piece_open").upload("y.json", text, "application/json").run()
    assert not app.exception
    assert _history(app).now.piece == other
    assert "dw-fault" not in _notes(app)


def test_lengths_are_told_in_inches_by_choice() -> None:
    app = _run(_size)
    app.segmented_control(key="units_box").set_value("in").run()
    assert not app.exception
    assert "Strip 8 3/16 in, 1/16 in left over" in _notes(app)
    app.segmented_control(key="units_box").set_value("mm").run()
    assert "Strip 207.7 mm" in _notes(app)


def test_the_piece_of_last_time_is_picked_up_again() -> None:
    from explorer.app import steps
    from explorer.app.demo import demo, tray_of
    from explorer.app.kept import to_text
    from explorer.shelf import Shelf, default_path
    from explorer.shelf_tables import keep

    assert "carry_on" not in {button.key for button in _run(_size).button}
    before = steps.with_tray(demo(), tray_of("hush"))
    keep(Shelf(default_path()), "0123456789abcdef", to_text(before))
    app = _run(_size)
    app.button(key="carry_on").click().run()
    assert not app.exception
    assert _history(app).now == before
