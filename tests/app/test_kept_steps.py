"""The steps before and after the present come back from bytes, bounded and whatever the damage."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app import state, steps
from explorer.app.demo import demo, tray_of
from explorer.app.events import painted
from explorer.app.kept_steps import MOST_BYTES, MOST_STEPS, Packer
from explorer.app.shaping import with_pattern
from explorer.app.state import History, Work
from explorer.piece import MOST_NOTES

DEMO = demo()


def _painted(work: Work, place: int) -> Work:
    swatches = work.tray.swatches
    pattern = work.piece.pattern
    motif = place % pattern.run.motifs
    swatch = swatches[(place // pattern.run.motifs) % len(swatches)]
    return with_pattern(work, painted(pattern, (motif,), swatch).pattern)


def _walk(count: int) -> History:
    history = History(now=DEMO)
    for place in range(count):
        history = state.changed(history, _painted(history.now, place))
    return history


def _back(history: History, times: int) -> History:
    for _ in range(times):
        history = state.undone(history)
    return history


HISTORIES = {
    "none": History(now=DEMO),
    "steps": _walk(12),
    "taken back": _back(_walk(12), 5),
    "all taken back": _back(_walk(12), 12),
    "of all sorts": state.changed(
        state.changed(_walk(3), steps.with_tray(DEMO, tray_of("hush"))),
        steps.resized(DEMO, replace(DEMO.sizing, snug="6 1/2 in")),
    ),
}


@pytest.mark.parametrize("name", HISTORIES)
def test_it_comes_back_as_it_was(name: str) -> None:
    history = HISTORIES[name]
    content = Packer().packed(history)
    assert Packer().unpacked(content, history.now) == history
    # What was read is packed again just so.
    reader = Packer()
    assert reader.packed(reader.unpacked(content, history.now)) == content


@given(st.lists(st.integers(-3, 20), max_size=25))
def test_a_packer_that_remembers_packs_as_a_new_one(moves: list[int]) -> None:
    packer, history = Packer(), History(now=DEMO)
    for move in moves:
        if move >= 0:
            history = state.changed(history, _painted(history.now, move))
        else:
            history = state.redone(history) if move == -1 else state.undone(history)
        assert packer.packed(history) == Packer().packed(history)
    assert Packer().unpacked(packer.packed(history), history.now) == history


def test_the_nearest_steps_stay() -> None:
    history = _back(_walk(120), 10)
    found = Packer().unpacked(Packer().packed(history), history.now)
    assert len(found.past) + len(found.future) == MOST_STEPS
    assert found.future == history.future
    assert found.past == history.past[-len(found.past) :]


def test_a_step_takes_little_more_room_than_what_changed() -> None:
    one, many = (len(Packer().packed(_walk(count))) for count in (0, MOST_STEPS))
    # Fifty steps, each a colour in one motif, beside one piece.
    assert many < 8 * one


def test_the_room_is_bounded_and_the_nearest_step_is_the_last_to_go() -> None:
    # Notes that cannot be squeezed: each is unlike the others.
    import random

    rng = random.Random(5)  # noqa: S311 - noise, no secret
    history = History(now=DEMO)
    for _ in range(30):
        notes = "".join(chr(rng.randrange(0x4E00, 0x9000)) for _ in range(MOST_NOTES))
        after = replace(DEMO, piece=replace(DEMO.piece, notes=notes))
        history = state.changed(history, after)
    content = Packer().packed(history)
    assert len(content) <= MOST_BYTES
    found = Packer().unpacked(content, history.now)
    assert 1 <= len(found.past) < 30
    assert found.past == history.past[-len(found.past) :]


@pytest.mark.parametrize("content", [b"", b"dw-steps-1", b"dw-steps-9xxxx", b"\0" * 400])
def test_what_is_no_history_is_none(content: bytes) -> None:
    assert Packer().unpacked(content, DEMO) == History(now=DEMO)


@given(st.data())
def test_damage_costs_steps_and_nothing_else(data: st.DataObject) -> None:
    history = HISTORIES["taken back"]
    content = bytearray(Packer().packed(history))
    place = data.draw(st.integers(0, len(content) - 1))
    if data.draw(st.booleans()):
        content[place] ^= data.draw(st.integers(1, 255))
    else:
        del content[place:]
    found = Packer().unpacked(bytes(content), history.now)
    assert found.now == history.now
    assert len(found.past) + len(found.future) <= 12
