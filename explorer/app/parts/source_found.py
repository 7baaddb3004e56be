"""A palette as found: its beads, why each is there, how they stand apart, and the way to use it."""

from collections.abc import Callable

import streamlit as st

from explorer.app import session, state, stock_session
from explorer.app.labels import as_attribute, as_html, isolated
from explorer.app.parts.notes import note
from explorer.app.parts.tables import chip
from explorer.app.parts.tray import hanging_kind
from explorer.app.source_words import (
    apart_words,
    harmony_words,
    proof_words,
    views_words,
    why_words,
)
from explorer.app.using import used
from palettes.beads import Bead, BeadKind
from palettes.choose_picked import Picked, PickedColour
from palettes.choose_types import NoChoice
from palettes.swatches import Swatch

_SAID = "source_said"


def source_found(
    found: Picked | NoChoice,
    key: str,
    *,
    another: Callable[[], None] | None = None,
    shares: bool = False,
    cards: bool = True,
) -> None:
    """Show a palette, or why there is none.

    Args:
        found: the answer of a source.
        key: of the source, for the buttons.
        another: what a press for another palette does; none where there is no other.
        cards: whether the beads are shown; not where they are seen already.
        shares: whether the piece may take the colours in the proportions of the photograph.
    """
    if isinstance(found, NoChoice):
        note(
            f"There is no such palette: {found.why}. Ask for fewer colours or fewer wishes, or "
            "choose out of more beads.",
            kind="care",
        )
        if another is not None:
            st.button("Try another", key=f"{key}_another", on_click=another)
        return
    if cards:
        st.html(found_cards(found, hanging_kind(session.work())))
    note(apart_words(found))
    small = (views_words(found), harmony_words(found), proof_words(found))
    note(" ".join(filter(None, small)), kind="small")
    in_shares = False
    if shares and all(colour.origin.share for colour in found.colours):
        in_shares = st.checkbox(
            "As much of each colour as in the photograph", key=f"{key}_in_shares"
        )
    with st.container(horizontal=True):
        st.button(
            "Use these colours",
            key=f"{key}_use",
            type="primary",
            on_click=use,
            args=(found.colours, in_shares),
        )
        if another is not None:
            st.button("Show another", key=f"{key}_another", on_click=another)
    said(found.colours)


def use(colours: tuple[PickedColour, ...], in_shares: bool = False) -> None:
    """Put the colours on the table, from beads at hand if they are such; a step to undo."""
    boxes = tuple(colour.bead for colour in colours if colour.bead is not None)
    done = used(
        session.work(),
        swatches_of(colours),
        boxes=boxes,
        tray=stock_session.tray() if boxes else None,
        shares=tuple(colour.origin.share or 0.0 for colour in colours) if in_shares else (),
    )
    st.session_state.pop(state.BRUSH, None)
    session.commit(done.work)
    st.session_state[_SAID] = (swatches_of(colours), done.words)


def swatches_of(colours: tuple[PickedColour, ...]) -> tuple[Swatch, ...]:
    """The colours as the piece's."""
    return tuple(Swatch(name=c.name, hex=c.hex, finish=c.finish) for c in colours)


def said(colours: tuple[PickedColour, ...]) -> None:
    """That these colours are on the table, as long as they are."""
    held = st.session_state.get(_SAID)
    now = session.work().tray.swatches
    if not held or held[0] != now or now != swatches_of(colours):
        return
    more = " ".join(held[1])
    proposals = " Proposals now keep to these beads." if session.work().tray.at_hand else ""
    note(f"The piece above has these colours now. {more}{proposals}")


def found_cards(found: Picked, kind: BeadKind) -> str:
    """The beads with their names and why each is there, as HTML."""
    return (
        '<div class="dw-found">'
        + "".join(found_card(colour, kind, number) for number, colour in enumerate(found.colours))
        + "</div>"
    )


def found_card(colour: PickedColour, kind: BeadKind, number: int) -> str:
    """One of them; numbered where it stands on a photograph."""
    own = colour.bead.kind if colour.bead is not None else kind
    bead = Bead(name=colour.name, kind=own, hex=colour.hex, finish=colour.finish)
    lines = why_words(colour)
    mark = f"<b>{number + 1}</b> " if colour.origin.x is not None else ""
    wanted = colour.origin.wanted
    flat = (
        f'<span class="wanted" style="background:{as_attribute(wanted)}" '
        f'title="wished for: {as_attribute(wanted)}"></span>'
        if wanted is not None and wanted != colour.hex
        else ""
    )
    small = "".join(f"<small>{as_html(line)}</small>" for line in lines)
    words = f"<div>{mark}{as_html(isolated(colour.name))}{small}</div>"
    return f'<div class="one">{flat}{chip(bead)}{words}</div>'
