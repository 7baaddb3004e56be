"""Making: the page beside the work, one stitch at a time."""

import streamlit as st

from explorer.app import cache, session, state
from explorer.app.assumed import reckoned
from explorer.app.labels import as_html
from explorer.app.making import Stitch
from explorer.app.parts.table import figures, table
from explorer.app.parts.walk import walk
from explorer.design import Design


def view() -> None:
    """The page."""
    work = session.work()
    todo = cache.stitches(work.piece.design, reckoned(work.assumed).setup)
    place = min(session.place(), len(todo) - 1)
    stitch = todo[place]
    table(hint="The beads in question are lit.", lit=stitch.tags, told=False)
    st.header("Making", anchor=False)
    left, right = st.columns([3, 2], gap="large")
    with left, st.container(key="stitch"):
        _words(stitch, place, len(todo))
    # Its room is kept where there is nothing to show, so that nothing below it moves.
    with right, st.container(key="near"):
        _near(work.piece.design, stitch)
    _walk(place, todo)
    st.html(figures(work))


def _near(design: Design, stitch: Stitch) -> None:
    """The motif in question from near, with a ring round the beads in question."""
    if stitch.motif is None:
        return
    st.image(
        cache.close_up(design, stitch.motif),
        output_format="PNG",
        width="stretch",
        alt=f"Motif {stitch.motif + 1} from near; ringed: {stitch.what or stitch.stage}",
    )
    box = cache.ringed(design, stitch.motif, stitch.tags)
    if box is not None:
        sides = zip(("left", "top", "width", "height"), box, strict=True)
        at = ";".join(f"{side}:{100.0 * share:.2f}%" for side, share in sides)
        st.html(f'<div class="dw-ring" aria-hidden="true" style="{at}"></div>')


def _words(stitch: Stitch, place: int, count: int) -> None:
    what = as_html(stitch.what or stitch.stage)
    st.html(
        f'<div class="dw-stitch" aria-live="polite"><p>{as_html(stitch.stage)}, step '
        f"{place + 1} of {count}</p><strong>{what}</strong><p class='how'>"
        f"{as_html(stitch.how)}</p></div>"
    )


def _walk(place: int, todo: tuple[Stitch, ...]) -> None:
    """Back and on, by tap or by key; and a jump to the start of a stage."""
    with st.container(key="walk"):
        walk(place, len(todo))
    stages = list(dict.fromkeys(stitch.stage for stitch in todo))
    st.session_state["making_stage"] = todo[place].stage
    st.segmented_control(
        "Go to",
        stages,
        key="making_stage",
        required=True,
        on_change=lambda: _go(
            [stitch.stage for stitch in todo].index(st.session_state["making_stage"])
        ),
    )


def _go(place: int) -> None:
    st.session_state[state.PLACE] = place
