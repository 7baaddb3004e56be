"""The page of the shelf, without a browser: two tabs, what is thrown away, what is damaged."""

import errno
import os
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from explorer import shelf_photographs
from explorer.app import copying, state
from explorer.app.demo import demo
from explorer.app.drafts import fresh, texts
from explorer.piece import MOST_NAME, MOST_NOTES, to_json
from explorer.shelf import MOST_WHO, Saved, Shelf, default_path
from explorer.shelf_archive import not_taken_words
from explorer.shelf_copies import copies
from explorer.shelf_entry import MOST_LOTS, Entry, Photograph
from explorer.shelf_file import unwritable
from explorer.shelf_rows import PIECES, read, update
from explorer.shelf_saved import Thrown, with_words


def _page() -> None:
    from explorer.app import session
    from explorer.app.views import shelf

    session.begin()
    shelf.view()
    session.end()


@pytest.fixture(autouse=True)
def no_page_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """A page by itself knows no other pages to link to."""
    monkeypatch.setattr("explorer.app.views.shelf.to_page", lambda *_: None)


@pytest.fixture
def shelf() -> Shelf:
    return Shelf(default_path())


def put(shelf: Shelf, *names: str) -> list[int]:
    return [shelf.put(name, to_json(demo().piece)) for name in names]


def tab(of: AppTest | None = None) -> AppTest:
    """A new tab, or what one shows when it is loaded anew."""
    app = AppTest.from_function(_page, default_timeout=90)
    if of is not None:
        app.query_params.update(of.query_params)
    app.run()
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


def opened_in_two_tabs(shelf: Shelf) -> tuple[int, AppTest, AppTest]:
    (number,) = put(shelf, "Harbour")
    tabs = tab(), tab()
    for app in tabs:
        press(app, f"edit_{number}")
    return number, *tabs


def test_every_word_changed_in_two_tabs_is_named_with_what_the_other_wrote(shelf: Shelf) -> None:
    number, first, second = opened_in_two_tabs(shelf)
    typed(first, number, who="Anna2", notes="notes A2")
    press(first, f"write_{number}")
    # The other's notes come while only the first of the two words is typed here.
    typed(second, number, who="Bert2")
    typed(second, number, notes="notes B2")
    press(second, f"write_{number}")
    for words in ("since you began: who it is for, notes.", "for: Anna2", "notes: notes A2"):
        assert words in told(second)
    assert (held(shelf, number).who, held(shelf, number).notes) == ("Anna2", "notes A2")
    press(second, "shelf_elsewhere_mine")
    # Before it is written, the other writes a second time: nobody here has seen that.
    typed(first, number, notes="notes A3")
    press(first, f"write_{number}")
    press(second, f"write_{number}")
    assert "since you began: notes." in told(second)
    assert "notes: notes A3" in told(second)
    assert held(shelf, number).notes == "notes A3"
    press(second, "shelf_elsewhere_mine")
    press(second, f"write_{number}")
    assert "Written down." in told(second)
    assert (held(shelf, number).who, held(shelf, number).notes) == ("Bert2", "notes B2")


def test_a_box_that_is_emptied_after_another_filled_it_is_asked_about(shelf: Shelf) -> None:
    number, first, second = opened_in_two_tabs(shelf)
    typed(first, number, notes="notes A2")
    press(first, f"write_{number}")
    second.run()
    assert second.text_area(key=f"shelf_notes_{number}").value == "notes A2"
    typed(second, number, notes="")
    press(second, f"write_{number}")
    assert "notes: notes A2" in told(second)
    assert held(shelf, number).notes == "notes A2"
    press(second, "shelf_elsewhere_mine")
    press(second, f"write_{number}")
    assert held(shelf, number).notes == ""


def test_nothing_is_put_into_boxes_while_somebody_types(shelf: Shelf) -> None:
    number, first, second = opened_in_two_tabs(shelf)
    typed(second, number, who="Wren")
    typed(first, number, notes="long tail")
    press(first, f"write_{number}")
    second.run()
    assert second.text_area(key=f"shelf_notes_{number}").value == ""
    assert "Changed in another tab alone, and left as it stands there: notes." in told(second)
    assert "notes: long tail" in told(second)
    press(second, f"write_{number}")
    assert second.text_area(key=f"shelf_notes_{number}").value == "long tail"
    assert (held(shelf, number).who, held(shelf, number).notes) == ("Wren", "long tail")


