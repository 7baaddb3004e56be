"""Packs and prices as the maker's shop has them, and what they come to."""

from collections.abc import Sequence

from explorer.app.counting_words import cost_words
from explorer.app.parts.figure_box import figure_box
from explorer.app.parts.notes import note
from explorer.buying import Purchase
from explorer.buying_packs import USUAL_PACKS

_USUAL = "; ".join(f"{pack.weight_g:g} g" for pack in USUAL_PACKS)


def buying_list(lines: Sequence[Purchase]) -> None:
    """A box of packs for every kind in the piece, then the cost."""
    for kind in dict.fromkeys(line.bead.kind for line in lines):
        per_gram = f"{kind.beads_per_gram:g} a gram"
        figure_box(
            f"packs:{kind.name}",
            f"Packs of {kind.name} (about {per_gram}), with prices",
            "Grams and, if known, the price: 5 g 1.20; 50 g 8. The usual packs are from memory.",
            hint=_USUAL,
        )
    figure_box(
        "per_gram",
        "Beads per gram vary by, in percent",
        "A tenth either way until you weigh your own (common practice, no source). Packs cover the "
        "heavier end.",
    )
    note(cost_words(lines))
    note(
        "Buy one lot at once: the same bead differs from lot to lot (common practice, no source).",
        kind="small",
    )
