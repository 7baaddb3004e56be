"""A small bead picked by kind and colour, for turning beads, dividers and links."""

from collections.abc import Callable

import streamlit as st

from explorer.app.parts.decimal_box import shown
from explorer.app.state import Tray
from palettes.beads import Bead, BeadKind
from palettes.charts import bead_kinds
from palettes.swatches import Swatch


def pick_one(
    label: str, options: dict[str, str], chosen: str, key: str, on_pick: Callable[[str], None]
) -> None:
    """A list to pick one from.

    Args:
        label: what is picked.
        options: words by what they stand for.
        chosen: what is picked now.
        key: the list's own key.
        on_pick: what to do with another pick.
    """

    def picked() -> None:
        on_pick(str(st.session_state[key]))

    st.session_state[key] = chosen if chosen in options else next(iter(options))
    st.selectbox(
        label, list(options), format_func=lambda name: options[name], key=key, on_change=picked
    )


def kind_options(first: dict[str, str] | None = None) -> dict[str, str]:
    """Every kind of bead in words by its name, after what else can be picked."""
    return {**(first or {}), **{name: shown(name) for name in bead_kinds()}}


def colours(tray: Tray) -> dict[str, Swatch]:
    """The colours at hand, the base's first, by what tells them apart."""
    return {
        f"{swatch.hex} {swatch.finish.value} {swatch.name}": swatch
        for swatch in (tray.base, *tray.swatches)
    }


def colour_options(tray: Tray, first: dict[str, str] | None = None) -> dict[str, str]:
    """The colours at hand in words, after what else can be picked."""
    return {**(first or {}), **{key: swatch.name for key, swatch in colours(tray).items()}}


def colour_key(bead: Bead) -> str:
    """What tells a bead's colour from another."""
    return f"{bead.hex} {bead.finish.value} {bead.name}"


def bead_in(swatch: Swatch, kind: BeadKind) -> Bead:
    """A bead of that kind in that colour."""
    return Bead(name=swatch.name, kind=kind, hex=swatch.hex, finish=swatch.finish)
