"""Finds beads in a tray: by words, kind, finish, and nearness to a colour."""

from collections.abc import Sequence

import numpy as np

from palettes.beads import BeadKind
from palettes.difference import delta_e_2000
from palettes.finishes import Finish
from palettes.spaces import FloatArray, hex_to_srgb1, hexes_to_srgb1, srgb1_to_lab
from palettes.tray import Tray


def find(
    tray: Tray,
    *,
    words: str = "",
    kind: BeadKind | None = None,
    finishes: Sequence[Finish] = (),
    least_stock: int = 0,
) -> tuple[int, ...]:
    """Places of the beads that all of it holds for, in the tray's order.

    Args:
        tray: the beads.
        words: each of them stands somewhere in name, kind, finish, lot or where it is kept.
        kind: shape and size, if one is wanted.
        finishes: one of these; any, where there is none.
        least_stock: so many beads at least; an amount that is not known counts as enough.
    """
    wanted = words.casefold().split()
    found = []
    for place, bead in enumerate(tray.beads):
        if (kind is not None and bead.kind != kind) or (finishes and bead.finish not in finishes):
            continue
        if bead.stock is not None and bead.stock < least_stock:
            continue
        text = f"{bead.name} {bead.kind.name} {bead.finish} {bead.lot} {bead.kept} {bead.hex}"
        if all(word in text.casefold() for word in wanted):
            found.append(place)
    return tuple(found)


def nearest(tray: Tray, hex_colour: str, count: int) -> tuple[tuple[int, float], ...]:
    """The beads that look most like a colour, with their CIEDE2000 from it, nearest first."""
    wanted = srgb1_to_lab(hex_to_srgb1(hex_colour))
    apart = delta_e_2000(tray_lab(tray), wanted)
    order = np.argsort(apart, kind="stable")[:count]
    return tuple((int(place), float(apart[place])) for place in order)


def tray_srgb1(tray: Tray) -> FloatArray:
    """The beads' colours, (n, 3)."""
    return hexes_to_srgb1([bead.hex for bead in tray.beads])


def tray_lab(tray: Tray) -> FloatArray:
    """The beads' colours in CIE L*a*b*, (n, 3)."""
    return srgb1_to_lab(tray_srgb1(tray))
