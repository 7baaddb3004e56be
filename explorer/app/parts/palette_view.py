"""The colours at hand looked at closely: by hue, by lightness, pair by pair."""

import streamlit as st

from explorer.app import cache, session
from explorer.app.labels import as_attribute, as_html
from explorer.app.parts.notes import note
from explorer.app.parts.plot import plot
from explorer.app.parts.tables import chip, scrolling
from explorer.app.parts.tray import hanging_kind
from explorer.app.plots import ladder, wheel
from explorer.contrast_words import LOOKS, figure
from palettes.beads import Bead
from palettes.difference import verdict
from palettes.swatches import Swatch


def palette_view() -> None:
    """Wheel, ladder and pairs of the tray."""
    work = session.work()
    swatches = work.tray.swatches
    chosen = session.brush(work.tray)
    left, right = st.columns([2, 3], gap="large", vertical_alignment="center")
    with left:
        note("Hue round the middle, stronger outward, grey in the middle.", kind="small")
        plot(wheel(swatches, chosen), "wheel")
    with right:
        note("Light above, dark below: a grey photo of the piece shows only this.", kind="small")
        plot(ladder(swatches, chosen), "ladder")
    if len(swatches) > 1:
        note(
            "How far apart every two look, in CIEDE2000: a difference below 10, in bold, is near.",
            kind="small",
        )
        st.html(pair_table(swatches, cache.differences(tuple(s.hex for s in swatches))))


def pair_table(swatches: tuple[Swatch, ...], matrix: tuple[tuple[float, ...], ...]) -> str:
    """All pairs as an HTML table with a drawn bead at each end of a row and a column."""
    kind = hanging_kind(session.work())
    beads = [Bead(name=s.name, kind=kind, hex=s.hex, finish=s.finish) for s in swatches]
    heads = "".join(f'<th scope="col">{chip(bead)}</th>' for bead in beads)
    rows = "".join(
        f'<tr><th scope="row">{chip(bead)}</th>'
        + "".join(_cell(place, other, row[other]) for other in range(len(beads)))
        + "</tr>"
        for place, (bead, row) in enumerate(zip(beads, matrix, strict=True))
    )
    return scrolling(
        "How every two stand apart",
        f'<table class="dw-table dw-matrix"><thead><tr><td></td>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>",
    )


def _cell(place: int, other: int, delta_e: float) -> str:
    if place == other:
        return "<td></td>"
    words = LOOKS[verdict(delta_e)]
    text = as_html(figure(delta_e))
    strong = delta_e < 10.0
    inner = f"<strong>{text}</strong>" if strong else text
    return f'<td title="{as_attribute(words)}">{inner}</td>'
