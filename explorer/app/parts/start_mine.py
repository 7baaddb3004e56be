"""The first step of a newcomer: three questions, and a piece of one's own is on the table."""

from collections.abc import Callable
from dataclasses import replace

import streamlit as st

from explorer.app import session, shaping, steps
from explorer.app.demo import PALETTE, demo, tray_of
from explorer.app.labels import as_label
from explorer.app.parts.choices import choices
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import fault, kept_place, note
from explorer.app.parts.palette_cards import palette_card
from explorer.app.parts.sight import look_at_piece
from explorer.app.parts.tray import hanging_kind
from explorer.app.sizing import Measured, measured
from explorer.app.state import Work
from explorer.cautions import Wear
from explorer.ends import BREAKAWAY, FASTENINGS
from explorer.errors import BriefError
from explorer.wearers import Place, usual_ease_mm
from palettes.charts import palette, palette_names

_FAULT = "start_fault"
_LIMB, _SNUG, _PALETTE = "start_limb", "start_snug", "start_palette_name"
_CHILD, _SAID = "start_child", "start_said"
PLACES = {"Ankle": Place.ANKLE, "Wrist": Place.WRIST}
_NAMES = {"Ankle": "My anklet", "Wrist": "My bracelet"}
_WORN = {"Ankle": Wear.ANKLET, "Wrist": Wear.BRACELET}


def start_mine() -> None:
    """The questions, while the demo piece lies untouched on the table."""
    if session.work() != demo():
        return
    with st.container(border=True, key="start_mine"):
        note("The piece above is one to play with. Start your own here, or change it further down.")
        with st.container(horizontal=True, vertical_alignment="bottom", gap="medium"):
            st.segmented_control(
                "Worn at the", list(PLACES), default="Ankle", key=_LIMB, required=True
            )
            st.text_input(
                "Measured round it, snug",
                key=_SNUG,
                placeholder="such as 17 cm or 6 3/4 in",
                width=260,
            )
            st.checkbox("For a child", key=_CHILD)
        error = st.session_state.get(_FAULT)
        with kept_place():
            if isinstance(error, BriefError):
                fault(error)
        _colours()
        with st.container(horizontal=True, key="start_buttons"):
            st.button("Start mine", type="primary", on_click=_start)
            # At the end of a row that is there anyhow, so that nothing moves when it comes.
            before = session.last_time()
            if before is not None:
                st.button(
                    f"Carry on with {as_label(before.piece.name)}",
                    key="carry_on",
                    on_click=_carry_on,
                    args=(before,),
                )
    st.subheader("Or change the one above", anchor=False)


def _colours() -> None:
    kind = hanging_kind(session.work())

    def take(name: str) -> None:
        st.session_state[_PALETTE] = name

    choices(
        "Colours",
        tuple(palette_card(palette(name), kind, told=False) for name in palette_names()),
        chosen=st.session_state.get(_PALETTE, PALETTE),
        on_choice=take,
        key="start_colours",
        size="small",
    )


def _carry_on(before: Work) -> None:
    session.commit(before)
    st.session_state[_SAID] = (before, f"{before.piece.name} is on the table again.")
    look_at_piece()


def _start() -> None:
    limb, snug = str(st.session_state[_LIMB]), str(st.session_state[_SNUG])
    name = st.session_state.get(_PALETTE, PALETTE)
    child = bool(st.session_state.get(_CHILD, False))
    begun = started(session.work(), limb, snug, name, child=child, written=shown)
    if isinstance(begun, BriefError):
        st.session_state[_FAULT] = begun
        return
    st.session_state.pop(_FAULT, None)
    session.commit(begun)
    motifs = len(begun.piece.design.motifs)
    ease = f"the {begun.sizing.ease} of ease that are usual there"
    size = f"{motifs} motifs for {snug.strip()} round the {limb.lower()}, with {ease}"
    closure = begun.piece.design.closure
    closes = f" The ease allows for the {closure.name} of {shown(f'{closure.length_mm:g} mm')}"
    if child:
        closes += ", which comes open under a pull; it hangs short, so that it catches on less"
    closes += "."
    words = f"Yours is on the table: {size}, in the colours of {palette(name).title}.{closes}"
    st.session_state[_SAID] = (begun, words)
    look_at_piece()


def say_started(here: str) -> None:
    """That the piece is there, above its picture, until something is done to it.

    Args:
        here: the path of the open page; on another than the first it has been seen.
    """
    held = st.session_state.get(_SAID)
    if held is None:
        return
    if here == "size" and session.work() == held[0]:
        note(f"{held[1]} Undo brings back the one to play with.", kind="done")
    else:
        st.session_state.pop(_SAID)


def started(
    work: Work,
    limb: str,
    snug: str,
    name: str,
    *,
    child: bool = False,
    written: Callable[[str], str] = str,
) -> Work | BriefError:
    """The first form of a maker's own piece, or what is wrong with the measurement.

    Args:
        work: what lies on the table, whose outlines serve as a first form.
        limb: a key of ``PLACES``.
        snug: the measurement as typed.
        name: a palette.
        child: whether a child wears it; it then hangs no lower than is usual for one, and closes
            with what comes open under a pull.
        written: writes figures as the maker does.
    """
    ease = written(f"{usual_ease_mm(PLACES[limb]):g} mm")
    sizing = replace(work.sizing, snug=snug, ease=ease, plain_ends=True, quick=False)
    if child:
        safe = next(one for one in FASTENINGS if one.kind == BREAKAWAY)
        closure = written(f"{safe.middle_mm:g} mm")
        sizing = replace(sizing, fastening=safe.kind, closure=closure)
    to = measured(sizing)
    if not isinstance(to, Measured):
        return to[0]
    work = steps.said(work, Wear.CHILD if child else _WORN[limb])
    after = steps.with_tray(steps.resized(work, sizing), tray_of(name))
    pattern = after.piece.pattern
    # The ease is the usual one there, whatever the measurement alone would suggest.
    pattern = replace(pattern, worn=replace(pattern.worn, own_ease=False))
    after = replace(after, piece=replace(after.piece, name=_NAMES[limb], pattern=pattern))
    return shaping.within(after, steps.usual_most(after, to))
