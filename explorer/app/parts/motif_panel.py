"""What can be done with one motif: one more like it, take it out, move it, swap it, lock it."""

from collections.abc import Callable

import streamlit as st

from explorer import changes
from explorer.app import cache, session, state
from explorer.app.areas import Reach
from explorer.app.parts.notes import note
from explorer.app.parts.picture import Own
from explorer.app.state import Work
from explorer.changes import Changed
from explorer.errors import BriefError


def picked_motif() -> Own:
    """The motif that is picked, for the picture."""
    work = session.work()
    found = cache.pointed(work.piece.design, session.view()[0], Reach.MOTIF)
    return Own(
        chosen=_picked(work),
        labels=tuple(area.label for area in found),
        alt=f"{work.piece.name}: {len(found)} motifs, start to end",
    )


def _picked(work: Work) -> int:
    held: int = st.session_state.get(state.NEXT, 0)
    return min(held, work.piece.pattern.run.motifs - 1)


def motif_panel() -> None:
    """The buttons for the motif that is picked."""
    work = session.work()
    pattern, motif = work.piece.pattern, _picked(work)
    motifs, locked = pattern.run.motifs, changes.is_locked(pattern, motif)
    lock = "It is locked: no other change reaches it." if locked else ""
    note(f"Motif {motif + 1} of {motifs}. {lock}".strip())
    with st.container(horizontal=True, gap="small", key="motif_panel"):
        _button("One more like it", "insert", lambda: changes.insert(pattern, motif), motif + 1)
        _button(
            "Take it out", "remove", lambda: changes.remove(pattern, motif), max(0, motif - 1),
            disabled=locked or motifs == 1,
        )  # fmt: skip
        _button(
            "Move it back", "back", lambda: changes.move(pattern, motif, motif - 1), motif - 1,
            disabled=locked or motif == 0,
        )  # fmt: skip
        _button(
            "Move it on", "on", lambda: changes.move(pattern, motif, motif + 1), motif + 1,
            disabled=locked or motif == motifs - 1,
        )  # fmt: skip
        if locked:
            _button("Unlock it", "unlock", lambda: changes.unlock(pattern, motif), motif)
        else:
            _button("Lock it", "lock", lambda: changes.lock(pattern, motif), motif)
    _swap(motif, motifs, locked=locked)


def _button(
    label: str, key: str, change: Callable[[], Changed], after: int, *, disabled: bool = False
) -> None:
    def do() -> None:
        if _made(change):
            st.session_state[state.NEXT] = after

    st.button(label, key=f"motif_{key}", on_click=do, disabled=disabled)


def _made(change: Callable[[], Changed]) -> bool:
    """Make a change, or tell why it cannot be."""
    try:
        session.commit_changed(change())
    except BriefError as error:
        session.refused(f"{error.field.capitalize()} {error.got}: {error.wanted}. {error.remedy}")
        return False
    return True


def _swap(motif: int, motifs: int, *, locked: bool) -> None:
    """Another motif to change places with."""
    if motifs < 2 or locked:
        return

    def swapped() -> None:
        other = st.session_state["motif_swap"]
        if other is not None:
            pattern = session.work().piece.pattern
            if _made(lambda: changes.swap(pattern, motif, int(other))):
                st.session_state[state.NEXT] = int(other)

    st.session_state["motif_swap"] = None
    st.selectbox(
        "Change places with motif",
        [other for other in range(motifs) if other != motif],
        index=None,
        format_func=lambda other: str(other + 1),
        key="motif_swap",
        placeholder="pick one",
        on_change=swapped,
        width=220,
    )
