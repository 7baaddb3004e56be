"""Together: a child and a grown-up choose the colours; few words, nothing forbidden."""

import numpy as np
import streamlit as st

from explorer.app import cache, session, state
from explorer.app.child_hints import changed_words, hint, labels, part_words
from explorer.app.child_words import child_words
from explorer.app.parts.choices import Choice, choices
from explorer.app.parts.notes import note
from explorer.app.parts.picture import Own
from explorer.app.parts.riddle import riddle
from explorer.app.parts.table import figures, table
from explorer.app.parts.tray import hanging_kind
from explorer.app.state import Tapped, Work
from explorer.app.together import (
    alike,
    all_in,
    filled,
    mended,
    own_words,
    surprise,
    swapped,
)
from explorer.changes import is_locked
from explorer.design import Design
from explorer.pattern import Pattern
from explorer.weave import weave
from palettes.swatches import Swatch

# Chosen by us, because it is as big as a thumb on a screen of two device pixels a pixel.
_BOWL_PX = 150
_CAUTIONS = (
    "Beads are small parts: not for children under three.",
    "Count the needles out and in again. A grown-up finishes the thread's ends.",
    "No magnet closures for a child: swallowed magnets injure.",
    "Strong thread does not give: close a child's piece with one that comes open when pulled.",
    "Not while asleep or in the bath, and not out of sight.",
    "This is general information; the law where you live decides.",
)


def view() -> None:
    """The page."""
    design = session.work().piece.design
    near = alike(design)
    words = part_words(design, _worded(session.work()))
    place = _next(design)
    table(
        act="paint",
        hint=hint(design, place, words, st.session_state.get(state.TAPPED)),
        marked=tuple(f"m{motif}" for motif in near or ()),
        stuck=True,
        told=False,
        gave_up=False,
        own=Own(
            chosen=place,
            labels=labels(words),
            alt=f"{session.work().piece.name}: {len(words)} parts, start to end",
        ),
    )
    st.header("Together", anchor=False)
    left, right = st.columns([3, 1], gap="large")
    with left, st.container(key="together"):
        _bowls()
        _buttons()
        if near is not None:
            _repair(near)
        riddle()
    with right:
        st.subheader("For the grown-up", anchor=False)
        for caution in _CAUTIONS:
            note(caution, kind="small")
        bowls = "; ".join(f"{word} is {swatch.name}" for swatch, word in _worded(session.work()))
        note(f"The bowls by their beads' names: {bowls}.", kind="small")
        st.html(figures(session.work()))


def _next(design: Design) -> int:
    held: int = st.session_state.get(state.NEXT, 0)
    return held % len(design.motifs)


def _bowls() -> None:
    work = session.work()
    kind = hanging_kind(work)

    def take(id_: str) -> None:
        now = session.work()
        place = int(id_)
        st.session_state[state.BRUSH] = place
        before = now.piece.pattern
        motif = _next(now.piece.design)
        pattern, after = filled(before, motif, now.tray.swatches[place])
        st.session_state[state.NEXT] = after
        locked = f"Part {motif + 1} is locked: it stays." if is_locked(before, motif) else ""
        changed = weave(pattern) != now.piece.design
        _did(Tapped(design=weave(pattern), motif=motif, changed=changed, words=locked))
        if changed:
            session.commit_pattern(pattern)

    choices(
        "Bowls of beads",
        tuple(
            Choice(id=str(place), label=word, png=cache.bead_row((swatch,), kind, _BOWL_PX))
            for place, (swatch, word) in enumerate(_worded(work))
        ),
        chosen=str(session.brush(work.tray)),
        on_choice=take,
        key="bowls",
        size="bowl",
        brush=True,
    )


def _worded(work: Work) -> list[tuple[Swatch, str]]:
    """The tray's colours, each with a word that a child reads."""
    swatches = work.tray.swatches
    return list(zip(swatches, child_words(swatches), strict=True))


def _buttons() -> None:
    with st.container(horizontal=True):
        st.button("Surprise", on_click=_surprise, type="primary")
        st.button("All one colour", on_click=_one_colour)
    note(
        "Surprise mixes the colours of every part. All one colour makes every part like your "
        "bowl. Undo brings the old colours back."
    )


def _surprise() -> None:
    work = session.work()
    turn: int = st.session_state.get(state.SURPRISES, 0) + 1
    st.session_state[state.SURPRISES] = turn
    st.session_state.pop(state.NEXT, None)
    st.session_state.pop(state.TAPPED, None)
    # Another surprise each time, and the same row of them for the same piece.
    rng = np.random.default_rng((turn, len(work.piece.design.motifs)))
    _make(surprise(work.piece.pattern, work.tray.swatches, rng))


def _one_colour() -> None:
    work = session.work()
    swatch = work.tray.swatches[session.brush(work.tray)]
    _make(all_in(work.piece.pattern, swatch))


def _make(after: Pattern) -> None:
    """Make a step that reaches all parts; say what stays locked, and what was theirs and goes."""
    motifs = [motif for motif in range(after.run.motifs) if is_locked(after, motif)]
    words = " ".join(f"Part {motif + 1} is locked: it stays." for motif in motifs)
    words = f"{words} {own_words(session.work().piece.pattern, after)}".strip()
    if words:
        _did(Tapped(design=weave(after), motif=0, words=words))
    session.commit_pattern(after)


def _repair(near: tuple[int, int]) -> None:
    """Two neighbours that look alike: said kindly, with a way on if there is one."""
    work = session.work()
    note(f"Parts {near[0] + 1} and {near[1] + 1} look alike. You can keep them so.", kind="care")
    for label, after in (
        ("Swap", swapped(work.piece.pattern)),
        ("Another colour", mended(work.piece.pattern, work.tray.swatches)),
    ):
        if after is not None:
            st.button(label, on_click=_take, args=(after,))
            return


def _take(after: Pattern) -> None:
    work = session.work()
    design = weave(after)
    words = changed_words(work.piece.design, design, part_words(design, _worded(work)))
    _did(Tapped(design=design, motif=0, words=words))
    session.commit_pattern(after)


def _did(last: Tapped) -> None:
    st.session_state[state.TAPPED] = last
