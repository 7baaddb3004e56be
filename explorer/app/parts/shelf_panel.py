"""One piece of the shelf opened up: its words, its making, photographs, another size, a file."""

from dataclasses import replace

import streamlit as st

from explorer import shelf_photographs
from explorer.app import cache, session, state, steps
from explorer.app.labels import isolated
from explorer.app.parts.notes import fault, heading, note
from explorer.app.parts.shelf_acts import attempt, say, say_outcome
from explorer.app.parts.shelf_thrown import bring_back, this_tab, thrown_words
from explorer.app.parts.shelf_words import drafts, forget, take_brought, typed_words, words
from explorer.app.wording import file_stem
from explorer.brief import LEAST_SNUG_MM, MOST_SNUG_MM
from explorer.changes import TooShort, for_wearer
from explorer.errors import BriefError
from explorer.lengths import both, millimetres, parse_mm
from explorer.piece import Piece
from explorer.shelf import Saved, ShelfError
from explorer.shelf_entry import MOST_PHOTOGRAPHS, Photograph
from explorer.shelf_json import entry_of, to_text
from explorer.wearers import place_of, usual_ease_mm
from gallery.photos import ENDINGS
from palettes.errors import ChartError

_PHOTOS = "photographs"
_ASKED = "shelf_photo_asked"
# Chosen by us, because it is as large as ``gallery.photos`` reads at all.
_MOST_MB = 120


def panel(saved: Saved, piece: Piece) -> None:
    """Everything about one piece."""
    with st.container(border=True, key="shelf_panel"):
        with st.container(
            horizontal=True, vertical_alignment="center", horizontal_alignment="distribute"
        ):
            heading(saved.name, 3)
            st.button("Close", key="shelf_close", on_click=_close, type="tertiary")
        left, right = st.columns(2, gap="large")
        with left:
            words(saved)
        with right:
            _photographs(saved)
            _other_size(saved, piece)
            _file(saved)


def _close() -> None:
    st.session_state.pop(state.OPENED, None)


def _photographs(saved: Saved) -> None:
    held = shelf_photographs.of_piece(session.shelf(), saved.number)
    # A box of its own for the next photograph: the last one is out of it once it is kept.
    key = f"shelf_photo_{saved.number}_{len(held)}"

    def add() -> None:
        upload = st.session_state[key]
        if upload is not None:
            content, name = upload.getvalue(), upload.name
            attempt(
                lambda: shelf_photographs.add(session.shelf(), saved.number, content, name),
                where=_PHOTOS,
            )

    note("Photographs of the finished piece")
    if held:
        grid = st.grid(min_column_width=150, gap="small", key="shelf_photographs")
        for at, photo in enumerate(held, 1):
            with grid.cell(), st.container(gap="xsmall"):
                if photo.damaged:
                    note(f"Photograph {at} is not as it was kept: it is damaged.", kind="fault")
                else:
                    st.image(photo.jpeg, width="stretch", alt=f"{saved.name}, photograph {at}")
                _take_off(photo)
    if len(held) < MOST_PHOTOGRAPHS:
        st.file_uploader(
            "Add a photograph",
            type=ENDINGS,
            key=key,
            on_change=add,
            max_upload_size=_MOST_MB,
            help="Kept on this machine, smaller, and without the place that a phone writes in.",
        )
    say_outcome(_PHOTOS)


def _take_off(photo: Photograph) -> None:
    """In two presses: no way leads back."""
    number = photo.number
    if st.session_state.get(_ASKED) != number:
        st.button(
            "Take off", key=f"photo_ask_{number}", on_click=_ask, args=(number,), type="tertiary"
        )
        return
    note("It cannot be brought back then.", kind="care")
    st.button("Take it off for good", key=f"photo_off_{number}", on_click=_off, args=(photo,))
    st.button("Leave it here", key=f"photo_leave_{number}", on_click=_ask, type="tertiary")


def _ask(number: int | None = None) -> None:
    st.session_state[_ASKED] = number


def _off(photo: Photograph) -> None:
    _ask()
    shelf = session.shelf()
    attempt(
        lambda: shelf_photographs.take_off(shelf, photo.number),
        "The photograph is taken off.",
        where=_PHOTOS,
    )


