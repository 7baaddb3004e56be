"""What the picture reports: nothing lost, nothing done twice, nothing believed unchecked."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.app.demo import demo
from explorer.app.events import MOST_LENGTH, Act, Event, applied, painted, read_events
from explorer.app.parts.choices import read_presses
from explorer.changes import lengthen, lock
from explorer.counts import counts
from explorer.design import Design, motif_bead, motif_profile
from explorer.errors import BriefError
from explorer.pattern import Pattern
from explorer.weave import weave

WORK = demo()
PATTERN = WORK.piece.pattern
DESIGN = WORK.piece.design
SWATCHES = WORK.tray.swatches


def _sent(n: int, **changes: Any) -> dict[str, Any]:
    return {"n": n, "epoch": "e", "act": "paint", "id": "m0", "value": 1} | changes


def test_only_what_is_new_is_read_in_its_order() -> None:
    sent = [_sent(4), _sent(2), _sent(3), _sent(4, id="m1")]
    assert [e.number for e in read_events(sent, epoch="e", done=2)] == [3, 4]
    assert read_events(sent, epoch="e", done=2)[1].numbers == (0,)


def test_the_queue_may_arrive_as_often_as_it_likes() -> None:
    queue = [_sent(n, id=f"m{n % 11}", value=n % 7) for n in range(1, 101)]
    at_once = _after(PATTERN, read_events(queue, epoch="e", done=0))
    pattern, done = PATTERN, 0
    for end in (1, 5, 5, 40, 39, 100, 100):
        events = read_events(queue[:end], epoch="e", done=done)
        pattern = _after(pattern, events)
        done = events[-1].number if events else done
    assert done == 100
    assert pattern == at_once != PATTERN


def _after(pattern: Pattern, events: tuple[Event, ...]) -> Pattern:
    for event in events:
        changed = applied(pattern, event, SWATCHES, everywhere=False)
        assert changed is not None
        pattern = changed.pattern
    return pattern


@pytest.mark.parametrize(
    "item",
    [
        None,
        7,
        {},
        _sent(1, epoch="other"),
        _sent(1) | {"n": True},
        _sent(1) | {"n": "1"},
        _sent(1, value=1.5),
        _sent(1, value=None),
        _sent(1, act="delete"),
        _sent(1, id="m"),
        _sent(1, id="m1.c2.b3.x4"),
        _sent(1, id="m-1"),
        _sent(1, id=None),
        _sent(1, id="m\u0663"),
        # Base beads and what hangs from them are touched each in their own way.
        _sent(1, id="s3"),
        _sent(1, act="base", id="m3"),
        _sent(1, act="base", id="s3.c1"),
    ],
)
def test_what_no_picture_sends_is_passed_over(item: object) -> None:
    assert read_events([item, _sent(9)], epoch="e", done=0) == (
        Event(number=9, act=Act.PAINT, numbers=(0,), value=1),
    )


@pytest.mark.parametrize("sent", [None, "m1", {"n": 1}, 3])
def test_what_is_no_queue_is_nothing(sent: object) -> None:
    assert read_events(sent, epoch="e", done=0) == ()


@pytest.mark.parametrize(
    ("numbers", "act", "value"),
    [
        ((99,), Act.PAINT, 0),
        ((0, 99), Act.PAINT, 0),
        ((0, 0, 99), Act.PAINT, 0),
        ((0,), Act.PAINT, 99),
        ((0,), Act.PAINT, -1),
        ((0,), Act.LENGTH, 3),
        ((0, 0), Act.LENGTH, 0),
        ((0, 0), Act.LENGTH, MOST_LENGTH + 1),
        ((67,), Act.BASE, 0),
        ((0,), Act.BASE, 99),
        ((0,), Act.PICK, 0),
    ],
)
def test_what_is_not_there_changes_nothing(numbers: tuple[int, ...], act: Act, value: int) -> None:
    event = Event(number=1, act=act, numbers=numbers, value=value)
    assert applied(PATTERN, event, SWATCHES, everywhere=True) is None


@pytest.mark.parametrize(("act", "numbers"), [(Act.PAINT, (3,)), (Act.LENGTH, (3, 1))])
def test_a_locked_motif_is_refused_by_its_number(act: Act, numbers: tuple[int, ...]) -> None:
    event = Event(number=1, act=act, numbers=numbers, value=2)
    with pytest.raises(BriefError) as told:
        applied(lock(PATTERN, 3).pattern, event, SWATCHES, everywhere=False)
    assert (told.value.field, told.value.got) == ("motif", 4)
    assert "Unlock" in told.value.remedy


def test_a_touched_base_bead_is_one_bead_wherever_it_lies() -> None:
    # A strip of dividers and motifs in turn: bead 0 is a divider's, bead 1 the first motif's.
    for number in (0, 1, 66):
        event = Event(number=1, act=Act.BASE, numbers=(number,), value=3)
        changed = applied(PATTERN, event, SWATCHES, everywhere=False)
        assert changed is not None
        after = weave(changed.pattern)
        bases = [after.beads[column.base].hex for _, column in after.columns()]
        assert [n for n, hex_ in enumerate(bases) if hex_ == SWATCHES[3].hex] == [number]
        assert _hanging(after) == _hanging(DESIGN)


def _hanging(design: Design) -> list[list[str]]:
    return [[design.beads[bead].hex for bead in column.beads] for _, column in design.columns()]


def test_a_painted_motif_takes_the_colour_and_no_other_does() -> None:
    after = weave(painted(PATTERN, (3,), SWATCHES[5]).pattern)
    assert after.beads[motif_bead(after.motifs[3])].hex == SWATCHES[5].hex
    assert motif_profile(after.motifs[3]) == motif_profile(DESIGN.motifs[3])
    for number in set(range(11)) - {3}:
        old = [DESIGN.beads[b] for c in DESIGN.motifs[number] for b in c.beads]
        assert [after.beads[b] for c in after.motifs[number] for b in c.beads] == old


def test_a_painted_bead_is_one_bead() -> None:
    new = replace(SWATCHES[0], name="new", hex="#010203")
    after = weave(painted(PATTERN, (0, 2, 6), new).pattern)
    tally = {after.beads[e.bead].hex: e.used for e in counts(after).by_bead}
    assert tally["#010203"] == 1
    assert counts(after).total == counts(DESIGN).total


@given(
    st.integers(0, len(DESIGN.motifs) - 1),
    st.integers(0, 4),
    st.integers(1, MOST_LENGTH),
    st.booleans(),
)
def test_a_length_is_what_was_asked(motif: int, dangle: int, length: int, everywhere: bool) -> None:
    after = weave(lengthen(PATTERN, motif, dangle, length, everywhere=everywhere).pattern)
    for number, columns in enumerate(after.motifs):
        wanted = list(motif_profile(DESIGN.motifs[number]))
        if everywhere or number == motif:
            wanted[dangle] = length
        assert list(motif_profile(columns)) == wanted


def test_a_longer_dangle_keeps_its_tip() -> None:
    tipped = painted(PATTERN, (0, 2, 6), SWATCHES[1]).pattern
    after = weave(lengthen(tipped, 0, 2, 9).pattern)
    names = [after.beads[b].name for b in after.motifs[0][2].beads]
    assert names[-1] == SWATCHES[1].name
    assert len(set(names[:-1])) == 1


def test_presses_are_heard_once_in_their_order_and_only_what_there_is() -> None:
    sent: list[object] = [
        {"n": 3, "epoch": "e", "id": "b"},
        {"n": 2, "epoch": "e", "id": "a"},
        {"n": 1, "epoch": "e", "id": "a"},
        {"n": 4, "epoch": "old", "id": "a"},
        {"n": 5, "epoch": "e", "id": "none"},
        {"n": "6", "epoch": "e", "id": "a"},
        {"n": 3, "epoch": "e", "id": "a"},
        None,
    ]
    ids = frozenset({"a", "b"})
    assert read_presses(sent, ids, epoch="e", done=1) == ((2, "a"), (3, "b"))
    assert read_presses({"n": 2}, ids, epoch="e", done=0) == ()
    assert read_presses([{"n": 2, "epoch": "e", "id": ["a"]}], ids, epoch="e", done=0) == ()
