"""The picture of the piece as the place to work: a component with its own events."""

import base64
import hashlib
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

import streamlit as st

from explorer.app import cache, session, state
from explorer.app.areas import Area, Reach, area_numbers
from explorer.app.events import MOST_LENGTH, Act, applied, read_events
from explorer.app.state import Tapped, Work
from explorer.errors import BriefError

KEY = "picture"
_LAYOUTS = ("strip", "rows", "loop")
# A picture is drawn at least so wide and at most so wide, in device pixels. Chosen by us, because
# no phone shows less and few screens more.
_LEAST_PX, _MOST_PX = 400, 2400

_PARTS = files("explorer.app.parts")
_component = st.components.v2.component(
    "danglewise_picture",
    html=(_PARTS / "picture.html").read_text(encoding="utf-8"),
    css=(_PARTS / "picture.css").read_text(encoding="utf-8"),
    js=(_PARTS / "picture.js").read_text(encoding="utf-8"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Own:
    """What a page calls the motifs itself, where one of them is chosen at any time.

    Attributes:
        chosen: the motif that is chosen, from 0; ringed, and spoken of by the hint.
        labels: what to call each motif.
        alt: what to call the picture.
    """

    chosen: int
    labels: tuple[str, ...]
    alt: str


def picture(
    work: Work,
    *,
    act: str,
    hint: str,
    marked: tuple[str, ...] = (),
    lit: tuple[str, ...] = (),
    own: Own | None = None,
) -> None:
    """The piece, and what a tap on it does.

    Args:
        work: what is on the table.
        act: ``paint``, ``length``, ``base`` for the base beads' colours, ``pick`` for choosing a
            motif, or nothing for a picture that only tells what is what.
        hint: a line under it while nothing is pointed at.
        marked: areas that are ringed, by their ids.
        lit: beads that are lit, by their tags.
        own: a page's own words for the motifs, and the one that is chosen.
    """
    layout, px = session.view()
    design = work.piece.design
    drawn = cache.picture(design, layout, px)
    reach = (
        Reach.BASE
        if act == "base"
        else Reach.MOTIF
        if marked or own
        else Reach.DANGLE
        if act == "length"
        else session.reach()
        if act
        else Reach.MOTIF
    )
    data: dict[str, Any] = {
        "png": base64.b64encode(drawn.png).decode("ascii"),
        "key": hashlib.sha1(drawn.png, usedforsecurity=False).hexdigest(),
        "box": [drawn.left_mm, drawn.top_mm, drawn.width_mm, drawn.height_mm],
        "layout": layout,
        "middle": [0.0, 0.0] if layout == "loop" else None,
        "areas": [_plain(area, own) for area in cache.pointed(design, layout, reach)],
        "chosen": f"m{own.chosen}" if own else "",
        "marked": list(marked),
        "lit": cache.lit(design, layout, lit),
        "alt": own.alt if own else f"{work.piece.name}: {len(design.motifs)} motifs, start to end",
        "hint": hint,
        "act": act,
        "brush": session.brush(work.tray),
        "brushes": [swatch.hex for swatch in work.tray.swatches],
        "most": MOST_LENGTH,
        "epoch": st.session_state[state.EPOCH],
        "done": st.session_state[state.DONE],
    }
    _component(key=KEY, data=data, on_events_change=_on_events, on_view_change=_on_view)


def _plain(area: Area, own: Own | None) -> dict[str, Any]:
    return {
        "id": area.id,
        "label": own.labels[area_numbers(area.id)[0]] if own else area.label,
        "length": area.length,
        "outline": [round(v, 2) for point in area.outline for v in point],
        "beads": [[round(v, 2) for v in bead] for bead in area.beads],
    }


def _on_events() -> None:
    """Do what is new in the queue, each event one step that an undo takes back."""
    events = read_events(
        _sent("events"), epoch=st.session_state[state.EPOCH], done=st.session_state[state.DONE]
    )
    if not events:
        return
    everywhere = bool(st.session_state.get(state.EVERYWHERE, True))
    changed, words = False, ""
    for event in events:
        work = session.work()
        try:
            after = applied(work.piece.pattern, event, work.tray.swatches, everywhere=everywhere)
        except BriefError as error:
            changed, words = False, f"Motif {error.got} is locked. {error.remedy}"
            continue
        changed = after is not None and after.pattern != work.piece.pattern
        if after is not None and changed:
            session.commit_changed(after)
    st.session_state[state.DONE] = events[-1].number
    # Where choosing together goes on: at the motif that was touched last.
    if events[-1].act is Act.BASE:
        session.refused(words)
        return
    motif = events[-1].numbers[0]
    st.session_state[state.NEXT] = motif
    if events[-1].act is Act.PICK:
        return
    design = session.work().piece.design
    # Only a child's page speaks of it, in a child's words.
    said = f"Part {motif + 1} is locked: it stays." if words else ""
    st.session_state[state.TAPPED] = Tapped(design=design, motif=motif, changed=changed, words=said)
    session.refused(words)


def _on_view() -> None:
    """Remember how wide the picture is and how numbers are written, where that makes sense."""
    sent = _sent("view")
    if not isinstance(sent, dict):
        return
    st.session_state[state.DECIMAL] = sent.get("decimal")
    layout, px = sent.get("layout"), sent.get("px")
    if layout in _LAYOUTS and isinstance(px, int) and not isinstance(px, bool):
        st.session_state[state.VIEW] = (layout, min(max(px, _LEAST_PX), _MOST_PX))


def _sent(name: str) -> object:
    held = st.session_state.get(KEY)
    return held.get(name) if held is not None else None
