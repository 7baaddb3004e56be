"""The beads at hand for a class: a tray's boxes added up by what is the same bead."""

from dataclasses import dataclass

from palettes.beads import Bead
from palettes.tray import Tray


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A bead at hand and how many there are; None where nobody counted or weighed it."""

    bead: Bead
    count: int | None


def held_in(tray: Tray) -> tuple[Held, ...]:
    """Every bead of a tray once: lots of the same bead together, in the tray's order.

    A lot whose amount is not known leaves the sum unknown.
    """
    found: dict[Bead, int | None] = {}
    for box in tray.beads:
        before, more = found.get(box.bead, 0), box.stock
        found[box.bead] = None if before is None or more is None else before + more
    return tuple(Held(bead=bead, count=count) for bead, count in found.items())
