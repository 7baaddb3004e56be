"""What a source of colours is asked for, as its boxes say it."""

import math
from dataclasses import dataclass

from explorer.app.state import Work
from explorer.contrast import looks_of
from explorer.counts import counts
from explorer.errors import BriefError
from palettes.beads import BeadKind
from palettes.choose_from import Request
from palettes.tray import Tray
from palettes.tray_cells import number

# Chosen by us, because one colour has no neighbour and more than a dozen fit no piece.
LEAST_SIZE, MOST_SIZE = 2, 12
# Whole types, since colours that serve them serve milder forms.
EYES = {
    "typical": "typical",
    "protan": "protan (red-weak)",
    "deutan": "deutan (green-weak)",
    "tritan": "tritan (blue-weak)",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The boxes.

    Attributes:
        from_beads: whether only beads at hand will do.
        kind: the name of their kind; empty for the dangles' own, or the most frequent.
        size: how many colours; 6 chosen by us, because most of our palettes have about as many.
        eyes: whose eyes count; the worst of them for each pair.
        enough: whether boxes with too few beads for the piece are left out.
        one_per_finish: no finish twice.
        range_l: how far the lightest and the darkest lie apart in lightness, 0-100.
        budget: what all beads of a palette may cost together, as typed.
        patient: whether to search for long.
    """

    from_beads: bool = True
    kind: str = ""
    size: int = 6
    eyes: tuple[str, ...] = tuple(EYES)
    enough: bool = True
    one_per_finish: bool = False
    range_l: int = 0
    budget: str = ""
    patient: bool = False


def kind_of(asked: Asked, work: Work, tray: Tray) -> BeadKind | None:
    """The kind to choose among: as asked, else the dangles' own, else the most frequent."""
    kinds = [bead.kind for bead in tray.beads]
    for name in (asked.kind, work.sizing.hanging):
        for kind in kinds:
            if kind.name == name:
                return kind
    return max(kinds, key=kinds.count) if kinds else None


def beads_each(work: Work, size: int) -> int:
    """Beads that each of so many colours takes in the piece's motifs, shared out evenly."""
    return math.ceil(counts(work.piece.design).dangle_beads / size)


def request(asked: Asked, work: Work, tray: Tray) -> Request:
    """What the boxes mean.

    Args:
        asked: the boxes.
        work: the piece that the colours are for.
        tray: the beads at hand.

    Raises:
        BriefError: the budget is no sum of money.
    """
    kind = kind_of(asked, work, tray)
    beads = asked.from_beads and kind is not None
    looks = looks_of(",".join(asked.eyes or ("typical",)))
    if not beads or kind is None:
        return Request(size=asked.size, looks=looks, patient=asked.patient)
    return Request(
        size=asked.size,
        looks=looks,
        tray=tray.of_kind(kind),
        patient=asked.patient,
        beads_each=beads_each(work, asked.size) if asked.enough else 1,
        one_per_finish=asked.one_per_finish,
        least_range=float(asked.range_l),
        most_cost=_budget(asked.budget),
    )


def _budget(text: str) -> float | None:
    if not text.strip():
        return None
    value = number(text, ".")
    if value is None or value < 0.0:
        raise BriefError("budget", text, "a sum of money from 0", "Type digits, such as 12.50.")
    return value
