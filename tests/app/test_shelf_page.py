"""The page of the shelf, without a browser: two tabs, what is thrown away, what is damaged."""

import sqlite3
from contextlib import closing
from dataclasses import replace

import pytest
from streamlit.testing.v1 import AppTest

from explorer import shelf_photographs
from explorer.app import copying
from explorer.app.demo import demo
from explorer.app.parts.shelf_words import merged, texts
from explorer.piece import MOST_NAME, to_json
from explorer.shelf import Saved, Shelf, default_path
from explorer.shelf_copies import copies
from explorer.shelf_entry import Entry, Photograph
from explorer.shelf_rows import PIECES, read, update
from explorer.shelf_saved import Thrown, with_words


def _page() -> None:
    from explorer.app import session
    from explorer.app.views import shelf

    session.begin()
    shelf.view()


@pytest.fixture(autouse=True)
def no_page_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page by itself knows no other pages to link to."""
    monkeypatch.setattr("explorer.app.views.shelf.to_page", lambda *_: None)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf(default_path())


def put(shelf: Shelf, *names: str) -> list[int]:
    return [shelf.put(name, to_json(demo().piece)) for name in names]


def tab() -> AppTest:
    app = AppTest.from_function(_page, default_timeout=90).run()
    assert not app.exception
    return app


def press(app: AppTest, key: str) -> None:
    app.button(key=key).click().run()
    assert not app.exception


def told(app: AppTest) -> str:
    return " ".join(str(one.proto.body) for one in app.get("html"))


def held(shelf: Shelf, number: int) -> Saved:
    saved = shelf.get(number)
    assert saved is not None
    return saved


def typed(app: AppTest, number: int, **words: str) -> None:
    for part, text in words.items():
        box = app.text_area if part in ("notes", "lots") else app.text_input
        box(key=f"shelf_{part}_{number}").set_value(text).run()
        assert not app.exception


def test_two_tabs_lose_none_of_each_others_words(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    first, second = tab(), tab()
    for app in (first, second):
        press(app, f"edit_{number}")
    typed(first, number, notes="long tail")
    press(first, f"write_{number}")
    typed(second, number, who="Wren")
    press(second, f"write_{number}")
    assert "Written down." in told(second)
    saved = held(shelf, number)
    assert (saved.notes, saved.who) == ("long tail", "Wren")
    assert second.text_area(key=f"shelf_notes_{number}").value == "long tail"


@pytest.mark.parametrize(("choice", "kept"), [("take", "mine"), ("mine", "yours")])
def test_the_same_word_changed_in_two_tabs_is_asked_about(
    shelf: Shelf, choice: str, kept: str
) -> None:
    (number,) = put(shelf, "Harbour")
    first, second = tab(), tab()
    for app in (first, second):
        press(app, f"edit_{number}")
    typed(first, number, notes="mine")
    typed(second, number, notes="yours", who="Wren")
    press(first, f"write_{number}")
    press(second, f"write_{number}")
    assert "Written down." not in told(second)
    assert "Changed in another tab since you began: notes" in told(second)
    assert "notes: mine" in told(second)
    # Nothing was written, and nothing that was typed is lost.
    assert (held(shelf, number).notes, held(shelf, number).who) == ("mine", "")
    assert second.text_area(key=f"shelf_notes_{number}").value == "yours"
    press(second, f"shelf_elsewhere_{choice}")
    assert "Changed in another tab" not in told(second)
    press(second, f"write_{number}")
    assert "Written down." in told(second)
    assert (held(shelf, number).notes, held(shelf, number).who) == (kept, "Wren")


def test_boxes_take_over_what_was_not_typed_in_them() -> None:
    seen = Saved(number=1, name="one", who="", notes="", saved="", document="{}")
    now = with_words(seen, {"notes": "theirs", "minutes": 30})
    now = replace(now, revision=2)
    found = merged(seen, {**texts(seen), "who": "Wren"}, now)
    assert (found.clashing, found.seen) == ((), now)
    assert found.texts == {**texts(now), "who": "Wren"}
    found = merged(seen, {**texts(seen), "notes": "mine"}, now)
    assert found.clashing == ("notes",)
    assert (found.texts["notes"], found.texts["minutes"]) == ("mine", "30")
    # What both typed alike clashes with nothing.
    assert merged(seen, {**texts(seen), "notes": "theirs"}, now).clashing == ()


def test_what_is_thrown_away_can_be_brought_back_after_a_reload(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"throw_{one}")
    press(app, f"throw_{two}")
    # The notice names the piece that was thrown away last, as it is called now.
    assert "“Thaw” was thrown away." in told(app)
    assert "in this tab" in told(app)
    again = tab()
    assert "was thrown away" not in told(again)
    assert "in the app" in told(again)
    assert "in this tab" not in told(again)
    press(again, f"back_{one}")
    assert "“Harbour” is back." in told(again)
    assert [saved.name for saved in shelf.find()] == ["Harbour"]
    # The first tab's own notice is still about the other one.
    app.run()
    assert "“Thaw” was thrown away." in told(app)
    press(app, "shelf_bring_it_back")
    assert {saved.name for saved in shelf.find()} == {"Harbour", "Thaw"}
    assert "was thrown away" not in told(app)


def test_a_piece_is_taken_out_for_good_in_two_presses(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    shelf.throw_away(number, by="command line")
    app = tab()
    assert "on the command line" in told(app)
    press(app, f"ask_{number}")
    assert held(shelf, number)
    press(app, f"leave_{number}")
    press(app, f"ask_{number}")
    press(app, f"out_{number}")
    assert shelf.get(number) is None
    assert "“Harbour” is taken out." in told(app)


def test_a_piece_brought_back_meanwhile_is_not_taken_out(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    shelf.throw_away(number)
    app = tab()
    press(app, f"ask_{number}")
    shelf.bring_back(number)
    press(app, f"out_{number}")
    assert [saved.number for saved in shelf.find()] == [number]
    assert "Another was quicker with “Harbour”; nothing was changed." in told(app)


def test_a_notice_is_of_what_was_done_here(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"throw_{one}")
    # Another tab was quicker with the second one.
    shelf.throw_away(two, by="tab 1234")
    press(app, f"throw_{two}")
    assert "Another was quicker with “Thaw”" in told(app)
    assert "” was thrown away." not in told(app)
    assert held(shelf, two).thrown == replace(Thrown(turn=2, by="tab 1234"), at=when(shelf, two))


def when(shelf: Shelf, number: int) -> str:
    thrown = held(shelf, number).thrown
    assert thrown is not None
    return thrown.at


def test_a_damaged_piece_is_set_apart_and_the_others_stay(shelf: Shelf) -> None:
    put(shelf, "Harbour", "Thaw")
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE pieces SET notes = 'flipped' WHERE number = 1")
        connection.commit()
    app = tab()
    assert "“Harbour” is set apart as it is" in told(app)
    assert app.button(key="edit_2")
    press(app, "open_1")
    press(app, "throw_1")
    assert "“Harbour” was thrown away." in told(app)
    press(app, "ask_1")
    press(app, "out_1")
    assert "set apart" not in told(app)


def test_a_name_too_long_is_mended_in_its_details(shelf: Shelf) -> None:
    put(shelf, "Harbour", "Thaw")
    with shelf.transaction() as connection:
        (row,) = read(connection, PIECES, "WHERE number = 1")
        update(connection, row, {"name": "Copy of " + "x" * MOST_NAME})
    app = tab()
    assert "is set apart as it is: the shelf takes another name" in told(app)
    press(app, "edit_1")
    typed(app, 1, name="Mended")
    press(app, "write_1")
    assert {saved.name for saved in shelf.find()} == {"Mended", "Thaw"}


def test_a_damaged_photograph_does_not_stop_the_page(shelf: Shelf) -> None:
    photograph = Photograph(jpeg=b"\xff\xd8 no picture")
    shelf.put_all([Entry(name="one", document=to_json(demo().piece), photographs=(photograph,))])
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE photographs SET jpeg = x'00'")
        connection.commit()
    app = tab()
    press(app, "edit_1")
    assert "Photograph 1 is not as it was kept" in told(app)
    press(app, "photo_off_1")
    assert shelf_photographs.of_piece(shelf, 1) == ()


def test_a_damaged_shelf_shows_what_can_be_read(shelf: Shelf) -> None:
    put(shelf, "Harbour", "Thaw")
    content = bytearray(shelf.path.read_bytes())
    # The head of the file, where the version of its tables stands.
    content[63] ^= 0x01
    shelf.path.write_bytes(content)
    app = tab()
    assert "What can be read is shown." in told(app)
    assert "shelf rescue" in told(app)
    assert app.button(key="edit_1")
    press(app, "throw_1")
    assert "was thrown away" not in told(app)


def test_the_page_tells_of_copies(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(copying, "_STATE", copying._State())
    put(shelf, "Harbour")
    copying.daily()
    assert "The shelf is copied once a day beside itself" in told(tab())


def test_a_shelf_that_cannot_be_copied_is_told_until_it_can(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = copying._State()
    monkeypatch.setattr(copying, "_STATE", state)
    put(shelf, "Harbour", "Thaw")
    with closing(sqlite3.connect(shelf.path)) as connection:
        connection.execute("UPDATE pieces SET notes = 'flipped' WHERE number = 1")
        connection.commit()
    copying.at_start()
    assert "not as it was written: pieces 1; it is not copied" in told(tab())
    shelf.throw_away(1)
    shelf.take_out(1)
    copying.daily()
    assert "The shelf could not be copied" in told(tab())
    state.not_before = 0.0
    copying.daily()
    assert "The shelf could not be copied" not in told(tab())
    assert len(copies(shelf.path)) == 1


def test_a_large_archive_is_pointed_to_the_command_line(shelf: Shelf) -> None:
    put(shelf, "Harbour")
    words = told(tab())
    assert "A file of more than 200 MB comes in by the command line, up to 500 MB" in words
    assert "danglewise shelf import FILE" in words
    assert "Beads at hand, what lies on the table and pieces thrown away are not in it" in words
