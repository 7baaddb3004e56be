"""Tables of the Contrast page: every two neighbours, every two colours, all else that meets."""

import base64
from collections.abc import Iterable, Sequence
from dataclasses import replace

import streamlit as st

from explorer.app import cache
from explorer.app.cache_judging import Question, colour_matrix
from explorer.app.labels import as_attribute, as_html, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.judging import rows_of
from explorer.app.parts.judging_words import (
    SIGNS,
    look_words,
    number,
    reach_words,
    step_words,
    verdict_words,
)
from explorer.app.parts.notes import note
from explorer.app.parts.tables import chip, scrolling
from explorer.app.parts.tray import hanging_kind
from explorer.app.state import Work
from explorer.contrast_piece import Meeting, Neighbours, PieceJudgement
from explorer.contrast_words import LOOKS, MEASURE, details, figure, parts
from explorer.design import Design, motif_bead
from palettes.difference import verdict
from palettes.spaces import hex_to_srgb1, srgb1_to_hex
from palettes.swatches import Swatch
from palettes.viewing import Condition, srgb1_under

# Chosen by us: a table of more colours fits no page; palettes hold up to a dozen.
MOST_COLOURS = 16
# Rows of what else meets, of each kind. Chosen by us, because the weakest say enough.
_MOST_OTHERS = 4
_BEAD_PX = 44  # by eye
_FACING = (
    "Facing dangles are the two beside each other at the divider, seen close by: where they match, "
    "the motifs still part as a whole. "
)
_OVER = "Over the closure the last motif meets the first: seen only where the piece is fastened."


def neighbours(question: Question, judgement: PieceJudgement) -> None:
    """Every two neighbouring motifs, the weakest first; facing dangles; over the closure last."""
    rows = list(rows_of(judgement))
    if not rows:
        return
    heads = ["Motifs", "In daylight", "Seen worst", "They", "Worst for", "Difference", "Read apart"]
    if question.distance_m is not None:
        heads.append(shown(f"Steps at {question.distance_m:g} m"))
    lines = [_neighbour(question, row, first=row is judgement.weakest) for row in rows]
    if judgement.closure is not None:
        lines.append(_neighbour(question, judgement.closure, first=False))
    st.html(_table("dw-neighbours", "Neighbouring motifs", heads, lines))
    facing = any(row.meeting is Meeting.DANGLES for row in rows)
    note(f"{MEASURE} {_FACING if facing else ''}{_OVER}", kind="small")
    note(
        "Difference is CIEDE2000 (ΔE 2000): below 2 colours look the same, from 10 they can be "
        "told apart, from 20 they stand well apart; above 5 or so it ranks pairs more than it "
        "measures them. Read apart: up to there half the people notice a difference; a step is "
        "such a difference.",
        kind="small",
    )


def _neighbour(question: Question, row: Neighbours, *, first: bool) -> str:
    name = f"{row.i + 1}, {row.j + 1}"
    if row.meeting is Meeting.CLOSURE:
        name += " over the closure"
    elif row.meeting is Meeting.DANGLES:
        name += " facing dangles"
    told = "the same beads" if row.alike_by_choice else verdict_words(row.worst)
    cells = [
        as_html(name),
        _two(question.design, row, None),
        _two(question.design, row, row.worst_look),
        as_html(told),
        as_html(look_words(row.worst_look)),
        # The same beads are not compared: no figure is told of them.
        "" if row.alike_by_choice else as_html(shown(number(row))),
        "" if row.alike_by_choice else as_html(shown(reach_words(row))),
    ]
    if question.distance_m is not None:
        steps = shown(step_words(dict(row.steps)[question.distance_m]))
        cells.append("" if row.alike_by_choice else as_html(steps))
    return _line(cells, "weakest" if first else "")


def _two(design: Design, row: Neighbours, look: Condition | None) -> str:
    """The two beads beside each other, as they are or as they are seen."""
    beads = [design.beads[motif_bead(design.motifs[motif])] for motif in (row.i, row.j)]
    swatches = tuple(
        Swatch(name=bead.name.strip() or bead.hex, hex=hex_, finish=bead.finish)
        for bead, hex_ in zip(beads, (row.left_hex, row.right_hex), strict=True)
    )
    if look is not None:
        swatches = tuple(replace(swatch, hex=_seen(swatch.hex, look)) for swatch in swatches)
    data = base64.b64encode(cache.bead_row(swatches, beads[0].kind, _BEAD_PX)).decode("ascii")
    alt = "" if look is not None else " and ".join(swatch.name for swatch in swatches)
    return f'<img class="dw-chip" alt="{as_attribute(alt)}" src="data:image/png;base64,{data}">'


def _seen(hex_: str, look: Condition) -> str:
    return srgb1_to_hex(srgb1_under(hex_to_srgb1(hex_), (look,))[0])


