"""The boxes for a saved piece's words, and what is said when another tab changed them meanwhile."""

from dataclasses import dataclass

import streamlit as st

from explorer.app import session
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import attempt, say, say_outcome
from explorer.brief import whole
from explorer.piece import MOST_NOTES
from explorer.shelf import MOST_WHO, Saved
from explorer.shelf_entry import MOST_LOTS, MOST_MINUTES
from explorer.shelf_saved import WORDS, Conflict, Words, with_words

_HERE = "words"
_NAMES = {
    "name": "name", "who": "who it is for", "notes": "notes", "made": "day it was finished",
    "minutes": "minutes it took", "lots": "lots of the beads",
}  # fmt: skip
Texts = dict[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """What becomes of boxes whose piece was changed elsewhere since they were filled.

    Attributes:
        seen: what the boxes are based on from here on.
        texts: what stands in them.
        clashing: words that were changed both here and elsewhere; here they are left as typed.
    """

    seen: Saved
    texts: Texts
    clashing: tuple[str, ...]


def texts(saved: Saved) -> Texts:
    """A piece's words as they stand in the boxes."""
    return {one: "" if value is None else str(value) for one, value in saved.words.items()}


def merged(seen: Saved, typed: Texts, saved: Saved) -> Merged:
    """The boxes with what was changed elsewhere, but for what was changed here too.

    Args:
        seen: the piece as it was when the boxes were filled.
        typed: what stands in them.
        saved: the piece as it is now.
    """
    if seen.revision == saved.revision:
        return Merged(seen=seen, texts=typed, clashing=())
    before, now = texts(seen), texts(saved)
    clashing = tuple(
        one
        for one in WORDS
        if typed[one] != before[one] and now[one] not in (before[one], typed[one])
    )
    after = {one: now[one] if typed[one] == before[one] else typed[one] for one in WORDS}
    if not clashing:
        return Merged(seen=saved, texts=after, clashing=())
    taken: Words = {one: saved.words[one] for one in WORDS if one not in clashing}
    return Merged(seen=with_words(seen, taken), texts=after, clashing=clashing)


def _key(part: str, number: int) -> str:
    return f"shelf_{part}_{number}"


def _seen_key(number: int) -> str:
    return f"shelf_seen_{number}"


def words(saved: Saved) -> None:
    """Name, wearer, making and notes; nothing is written to the shelf until it is said so."""
    number = saved.number
    boxes = _filled(saved)
    shown = boxes.texts
    st.text_input("Name", shown["name"], key=_key("name", number), max_chars=MOST_WHO)
    st.text_input("Who for", shown["who"], key=_key("who", number), max_chars=MOST_WHO)
    one, two = st.columns(2)
    with one:
        st.text_input(
            "Day it was finished", shown["made"], key=_key("made", number), placeholder="2025-03-14"
        )
    with two:
        st.text_input("Minutes it took", shown["minutes"], key=_key("minutes", number))
    st.text_area(
        "Lots of the beads", shown["lots"], key=_key("lots", number), max_chars=MOST_LOTS, height=80
    )
    st.text_area(
        "Notes", shown["notes"], key=_key("notes", number), max_chars=MOST_NOTES, height=80
    )
    if boxes.clashing:
        _ask(boxes, saved)
    elif _trimmed(_typed(number)) != texts(boxes.seen):
        note("Not written to the shelf yet.", kind="small")
    st.button(
        "Write it down", key=f"write_{number}", on_click=_write, args=(number,), type="primary"
    )
    say_outcome(_HERE)


def _filled(saved: Saved) -> Merged:
    """The boxes as they are to be drawn, and remembered so."""
    number = saved.number
    if _key("name", number) not in st.session_state or _seen_key(number) not in st.session_state:
        # Boxes that were not on the page a moment ago are filled from the shelf.
        boxes = Merged(seen=saved, texts=texts(saved), clashing=())
    else:
        boxes = merged(st.session_state[_seen_key(number)], _typed(number), saved)
    _fill(number, boxes.texts)
    st.session_state[_seen_key(number)] = boxes.seen
    return boxes


def _fill(number: int, held: Texts) -> None:
    for part, text in held.items():
        st.session_state[_key(part, number)] = text


def _typed(number: int) -> Texts:
    return {part: str(st.session_state[_key(part, number)] or "") for part in WORDS}


def _trimmed(typed: Texts) -> Texts:
    return {**typed, "made": typed["made"].strip(), "minutes": typed["minutes"].strip()}


def _write(number: int) -> None:
    attempt(lambda: _write_down(number), where=_HERE)


def _write_down(number: int) -> None:
    """Write what was changed here; where something stands in the way, the page asks about it."""
    typed = _trimmed(_typed(number))
    minutes = typed["minutes"]
    wanted: Words = {
        **typed, "minutes": whole("minutes", minutes, 0, MOST_MINUTES) if minutes else None
    }  # fmt: skip
    after = session.shelf().change(st.session_state[_seen_key(number)], wanted)
    if after is None:
        say("This piece was taken out for good elsewhere; nothing was written.", _HERE)
    elif not isinstance(after, Conflict):
        st.session_state[_seen_key(number)] = after
        _fill(number, texts(after))
        say("Written down.", _HERE)


def _ask(boxes: Merged, saved: Saved) -> None:
    """As the page asks about a table that was changed in two tabs."""
    now = texts(saved)

    def take() -> None:
        st.session_state[_seen_key(saved.number)] = saved
        _fill(saved.number, {one: now[one] for one in boxes.clashing})

    def keep() -> None:
        st.session_state[_seen_key(saved.number)] = saved

    names = ", ".join(_NAMES[one] for one in boxes.clashing)
    note(
        f"Changed in another tab since you began: {names}. What you typed is here and not written "
        "yet; what stands on the shelf now is:",
        kind="care",
    )
    for one in boxes.clashing:
        note(f"{_NAMES[one]}: {now[one] or 'nothing'}", kind="small")
    with st.container(horizontal=True, gap="small", key="shelf_elsewhere"):
        st.button("Take what is there now", key="shelf_elsewhere_take", on_click=take)
        st.button("Keep mine", key="shelf_elsewhere_mine", on_click=keep)
