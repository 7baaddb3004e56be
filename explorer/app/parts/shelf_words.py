"""The boxes for a saved piece's words: what is typed in them, and what others changed meanwhile."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import streamlit as st

from explorer.app import session
from explorer.app.labels import isolated
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import BOXES, attempt, forget_outcome, say, say_outcome
from explorer.brief import whole
from explorer.shelf import Saved
from explorer.shelf_entry import MOST_MINUTES, who_for
from explorer.shelf_saved import WORDS, Words, mixed

OPENED = "shelf_opened"
_DRAFTS = "shelf_drafts"
_NAMES = {
    "name": "name", "who": "who it is for", "notes": "notes", "made": "day it was finished",
    "minutes": "minutes it took", "lots": "lots of the beads",
}  # fmt: skip
Texts = dict[str, str]


def texts(saved: Saved) -> Texts:
    """A piece's words as they stand in the boxes."""
    return {one: "" if value is None else str(value) for one, value in saved.words.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What somebody types about a saved piece; it stays until it is written or taken back.

    Attributes:
        seen: the piece with the words that may be written over: those it had when the boxes were
            filled first, and those that the maker was asked about since.
        filled: what the page put into the boxes last.
        typed: what stands in them.
    """

    seen: Saved
    filled: Texts
    typed: Texts

    @property
    def wanted(self) -> Texts:
        """What was typed and is not written yet."""
        return {
            one: text for one, text in _trimmed(self.typed).items()
            if self.filled[one] not in (self.typed[one], text)
        }  # fmt: skip

    def beside(self, saved: Saved) -> "Draft":
        """The boxes with what was changed elsewhere, while nobody has typed anything in them.

        Once somebody has, nothing is put under their hands. ``seen`` stays in any case: a text that
        has just come into a box may not be on the screen yet when that box is typed into.

        Args:
            saved: the piece as it is now.
        """
        if self.wanted:
            return self
        return replace(self, filled=texts(saved), typed=texts(saved))

    def clashing(self, saved: Saved) -> tuple[str, ...]:
        """Words that were changed both here and elsewhere, each to something else."""
        now, seen, wanted = texts(saved), texts(self.seen), self.wanted
        return tuple(one for one in wanted if now[one] not in (seen[one], wanted[one]))

    def elsewhere(self, saved: Saved) -> tuple[str, ...]:
        """Words that were changed elsewhere alone, and stand otherwise in the boxes."""
        now, wanted = texts(saved), self.wanted
        return tuple(one for one in WORDS if one not in wanted and now[one] != self.filled[one])

    def shown(self, saved: Saved, words: tuple[str, ...]) -> "Draft":
        """The draft once the maker knows how some words stand on the shelf."""
        return replace(self, seen=mixed(self.seen, {one: saved.words[one] for one in words}))

    def taken(self, saved: Saved, words: tuple[str, ...]) -> "Draft":
        """The draft with some words as they stand on the shelf."""
        now = {one: texts(saved)[one] for one in words}
        after = self.shown(saved, words)
        return replace(after, filled={**self.filled, **now}, typed={**self.typed, **now})


def fresh(saved: Saved) -> Draft:
    """Boxes filled from the shelf."""
    return Draft(seen=saved, filled=texts(saved), typed=texts(saved))


def _trimmed(typed: Texts) -> Texts:
    made, minutes = typed["made"].strip(), typed["minutes"].strip()
    return {**typed, "who": who_for(typed["who"]), "made": made, "minutes": minutes}


def drafts() -> dict[int, Draft]:
    """What is typed about pieces in this tab, by their numbers."""
    held: dict[int, Draft] = st.session_state.setdefault(_DRAFTS, {})
    return held


def forget(number: int) -> None:
    """Take back what was typed about a piece; the boxes are filled from the shelf again."""
    drafts().pop(number, None)
    forget_outcome()


def _key(part: str, number: int) -> str:
    return f"shelf_{part}_{number}"


def _here(number: int) -> str:
    return f"words of {number}"


def words(saved: Saved) -> None:
    """Name, wearer, making and notes; nothing is written to the shelf until it is said so."""
    number = saved.number
    draft = drafts()[number] = drafts().get(number, fresh(saved)).beside(saved)
    _fill(number, draft.typed)
    _box(st.text_input, "name", number)
    _box(st.text_input, "who", number)
    one, two = st.columns(2)
    with one:
        _box(st.text_input, "made", number, placeholder="2025-03-14")
    with two:
        _box(st.text_input, "minutes", number)
    _box(st.text_area, "lots", number, height=80)
    _box(st.text_area, "notes", number, height=80)
    with st.container(horizontal=True, gap="small"):
        st.button(
            "Write it down", key=f"write_{number}", on_click=_write, args=(number,), type="primary"
        )
        if draft.wanted:
            st.button(
                "Take back what I typed", key=f"untype_{number}", on_click=forget, args=(number,),
                type="tertiary",
            )  # fmt: skip
    # Below the button, which would move away from under a finger otherwise.
    clashing = draft.clashing(saved)
    if clashing:
        _ask(saved, clashing)
    elif draft.wanted:
        note("Not written to the shelf yet.", kind="small")
    _tell_elsewhere(draft, saved)
    say_outcome(_here(number))


def _box(kind: Callable[..., object], part: str, number: int, **more: object) -> None:
    """One box. It holds any length: the browser would refuse what is too long without a word."""
    key = _key(part, number)
    kind(BOXES[part], st.session_state[key], key=key, on_change=_keep, args=(number,), **more)


def _fill(number: int, held: Texts) -> None:
    for part, text in held.items():
        st.session_state[_key(part, number)] = text


def _keep(number: int) -> None:
    """Remember what stands in the boxes, which the framework forgets with them."""
    draft = drafts().get(number)
    if draft is None:
        return
    typed = {part: str(st.session_state.get(_key(part, number)) or "") for part in WORDS}
    if typed != draft.typed:
        drafts()[number] = replace(draft, typed=typed)
        # What was said of the last writing is no longer so.
        forget_outcome()


def _write(number: int) -> None:
    # The press can come before the word that a box was changed.
    _keep(number)
    attempt(lambda: _write_down(number), where=_here(number))


def _write_down(number: int) -> None:
    """Write what was changed here; where something stands in the way, the page asks about it."""
    draft, shelf = drafts()[number], session.shelf()
    saved = shelf.get(number)
    if saved is None or draft.clashing(saved):
        return
    wanted: Words = {**draft.wanted}
    minutes = wanted.get("minutes")
    if "minutes" in wanted:
        wanted["minutes"] = whole("minutes", minutes, 0, MOST_MINUTES) if minutes else None
    after = shelf.change(draft.seen, wanted)
    if isinstance(after, Saved):
        drafts()[number] = fresh(after)
        _fill(number, texts(after))
        say("Written down.", _here(number))


def _tell(saved: Saved, words: tuple[str, ...]) -> None:
    now = texts(saved)
    for one in words:
        note(f"{_NAMES[one]}: {now[one] or 'nothing'}", kind="small")


def _tell_elsewhere(draft: Draft, saved: Saved) -> None:
    """What was changed elsewhere and is not in the boxes."""
    others = draft.elsewhere(saved)
    if others:
        names = ", ".join(_NAMES[one] for one in others)
        note(f"Changed in another tab alone, and left as it stands there: {names}.", kind="care")
        _tell(saved, others)


def _ask(saved: Saved, clashing: tuple[str, ...]) -> None:
    """As the page asks about a table that was changed in two tabs."""
    number = saved.number

    def take() -> None:
        _keep(number)
        drafts()[number] = drafts()[number].taken(saved, clashing)
        _fill(number, drafts()[number].typed)

    def keep() -> None:
        drafts()[number] = drafts()[number].shown(saved, clashing)

    names = ", ".join(_NAMES[one] for one in clashing)
    note(
        f"Changed in another tab since you began: {names}. What you typed is here and not written "
        "yet; what stands on the shelf now is:",
        kind="care",
    )
    _tell(saved, clashing)
    with st.container(horizontal=True, gap="small", key="shelf_elsewhere"):
        st.button("Take what is there now", key="shelf_elsewhere_take", on_click=take)
        st.button("Keep mine", key="shelf_elsewhere_mine", on_click=keep)


def typed_words(draft: Draft) -> None:
    """What was typed and is not written, to be read or copied."""
    for one, text in draft.wanted.items():
        note(f"{_NAMES[one]}: {text or 'nothing'}", kind="small")


def say_unwritten() -> None:
    """What is typed about pieces whose details are closed, and the way back to it."""
    for number, draft in drafts().items():
        if draft.wanted and number != st.session_state.get(OPENED):
            with st.container(horizontal=True, vertical_alignment="center", width="content"):
                name = isolated(draft.seen.name)
                note(f"What you typed about “{name}” is not written to the shelf yet.")
                st.button(
                    "Go on with it", key=f"shelf_unwritten_{number}", on_click=_open, args=(number,)
                )


def _open(number: int) -> None:
    st.session_state[OPENED] = number
