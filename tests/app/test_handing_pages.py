"""The pages of handing on and of the shelf, without a browser: boxes, faults, what a press does."""

from collections.abc import Callable

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from explorer.app import state
from explorer.app.demo import demo
from explorer.app.state import History
from explorer.piece import to_json
from explorer.share import to_code
from explorer.shelf import Shelf, default_path
from explorer.shelf_entry import Making
from gallery.steps import Progress


def _handing_on() -> None:
    from explorer.app import session
    from explorer.app.views import handing_on

    session.begin()
    handing_on.view()


def _shelf() -> None:
    from explorer.app import session
    from explorer.app.views import shelf

    session.begin()
    shelf.view()


def _arriving() -> None:
    from explorer.app import session
    from explorer.app.parts.arrived import say_arrival, take_arrival

    session.begin()
    take_arrival()
    say_arrival()


@pytest.fixture(autouse=True)
def no_page_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page by itself knows no other pages to link to."""
    monkeypatch.setattr("explorer.app.views.shelf.to_page", lambda *_: None, raising=False)


def run(script: Callable[[], None], kind: str = "") -> AppTest:
    app = AppTest.from_function(script, default_timeout=90).run()
    assert not app.exception
    if kind:
        chosen(app, kind)
    return app


def chosen(app: AppTest, kind: str) -> None:
    app.button_group(key="hand_kind").set_value(kind).run()
    assert not app.exception


def press(app: AppTest, words: str) -> None:
    next(button for button in app.button if button.label == words).click().run()
    assert not app.exception


def labels(app: AppTest) -> list[str]:
    return [button.label for button in app.button]


def downloads(app: AppTest) -> list[str]:
    return [element.proto.label for element in app.get("download_button")]


def notes(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


def test_pages_are_made_when_asked_and_again_after_a_change() -> None:
    app = run(_handing_on)
    assert downloads(app) == []
    press(app, "Make the pages")
    assert downloads(app) == ["Download the making sheet (PDF, 4 pages)"]
    app.checkbox(key="hand_large").check().run()
    assert downloads(app) == []
    app.checkbox(key="hand_large").uncheck().run()
    assert len(downloads(app)) == 1
    app.text_input(key="hand_of_whom").set_value("a\x00b").run()
    assert "dw-fault" in notes(app)


@pytest.mark.parametrize(
    ("kind", "work", "words"),
    [
        ("", "gallery.pdf.to_pdf", "Setting the pages: 2 of 5"),
        ("picture", "explorer.app.cache_pages.picture_file", "Drawing the picture: 2 of 5"),
    ],
)
def test_a_long_work_tells_how_far_it_is_and_a_press_ends_it(
    kind: str, work: str, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(*_: object, progress: Progress) -> None:
        progress(2, 5)
        # As the framework ends a run for a press.
        st.stop()

    monkeypatch.setattr("explorer.app.parts.waiting._QUIET_S", 0.0)
    monkeypatch.setattr("explorer.app.parts.waiting._TICK_S", 0.0)
    with monkeypatch.context() as patched:
        patched.setattr(work, half)
        app = run(_handing_on, kind)
        if not kind:
            # Pages that nobody has made so far.
            app.text_input(key="hand_of_whom").set_value("Wren").run()
            press(app, "Make the pages")
        assert [one.proto.text for one in app.get("progress")] == [words]
        assert downloads(app) == []
    app.run()
    assert not app.exception
    assert len(downloads(app)) == 1
    assert [*app.get("progress")] == []


def test_a_child_gets_sums_and_the_grown_up_the_answers() -> None:
    app = run(_handing_on, "child")
    press(app, "Make the pages")
    assert [words.split(" (")[0] for words in downloads(app)] == [
        "Download the child's pages", "Download the answers",
    ]  # fmt: skip


def test_a_price_is_asked_for_before_there_is_a_page_and_kept_after() -> None:
    app = run(_handing_on, "customer")
    assert "dw-fault" in notes(app)
    app.text_input(key="hand_materials:table").set_value("14,20").run()
    app.text_input(key="hand_hourly").set_value("eighteen").run()
    assert "eighteen" in notes(app)
    assert app.text_input(key="hand_hourly").value == "eighteen"
    app.text_input(key="hand_hourly").set_value("18.50").run()
    assert "dw-fault" not in notes(app)
    press(app, "Make the pages")
    assert len(downloads(app)) == 1
    # the rule is the maker's own: another session knows it, the customer's figures it does not
    other = run(_handing_on, "customer")
    assert other.text_input(key="hand_hourly").value == "18.50"
    assert other.text_input(key="hand_materials:table").value == ""


def test_two_tabs_lose_none_of_each_others_rule_for_prices() -> None:
    first, second = (run(_handing_on, "customer") for _ in range(2))
    first.text_input(key="hand_hourly").set_value("18.50").run()
    second.text_input(key="hand_overheads").set_value("10").run()
    other = run(_handing_on, "customer")
    assert other.text_input(key="hand_hourly").value == "18.50"
    assert other.text_input(key="hand_overheads").value == "10"


def test_a_project_comes_as_pages_and_as_a_web_page() -> None:
    app = run(_handing_on, "project")
    app.text_input(key="hand_step").set_value("0").run()
    assert "dw-fault" in notes(app)
    app.text_input(key="hand_step").set_value("25 mm").run()
    press(app, "Make the pages")
    assert downloads(app)[1] == "Download it as a web page"


def test_a_class_names_its_bad_rows_and_prints_the_others() -> None:
    app = run(_handing_on, "class")
    app.text_area(key="hand_roster").set_value("Ada, 152 mm\n<b>Bo</b>, wide\nCy, 150").run()
    assert "Line 2, &lt;b&gt;Bo&lt;/b&gt;, snug: wide" in notes(app)
    assert "Work the kits out" not in labels(app)
    app.checkbox(key="hand_leave_out").check().run()
    press(app, "Work the kits out")
    assert "<td>Cy</td>" in notes(app)
    press(app, "Print everything")
    assert downloads(app) == ["Download everything (ZIP: 2 sheets, class, labels, figures)"]
    app.text_area(key="hand_roster").set_value("Ada, 152 mm").run()
    assert downloads(app) == []


def test_a_band_adds_rows_for_whoever_is_not_measured() -> None:
    app = run(_handing_on, "class")
    app.text_input(key="hand_band").set_value("150 - 165 mm").run()
    app.text_input(key="hand_band_kits").set_value("2").run()
    press(app, "Add rows")
    rows = str(app.text_area(key="hand_roster").value).splitlines()
    assert len(rows) == 2
    assert rows[0].endswith(", 150 - 165 mm")
    app.text_input(key="hand_band").set_value("wide").run()
    press(app, "Add rows")
    assert "dw-fault" in notes(app)
    assert str(app.text_area(key="hand_roster").value).splitlines() == rows


def test_a_pasted_link_goes_on_the_table_or_stays_in_its_box() -> None:
    app = run(_handing_on, "share")
    app.text_area(key="hand_pasted").set_value("<script>").run()
    press(app, "Put it on the table")
    assert "dw-fault" in notes(app)
    assert app.text_area(key="hand_pasted").value == "<script>"
    app.text_area(key="hand_pasted").set_value(to_code(demo().piece)).run()
    press(app, "Put it on the table")
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    assert held.now.piece.name == "Shared piece"
    assert held.past[-1].piece.name == demo().piece.name


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (to_code(demo().piece), "The piece of the link is on the table"),
        ("dw1.nothing", "brought no piece"),
        ("", "brought no piece"),
        ("<img src=x onerror=alert(1)>", "brought no piece"),
    ],
)
def test_a_link_in_the_address_is_taken_once(text: str, words: str) -> None:
    app = AppTest.from_function(_arriving, default_timeout=60)
    app.query_params["piece"] = text
    app.run()
    assert not app.exception
    assert words in notes(app)
    assert "<img" not in notes(app)
    assert "piece" not in app.query_params
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    assert len(held.past) == (1 if words.startswith("The piece") else 0)


def test_details_are_written_down_whole_or_not_at_all() -> None:
    shelf = Shelf(default_path())
    number = shelf.put("Harbour", to_json(demo().piece))
    app = run(_shelf)
    press(app, "Details")
    app.text_input(key=f"shelf_who_{number}").set_value("Wren").run()
    app.text_input(key=f"shelf_minutes_{number}").set_value("long").run()
    press(app, "Write it down")
    assert "dw-fault" in notes(app)
    (saved,) = shelf.find()
    assert (saved.who, saved.making) == ("", Making())
    app.text_input(key=f"shelf_minutes_{number}").set_value("345").run()
    app.text_input(key=f"shelf_made_{number}").set_value("2025-03-14").run()
    press(app, "Write it down")
    assert "Written down." in notes(app)
    (saved,) = shelf.find()
    assert (saved.who, saved.making) == ("Wren", Making(made="2025-03-14", minutes=345))


def test_a_piece_of_the_shelf_is_put_on_the_table_in_another_size() -> None:
    shelf = Shelf(default_path())
    number = shelf.put("Harbour", to_json(demo().piece))
    app = run(_shelf)
    press(app, "Details")
    for text in ("x", "41 mm"):
        app.text_input(key=f"shelf_size_{number}").set_value(text).run()
        assert not app.exception
        assert ("dw-fault" in notes(app)) == (text == "x")
    # 170 + 22 - 18 = 174 mm at 3.1 mm a bead are 56 beads; 6 n + 1 <= 56 gives 9 motifs
    app.text_input(key=f"shelf_size_{number}").set_value("17 cm").run()
    assert "9 motifs instead of 11" in notes(app)
    press(app, "Put it on the table in that size")
    held = app.session_state[state.HISTORY]
    assert isinstance(held, History)
    assert len(held.now.piece.design.motifs) == 9
    assert [saved.document for saved in shelf.find()] == [to_json(demo().piece)]


def test_two_pieces_of_the_shelf_lie_side_by_side() -> None:
    shelf = Shelf(default_path())
    first, second = (shelf.put(name, to_json(demo().piece)) for name in ("<b>One</b>", "Two"))
    seen = shelf.get(first)
    assert seen is not None
    shelf.change(seen, {"minutes": 300})
    app = run(_shelf)
    app.button(key=f"compare_{first}").click().run()
    app.button(key=f"compare_{second}").click().run()
    assert not app.exception
    assert "&lt;b&gt;One&lt;/b&gt;" in notes(app)
    assert "<td>300</td>" in notes(app)
    press(app, "Let go")
    assert "<td>300</td>" not in notes(app)
