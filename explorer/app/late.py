"""Keeps what a maker types and picks from a page that is drawn late.

The framework draws a page in the browser while the maker goes on. Two things go wrong when that
takes its time. A box that the program fills is sent anew with every run, and written over what was
just typed into it. And with every press the browser sends what all boxes hold, so a box that has
not yet got the program's new value sends its old one, which is taken for the maker's own change.

Here a box that already holds its value is not filled again, and an old value that comes along with
another press is passed over: the box gets the value of the program once more. A box that appears
takes its default, so boxes to type into give what they are filled with as their default too.

The framework has no setting for this; the names used below are its own, so a newer version that
has changed them is left as it is (and the tests tell).
"""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import wraps
from typing import Any

import streamlit as st
from streamlit.runtime.scriptrunner import get_script_run_ctx
from streamlit.runtime.state.common import user_key_from_element_id
from streamlit.runtime.state.session_state import SessionState

# Chosen by us: longer than a slow machine draws a page. A browser that holds an older value after
# that holds it because its maker wants it.
LATE_S = 30.0
# A box that has just appeared holds nothing older: it may be on its way so long. Chosen by us: few
# type into a box and go on to the next in less after it is there.
NEW_S = 5.0
# Chosen by us: more than the program puts into one box while a page is drawn.
_MOST_PUT = 8

_DONE = "_danglewise_late"
_TOLD = "danglewise_told"
# What boxes hold; all else that a browser sends is an event.
_HELD = frozenset(
    {
        "string_value",
        "int_value",
        "double_value",
        "bool_value",
        "int_array_value",
        "double_array_value",
        "string_array_value",
    }
)
# Where lists and rows of choices keep their lines.
_LINES = "formatted_option_to_option_index"
# Sent once, when something is pressed.
_PRESSES = frozenset({"trigger_value", "string_trigger_value", "json_trigger_value"})


@dataclass(slots=True)
class Told:
    """What browser and program have told each other in one session.

    Attributes:
        sent: what the browser sent last for each box.
        wires: the same as it was written down; lists tell what is picked by its words.
        events: what it sent last of anything else that stays until it is changed.
        page: the page that it asked for last.
        put: what the program put lately into each box that held something else, each with its
            time in seconds.
        brought: what the browser held, by the keys of its boxes, when the session began: a page
            outlives a restart of the server with what was typed into it meanwhile.
    """

    sent: dict[str, Any] = field(default_factory=dict)
    wires: dict[str, Any] = field(default_factory=dict)
    events: dict[str, bytes] = field(default_factory=dict)
    page: str = ""
    put: dict[str, tuple[tuple[float, Any], ...]] = field(default_factory=dict)
    brought: dict[str, str] = field(default_factory=dict)

    def lately(self, box: str, now: float) -> tuple[Any, ...]:
        """What the program put into a box that may still be on its way."""
        return tuple(value for at, value in self.put.get(box, ()) if now - at < LATE_S)

    def shows(self, box: str, wire: object) -> bool:
        """Whether the browser shows what a box is to hold; what it did not send it does not."""
        return box in self.wires and self.wires[box] == wire

    def last(self, box: str) -> object:
        """What the program put into a box last; nothing that a box can hold if it never did."""
        return self.put[box][-1][1] if box in self.put else self

    def fill(self, box: str, value: object, now: float) -> None:
        """The program puts a value into a box that holds another, or that is new."""
        at = now if box in self.wires else now - LATE_S + NEW_S
        self.put[box] = (*self.put.get(box, ()), (at, value))[-_MOST_PUT:]

    def too_late(
        self, sent: Mapping[str, Any], held: Mapping[str, Any], now: float, *, event: bool
    ) -> set[str]:
        """Boxes whose values are older than what the program put into them.

        Args:
            sent: what the browser sends now for each box.
            held: what the program holds.
            now: the time in seconds.
            event: whether anything else is pressed or changed.

        Returns:
            Boxes that the browser holds as it did before the program filled them, or as the
            program had filled them before that. One that alone has changed is the maker's: nothing
            else would have made the browser send it.
        """
        changed = {box for box in sent if sent[box] != held.get(box)}
        late = {
            box
            for box in changed
            if sent[box] in self.lately(box, now)
            or (box in self.sent and self.sent[box] == sent[box])
        }
        late = late if event or changed - late else set()
        self.sent = dict(sent)
        # Whoever holds what was put in last has got all that was put in before it.
        got = {box for box in sent if box not in late and sent[box] == self.last(box)}
        self.put = {
            box: put for box, put in self.put.items() if box not in got and self.lately(box, now)
        }
        return late


