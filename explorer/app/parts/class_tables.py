"""The tables of a class kit as HTML; every name in them is somebody's own text."""

from collections import Counter
from collections.abc import Sequence

from explorer.app.labels import as_html, isolated
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.tables import bead_words, chip, scrolling
from explorer.buying_packs import Pack
from explorer.kit import Kit, LearnerKit
from explorer.kit_pages import girth_words
from explorer.lengths import millimetres
from palettes.beads import Bead

_NONE = "\N{EN DASH}"


def everyone_table(kit: Kit) -> str:
    """Everybody with measurement, finished size, ease, motifs, beads and thread."""
    rows = [
        (
            as_html(isolated(one.learner.name)),
            shown(girth_words(one)),
            shown(millimetres(one.sitting.finished_mm)),
            shown(millimetres(one.sitting.ease_mm)),
            _motifs(one),
            str(one.counts.base_beads),
            str(one.counts.total + one.counts.spares),
            shown(f"{one.plan.length_mm / 1000.0:.1f} m"),
        )
        for one in kit.learners
    ]
    heads = (
        "name", "measured", "finished", "ease", "motifs", "base beads", "to count out", "thread",
    )  # fmt: skip
    return _table("Everyone's piece", heads, rows)


def _motifs(one: LearnerKit) -> str:
    if one.least_motifs != one.fit.motifs:
        return f"{one.least_motifs} to {one.fit.motifs}"
    return str(one.fit.motifs)


def totals_table(kit: Kit) -> str:
    """Every bead for the whole class, and what to buy."""
    rows = []
    for total in kit.totals:
        held = "?" if total.in_tray is None else str(total.in_tray)
        buy = f"{total.to_buy}: {_packs(total.packs)}" if total.to_buy else _NONE
        rows.append((_bead(total.bead), str(total.used), str(total.spares), held, buy))
    heads = ("bead", "in the pieces", "spare", "at hand", "to buy")
    return _table("Every bead for all together", heads, rows)


def _packs(packs: Sequence[Pack]) -> str:
    """Packs with how many of each size, the largest first."""
    sizes = Counter(pack.weight_g for pack in packs)
    words = (
        f"{count} of {size:g} g" if count > 1 else f"{size:g} g" for size, count in sizes.items()
    )
    return shown(" + ".join(words))


def lacks_table(kit: Kit) -> str:
    """Who lacks what after sharing; rows without which no piece is finished stand out."""
    rows = [
        (
            as_html(isolated(lack.name)),
            _bead(lack.bead),
            str(lack.needed),
            str(lack.given),
            str(lack.lacking or _NONE),
            str(lack.spares_lacking or _NONE),
        )
        for lack in kit.short
    ]
    marks = [bool(lack.lacking) for lack in kit.short]
    heads = ("name", "bead", "needed", "in the bag", "lacking", "spares lacking")
    return _table("Who lacks what", heads, rows, marks, words=2)


def _bead(bead: Bead) -> str:
    return f"{chip(bead)}{as_html(bead_words(bead))}"


def _table(
    label: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    marks: Sequence[bool] = (),
    *,
    words: int = 1,
) -> str:
    """A table of cells that are HTML already; so many columns of words, then figures.

    Args:
        label: what it holds, for those who hear the page.
        heads: a word above every column.
        rows: the cells.
        marks: which rows stand out.
        words: how many columns hold words.
    """
    sides = [*[""] * words, *[' class="num"'] * (len(heads) - words)]
    head = "".join(
        f'<th scope="col"{side}>{as_html(text)}</th>'
        for text, side in zip(heads, sides, strict=True)
    )
    body = "".join(
        f"<tr{' class=lacks' if mark else ''}>"
        + "".join(f"<td{side}>{cell}</td>" for cell, side in zip(row, sides, strict=True))
        + "</tr>"
        for row, mark in zip(rows, marks or [False] * len(rows), strict=True)
    )
    return scrolling(
        label,
        f'<table class="dw-table dw-kit"><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table>",
    )
