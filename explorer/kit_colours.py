"""Who gets which colours in a class, and in which order: as picked, else chosen to stand apart."""

from collections.abc import Sequence

import numpy as np

from explorer.errors import BriefError
from explorer.kit_roster import Learner
from explorer.order_choice import Differences, Found, choose_order, differences
from explorer.sequence_types import QUICK_STEPS, OrderBrief
from palettes.beads import Bead, BeadKind
from palettes.spaces import hexes_to_srgb1, srgb1_to_lab


class Colours:
    """The colours of a class, with every order found once.

    Args:
        beads: what can be picked from.
        kind: the kind of the dangles' beads.
        each: how many colours are chosen for whoever picked none.
    """

    def __init__(self, beads: Sequence[Bead], kind: BeadKind, each: int) -> None:
        self._beads = tuple(bead for bead in beads if bead.kind == kind)
        self._kind = kind
        self._each = each
        self._orders: dict[tuple[tuple[Bead, ...], int], tuple[int, ...]] = {}
        self._ranks = _differences(self._beads).ranks if self._beads else np.zeros((0, 0))

    def of(self, learner: Learner, place: int) -> tuple[Bead, ...]:
        """A learner's beads.

        Args:
            learner: who.
            place: their place in the roster, from 0, which decides where choosing begins, so that
                the class does not all make the same piece.

        Raises:
            BriefError: they picked a bead that is not there, or there is nothing to choose from.
        """
        own = tuple(self._own(colour) for colour in learner.colours)
        if len(learner.picks) == 1 and learner.picks[0].isdecimal():
            chosen = self._chosen(int(learner.picks[0]), place, learner)
            return tuple(dict.fromkeys((*own, *chosen)))
        picked = tuple(self._named(name, learner) for name in learner.picks)
        found = tuple(dict.fromkeys((*own, *picked)))
        return found or self._chosen(self._each, place, learner)

    def _own(self, colour: str) -> Bead:
        for bead in self._beads:
            if bead.hex == colour:
                return bead
        return Bead(name=colour, kind=self._kind, hex=colour)

    def _named(self, name: str, learner: Learner) -> Bead:
        wanted = name.casefold()
        for bead in self._beads:
            if wanted in (bead.name.casefold(), bead.hex):
                return bead
        names = ", ".join(bead.name for bead in self._beads[:20]) or "none"
        raise BriefError(
            "picks",
            f"{name} ({learner.name})",
            f"{self._kind.name} beads that are there: {names}",
            "Mend the roster, or add the bead to the tray.",
        )

    def _chosen(self, count: int, place: int, learner: Learner) -> tuple[Bead, ...]:
        """So many colours, each as far from those before as can be."""
        if not 1 <= count <= len(self._beads):
            raise BriefError(
                "picks",
                f"{count} ({learner.name})",
                f"1 to {len(self._beads)} colours, as many {self._kind.name} beads as are there",
                "Pick fewer, or name a palette.",
            )
        chosen = [place % len(self._beads)]
        while len(chosen) < count:
            nearest = self._ranks[:, chosen].min(axis=1)
            nearest[chosen] = -1.0
            chosen.append(int(nearest.argmax()))
        return tuple(self._beads[at] for at in chosen)

    def order(self, beads: tuple[Bead, ...], motifs: int) -> tuple[int, ...]:
        """The colour of each motif, as a place in ``beads``; neighbours stand well apart."""
        key = (beads, motifs)
        if key not in self._orders:
            self._orders[key] = self._found(beads, motifs)
        return self._orders[key]

    def _found(self, beads: tuple[Bead, ...], motifs: int) -> tuple[int, ...]:
        apart = _differences(beads)
        for ring in (True, False):
            asked = OrderBrief(motifs=motifs, ring=ring, steps=QUICK_STEPS)
            found = choose_order(apart, asked)
            if isinstance(found, Found):
                return found.order.order
        return tuple(place % len(beads) for place in range(motifs))


def _differences(beads: Sequence[Bead]) -> Differences:
    return differences(srgb1_to_lab(hexes_to_srgb1([bead.hex for bead in beads])))
