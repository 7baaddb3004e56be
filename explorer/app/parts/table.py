"""What every page begins with: the piece on the table, its figures, and the way back and forth."""

import streamlit as st

from explorer.app import cache, cache_making, session, steps
from explorer.app.assumed import reckoned
from explorer.app.labels import as_html
from explorer.app.parts.decimal_box import shown
from explorer.app.parts.notes import heading, kept_place, note
from explorer.app.parts.picture import Own, picture
from explorer.app.parts.steps_queue import steps_queue
from explorer.app.parts.units_box import chosen_units
from explorer.app.state import Work
from explorer.app.wording import (
    beads_words,
    count_words,
    strip_words,
)
from explorer.contrast_words import weakest_words
from explorer.sitting import short_words, sitting

LOOK_HINT = "Point at a motif, or tap it, to see what it is."


def table(
    *,
    act: str = "",
    hint: str = LOOK_HINT,
    marked: tuple[str, ...] = (),
    lit: tuple[str, ...] = (),
    stuck: bool = False,
    told: bool = True,
    gave_up: bool = True,
    own: Own | None = None,
) -> None:
    """The piece, its line of figures, undo and redo.

    Args:
        act: what a tap on the picture does; see ``picture``.
        hint: the line under the picture.
        marked: areas that are ringed, by their ids.
        lit: beads that are lit, by their tags.
        stuck: keep the picture in sight on a phone, however far the page is scrolled.
        told: whether the line of figures follows.
        gave_up: whether what the last step gave up or could not do is told; else the page does.
        own: a page's own words for the parts, and the one that is chosen.
    """
    work = session.work()
    with st.container(key="table_stuck" if stuck else "table"):
        with st.container(
            horizontal=True, vertical_alignment="center", horizontal_alignment="distribute"
        ):
            heading(work.piece.name, 1)
            _steps()
        picture(work, act=act, hint=hint, marked=marked, lit=lit, own=own)
    if told:
        st.html(figures(work))
    with kept_place():
        words = session.told() if gave_up else ()
        if words:
            with st.container(gap="small"):
                for one in words:
                    note(shown(one), kind="care")
        _short(work)
    steps_queue()


def _short(work: Work) -> None:
    """That the piece does not go round its limb, and the nearest that does as one tap."""
    wearer = work.piece.wearer
    words = "" if wearer is None else short_words(sitting(work.piece.design, wearer))
    if not words:
        return
    after = steps.that_goes_round(work)
    with st.container(gap="small"):
        note(shown(words), kind="care")
        if after is not None and after.piece != work.piece:
            st.button(
                shown(f"Make it go round: ask for {after.sizing.ease} of ease"),
                key="go_round",
                on_click=session.commit,
                args=(after,),
            )


def figures(work: Work) -> str:
    """The line of figures as HTML: strip, motifs, weakest neighbours, beads."""
    design = work.piece.design
    parts = (
        strip_words(work.piece, chosen_units()),
        beads_words(design),
        weakest_words(cache.as_seen(design)),
        count_words(cache_making.counted(design, reckoned(work.assumed).spares)),
    )
    # A figure and the dot behind it stay on one line.
    return f'<p class="dw-figures">{"&nbsp;· ".join(as_html(shown(part)) for part in parts)}</p>'


def _steps() -> None:
    history = session.history()
    with st.container(horizontal=True, width="content", gap="xsmall", key="steps"):
        st.button(
            "Undo",
            on_click=session.undo,
            disabled=not history.past,
            shortcut="Ctrl+Z",
            key="undo",
        )
        st.button(
            "Redo",
            on_click=session.redo,
            disabled=not history.future,
            shortcut="Ctrl+Shift+Z",
            key="redo",
        )