def colours(work: Work, question: Question) -> None:
    """All colours of the tray against each other, the worst over all that was asked."""
    swatches = work.tray.swatches[:MOST_COLOURS]
    if len(swatches) < 2:
        note("One colour alone has nothing to be told from.")
        return
    matrix = colour_matrix(swatches, question.looks, question.backing)
    kind = hanging_kind(work)
    pngs = [cache.bead_row((swatch,), kind, _BEAD_PX) for swatch in swatches]
    head = "".join(
        f'<th scope="col">{_bead(png, swatch.name)}</th>'
        for swatch, png in zip(swatches[:-1], pngs, strict=False)
    )
    lines = [
        f'<tr><th scope="row">{_bead(pngs[at])}'
        f"<span>{as_html(isolated(swatches[at].name))}</span></th>"
        + "".join(_cell(swatches, matrix, at, other) for other in range(at))
        + "<td></td>" * (len(swatches) - 1 - at)
        + "</tr>"
        for at in range(1, len(swatches))
    ]
    table = (
        f'<table class="dw-apart"><thead><tr><td></td>{head}</tr></thead>'
        f"<tbody>{''.join(lines)}</tbody></table>"
    )
    st.html(scrolling("All colours against each other", table, "dw-wide"))
    legend = ", ".join(f"{SIGNS[found]} {words}" for found, words in LOOKS.items())
    more = len(work.tray.swatches) - len(swatches)
    cut = f" The first {MOST_COLOURS} colours are shown, {more} are not." if more else ""
    note(
        f"Smallest difference (CIEDE2000) for everyone and every light asked: {legend}.{cut}",
        kind="small",
    )


def _bead(png: bytes, name: str = "") -> str:
    """A drawn bead; without a name where the name stands beside it."""
    data = base64.b64encode(png).decode("ascii")
    name = as_attribute(name)
    title = f'title="{name}" ' if name else ""
    return f'<img class="dw-chip" alt="{name}" {title}src="data:image/png;base64,{data}">'


def _cell(
    swatches: Sequence[Swatch], matrix: Sequence[Sequence[float]], at: int, other: int
) -> str:
    value = matrix[at][other]
    found = verdict(value)
    title = f"{swatches[at].name} and {swatches[other].name} {LOOKS[found]}"
    return (
        f'<td class="dw-{found.name.lower()}" title="{as_attribute(title)}">'
        f"<small>{SIGNS[found]}</small> {figure(value)}</td>"
    )


def others(question: Question, judgement: PieceJudgement) -> None:
    """What else looks alike, in words; what meets inside motifs, at the base and behind."""
    for words in details(judgement):
        note(words)
    groups = (
        (judgement.within, "Inside a motif", "Dangles side by side that hold different beads."),
        (
            judgement.base,
            "Against the base beads",
            "Each motif and the base beads above it: where they match, the strip has no edge.",
        ),
        (
            judgement.backing,
            "Against what lies behind",
            "Each motif and what lies behind it: where they match, its outline is lost.",
        ),
    )
    for rows, title, meaning in groups:
        if not rows:
            continue
        lines = [
            _line(
                [
                    as_html(parts(row)),
                    _ground(question.design, row),
                    as_html(verdict_words(row.worst)),
                    as_html(look_words(row.worst_look)),
                    as_html(shown(number(row))),
                ]
            )
            for row in once(rows)[:_MOST_OTHERS]
        ]
        st.subheader(title, anchor=False)
        note(meaning, kind="small")
        heads = ("Which", "Colours", "They", "Worst for", "Difference")
        st.html(_table("dw-neighbours dw-others", title, heads, lines))


def once(rows: Iterable[Neighbours]) -> list[Neighbours]:
    """The first row of every two colours that meet."""
    first: dict[tuple[str, str], Neighbours] = {}
    for row in rows:
        first.setdefault((row.left_hex, row.right_hex), row)
    return list(first.values())


def _ground(design: Design, row: Neighbours) -> str:
    bead = design.beads[motif_bead(design.motifs[row.i])]
    one = chip(replace(bead, hex=row.left_hex))
    if row.meeting is Meeting.BACKING:
        return f'{one}<span class="dw-patch" style="background:{row.right_hex}"></span>'
    base = design.beads[design.motifs[row.i][0].base]
    other = base if row.meeting is Meeting.BASE else bead
    return one + chip(replace(other, hex=row.right_hex))


def _line(cells: Iterable[str], kind: str = "") -> str:
    inner = "".join(f"<td>{cell}</td>" for cell in cells)
    return f'<tr class="{kind}">{inner}</tr>' if kind else f"<tr>{inner}</tr>"


def _table(kind: str, label: str, heads: Iterable[str], lines: Iterable[str]) -> str:
    head = "".join(f'<th scope="col">{as_html(text)}</th>' for text in heads)
    table = (
        f'<table class="dw-table {kind}"><thead><tr>{head}</tr></thead>'
        f"<tbody>{''.join(lines)}</tbody></table>"
    )
    return scrolling(label, table, "dw-wide")