def _other_size(saved: Saved, piece: Piece) -> None:
    """The piece for another measurement, its order and repeat kept."""
    text = st.text_input(
        "The same piece round another ankle or wrist",
        key=f"shelf_size_{saved.number}",
        placeholder="190 mm",
        max_chars=60,
    )
    if not text.strip():
        return
    try:
        snug_mm = parse_mm(text, "snug", least_mm=LEAST_SNUG_MM, most_mm=MOST_SNUG_MM)
        found = for_wearer(piece.pattern, snug_mm)
    except BriefError as error:
        fault(error)
        return
    if isinstance(found, TooShort):
        note(
            f"Not one motif fits: its strip takes {both(found.needs_mm)}, and there is room for "
            f"{both(max(0.0, found.target_mm))}.",
            kind="fault",
        )
        return
    other = replace(piece, pattern=found.pattern)
    motifs, wearer = len(other.design.motifs), other.wearer
    ease = "" if wearer is None else f", with {millimetres(wearer.ease_mm)} of ease"
    note(
        f"{motifs} motif{'s' * (motifs > 1)} instead of {len(piece.design.motifs)}, a strip of "
        f"{millimetres(other.design.strip_mm)}{ease}."
    )
    for told in (*found.gave_up, *found.asleep, *found.asks):
        note(told, kind="care")
    _other_ease(saved, piece, other)
    st.button(
        "Put it on the table in that size",
        key=f"shelf_resize_{saved.number}",
        on_click=_put,
        args=(other,),
    )


def _other_ease(saved: Saved, piece: Piece, other: Piece) -> None:
    """Where an ease was set by hand for somebody else: the usual one as one tap."""
    if other.wearer is None or not other.pattern.worn.own_ease:
        return
    usual_mm = usual_ease_mm(place_of(other.worn_as, other.wearer.snug_mm))
    found = for_wearer(piece.pattern, other.wearer.snug_mm, ease_mm=usual_mm)
    if usual_mm == other.wearer.ease_mm or isinstance(found, TooShort):
        return
    pattern = replace(found.pattern, worn=replace(found.pattern.worn, own_ease=False))
    st.button(
        f"Put it on the table with {millimetres(usual_mm)} of ease",
        key=f"shelf_resize_usual_{saved.number}",
        on_click=_put,
        args=(replace(piece, pattern=pattern),),
    )


def _put(piece: Piece) -> None:
    session.commit(steps.opened(session.work(), piece))
    say("It is on the table in that size; the one on the shelf is as it was.")


def _file(saved: Saved) -> None:
    def copy() -> None:
        made: list[int | None] = []
        attempt(lambda: made.append(session.shelf().copy(saved.number)))
        if made and made[0]:
            say(f"The copy stands on the shelf as number {made[0]}.")

    try:
        text = to_text(entry_of(saved))
    except BriefError as error:
        # A name too long, say: it can be mended in the boxes beside.
        fault(error)
        return
    with st.container(horizontal=True, gap="small"):
        st.download_button(
            "Save as a file",
            text,
            file_name=f"{file_stem(saved.name)}.json",
            mime="application/json",
            on_click="ignore",
            help="With who it is for, measurement and notes; without photographs.",
        )
        st.button("Copy", key=f"copy_{saved.number}", on_click=copy)


def opened(pieces: dict[int, tuple[Saved, Piece]]) -> None:
    """The panel of the piece that was opened up; nothing where none is."""
    take_brought()
    number = st.session_state.get(state.OPENED)
    if number is None:
        return
    try:
        if number in pieces:
            panel(*pieces[number])
            return
        saved = session.shelf().get(number)
        if saved is None or saved.thrown is not None:
            _gone(number, saved)
        else:
            # A search for other words does not close it.
            panel(saved, cache.read_piece(saved.document))
    except (ShelfError, ChartError) as error:
        note(str(error), kind="fault")


def _gone(number: int, saved: Saved | None) -> None:
    """That the piece went while its details were open; what was typed about it stays.

    Args:
        number: the piece's.
        saved: the piece, thrown away; None where it was taken out for good.
    """
    draft = drafts().get(number)
    wanted = draft is not None and bool(draft.wanted)
    here = saved is not None and saved.thrown is not None and saved.thrown.by == this_tab()
    # Whoever threw it away here is told so beside the way back.
    if draft is None or (here and not wanted):
        return

    def forget_it() -> None:
        forget(number)
        _close()

    with st.container(border=True, key="shelf_panel"):
        how = "taken out for good" if saved is None else thrown_words(saved.thrown)
        kept = " What you typed is kept here and was not written:" if wanted else ""
        note(
            f"“{isolated(draft.seen.name)}” was {how} while its details were open.{kept}",
            kind="care",
        )
        typed_words(draft)
        with st.container(horizontal=True, gap="small"):
            if saved is not None:
                st.button(
                    "Bring it back", key=f"shelf_back_{number}", on_click=bring_back, args=(saved,),
                    type="primary",
                )  # fmt: skip
            st.button(
                "Take back what I typed" if wanted else "Close", key="shelf_close",
                on_click=forget_it, type="tertiary",
            )  # fmt: skip
