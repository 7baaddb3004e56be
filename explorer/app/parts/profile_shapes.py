"""Outlines to pick instead of pulling every bar: the shapes, and others drawn by chance."""

import numpy as np
import streamlit as st

from explorer.app import cache_making, session, shaping, state
from explorer.app.events import MOST_LENGTH
from explorer.app.parts.choices import Choice, choices
from explorer.app.parts.notes import note
from explorer.app.shaping import Profile, Scope
from explorer.design import Design, motif_bead
from explorer.errors import BriefError
from explorer.profile import Shape, profile
from explorer.profile_generator import ProfileRules, count_profiles, some_profiles
from palettes.beads import Bead

# Chosen by us: one row of a laptop's page.
_OTHERS = 6
# Chosen by us: as many lengths as stand on one line under a small picture.
_READ = 9


def profile_shapes(now: Scope) -> None:
    """Shortest and longest dangle, the shapes between them, and other outlines."""
    least, most = min(now.profile), max(now.profile)
    one, two = st.columns(2)
    with one:
        _limit("shape_least", "Shortest dangle, in beads", least)
    with two:
        _limit("shape_most", "Longest dangle, in beads", most)
    chosen = shaping.shape_of(now.profile)
    width = len(now.profile)
    # A level outline has no shortest and longest: shapes need some room between them.
    low, high = (least, most) if most > least else (max(1, most // 3), max(most, 3))
    found: dict[str, Profile] = {}
    for shape in Shape:
        lengths = profile(shape, width, low, high)
        if lengths not in found.values():
            found[shape.value] = lengths
    choices(
        "Shapes",
        _items(now, found),
        chosen=chosen.value if chosen else "",
        on_choice=lambda id_: put(now, found[id_]),
        key="profile_shapes",
        size="chip",
    )
    _others(now, low, high)


def put(now: Scope, lengths: Profile) -> None:
    """Give the scope other lengths, as a step."""
    work = session.work()
    try:
        session.commit_changed(shaping.with_profile(work.piece.pattern, now, lengths))
    except BriefError as error:
        session.refused(f"Motif {error.got} is locked. {error.remedy}")


def _limit(key: str, label: str, value: int) -> None:
    def changed() -> None:
        now = shaping.scope_of(
            session.work().piece.pattern,
            st.session_state.get(state.PATTERN, ""),
            st.session_state.get(state.TARGET, "A"),
        )
        least, most = st.session_state["shape_least"], st.session_state["shape_most"]
        if least is None or most is None:
            return
        if key == "shape_least":
            most = max(least, most)
        else:
            least = min(least, most)
        put(now, shaping.stretched(now.profile, int(least), int(most)))

    st.session_state[key] = value
    st.number_input(label, 1, MOST_LENGTH, value, step=1, key=key, on_change=changed)


def _items(now: Scope, found: dict[str, Profile]) -> tuple[Choice, ...]:
    design = session.work().piece.design
    hang, base = _beads(design, now)
    return tuple(
        Choice(
            id=name,
            label=_label(name, lengths),
            png=cache_making.outline(lengths, hang, base, design.base_pitch_mm),
        )
        for name, lengths in found.items()
    )


def _beads(design: Design, now: Scope) -> tuple[Bead, Bead]:
    place = int(now.target[1:]) if now.target.startswith("m") else now.letters.index(now.target)
    motif = design.motifs[place]
    return design.beads[motif_bead(motif)], design.beads[motif[0].base]


def _label(name: str, lengths: Profile) -> str:
    """A shape's word or an outline's lengths; of a wide one, which no one reads, how it begins."""
    if name in set(Shape) or len(lengths) <= _READ:
        return name
    return f"{'-'.join(map(str, lengths[:4]))} ..., {sum(lengths)} beads"


def _others(now: Scope, least: int, most: int) -> None:
    """Outlines drawn evenly from all that keep to the same limits."""
    rules = ProfileRules(
        width=len(now.profile),
        least=least,
        most=most,
        symmetric=now.profile == now.profile[::-1],
        greatest_step=max(1, (most - least + 1) // 2),
    )
    there = count_profiles(rules)
    seed = int(st.session_state.get(state.OTHERS, 0))
    rng = np.random.default_rng(seed)
    rows = [tuple(row) for row in some_profiles(rules, _OTHERS, rng).tolist()]
    found = {"-".join(map(str, row)): row for row in rows}

    def more() -> None:
        st.session_state[state.OTHERS] = seed + 1

    with st.container(horizontal=True, vertical_alignment="center", key="other_outlines"):
        note(
            f"{len(found)} of {there:,} other outlines between these lengths "
            f"whose neighbours differ by at most {rules.greatest_step}:"
        )
        st.button("Show others", key="more_outlines", on_click=more, disabled=there <= _OTHERS)
    choices(
        "Other outlines",
        _items(now, found),
        chosen="",
        on_choice=lambda id_: put(now, found[id_]),
        key="profile_others",
        size="chip",
    )