def keep_what_is_typed() -> None:
    """Do it, once in a process."""
    callbacks = getattr(SessionState, "_call_callbacks", None)
    register = getattr(SessionState, "register_widget", None)
    parts = getattr(SessionState, "__dataclass_fields__", {})
    known = {"_old_state", "_new_widget_state"} <= set(parts)
    if not known or callbacks is None or register is None or hasattr(register, _DONE):
        return

    @wraps(callbacks)
    def call_callbacks(self: Any, *args: Any, **options: Any) -> None:
        _pass_over(self)
        callbacks(self, *args, **options)

    @wraps(register)
    def register_widget(self: Any, metadata: Any, user_key: str | None) -> Any:
        box = metadata.id
        result = register(self, metadata, user_key)
        if not result.value_changed or metadata.value_type not in _HELD:
            return result
        told, now = _told(self), time.monotonic()
        if not told.shows(box, metadata.serializer(result.value)):
            told.fill(box, result.value, now)
            return result
        # A box that is drawn for the first time takes its default: it must be the same.
        same = metadata.deserializer(None) == result.value
        others = any(value != result.value for value in told.lately(box, now))
        return replace(result, value_changed=False) if same and not others else result

    setattr(register_widget, _DONE, True)
    SessionState._call_callbacks = call_callbacks  # type: ignore[method-assign]
    SessionState.register_widget = register_widget  # type: ignore[method-assign]


def brought(box: str) -> str | None:
    """What a page that is older than its session holds in a box with that key, told once."""
    told = st.session_state.get(_TOLD)
    return told.brought.pop(box, None) if isinstance(told, Told) else None


def _told(held: Any) -> Told:
    """A session's own; kept with what it holds, so that it ends with it."""
    told = held._old_state.get(_TOLD)
    if not isinstance(told, Told):
        told = held._old_state[_TOLD] = Told()
    return told


def _pass_over(held: Any) -> None:
    """Take boxes that are too late out of what the browser sent."""
    begins = _TOLD not in held._old_state
    states, told = held._new_widget_state, _told(held)
    kinds = states.widget_metadata
    if begins:
        told.brought = _words_brought(states.states)
    # As it was sent, of what a page has drawn; whatever else lies here is of a page long gone.
    sent = {
        box: state.value
        for box, state in states.states.items()
        if box in kinds and hasattr(getattr(state, "value", None), "WhichOneof")
    }
    wires = {box: _wire(state) for box, state in sent.items() if state.WhichOneof("value") in _HELD}
    event = _happens(told, [sent[box] for box in sent if box not in wires])
    gone = {box for box, wire in wires.items() if _unknown(kinds[box], wire)}
    boxes = {box: states.get(box) for box in wires if box not in gone}
    late = told.too_late(boxes, held._old_state, time.monotonic(), event=event)
    told.wires = {box: wire for box, wire in wires.items() if box not in late | gone}
    for box in late | gone:
        del states[box]


def _words_brought(states: Mapping[str, Any]) -> dict[str, str]:
    """Texts in boxes with keys of their own, which stand at the end of the boxes' names."""
    texts = {
        user_key_from_element_id(box): state.value.string_value
        for box, state in states.items()
        if hasattr(getattr(state, "value", None), "WhichOneof")
        and state.value.WhichOneof("value") == "string_value"
    }
    return {key: text for key, text in texts.items() if key}


def _wire(state: Any) -> Any:
    """What a browser sends for a box, as the framework writes it down."""
    value = getattr(state, state.WhichOneof("value"))
    return list(value.data) if hasattr(value, "data") else value


def _unknown(metadata: Any, wire: object) -> bool:
    """Whether a list's line is none that it has, as when lines have got other words since.

    The framework would take the words themselves for what was picked.
    """
    lines = getattr(getattr(metadata.deserializer, "__self__", None), _LINES, None)
    return isinstance(wire, str) and lines is not None and wire not in lines


def _happens(told: Told, others: Sequence[Any]) -> bool:
    """Whether something is pressed, newly in a component's queue or file box, or another page."""
    pressed = any(one.WhichOneof("value") in _PRESSES for one in others)
    events = {
        one.id: one.SerializeToString() for one in others if one.WhichOneof("value") not in _PRESSES
    }
    context = get_script_run_ctx(suppress_warning=True)
    page = "" if context is None else context.page_script_hash
    happens = pressed or events != told.events or page != told.page
    told.events, told.page = events, page
    return happens