def test_closing_keeps_what_is_typed(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"edit_{one}")
    typed(app, one, notes="long tail")
    press(app, "shelf_close")
    assert "What you typed about “Harbour” is not written to the shelf yet." in told(app)
    # Neither do the details of another piece, nor a search that does not find this one.
    press(app, f"edit_{two}")
    app.text_input(key="shelf_search").set_value("Thaw").run()
    press(app, f"shelf_unwritten_{one}")
    assert app.text_area(key=f"shelf_notes_{one}").value == "long tail"
    assert "Not written to the shelf yet." in told(app)
    press(app, f"untype_{one}")
    assert app.text_area(key=f"shelf_notes_{one}").value == ""
    assert "ot written to the shelf yet" not in told(app)
    typed(app, one, notes="long tail")
    press(app, f"write_{one}")
    press(app, "shelf_close")
    assert "ot written to the shelf yet" not in told(app)
    assert held(shelf, one).notes == "long tail"


def test_what_is_typed_and_not_written_stands_there_after_a_reload(shelf: Shelf) -> None:
    (number, other) = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"edit_{other}")
    typed(app, other, who="Ida")
    press(app, f"edit_{number}")
    typed(app, number, notes="long tail", minutes="many")
    again = tab(app)
    assert again.text_area(key=f"shelf_notes_{number}").value == "long tail"
    assert again.text_input(key=f"shelf_minutes_{number}").value == "many"
    assert "Not written to the shelf yet." in told(again)
    assert "What you typed about “Thaw” is not written to the shelf yet." in told(again)
    # What another tab wrote since is asked about still.
    saved = held(shelf, number)
    shelf.change(saved, {**saved.words, "notes": "theirs"})
    press(again, f"write_{number}")
    assert "Changed in another tab since you began: notes" in told(again)
    press(again, "shelf_elsewhere_mine")
    typed(again, number, minutes="30")
    press(again, f"write_{number}")
    assert (held(shelf, number).notes, held(shelf, number).making.minutes) == ("long tail", 30)
    press(again, f"shelf_unwritten_{other}")
    press(again, f"untype_{other}")
    # Written and given up, they are not there again; the details that are open are.
    last = tab(again)
    assert "ot written to the shelf yet" not in told(last)
    assert [one.key for one in last.text_area if "notes" in str(one.key)] == [
        f"shelf_notes_{other}"
    ]
    press(last, "shelf_close")
    assert not tab(last).text_area


def test_who_a_piece_is_for_stands_there_after_a_reload(shelf: Shelf) -> None:
    app = tab()
    app.text_input(key="shelf_who").set_value("Wren").run()
    again = tab(app)
    assert again.text_input(key="shelf_who").value == "Wren"
    next(one for one in again.button if one.label.startswith("Put this piece")).click().run()
    assert "stands on the shelf as number 1." in told(again)
    assert held(shelf, 1).who == "Wren"


def test_equal_pieces_are_told_apart_by_their_numbers(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"edit_{number}")
    press(app, f"copy_{number}")
    assert "The copy stands on the shelf as number 2." in told(app)
    for one in (1, 2):
        assert f"number {one} · " in told(app)


def test_tabs_of_one_table_keep_what_is_typed_in_each(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    first = tab()
    press(first, f"edit_{one}")
    typed(first, one, notes="long")
    second = tab(first)
    press(second, f"edit_{two}")
    typed(second, two, notes="short tail")
    typed(first, one, notes="long tail")
    assert second.query_params == first.query_params
    again = tab(first)
    kept = again.session_state[state.DRAFTS]
    assert {number: kept[number].wanted for number in (one, two)} == {
        one: {"notes": "long tail"},
        two: {"notes": "short tail"},
    }


@pytest.mark.parametrize("for_good", [False, True])
def test_words_typed_about_a_piece_that_goes_meanwhile_stay(shelf: Shelf, for_good: bool) -> None:
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"edit_{number}")
    typed(app, number, notes="long tail")
    shelf.throw_away(number, by="tab 1234")
    if for_good:
        shelf.take_out(number)
    press(app, f"write_{number}")
    assert "What you typed is kept here and was not written:" in told(app)
    assert "notes: long tail" in told(app)
    if for_good:
        assert "“Harbour” was taken out for good while its details were open." in told(app)
        press(app, "shelf_close")
        assert "long tail" not in told(app)
        return
    assert "“Harbour” was thrown away on" in told(app)
    assert held(shelf, number).notes == ""
    press(app, f"shelf_back_{number}")
    assert app.text_area(key=f"shelf_notes_{number}").value == "long tail"
    press(app, f"write_{number}")
    assert (held(shelf, number).notes, held(shelf, number).thrown) == ("long tail", None)


