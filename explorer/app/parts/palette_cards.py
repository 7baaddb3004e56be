"""A palette as a row of drawn beads with its name."""

from explorer.app import cache
from explorer.app.parts.choices import Choice
from palettes.beads import BeadKind
from palettes.swatches import Palette

# Chosen by us: eight such beads side by side fill a card on a phone, sharply.
_ROW_PX = 56


def palette_card(palette: Palette, kind: BeadKind, *, told: bool = True) -> Choice:
    """The card to pick it by.

    Args:
        palette: the palette.
        kind: the bead that its colours are drawn as.
        told: whether its season and a line about it stand below its name.
    """
    words = f"{palette.season.capitalize()}. {palette.note}" if told else ""
    return Choice(
        id=palette.name,
        label=palette.title,
        note=words,
        png=cache.bead_row(palette.swatches, kind, _ROW_PX),
    )
