"""Two tabs on one table, without a browser: neither writes over the other, both can be had."""

from dataclasses import replace
from typing import Any

import pytest
from streamlit.testing.v1 import AppTest

from explorer import shelf_tables
from explorer.app import state
from explorer.app.choosing import MOST_KEPT, Choosing, asked, joined
from explorer.app.demo import demo
from explorer.app.kept import choosing_from, from_text
from explorer.app.kept_steps import Packer
from explorer.app.state import History, Work
from explorer.brief import Brief
from explorer.propose import Proposals, propose
from explorer.shelf import Shelf, default_path


def _page() -> None:
    import streamlit as st

    from explorer.app import session, state
    from explorer.app.events import painted
    from explorer.app.parts.elsewhere import say_elsewhere

    def paint(motif: int) -> None:
        work = session.work()
        session.commit_changed(painted(work.piece.pattern, (motif,), work.tray.swatches[0]))

    def go() -> None:
        st.session_state[state.PLACE] = session.place() + 1

    session.begin()
    say_elsewhere()
    for motif in range(3):
        st.button(f"paint {motif}", key=f"paint {motif}", on_click=paint, args=(motif,))
    st.button("go", key="go", on_click=go)
    st.button("seed", key="seed", on_click=lambda: session.choose(seed=9))
    st.button("undo", key="undo", on_click=session.undo)
    session.end()


def _tab(mark: str = "") -> AppTest:
    app = AppTest.from_function(_page, default_timeout=60)
    if mark:
        app.query_params[state.MARK] = mark
    return _ran(app.run())


def _ran(app: AppTest) -> AppTest:
    assert not app.exception
    return app


def _press(app: AppTest, *keys: str) -> None:
    for key in keys:
        _ran(app.button(key=key).click().run())


def _mark(app: AppTest) -> str:
    found: Any = app.query_params[state.MARK]
    return str(found[0] if isinstance(found, list) else found)


def _work(app: AppTest) -> Work:
    history: History = app.session_state[state.HISTORY]
    return history.now


def _kept(mark: str) -> Work:
    kept = shelf_tables.kept(Shelf(default_path()), mark)
    assert kept is not None
    return from_text(kept.document)[0]


def _asks(app: AppTest) -> bool:
    return any(button.key == "elsewhere_take" for button in app.button)


def _two() -> tuple[AppTest, AppTest]:
    one = _tab()
    _press(one, "paint 0")
    two = _tab(_mark(one))
    assert _work(two) == _work(one) != demo()
    return one, two


def test_the_second_to_keep_has_a_table_of_its_own_and_both_are_there() -> None:
    one, two = _two()
    _press(one, "paint 1")
    assert not _asks(one)
    _press(two, "paint 2")
    assert _asks(two)
    assert _mark(two) != _mark(one)
    assert _kept(_mark(one)) == _work(one)
    assert _kept(_mark(two)) == _work(two)
    # A reload finds what was there, on both.
    for tab in (one, two):
        assert _work(_tab(_mark(tab))) == _work(tab)


def test_mine_stays_a_table_of_its_own() -> None:
    one, two = _two()
    _press(one, "paint 1")
    _press(two, "paint 2")
    mine = _work(two)
    _press(two, "elsewhere_mine")
    assert not _asks(two)
    _press(one, "paint 2")
    _press(two, "paint 1")
    assert not _asks(one)
    assert not _asks(two)
    assert _mark(two) != _mark(one)
    assert mine != _work(two) == _kept(_mark(two))


def test_what_is_there_now_is_a_step_and_both_show_one_table_again() -> None:
    one, two = _two()
    _press(one, "paint 1")
    _press(two, "paint 2")
    mine, own = _work(two), _mark(two)
    _press(two, "elsewhere_take")
    assert not _asks(two)
    assert _work(two) == _work(one)
    assert _mark(two) == _mark(one)
    _press(two, "undo")
    assert _work(two) == mine == _kept(_mark(one))
    assert _kept(own) == mine
    # Now the first one has not seen what the second kept.
    _press(one, "paint 2")
    assert _asks(one)