def test_only_what_is_true_now_is_said_of_writing(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"edit_{one}")
    typed(app, one, notes="long tail")
    press(app, f"write_{one}")
    assert "Written down." in told(app)
    assert "Not written to the shelf yet." not in told(app)
    typed(app, one, notes="longer tail")
    assert "Written down." not in told(app)
    assert "Not written to the shelf yet." in told(app)
    typed(app, one, minutes="many")
    press(app, f"write_{one}")
    assert "Minutes it took: “many” cannot be taken here." in told(app)
    typed(app, one, minutes="30")
    assert "cannot be taken here" not in told(app)
    press(app, f"write_{one}")
    press(app, f"edit_{two}")
    assert "Written down." not in told(app)


@pytest.mark.parametrize(
    ("part", "box", "most"),
    [("name", "Name", MOST_NAME), ("who", "Who for", MOST_WHO), ("notes", "Notes", MOST_NOTES),
     ("lots", "Lots of the beads", MOST_LOTS)],
)  # fmt: skip
def test_what_is_too_long_is_refused_by_its_box(
    shelf: Shelf, part: str, box: str, most: int
) -> None:
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"edit_{number}")
    typed(app, number, **{part: "x" * (most + 1)})
    before = held(shelf, number)
    press(app, f"write_{number}")
    assert f"{box}: “{most + 1} characters” cannot be taken here." in told(app)
    assert f"Wanted: at most {most} characters. Shorten it." in told(app)
    assert "Written down." not in told(app)
    assert held(shelf, number) == before
    # All of it stands in the box, to be shortened.
    kind = app.text_area if part in ("notes", "lots") else app.text_input
    assert len(str(kind(key=f"shelf_{part}_{number}").value)) == most + 1
    typed(app, number, **{part: "x" * most})
    press(app, f"write_{number}")
    assert "Written down." in told(app)
    assert held(shelf, number).words[part] == "x" * most


def test_a_piece_for_somebody_with_too_long_a_name_is_not_put_on_the_shelf(shelf: Shelf) -> None:
    app = tab()
    app.text_input(key="shelf_who").set_value("x" * (MOST_WHO + 1)).run()
    next(one for one in app.button if one.label == "Put this piece on the shelf").click().run()
    assert f"Who for: “{MOST_WHO + 1} characters” cannot be taken here." in told(app)
    assert shelf.find() == ()
    assert len(str(app.text_input(key="shelf_who").value)) == MOST_WHO + 1


@pytest.mark.parametrize("blanks", ["   ", "\u00a0\t", " \u200b\u202e"])
def test_a_who_for_of_blanks_is_empty(shelf: Shelf, blanks: str) -> None:
    shelf.put("Thaw", to_json(demo().piece), who=blanks)
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"edit_{number}")
    typed(app, number, who=blanks)
    assert "Not written to the shelf yet." not in told(app)
    press(app, f"write_{number}")
    assert {saved.who for saved in shelf.find()} == {""}
    assert ", for" not in told(app)


def test_a_name_turns_no_words_beside_it(shelf: Shelf) -> None:
    (number,) = put(shelf, "Har\u202ebour\u2067")
    app = tab()
    press(app, f"throw_{number}")
    # It reads as in its box, and ends with itself.
    name = "<bdi>Har\u202ebour</bdi>"
    assert f"“{name}” was thrown away." in told(app)
    press(app, "shelf_bring_it_back")
    assert f">{name}</p>" in told(app)
    press(app, f"edit_{number}")
    assert f">{name}</h3>" in told(app)
    assert not {"\u2067", "\u2068", "\u2069"} & {*told(app)}
    assert told(app).count("\u202e") == told(app).count(name)
    # The name itself is as it was written.
    assert app.text_input(key=f"shelf_name_{number}").value == "Har\u202ebour\u2067"


