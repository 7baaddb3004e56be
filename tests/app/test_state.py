"""Steps, undo and redo."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from explorer.app import state
from explorer.app.demo import demo
from explorer.app.state import History, Work


def _named(name: str) -> Work:
    work = demo()
    return replace(work, piece=replace(work.piece, name=name))


def test_a_step_can_be_taken_back_and_made_again() -> None:
    one, two = _named("one"), _named("two")
    history = state.changed(History(now=one), two)
    assert state.undone(history).now == one
    assert state.redone(state.undone(history)) == history


def test_a_step_that_changes_nothing_keeps_the_way_forward() -> None:
    history = state.undone(state.changed(History(now=_named("one")), _named("two")))
    assert state.changed(history, history.now) == history
    assert state.redone(history).now.piece.name == "two"


def test_a_new_step_ends_the_way_forward() -> None:
    history = state.undone(state.changed(History(now=_named("one")), _named("two")))
    history = state.changed(history, _named("three"))
    assert state.redone(history) == history


def test_nothing_lies_before_the_beginning() -> None:
    history = History(now=_named("one"))
    assert state.undone(history) == history


def test_only_so_many_steps_are_remembered() -> None:
    history = History(now=_named("begin"))
    for number in range(state.MOST_STEPS + 20):
        history = state.changed(history, _named(f"step {number}"))
    assert len(history.past) == state.MOST_STEPS


@given(st.lists(st.sampled_from(["do", "undo", "redo"]), max_size=40))
def test_any_walk_agrees_with_a_list_and_a_finger_in_it(moves: list[str]) -> None:
    line, finger = [_named("0")], 0
    history = History(now=line[0])
    for number, move in enumerate(moves):
        if move == "do":
            work = _named(f"w{number}")
            line, finger = [*line[: finger + 1], work], finger + 1
            history = state.changed(history, work)
        elif move == "undo":
            finger = max(0, finger - 1)
            history = state.undone(history)
        else:
            finger = min(len(line) - 1, finger + 1)
            history = state.redone(history)
        assert history.now == line[finger]
        assert history.past == tuple(line[:finger])
