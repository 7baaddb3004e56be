"""Saved pieces side by side, drawn at one scale, with what tells them apart."""

import streamlit as st

from explorer.app import cache
from explorer.app.choosing import MOST_KEPT
from explorer.app.labels import as_html, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import note
from explorer.app.parts.tables import scrolling
from explorer.app.refit import motif_hexes
from explorer.contrast_words import weakest_words
from explorer.counts import counts
from explorer.lengths import millimetres
from explorer.piece import Piece
from explorer.shelf import Saved

COMPARED = "shelf_compared"


def compared() -> tuple[int, ...]:
    """The numbers of the pieces to compare, in the order they were chosen."""
    held: tuple[int, ...] = st.session_state.get(COMPARED, ())
    return held


def turn(number: int) -> None:
    """Take a piece into the comparison, or out of it; the oldest makes room."""
    held = compared()
    others = tuple(one for one in held if one != number)
    st.session_state[COMPARED] = others if number in held else (*others, number)[-MOST_KEPT:]


def side_by_side(pieces: dict[int, tuple[Saved, Piece]]) -> None:
    """The chosen pieces; nothing where none is."""
    chosen = [pieces[number] for number in compared() if number in pieces]
    if not chosen:
        return
    st.subheader("Side by side", anchor=False)
    designs = tuple(piece.design for _, piece in chosen)
    grid = st.grid(min_column_width=230, gap="medium", key="shelf_compared_grid")
    for (saved, _), png in zip(chosen, cache.side_by_side(designs), strict=True):
        with grid.cell(), st.container(gap="xsmall"):
            st.image(png, width="stretch", output_format="PNG", alt=saved.name)
            note(isolated(saved.name))
            st.button(
                "Let go", key=f"shelf_let_go_{saved.number}", on_click=turn,
                args=(saved.number,), type="tertiary",
            )  # fmt: skip
    if len(chosen) == 1:
        note("Compare another one, and the two lie side by side here.", kind="small")
        return
    columns = [_figures(saved, piece) for saved, piece in chosen]
    if all(column == columns[0] for column in columns):
        note("They are alike in every figure.")
        return
    st.html(difference_table([saved.name for saved, _ in chosen], columns))


def difference_table(names: list[str], columns: list[dict[str, str]]) -> str:
    """Every figure that is not the same for all, as an HTML table."""
    heads = "".join(f'<th scope="col">{as_html(isolated(name))}</th>' for name in names)
    rows = "".join(
        f'<tr><th scope="row">{name}</th>'
        + "".join(f"<td>{as_html(column[name])}</td>" for column in columns)
        + "</tr>"
        for name in columns[0]
        if len({column[name] for column in columns}) > 1
    )
    return scrolling(
        "What tells the pieces apart",
        '<table class="dw-table dw-differences"><thead><tr><td></td>'
        f"{heads}</tr></thead><tbody>{rows}</tbody></table>",
    )


def _figures(saved: Saved, piece: Piece) -> dict[str, str]:
    design, making = piece.design, saved.making
    tally = counts(design)
    wearer = piece.wearer
    return {
        "Measured": "" if wearer is None else shown(millimetres(wearer.snug_mm)),
        "Strip": shown(millimetres(design.strip_mm)),
        "Motifs": str(len(design.motifs)),
        "Base beads": str(tally.base_beads),
        "Beads": str(tally.total),
        "Colours": str(len(set(motif_hexes(design)))),
        "Neighbours": shown(weakest_words(cache.as_seen(design))),
        "Finished": making.made,
        "Minutes": "" if making.minutes is None else str(making.minutes),
        "Lots": making.lots,
    }
