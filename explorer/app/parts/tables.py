"""Tables of a piece, with a drawn bead wherever a bead is meant."""

import base64
from collections.abc import Iterable
from dataclasses import replace

import streamlit as st

from explorer.app import cache, cache_making
from explorer.app.assumed import reckoned
from explorer.app.labels import as_attribute, as_html, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.state import Work
from explorer.contrast_piece import Neighbours
from explorer.contrast_words import LOOKS, tenths
from explorer.counts import BeadCount
from explorer.design import Design, motif_bead
from explorer.sheet_letters import by_letter, letters
from palettes.beads import Bead
from palettes.swatches import Swatch

# Chosen by us: sharp at the height of a line of text on a screen of two device pixels a pixel.
_BEAD_PX = 44


def count_table(work: Work) -> None:
    """Every bead: what it is for, how many are in the piece, spares, how many to count out.

    In the order of the printed sheet.
    """
    design = work.piece.design
    tally = cache_making.counted(design, reckoned(work.assumed).spares)
    rows = [
        _row([(chip(design.beads[e.bead]), bead_words(design.beads[e.bead])), *count_cells(e)])
        for _, entries in by_letter(tally, letters(design))
        for e in entries
    ]
    rows.append(
        _row(
            ["All", "", str(tally.total), str(tally.spares), str(tally.total + tally.spares)],
            "total",
        )
    )
    st.html(_table("dw-counts", ("Bead", "For", "In it", "Spare", "Count out"), rows))


def count_cells(entry: BeadCount) -> list[str]:
    """What a bead is for, beads in the piece, spares, beads to count out."""
    uses = {
        "base": entry.base,
        "dangles": entry.dangles,
        "dividers": entry.dividers,
        "links": entry.links,
    }
    words = ", ".join(name for name, count in uses.items() if count)
    return [words, str(entry.used), str(entry.spares), str(entry.to_count_out)]


def bead_words(bead: Bead) -> str:
    """A bead by its name, kind and colour."""
    return f"{isolated(bead.name or bead.hex)}, {shown(bead.kind.name)}"


def neighbour_table(work: Work) -> None:
    """Every two neighbouring motifs as seen and how well they stand apart, the weakest marked."""
    design = work.piece.design
    seen = cache.as_seen(design)
    rows = [
        _row(
            [
                f"{row.i + 1}, {row.j + 1}",
                ("".join(chip(bead) for bead in _pair(design, row)), ""),
                "repeat" if row.alike_by_choice else LOOKS[row.worst_verdict],
                "" if row.alike_by_choice else tenths(row.worst),
            ],
            "weakest" if row is seen.weakest else "",
        )
        for row in seen.rows
    ]
    if rows:
        st.html(_table("dw-pairs", ("Motifs", "Colours", "They are", "Difference"), rows))


def _pair(design: Design, row: Neighbours) -> tuple[Bead, Bead]:
    """The main beads of two motifs, in the colours that the motifs have as a whole."""
    first, second = (
        replace(design.beads[motif_bead(design.motifs[i])], hex=hex_)
        for i, hex_ in ((row.i, row.left_hex), (row.j, row.right_hex))
    )
    return first, second


def chip(bead: Bead) -> str:
    """A drawn bead as an image element, named for those who hear the page."""
    swatch = Swatch(name=bead.name.strip() or bead.hex, hex=bead.hex, finish=bead.finish)
    data = base64.b64encode(cache.bead_row((swatch,), bead.kind, _BEAD_PX)).decode("ascii")
    name = as_attribute(bead.name)
    return f'<img class="dw-chip" alt="{name}" src="data:image/png;base64,{data}">'


def _row(cells: Iterable[str | tuple[str, str]], kind: str = "") -> str:
    """A table row; a cell of two parts is markup of ours and then text."""
    inner = "".join(
        f"<td>{cell[0]}{as_html(cell[1])}</td>"
        if isinstance(cell, tuple)
        else f"<td>{as_html(shown(cell))}</td>"
        for cell in cells
    )
    return f'<tr class="{kind}">{inner}</tr>' if kind else f"<tr>{inner}</tr>"


def scrolling(label: str, table: str, kind: str = "dw-scroll") -> str:
    """A table that may be wider than the page, in a box that keys can scroll too.

    Args:
        label: what it holds, for those who hear the page.
        table: the table's markup.
        kind: the box's class.
    """
    name = as_attribute(label)
    return f'<div class="{kind}" role="group" aria-label="{name}" tabindex="0">{table}</div>'


def _table(kind: str, heads: tuple[str, ...], rows: list[str]) -> str:
    head = "".join(f'<th scope="col">{as_html(text)}</th>' for text in heads)
    return (
        f'<table class="dw-table {kind}"><thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )
