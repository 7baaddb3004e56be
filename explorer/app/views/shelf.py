"""Shelf: saved pieces, to open, compare, take along and throw away, with a way back."""

import streamlit as st

from explorer.app import cache, late, session, state, steps
from explorer.app.labels import isolated
from explorer.app.parts.notes import note
from explorer.app.parts.shelf_acts import attempt, say, say_outcome
from explorer.app.parts.shelf_compare import compared, side_by_side, turn
from explorer.app.parts.shelf_files import say_copy_fault, shelf_files
from explorer.app.parts.shelf_panel import opened
from explorer.app.parts.shelf_thrown import (
    forget_way_back,
    say_waiting,
    throw,
    thrown_away,
    way_back,
    whose,
)
from explorer.app.parts.shelf_words import say_unwritten
from explorer.app.parts.table import table
from explorer.app.parts.to_page import to_page
from explorer.piece import Piece, to_json
from explorer.shelf import Saved, ShelfError
from explorer.shelf_saved import Apart
from palettes.errors import ChartError

_SEARCH = "shelf_search"
_WHO = "shelf_who"


def view() -> None:
    """The page."""
    table()
    st.header("Shelf", anchor=False)
    to_page("beads", "My beads")
    _put()
    say_outcome()
    try:
        _all()
    except ShelfError as error:
        note(
            f"The shelf cannot be opened, so nothing can be saved there now; save the piece as a "
            f"file on the Piece page instead. ({error})",
            kind="fault",
        )


def _put() -> None:
    def put() -> None:
        piece = session.work().piece
        # The press can come before the word that the box was changed.
        _keep_who()
        who = st.session_state[state.WHO]
        forget_way_back()
        name, put = isolated(piece.name), list[int]()
        done = attempt(
            lambda: put.append(
                session.shelf().put(piece.name, to_json(piece), who=who, notes=piece.notes)
            ),
            failed=f"“{name}” was not put on the shelf.",
        )
        if done:
            say(f"“{name}” stands on the shelf as number {put[0]}.")

    with st.container(horizontal=True, vertical_alignment="bottom"):
        # Of any length: the browser would refuse what is too long without a word.
        st.session_state[_WHO] = late.brought(_WHO) or st.session_state[state.WHO]
        st.session_state[state.WHO] = st.session_state[_WHO]
        st.text_input(
            "Who it is for (may stay empty)",
            st.session_state[_WHO],
            key=_WHO,
            on_change=_keep_who,
            width=280,
        )
        st.button("Put this piece on the shelf", type="primary", on_click=put)


def _keep_who() -> None:
    st.session_state[state.WHO] = str(st.session_state.get(_WHO) or "")


def _all() -> None:
    words = st.text_input("Search", key=_SEARCH, placeholder="name, who for, notes", width=280)
    standing, thrown = session.shelf().standing(words), session.shelf().standing(thrown=True)
    found = standing.pieces
    if standing.trouble:
        note(f"What can be read is shown. {standing.trouble}.", kind="fault")
    else:
        say_copy_fault()
    way_back(thrown)
    say_waiting(thrown)
    say_unwritten()
    nothing = not found and not standing.apart and not words.strip()
    shelf_files(empty=nothing)
    if not found:
        note(
            "Nothing on the shelf has all these words."
            if words.strip()
            else "The shelf is empty. Put the piece on the table here, and it will wait for you."
        )
    # A piece whose words alone do not fit can be opened up, so that they are mended.
    mended = tuple(one.saved for one in standing.apart if not one.damaged)
    pieces = _readable((*found, *mended))
    opened(pieces)
    side_by_side(pieces)
    if found:
        grid = st.grid(min_column_width=230, gap="medium", key="shelf")
        for saved in found:
            with grid.cell(), st.container(gap="xsmall"):
                _card(saved)
    for one in standing.apart:
        _set_apart(one)
    thrown_away(thrown)


def _set_apart(one: Apart) -> None:
    """What cannot be used as it is, named, and what can be done about it."""
    note(
        f"“{isolated(one.name)}” (number {one.number}) is set apart as it is: {one.why}.",
        kind="fault",
    )
    with st.container(horizontal=True, gap="small"):
        try:
            piece = cache.read_piece(one.saved.document)
        except ChartError:
            note(
                "Not even a part of it can be opened. What can be read of it: danglewise shelf "
                f"export {one.number} --out FILE.json",
                kind="small",
            )
        else:
            st.button("Open it as it is", key=f"open_{one.number}", on_click=_open, args=(piece,))
            if not one.damaged:
                _details_button(one.saved)
        _throw_button(one.saved)


def _readable(found: tuple[Saved, ...]) -> dict[int, tuple[Saved, Piece]]:
    pieces: dict[int, tuple[Saved, Piece]] = {}
    for saved in found:
        try:
            pieces[saved.number] = (saved, cache.read_piece(saved.document))
        except ChartError:
            # Its card says what is wrong with it.
            continue
    return pieces


def _card(saved: Saved) -> None:
    try:
        piece = cache.read_piece(saved.document)
    except ChartError as error:
        note(f"{isolated(saved.name)}: {error}", kind="fault")
        _throw_button(saved)
        return
    st.image(cache.thumbnail(piece.design), width="stretch", output_format="PNG", alt=saved.name)
    note(whose(saved))
    made = f"made {saved.making.made}" if saved.making.made else saved.saved[:10]
    motifs = len(piece.design.motifs)
    # Equal pieces are told apart by it, and commands ask for it.
    note(f"number {saved.number} · {motifs} motif{'s' * (motifs != 1)} · {made}", kind="small")
    st.button("Open", key=f"open_{saved.number}", on_click=_open, args=(piece,), width="stretch")
    with st.container(horizontal=True, gap="small"):
        _details_button(saved)
        st.button(
            "Compared" if saved.number in compared() else "Compare",
            key=f"compare_{saved.number}",
            on_click=turn,
            args=(saved.number,),
            type="tertiary",
        )
        _throw_button(saved)


def _details_button(saved: Saved) -> None:
    st.button("Details", key=f"edit_{saved.number}", on_click=_edit, args=(saved,), type="tertiary")


def _throw_button(saved: Saved) -> None:
    st.button(
        "Throw away", key=f"throw_{saved.number}", on_click=throw, args=(saved,), type="tertiary"
    )


def _open(piece: Piece) -> None:
    session.commit(steps.opened(session.work(), piece))


def _edit(saved: Saved) -> None:
    held = st.session_state.get(state.OPENED)
    st.session_state[state.OPENED] = None if held == saved.number else saved.number
