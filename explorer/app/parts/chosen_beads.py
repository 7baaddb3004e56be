"""Beads at hand that were pressed, in a row, to be let go by another press."""

import streamlit as st

from explorer.app import cache
from explorer.app.parts.choices import Choice, choices
from palettes.swatches import Swatch
from palettes.tray import Tray, TrayBead

_BEAD_PX = 60  # chosen by us, because it is sharp at a thumb's width on screens of small pixels


def chosen_beads(
    tray: Tray, held_key: str, label: str, *, most: int, kind: Tray | None
) -> tuple[TrayBead, ...]:
    """The row; the beads that are in it and still at hand, in the order of the presses.

    Args:
        tray: all beads.
        held_key: where the keys of the chosen ones are held.
        label: what the row is.
        most: how many count, the last ones.
        kind: the beads among which a choice counts; None for all.
    """
    by_key = {bead.key: bead for bead in (kind or tray).beads}
    keys = st.session_state.get(held_key, ())
    held = tuple(by_key[key] for key in keys if key in by_key)[-most:]

    def let_go(id_: str) -> None:
        gone = held[int(id_)].key
        st.session_state[held_key] = tuple(bead.key for bead in held if bead.key != gone)

    if held:
        choices(
            f"{label}: press one to let it go",
            tuple(
                Choice(
                    id=str(place),
                    label=bead.name,
                    note="let go",
                    png=cache.bead_row(
                        (Swatch(name=bead.name, hex=bead.hex, finish=bead.finish),),
                        bead.kind,
                        _BEAD_PX,
                    ),
                )
                for place, bead in enumerate(held)
            ),
            chosen="",
            on_choice=let_go,
            key=f"{held_key}_row",
            size="chip",
        )
    return held
