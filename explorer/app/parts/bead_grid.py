"""The beads at hand as drawn beads to look through, to search and to press, a page at a time."""

from collections.abc import Callable
from dataclasses import replace

import streamlit as st

from explorer.app import cache
from explorer.app.bead_order import ORDERS, Looking, ordered
from explorer.app.parts.choices import Choice, choices
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from palettes.charts import bead_kinds
from palettes.finishes import Finish
from palettes.swatches import Swatch
from palettes.tray import Tray, TrayBead

# Chosen by us: a page to look over at once, and some 300 kB.
PAGE = 48
_BEAD_PX = 60  # by eye


def bead_grid(
    tray: Tray,
    key: str,
    on_press: Callable[[int], None],
    *,
    chosen: int | None = None,
    kind: str | None = None,
) -> None:
    """The boxes to search by, and a page of the beads found.

    Args:
        tray: the beads.
        key: what this grid's state is held under.
        on_press: what to do with the place of the bead that is pressed.
        chosen: the place that is marked.
        kind: the name of the only kind shown; None leaves it to a box.
    """
    held_key = f"{key}_looking"
    looking: Looking = st.session_state.get(held_key, Looking())
    _boxes(looking, key, with_kind=kind is None)
    asked = looking if kind is None else replace(looking, kind=kind)
    places = ordered(tray, asked, dict(bead_kinds()))
    if not places:
        note("No bead has all of that. Search for less.")
        return
    pages = -(-len(places) // PAGE)
    page = min(looking.page, pages - 1)
    here = places[page * PAGE : (page + 1) * PAGE]
    choices(
        "Beads at hand",
        tuple(_choice(place, tray.beads[place], with_kind=kind is None) for place in here),
        chosen="" if chosen is None else str(chosen),
        on_choice=lambda id_: on_press(int(id_)),
        key=f"{key}_grid",
        size="chip",
    )
    if pages > 1:
        _turn(replace(looking, page=page), pages, len(places), held_key)


def _boxes(looking: Looking, key: str, *, with_kind: bool) -> None:
    held_key = f"{key}_looking"

    def box(part: str) -> str:
        """A box's key, filled with what is held."""
        widget = f"{key}_look_{part}"
        st.session_state[widget] = getattr(looking, part)
        return widget

    def changed(part: str) -> None:
        change = {part: st.session_state[f"{key}_look_{part}"] or ""}
        st.session_state[held_key] = replace(looking, **change, page=0)

    with st.container(horizontal=True, vertical_alignment="bottom"):
        st.text_input(
            "Search",
            looking.words,
            key=box("words"),
            on_change=changed,
            args=("words",),
            placeholder="name, lot, where kept",
            width=190,
        )
        if with_kind:
            _pick("Kind", "kind", list(bead_kinds()), box, changed)
        _pick("Finish", "finish", [finish.value for finish in Finish], box, changed)
        st.selectbox(
            "Order",
            list(ORDERS),
            format_func=lambda name: ORDERS[name][0],
            key=box("order"),
            on_change=changed,
            args=("order",),
            width=172,
        )
        if looking.order == "near":
            st.color_picker("Near", key=box("near"), on_change=changed, args=("near",))


def _pick(
    label: str,
    part: str,
    options: list[str],
    box: Callable[[str], str],
    changed: Callable[[str], None],
) -> None:
    st.selectbox(
        label,
        ["", *options],
        format_func=lambda name: shown(name) or "all",
        key=box(part),
        on_change=changed,
        args=(part,),
        width=132,
    )


def _choice(place: int, bead: TrayBead, *, with_kind: bool) -> Choice:
    swatch = Swatch(name=bead.name, hex=bead.hex, finish=bead.finish)
    stock = "" if bead.stock is None else f"{bead.stock}"
    parts = (shown(bead.kind.name) if with_kind else "", stock)
    return Choice(
        id=str(place),
        label=bead.name,
        note=" · ".join(filter(None, parts)),
        png=cache.bead_row((swatch,), bead.kind, _BEAD_PX),
    )


def _turn(looking: Looking, pages: int, found: int, held_key: str) -> None:
    """The way through the pages."""

    def go(by: int) -> None:
        st.session_state[held_key] = replace(looking, page=(looking.page + by) % pages)

    first = looking.page * PAGE + 1
    with st.container(horizontal=True, vertical_alignment="center"):
        st.button("Back", key=f"{held_key}_back", on_click=go, args=(-1,))
        st.button("On", key=f"{held_key}_on", on_click=go, args=(1,))
        note(f"{first} to {min(found, first + PAGE - 1)} of {found}", kind="small")
