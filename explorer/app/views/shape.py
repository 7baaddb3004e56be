"""Shape: dangle lengths, turning beads, dividers and ends of the piece on the table."""

import streamlit as st

from explorer.app import session, shaping, state
from explorer.app.events import MOST_LENGTH
from explorer.app.parts.links import ends_panel
from explorer.app.parts.notes import note
from explorer.app.parts.profile_editor import both_sides, profile_editor, scope
from explorer.app.parts.profile_shapes import profile_shapes, put
from explorer.app.parts.table import table
from explorer.app.parts.tips_panel import divider_panel, tips_panel
from explorer.app.shape_words import (
    PATTERN_WORDS,
    difference_words,
    score_words,
    target_words,
)
from explorer.app.shaping import OWN, Scope
from explorer.changes import grow, turn_outlines
from explorer.design import motif_profile
from explorer.profile_scores import scores
from explorer.tips import hanging_kind, tip_kind


def view() -> None:
    """The page."""
    table()
    st.header("Shape", anchor=False)
    _pattern(scope())
    now = scope()
    left, right = st.columns([5, 4], gap="large")
    with left:
        _which(now)
        motifs = len(session.work().piece.design.motifs)
        profile_editor(now, target_words(now.target, now.letters, motifs))
        _sides(now)
        _growth()
        _figures(now)
    with right:
        profile_shapes(now)
    one, two, three = st.columns(3, gap="large")
    with one:
        st.subheader("Turning beads", anchor=False)
        tips_panel()
    with two:
        st.subheader("Between motifs", anchor=False)
        divider_panel()
    with three:
        st.subheader("Both ends", anchor=False)
        ends_panel()


def _pattern(now: Scope) -> None:
    design = session.work().piece.design

    def pick() -> None:
        chosen = str(st.session_state["shape_pattern"])
        st.session_state[state.PATTERN] = chosen
        st.session_state[state.TARGET] = "m0" if chosen == OWN else "A"
        if chosen != OWN:
            pattern = session.work().piece.pattern
            session.commit_changed(shaping.with_letters(pattern, now, chosen))

    options = (*shaping.letters_for(len(design.motifs)), OWN)
    st.session_state["shape_pattern"] = now.letters
    st.segmented_control(
        "Outlines along the strip",
        options,
        format_func=lambda name: PATTERN_WORDS[name],
        key="shape_pattern",
        required=True,
        on_change=pick,
    )


def _which(now: Scope) -> None:
    """Which outline, or which motif, the bars stand for."""
    design = session.work().piece.design
    if now.letters == "A":
        return

    def pick() -> None:
        st.session_state[state.TARGET] = st.session_state["shape_target"]

    st.session_state["shape_target"] = now.target
    if now.letters != OWN:
        letters = sorted(set(now.letters))
        st.segmented_control(
            "Pull the bars of",
            letters,
            format_func=lambda letter: f"outline {letter}",
            key="shape_target",
            required=True,
            on_change=pick,
        )
        return
    names = [f"m{place}" for place in range(len(design.motifs))]

    def words(name: str) -> str:
        place = int(name[1:])
        lengths = ", ".join(map(str, motif_profile(design.motifs[place])))
        return f"motif {place + 1}: {lengths}"

    st.selectbox("Pull the bars of", names, format_func=words, key="shape_target", on_change=pick)


def _sides(now: Scope) -> None:
    """Whether both sides change together, and whether one-sided outlines face each other."""

    def alike() -> None:
        ticked = bool(st.session_state["shape_sides"])
        st.session_state[state.BOTH_SIDES] = ticked
        here = scope()
        if ticked and here.profile != here.profile[::-1]:
            half = here.profile[: (len(here.profile) + 1) // 2]
            whole = (*half, *half[: len(here.profile) // 2][::-1])
            put(here, whole)

    st.session_state["shape_sides"] = both_sides(now)
    st.checkbox("Both sides of the motif alike", key="shape_sides", on_change=alike)
    if now.letters == OWN or all(p == p[::-1] for p in now.profiles):
        return

    def facing() -> None:
        mirrored = bool(st.session_state["shape_mirrored"])
        pattern = session.work().piece.pattern
        session.commit_changed(turn_outlines(pattern, mirrored=mirrored))

    st.session_state["shape_mirrored"] = now.mirrored
    st.checkbox(
        "Mirrored past the middle, so that both ends close alike",
        key="shape_mirrored",
        on_change=facing,
    )


def _growth() -> None:
    """How much longer dangles are in the middle of the strip than at its ends."""

    def grown() -> None:
        beads = st.session_state["shape_growth"]
        if beads is not None:
            session.commit_changed(grow(session.work().piece.pattern, int(beads)))

    rule = session.work().piece.pattern.outlines
    st.session_state["shape_growth"] = rule.growth
    st.number_input(
        "Longer toward the middle of the strip, in beads",
        -MOST_LENGTH,
        MOST_LENGTH,
        rule.growth,
        step=1,
        key="shape_growth",
        on_change=grown,
        help="Below nought they are shorter in the middle.",
    )


def _figures(now: Scope) -> None:
    design = session.work().piece.design
    words = score_words(scores(now.profile, hanging_kind(design), tip_kind(design)))
    note(f"{words[0].upper()}{words[1:]}.")
    if now.letters not in (OWN, "A"):
        note(f"Outlines {difference_words(now.profiles)}.", kind="small")
