"""Kept proposals side by side: drawn at one scale, with what tells them apart."""

import streamlit as st

from explorer.app import cache, session
from explorer.app.choosing import Choosing, differences, with_kept
from explorer.app.labels import as_html
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.parts.putting import put_on_table
from explorer.app.parts.units_box import chosen_units
from explorer.propose import Proposal


def compare(choosing: Choosing) -> None:
    """The kept proposals; nothing where none is kept."""
    kept = choosing.kept
    if not kept:
        return
    st.subheader("Kept, side by side", anchor=False)
    designs = tuple(proposal.design for proposal in kept)
    grid = st.grid(min_column_width=230, gap="medium", key="kept")
    for number, (proposal, png) in enumerate(zip(kept, cache.side_by_side(designs), strict=True)):
        with grid.cell(), st.container(gap="xsmall"):
            st.image(
                png,
                width="stretch",
                output_format="PNG",
                alt=shown(f"Kept {number + 1}: {proposal.reason}"),
            )
            with st.container(horizontal=True, gap="small", vertical_alignment="center"):
                st.button(
                    "Put on the table",
                    key=f"kept_put_{number}",
                    on_click=_put,
                    args=(proposal, choosing.seed),
                )
                st.button(
                    "Let go",
                    key=f"kept_go_{number}",
                    on_click=_let_go,
                    args=(proposal,),
                    type="tertiary",
                )
    if len(kept) == 1:
        note("Keep another one, and the two lie side by side here.", kind="small")
        return
    st.html(difference_table(kept))


def difference_table(kept: tuple[Proposal, ...]) -> str:
    """What tells the kept proposals apart, as an HTML table."""
    heads = "".join(f'<th scope="col">{number + 1}</th>' for number in range(len(kept)))
    rows = "".join(
        f'<tr><th scope="row">{as_html(name)}</th>'
        + "".join(f"<td>{as_html(shown(value))}</td>" for value in values)
        + "</tr>"
        for name, values in differences(kept, chosen_units())
    )
    return (
        f'<table class="dw-table dw-differences"><thead><tr><td></td>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )


def _put(proposal: Proposal, seed: int) -> None:
    put_on_table(proposal, seed)


def _let_go(proposal: Proposal) -> None:
    session.set_choosing(with_kept(session.choosing(), proposal))
