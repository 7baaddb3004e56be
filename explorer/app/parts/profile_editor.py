"""The profile editor: a motif's dangles as a row of bars to drag or step."""

from importlib.resources import files
from typing import Any

import streamlit as st

from explorer.app import session, shaping, state
from explorer.app.events import MOST_LENGTH
from explorer.app.parts.decimal_box import shown
from explorer.app.shaping import Scope
from explorer.app.strokes import Stroke, read_strokes
from explorer.design import motif_bead
from explorer.errors import BriefError
from palettes.beads import Bead
from palettes.forms import Form

KEY = "profile_bars"
_HINT = "Pull a bar longer or shorter; or pick one and use the buttons or the arrow keys."

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_profile_editor",
    html=(_PARTS / "profile_editor.html").read_text(encoding="utf-8"),
    css=(_PARTS / "profile_editor.css").read_text(encoding="utf-8"),
    js=(_PARTS / "profile_editor.js").read_text(encoding="utf-8"),
)


def scope() -> Scope:
    """What is edited now."""
    held = st.session_state
    return shaping.scope_of(
        session.work().piece.pattern, held.get(state.PATTERN, ""), held.get(state.TARGET, "A")
    )


def both_sides(now: Scope) -> bool:
    """Whether both sides of the motif change together: as ticked, else as the outline is."""
    held: bool | None = st.session_state.get(state.BOTH_SIDES)
    symmetric = now.profile == now.profile[::-1]
    return symmetric if held is None else held and symmetric


def profile_editor(now: Scope, label: str) -> None:
    """The bars; every change is on the table at once.

    Args:
        now: what they stand for.
        label: the same in words.
    """
    design = session.work().piece.design
    motif = _motif(now)
    column = max(design.motifs[motif], key=lambda column: len(column.beads))
    base = design.beads[column.base]
    data: dict[str, Any] = {
        "decimal": shown("1.5")[1],
        "label": label,
        "target": now.target,
        "lengths": list(now.profile),
        "mirror": both_sides(now),
        "most": MOST_LENGTH,
        "pitch": max(design.base_pitch_mm, design.beads[column.beads[0]].kind.diameter_mm),
        "base": base.kind.pitch_mm,
        "basePitch": base.kind.diameter_mm,
        "baseHex": base.hex,
        "square": base.kind.form is Form.CUBE,
        "bead": _look(design.beads[motif_bead(design.motifs[motif])]),
        "tip": _look(design.beads[column.beads[-1]]),
        "hangs": design.beads[column.beads[-1]].kind.form is Form.DROP,
        "hint": _HINT,
        "epoch": st.session_state[state.EPOCH],
        "done": st.session_state.get(state.STROKES_DONE, 0),
    }
    _component(key=KEY, data=data, on_events_change=_on_events)


def _motif(now: Scope) -> int:
    """A motif that has the outline, to take colours from."""
    if now.target.startswith("m"):
        return int(now.target[1:])
    return now.letters.index(now.target)


def _look(bead: Bead) -> dict[str, Any]:
    return {"across": bead.kind.diameter_mm, "along": bead.kind.pitch_mm, "hex": bead.hex}


def _on_events() -> None:
    """Do what is new in the queue; a drag is one step, however many lengths it goes through."""
    held = st.session_state.get(KEY)
    strokes = read_strokes(
        held.get("events") if held is not None else None,
        epoch=st.session_state[state.EPOCH],
        done=st.session_state.get(state.STROKES_DONE, 0),
    )
    for stroke in strokes:
        _do(stroke)
        st.session_state[state.STROKES_DONE] = stroke.number


def _do(stroke: Stroke) -> None:
    work = session.work()
    picked = st.session_state.get(state.PATTERN, "")
    if stroke.target.startswith("m"):
        picked = shaping.OWN
    now = shaping.scope_of(work.piece.pattern, picked, stroke.target)
    if now.target != stroke.target or stroke.place >= len(now.profile):
        return
    lengths = shaping.with_length_at(now.profile, stroke.place, stroke.length, mirror=stroke.mirror)
    try:
        changed = shaping.with_profile(work.piece.pattern, now, lengths)
    except BriefError as error:
        session.refused(f"Motif {error.got} is locked. {error.remedy}")
        return
    after = shaping.with_pattern(work, changed.pattern)
    if after == work:
        return
    if st.session_state.get(state.LAST_DRAG) == stroke.drag:
        session.keep(state.amended(session.history(), after))
    else:
        session.commit(after)
    session.tell(changed)
    st.session_state[state.LAST_DRAG] = stroke.drag