def test_boxes_take_over_what_was_changed_elsewhere_until_somebody_types() -> None:
    seen = Saved(number=1, name="one", who="", notes="", saved="", document="{}")
    now = with_words(seen, {"notes": "theirs", "minutes": 30})
    now = replace(now, revision=2)
    draft = fresh(seen).beside(now)
    assert (draft.typed, draft.wanted, draft.clashing(now)) == (texts(now), {}, ())
    draft = replace(fresh(seen), typed={**texts(seen), "notes": "mine"}).beside(now)
    assert (draft.wanted, draft.clashing(now)) == ({"notes": "mine"}, ("notes",))
    assert draft.elsewhere(now) == ("minutes",)
    assert draft.taken(now, ("notes",)).wanted == {}
    assert draft.shown(now, ("notes",)).clashing(now) == ()
    # What both typed alike clashes with nothing.
    assert replace(draft, typed={**texts(seen), "notes": "theirs"}).clashing(now) == ()


def test_what_a_second_tab_of_one_table_throws_away_is_told_as_such(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    first = tab()
    press(first, f"edit_{number}")
    typed(first, number, notes="mine")
    second = tab(first)
    assert second.query_params == first.query_params
    press(second, f"throw_{number}")
    assert "in this tab" in told(second)
    first.run()
    assert "in another tab while its details were open" in told(first)
    assert "in this tab" not in told(first)


def test_a_piece_thrown_away_is_told_where_the_card_was_too(shelf: Shelf) -> None:
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"throw_{number}")
    (toast,) = app.toast
    assert "Harbour" in toast.value
    assert toast.value.endswith("was thrown away. “Bring it back” is at the top of the page.")