def test_another_place_in_the_making_is_no_other_piece() -> None:
    one, two = _two()
    _press(one, "go", "go")
    _press(two, "paint 1")
    assert not _asks(two)
    assert two.session_state[state.PLACE] == 2
    assert _mark(two) == _mark(one)
    assert _kept(_mark(one)) == _work(two)
    # Here the place is the second one's, but the piece is no longer what the first one saw.
    _press(one, "go")
    assert _asks(one)


def test_the_same_step_in_both_is_no_difference() -> None:
    one, two = _two()
    _press(one, "paint 1")
    _press(two, "paint 1")
    assert not _asks(two)
    assert _mark(two) == _mark(one)


def test_choices_among_proposals_count_too() -> None:
    one, two = _two()
    _press(one, "seed")
    _press(two, "paint 1")
    assert _asks(two)
    _press(two, "elsewhere_take")
    document = shelf_tables.kept(Shelf(default_path()), _mark(one))
    assert document is not None
    assert choosing_from(document.document).seed == 9


def test_the_steps_come_back_with_the_table() -> None:
    one = _tab()
    _press(one, "paint 0", "paint 1", "paint 2", "undo")
    two = _tab(_mark(one))
    assert two.session_state[state.HISTORY] == one.session_state[state.HISTORY]
    _press(two, "undo", "undo")
    assert _work(two) == demo()


def test_a_shelf_that_fails_is_said_so_until_it_can(monkeypatch: pytest.MonkeyPatch) -> None:
    one = _tab()
    real = shelf_tables.keep

    def fails(*_: object, **__: object) -> int:
        from explorer.shelf import ShelfError

        raise ShelfError("the disk is full")

    monkeypatch.setattr(shelf_tables, "keep", fails)
    _press(one, "paint 0")
    assert "Nothing on the table is being kept for next time. The shelf" in _words(one)
    assert "the disk is full." in _words(one)
    monkeypatch.setattr(shelf_tables, "keep", real)
    _press(one, "paint 1")
    assert "Nothing on the table" not in _words(one)
    assert _kept(_mark(one)) == _work(one)


@pytest.mark.parametrize("mark", ["", "0123456789abcdef"])
def test_a_damaged_shelf_is_told_before_anything_is_done(mark: str) -> None:
    path = default_path()
    # Though nothing stands on it yet, a table is known.
    shelf_tables.keep(Shelf(path), "a", "{}")
    path.write_bytes(b"\1" + path.read_bytes()[1:])
    one = _tab(mark)
    told = _words(one)
    assert f"kept for next time. The shelf {path}: it is damaged" in told
    assert "shelf rescue" in told
    assert "save the piece as a file" in told
    # Once it is mended the next run says no more of it.
    path.unlink()
    _press(one, "undo")
    assert "Nothing on the table" not in _words(one)


def test_a_damaged_table_is_told_as_such_until_another_is_kept() -> None:
    one = _tab()
    _press(one, "paint 0")
    mark = _mark(one)
    with Shelf(default_path()).transaction() as connection:
        connection.execute("UPDATE tables SET document = 'other'")
    two = _tab(mark)
    assert "What lay on this table cannot be laid here again" in _words(two)
    assert "Nothing on the table" not in _words(two)
    _press(two, "paint 1")
    assert "cannot be laid" not in _words(two)
    assert _kept(_mark(two)) == _work(two)


def _words(app: AppTest) -> str:
    return " ".join(element.proto.body for element in app.get("html"))


def test_choices_of_both_are_joined() -> None:
    question = asked(demo(), Choosing(), 6)
    assert isinstance(question[0], Brief)
    found = propose(question[0])
    assert isinstance(found, Proposals)
    a, b, c, d, e, f = found.proposals
    one = Choosing(seed=3, kept=(a, b), away=frozenset({"x"}))
    other = Choosing(seed=4, kept=(b, c, d, e, f), away=frozenset({"y"}))
    both = joined(one, other)
    assert both == replace(one, kept=(a, b, c, d), away=frozenset({"x", "y"}))
    assert len(both.kept) == MOST_KEPT


def test_a_packer_reads_what_an_earlier_life_kept() -> None:
    one = _tab()
    _press(one, "paint 0", "paint 1")
    kept = shelf_tables.kept(Shelf(default_path()), _mark(one))
    assert kept is not None
    history = Packer().unpacked(kept.steps, _work(one))
    assert history == one.session_state[state.HISTORY]
