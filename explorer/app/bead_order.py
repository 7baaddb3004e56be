"""The beads at hand in an order to look through, filtered, a page at a time."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from palettes.beads import BeadKind
from palettes.difference import delta_e_2000
from palettes.finishes import Finish
from palettes.spaces import FloatArray, hex_to_srgb1, lab_to_lch, srgb1_to_lab
from palettes.tray import NO_LIMIT, Tray
from palettes.tray_find import find, tray_lab

# Below this chroma a colour counts as grey and comes after the hues; chosen by us by eye.
_GREY = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Looking:
    """What is looked for.

    Attributes:
        words: each of them stands in what is written about a bead.
        kind: the name of a kind; empty for all.
        finish: a finish; empty for all.
        order: a key of ``ORDERS``.
        near: the colour that the order ``near`` starts from.
        page: from 0.
    """

    words: str = ""
    kind: str = ""
    finish: str = ""
    order: str = "hue"
    near: str = "#1f8a83"
    page: int = 0


def _by_hue(tray: Tray, places: Sequence[int], _: str) -> FloatArray:
    lch = lab_to_lch(tray_lab(tray)[list(places)])
    # In steps of 20 degrees, light to dark within each, greys last.
    steps = np.where(lch[:, 1] < _GREY, 400.0, np.round(lch[:, 2] / 20.0) * 20.0)
    return np.asarray(steps * 1000.0 - lch[:, 0])


def _by_lightness(tray: Tray, places: Sequence[int], _: str) -> FloatArray:
    return np.asarray(-tray_lab(tray)[list(places), 0])


def _by_stock(tray: Tray, places: Sequence[int], _: str) -> FloatArray:
    stocks = (tray.beads[place].stock for place in places)
    return np.array([NO_LIMIT if stock is None else stock for stock in stocks], dtype=np.float64)


def _by_nearness(tray: Tray, places: Sequence[int], near: str) -> FloatArray:
    wanted = srgb1_to_lab(hex_to_srgb1(near))
    return delta_e_2000(tray_lab(tray)[list(places)], wanted)


def _as_written(_: Tray, places: Sequence[int], __: str) -> FloatArray:
    return np.arange(len(places), dtype=np.float64)


ORDERS: dict[str, tuple[str, Callable[[Tray, Sequence[int], str], FloatArray]]] = {
    "hue": ("By hue", _by_hue),
    "light": ("Light to dark", _by_lightness),
    "few": ("Fewest first", _by_stock),
    "near": ("Nearest to a colour", _by_nearness),
    "written": ("As written down", _as_written),
}


def ordered(tray: Tray, looking: Looking, kinds: dict[str, BeadKind]) -> tuple[int, ...]:
    """Places of the beads that are looked for, in their order.

    Args:
        tray: the beads.
        looking: what is looked for; a kind, finish or order that there is none of does not count.
        kinds: kinds by name.
    """
    finishes = {finish.value: finish for finish in Finish}
    places = find(
        tray,
        words=looking.words,
        kind=kinds.get(looking.kind),
        finishes=(finishes[looking.finish],) if looking.finish in finishes else (),
    )
    if not places:
        return ()
    value = ORDERS.get(looking.order, ORDERS["written"])[1](tray, places, looking.near)
    return tuple(places[at] for at in np.argsort(value, kind="stable"))