def test_what_is_thrown_away_can_be_brought_back_after_a_reload(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    assert "under “Thrown away”" not in told(app)
    press(app, f"throw_{one}")
    assert "1 piece waits under “Thrown away” at the end of this page." in told(app)
    press(app, f"throw_{two}")
    # The notice names the piece that was thrown away last, as it is called now.
    assert "“Thaw” was thrown away." in told(app)
    assert "in this tab" in told(app)
    again = tab()
    assert "was thrown away" not in told(again)
    assert "in the app" in told(again)
    assert "2 pieces wait under “Thrown away” at the end of this page." in told(again)
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
    assert "“Harbour” is no longer where this page showed it; nothing was changed." in told(app)


def test_a_notice_is_of_what_was_done_here(shelf: Shelf) -> None:
    one, two = put(shelf, "Harbour", "Thaw")
    app = tab()
    press(app, f"throw_{one}")
    # Another tab was quicker with the second one.
    shelf.throw_away(two, by="tab 1234")
    press(app, f"throw_{two}")
    assert "“Thaw” is no longer where this page showed it" in told(app)
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
    assert "“Harbour” (number 1) is set apart as it is" in told(app)
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
    # One press only asks.
    press(app, "photo_ask_1")
    assert "It cannot be brought back then." in told(app)
    assert len(shelf_photographs.of_piece(shelf, 1)) == 1
    press(app, "photo_leave_1")
    assert "It cannot be brought back then." not in told(app)
    press(app, "photo_ask_1")
    press(app, "photo_off_1")
    assert shelf_photographs.of_piece(shelf, 1) == ()
    assert "The photograph is taken off." in told(app)


def test_putting_a_piece_on_the_shelf_is_answered(shelf: Shelf) -> None:
    put(shelf, "Harbour")
    app = tab()
    press(app, "throw_1")
    assert "“Harbour” was thrown away." in told(app)
    name = demo().piece.name

    def press_put() -> None:
        (button,) = (one for one in app.button if one.label == "Put this piece on the shelf")
        button.click().run()
        assert not app.exception

    press_put()
    assert f"“{name}” stands on the shelf as number" in told(app)
    assert "“Harbour” was thrown away." not in told(app)
    shelf.path.write_bytes(b"\1" + shelf.path.read_bytes()[1:])
    press_put()
    assert f"“{name}” was not put on the shelf. The shelf {shelf.path} is damaged" in told(app)
    assert "stands on the shelf as number" not in told(app)


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
    assert "The shelf is copied beside itself at each start of the app, and once a day" in told(
        tab()
    )


def for_reading_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing can be written, as on a disk that is connected for reading only."""
    connect = sqlite3.connect

    def reading(path: Path | str, **options: Any) -> sqlite3.Connection:
        address = path if options.pop("uri", False) else f"file:{path}?mode=ro"
        opened: sqlite3.Connection = connect(address, uri=True, **options)
        return opened

    def refused(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), "/data/.shelf-copy.2l4w76ik")

    monkeypatch.setattr(sqlite3, "connect", reading)
    monkeypatch.setattr("tempfile.TemporaryDirectory", refused)
    monkeypatch.setattr(os, "access", lambda _, mode: mode == os.R_OK)


def test_a_folder_that_cannot_be_written_to_is_named(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(copying, "_STATE", copying._State())
    (number,) = put(shelf, "Harbour")
    app = tab()
    press(app, f"edit_{number}")
    typed(app, number, notes="long tail")
    for_reading_only(monkeypatch)
    copying.at_start()
    why = (
        f"the shelf {shelf.path} cannot be used: the folder {shelf.path.parent} cannot be written "
        "to, and until it can, nothing can be saved. Give yourself the right to write there"
    )
    app.run()
    # What stands there can be read nonetheless.
    assert f"The shelf could not be copied today: {why}" in told(app)
    assert app.text_area(key=f"shelf_notes_{number}").value == "long tail"
    press(app, f"write_{number}")
    assert told(app).count(why.removeprefix("the ")) == 2
    assert "Errno" not in told(app)
    assert "2l4w76ik" not in told(app)
    assert "readonly" not in told(app)
    assert ".." not in told(app)
    monkeypatch.undo()
    assert held(Shelf(shelf.path), number).notes == ""


def test_a_shelf_that_cannot_be_written_to_is_shown(
    shelf: Shelf, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(shelf.path))

    (number, _) = put(shelf, "Harbour", "Thaw")
    for_reading_only(monkeypatch)
    monkeypatch.setattr("gallery.files.make_private", refused)
    app = tab()
    assert "Harbour" in told(app)
    assert "cannot be opened" not in told(app)
    press(app, f"edit_{number}")
    typed(app, number, notes="long tail")
    press(app, f"write_{number}")
    assert "cannot be written to, and until it can, nothing can be saved" in told(app)
    assert held(shelf, number).notes == ""
    assert "cannot be written to" in shelf.closed


def test_a_shelf_whose_folder_cannot_be_made_names_the_one_above(tmp_path: Path) -> None:
    above = tmp_path / "data"
    above.mkdir()
    error = OSError(errno.EACCES, os.strerror(errno.EACCES), str(above / "danglewise"))
    found = unwritable(above / "danglewise" / "shelf.sqlite3", error)
    assert found is not None
    assert found.why.startswith(f"the folder {above} cannot be written to")
    assert unwritable(above, OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))) is None


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
    app = tab()
    assert "not as it was written: “Harbour” (piece 1); it is not copied" in told(app)
    copying.daily()
    assert "The shelf could not be copied" in told(tab())
    press(app, "throw_1")
    assert state.not_before == 0.0
    copying.daily()
    assert "The shelf could not be copied" not in told(tab())
    assert len(copies(shelf.path)) == 1


def test_a_large_archive_is_pointed_to_the_command_line(shelf: Shelf) -> None:
    put(shelf, "Harbour")
    words = told(tab())
    assert "A file of more than 200 MB comes in by the command line, up to 500 MB" in words
    assert "danglewise shelf import FILE" in words
    assert not_taken_words(shelf.path) in words
    readme = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    for told_alike in (
        not_taken_words("`shelf.sqlite3`"),
        "The shelf is copied beside itself at each start of the app",
    ):
        assert told_alike in " ".join(readme.split())
