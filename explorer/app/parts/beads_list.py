"""Every bead to count out and to buy, with what is at hand beside it."""

from collections.abc import Sequence

import streamlit as st

from explorer.app import state
from explorer.app.assumed import bead_key
from explorer.app.counting_words import lacks_words, pack_words, weight_words
from explorer.app.labels import as_html, as_label, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.figure_box import figure_box, figure_fault
from explorer.app.parts.tables import chip
from explorer.buying import Purchase
from explorer.counts import Counts
from explorer.counts_grouped import by_colour, by_finish, by_kind, grouped
from explorer.design import Design

_GROUPS = {"kind": by_kind, "colour": by_colour, "finish": by_finish}
_MOTIF = "motif"


def beads_list(lines: Sequence[Purchase]) -> None:
    """One row for every bead: in the piece, spare, to count out, to buy, at hand."""
    with st.container(key="beads_list", gap=None):
        for number, line in enumerate(lines):
            box = f"at_hand:{bead_key(line.bead)}"
            named = f"{as_label(line.bead.name)}, {shown(line.bead.kind.name)}"
            with st.container(
                horizontal=True, vertical_alignment="center", key=f"bead_row_{number}"
            ):
                st.html(_row(line), width="stretch")
                with st.container(width=112, key=f"bead_hand_{number}"):
                    figure_box(
                        box,
                        f"Beads at hand of {named}",
                        hint=f"{line.in_stock} at hand" if line.in_stock else "at hand",
                        bare=True,
                    )
            figure_fault(box)


def _row(line: Purchase) -> str:
    bead = line.bead
    name = as_html(isolated(bead.name or bead.hex))
    buy = f"{weight_words(line)}, buy {pack_words(line)}" if line.packs else pack_words(line)
    lacks = lacks_words(line)
    return (
        '<div class="dw-bead">'
        f'<div class="who">{chip(bead)}<span>{name}<small>{as_html(shown(bead.kind.name))}, '
        f"{as_html(bead.finish.value)}</small></span></div>"
        f'<div class="out"><b>{line.used + line.spares}</b>'
        f"<small>{line.used} + {line.spares} spare</small></div>"
        f'<div class="buy">{as_html(shown(buy))}'
        f"<small>{as_html(lacks)}</small></div></div>"
    )


def groups(design: Design, tally: Counts) -> None:
    """Beads in the piece gathered by kind, colour, finish or motif."""

    def pick() -> None:
        st.session_state[state.GROUPING] = st.session_state["counting_group"]

    chosen = st.session_state.get(state.GROUPING, "kind")
    st.session_state["counting_group"] = chosen
    st.segmented_control(
        "Beads in the piece by",
        [*_GROUPS, _MOTIF],
        key="counting_group",
        required=True,
        on_change=pick,
    )
    st.html(_group_table(design, tally, chosen))


def _group_table(design: Design, tally: Counts, chosen: str) -> str:
    if chosen == _MOTIF:
        found = [
            (f"Motif {m.motif + 1}", _in_motif(design, m.dangle_beads)) for m in tally.by_motif
        ]
    else:
        rows = grouped(design, tally, _GROUPS[chosen])
        names = {bead.hex: bead.name for bead in design.beads}
        found = [
            (names[name] or name if chosen == "colour" else shown(name), str(count))
            for name, count in rows
        ]
    body = "".join(
        f"<tr><td>{as_html(name)}</td><td>{as_html(count)}</td></tr>" for name, count in found
    )
    return f'<table class="dw-table dw-groups"><tbody>{body}</tbody></table>'


def _in_motif(design: Design, beads: tuple[tuple[int, int], ...]) -> str:
    return ", ".join(f"{count} {design.beads[number].name}" for number, count in beads)
