"""Turning beads and the small beads of dividers."""

from dataclasses import replace

import streamlit as st

from explorer.app import session
from explorer.app.parts.bead_pick import (
    bead_in,
    colour_key,
    colour_options,
    colours,
    kind_options,
    pick_one,
)
from explorer.app.parts.notes import note
from explorer.app.state import Work
from explorer.changes import divider_beads as hang_between
from explorer.changes import swatch_of, tips
from explorer.design import MOST_DIVIDER_BEADS
from explorer.dividers import divider_beads, has_dividers
from explorer.lengths import millimetres
from explorer.profile_scores import drop_mm
from explorer.tips import hanging_kind
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Swatch

_LIKE = "like"
_OWN = "own"


def tips_panel() -> None:
    """The turning bead of every dangle: its kind and its colour."""
    work = session.work()
    design = work.piece.design
    pattern = work.piece.pattern
    kind, paint = pattern.tip.kind, pattern.tip.paint
    own = swatch_of(pattern, paint) if isinstance(paint, int) else None
    bead = None if own is None else bead_in(own, kind or pattern.hanging)
    one, two = st.columns(2)
    with one:
        pick_one(
            "Kind",
            kind_options({_LIKE: "like the dangle"}),
            kind.name if kind else _LIKE,
            "tip_kind",
            lambda name: _tip(name, colour_key(bead) if bead else _OWN),
        )
    with two:
        pick_one(
            "Colour",
            colour_options(
                work.tray,
                {
                    _OWN: "the motif's own",
                    **({} if bead is None else {colour_key(bead): bead.name}),
                },
            ),
            colour_key(bead) if bead else _OWN,
            "tip_colour",
            lambda name: _tip(kind.name if kind else _LIKE, name),
        )
    longest = max(len(column.beads) for motif in design.motifs for column in motif)
    hang = hanging_kind(design)
    note(
        f"The longest dangle, {longest} beads, hangs {millimetres(drop_mm(longest, hang, kind))}.",
        kind="small",
    )


def _tip(kind: str, colour: str) -> None:
    work = session.work()
    pattern = work.piece.pattern
    swatch = colours(work.tray).get(colour)
    if swatch is None and colour != _OWN and isinstance(pattern.tip.paint, int):
        # The colour that they have is in no bowl any more.
        swatch = swatch_of(pattern, pattern.tip.paint)
    session.commit_changed(tips(pattern, kind=bead_kinds().get(kind), swatch=swatch))


def divider_panel() -> None:
    """How many small beads hang between motifs, their kind and their colour."""
    work = session.work()
    design = work.piece.design
    if not has_dividers(design):
        note("Motifs stand side by side. Give them base beads between on the Size page first.")
        return
    beads = divider_beads(design)
    _divider_count(work, len(beads))
    if not beads:
        return
    one, two = st.columns(2)
    with one:
        pick_one(
            "Kind",
            kind_options(),
            beads[0].kind.name,
            "divider_kind",
            lambda name: _dividers(tuple(replace(b, kind=bead_kinds()[name]) for b in beads)),
        )
    with two:
        pick_one(
            "Colour",
            colour_options(work.tray, {colour_key(beads[0]): beads[0].name}),
            colour_key(beads[0]),
            "divider_colour",
            lambda name: _recolour(beads, name),
        )


def _divider_count(work: Work, count: int) -> None:
    def changed() -> None:
        wanted = int(st.session_state["divider_beads"] or 0)
        now = divider_beads(session.work().piece.design)
        first = now[0] if now else bead_in(work.tray.base, hanging_kind(work.piece.design))
        _dividers(((*now, *(first,) * MOST_DIVIDER_BEADS))[:wanted])

    st.session_state["divider_beads"] = count
    st.segmented_control(
        "Small beads under each base bead between motifs",
        list(range(MOST_DIVIDER_BEADS + 1)),
        format_func=lambda number: "none" if number == 0 else str(number),
        key="divider_beads",
        required=True,
        on_change=changed,
    )


def _recolour(beads: tuple[Bead, ...], colour: str) -> None:
    swatch = colours(session.work().tray).get(colour)
    if swatch is not None:
        _dividers(tuple(bead_in(swatch, bead.kind) for bead in beads))


def _dividers(beads: tuple[Bead, ...]) -> None:
    hung = [
        (Swatch(name=bead.name.strip() or bead.hex, hex=bead.hex, finish=bead.finish), bead.kind)
        for bead in beads
    ]
    session.commit_changed(hang_between(session.work().piece.pattern, hung))
