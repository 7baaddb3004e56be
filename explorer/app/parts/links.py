"""Both ends: plain margins, and link beads that take up what is left over."""

import streamlit as st

from explorer import changes
from explorer.app import session, shaping
from explorer.app.parts.bead_pick import (
    bead_in,
    colour_key,
    colour_options,
    colours,
    kind_options,
    pick_one,
)
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.state import Work
from explorer.closest import MOST_MARGIN
from explorer.design import MOST_LINKS, Design
from explorer.lengths import millimetres
from explorer.links import best_links, links_mm
from explorer.tips import hanging_kind
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.swatches import Swatch

# The choice of as many plain base beads as fill what is left over.
_FILL = -1


def ends_panel() -> None:
    """Margins and link beads with what they leave over."""
    work = session.work()
    _margin(work)
    _links(work)


def left_over_mm(work: Work, design: Design) -> float | None:
    """What is left over with margins and link beads; none where no measurement is kept."""
    wearer = work.piece.wearer
    if wearer is None:
        return None
    return wearer.target_mm(design.closure) - design.strip_mm - links_mm(design)


def _margin(work: Work) -> None:
    def changed() -> None:
        wanted = int(st.session_state["ends_margin"] or 0)
        wished = None if wanted == _FILL else wanted
        session.commit(shaping.with_margin(session.work(), wished))

    margin = 0 if work.sizing.plain_ends else work.sizing.margin
    st.session_state["ends_margin"] = _FILL if work.sizing.plain_ends else margin
    st.segmented_control(
        "Plain base beads at each end",
        [_FILL, *range(MOST_MARGIN + 1)],
        format_func=lambda number: {_FILL: "as many as fill", 0: "none"}.get(number, str(number)),
        key="ends_margin",
        required=True,
        on_change=changed,
    )
    if work.sizing.plain_ends:
        note(f"{len(work.piece.design.start_margin) or 'None'} at each end now.", kind="small")
    bare = len(shaping.with_margin(work, 0).piece.design.motifs) if margin else 0
    if bare > len(work.piece.design.motifs):
        note(f"Without them {bare} motifs fit.", kind="care")


def _links(work: Work) -> None:
    design = work.piece.design
    bead = _bead(work)
    count = len(design.start_links)

    def changed() -> None:
        _put(_bead(session.work()), int(st.session_state["ends_links"] or 0))

    st.session_state["ends_links"] = count
    st.segmented_control(
        "Link beads at each end, before the closure",
        list(range(MOST_LINKS + 1)),
        format_func=lambda number: "none" if number == 0 else str(number),
        key="ends_links",
        required=True,
        on_change=changed,
    )
    if count:
        one, two = st.columns(2)
        with one:
            pick_one(
                "Kind",
                kind_options(),
                bead.kind.name,
                "link_kind",
                lambda name: _put(_in_kind(bead, name), count),
            )
        with two:
            pick_one(
                "Colour",
                colour_options(work.tray, {colour_key(bead): bead.name}),
                colour_key(bead),
                "link_colour",
                lambda name: _put(_in_colour(work, bead, name), count),
            )
    _left_over(work, bead)


def _left_over(work: Work, bead: Bead) -> None:
    design = work.piece.design
    left = left_over_mm(work, design)
    if left is None:
        note("Give a measurement on the Size page to see what is left over.", kind="small")
        return
    note(
        f"{millimetres(abs(left))} {'left over' if left > -0.05 else 'too long'}, "
        f"margins and link beads counted.",
        kind="care" if left < -0.05 else "plain",
    )
    best, chosen = _proposed(work, bead)
    if best != len(design.start_links) or (chosen != bead and best):
        words = (
            f"Take {best} of {chosen.kind.name} at each end: "
            f"{millimetres(_left_with(work, chosen, best))} left over"
            if best
            else "Take none: there is no room for one at each end"
        )
        st.button(shown(words), key="links_best", on_click=_put, args=(chosen, best))


def _proposed(work: Work, bead: Bead) -> tuple[int, Bead]:
    """As many link beads, of the one at hand or one like the dangles, as leave least over."""
    design = work.piece.design
    slack = (left_over_mm(work, design) or 0.0) + links_mm(design)
    tried = tuple(dict.fromkeys((bead, bead_in(work.tray.base, hanging_kind(design)))))
    found = best_links(slack, [one.kind.pitch_mm for one in tried])
    return found.each_end, tried[found.bead]


def _left_with(work: Work, bead: Bead, each_end: int) -> float:
    design = work.piece.design
    left = left_over_mm(work, design) or 0.0
    return left + links_mm(design) - 2.0 * each_end * bead.kind.pitch_mm


def _bead(work: Work) -> Bead:
    """The link bead there is, or one of the dangles' kind in the base's colour."""
    design = work.piece.design
    if design.start_links:
        return design.beads[design.start_links[0]]
    return bead_in(work.tray.base, hanging_kind(design))


def _in_kind(bead: Bead, name: str) -> Bead:
    kind = bead_kinds()[name]
    return Bead(name=bead.name, kind=kind, hex=bead.hex, finish=bead.finish)


def _in_colour(work: Work, bead: Bead, name: str) -> Bead:
    swatch = colours(work.tray).get(name)
    return bead if swatch is None else bead_in(swatch, bead.kind)


def _put(bead: Bead, each_end: int) -> None:
    swatch = Swatch(name=bead.name.strip() or bead.hex, hex=bead.hex, finish=bead.finish)
    pattern = session.work().piece.pattern
    session.commit_changed(changes.links(pattern, swatch, bead.kind, each_end))
