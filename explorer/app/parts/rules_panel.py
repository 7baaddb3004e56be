"""The rules of colour: their order along the strip, how they lie in a motif, and the base."""

from collections.abc import Callable

import streamlit as st

from explorer import changes
from explorer.app import session
from explorer.app.parts.notes import note
from explorer.app.state import Tray
from explorer.changes import Changed
from explorer.colouring import Colouring
from explorer.errors import BriefError
from explorer.pattern import Pattern
from explorer.sequence_types import Arrangement
from palettes.swatches import Swatch

_TWO = "two in turn"
# What a maker says to each arrangement; a tap lays the motifs out anew.
_ORDERS: dict[str, str] = {
    Arrangement.FREE: "Well mixed",
    Arrangement.UNIT: "A repeating unit",
    Arrangement.MIRROR: "Mirrored",
    Arrangement.RUN: "Gentle steps",
    Arrangement.BLOCKS: "In blocks",
    _TWO: "Two in turn",
}
_INSIDE: dict[Colouring, str] = {
    Colouring.PLAIN: "All one colour",
    Colouring.TIPS: "Accent at the tips",
    Colouring.BANDS: "Bands",
    Colouring.STRIPES: "Stripes",
    Colouring.FADE: "Light to dark",
    Colouring.HEART: "Edge and heart",
}
# Chosen by us, because bases of more colours are rare.
_MOST_BASES = 6
# As many as take turns, by definition.
_FEW = 2
_ONE, _BEADS, _MOTIFS = "one", "beads", "motifs"
_BASES = {_ONE: "one colour", _BEADS: "in turn, bead by bead", _MOTIFS: "in turn, motif by motif"}


def rules_panel() -> None:
    """The order of the colours, their way inside a motif, and the base's."""
    pattern = session.work().piece.pattern
    _order(pattern)
    left, right = st.columns(2, gap="large")
    with left:
        _inside(pattern)
    with right:
        _base(pattern)


def _order(pattern: Pattern) -> None:
    def laid_out() -> None:
        chosen = st.session_state["rules_order"]
        if chosen is not None:
            everywhere = bool(st.session_state.get("rules_everywhere", False))
            _do(lambda now: arranged(now, str(chosen), everywhere=everywhere))

    st.session_state["rules_order"] = _order_of(pattern)
    st.segmented_control(
        "Their order along the strip",
        list(_ORDERS),
        format_func=lambda name: _ORDERS[name],
        key="rules_order",
        on_change=laid_out,
    )
    note(
        "A tap lays the motifs' colours out in that order, the same for the same colours.",
        kind="small",
    )
    by_hand = sum(bool(pattern.by_hand(motif).colour) for motif in range(pattern.run.motifs))
    if by_hand:
        many = "one motif" if by_hand == 1 else f"{by_hand} motifs"
        st.checkbox(f"The {many} coloured by hand too", key="rules_everywhere")


def _order_of(pattern: Pattern) -> str:
    order = pattern.order
    if order.arrangement is Arrangement.UNIT and len(order.keys) == _FEW:
        return _TWO
    return order.arrangement.value


def arranged(pattern: Pattern, name: str, *, everywhere: bool) -> Changed:
    """The pattern laid out in that way, in its motifs' colours."""
    if name == _TWO:
        return changes.two_in_turn(pattern, everywhere=everywhere)
    return changes.arrange(pattern, Arrangement(name), everywhere=everywhere)


def _do(change: Callable[[Pattern], Changed]) -> None:
    try:
        session.commit_changed(change(session.work().piece.pattern))
    except BriefError as error:
        session.refused(f"{error.field.capitalize()}: {error.wanted}. {error.remedy}")


def _inside(pattern: Pattern) -> None:
    def spread() -> None:
        chosen = st.session_state["rules_inside"]
        _do(lambda now: changes.spread_colours(now, Colouring(chosen)))

    st.session_state["rules_inside"] = pattern.inside.colouring
    st.selectbox(
        "Inside a motif",
        list(Colouring),
        format_func=lambda way: _INSIDE[way],
        key="rules_inside",
        on_change=spread,
    )


def _base(pattern: Pattern) -> None:
    tray = session.work().tray
    names = _by_name(tray, pattern)
    keys = [changes.swatch_of(pattern, key).name for key in pattern.base.keys]
    way = _ONE if len(keys) == 1 else _MOTIFS if pattern.base.by_motif else _BEADS
    shown = keys[:_MOST_BASES]

    def changed() -> None:
        wanted = str(st.session_state["rules_base"])
        chosen = [str(st.session_state[f"rules_base_{place}"]) for place in range(len(shown))]
        chosen += keys[len(shown) :]
        if wanted == _ONE:
            chosen = chosen[:1]
        elif len(chosen) == 1:
            chosen += [next(name for name in names if name != chosen[0])]
        found = [names[name] for name in chosen]
        _do(lambda now: changes.paint_base(now, found, by_motif=wanted == _MOTIFS))

    st.session_state["rules_base"] = way
    st.selectbox(
        "The base",
        list(_BASES) if len(names) > 1 else [_ONE],
        format_func=lambda name: _BASES[name],
        key="rules_base",
        on_change=changed,
    )
    for place, own in enumerate(shown):
        key = f"rules_base_{place}"
        st.session_state[key] = own
        st.selectbox(
            f"Base colour {place + 1}" if len(keys) > 1 else "Its colour",
            [name for name in names if name == own or name not in keys],
            key=key,
            on_change=changed,
        )


def _by_name(tray: Tray, pattern: Pattern) -> dict[str, Swatch]:
    """The colours that the base can take, those that it has among them."""
    held = (changes.swatch_of(pattern, key) for key in pattern.base.keys)
    return {swatch.name: swatch for swatch in (*tray.swatches, tray.base, *held)}
