"""What the picture of the piece reports, checked, and what it does to the piece.

They come in a numbered queue: see ``explorer.app.queued``.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from explorer import changes
from explorer.app.areas import area_numbers
from explorer.app.queued import news, whole
from explorer.changes import Changed
from explorer.pattern import Pattern
from explorer.weave import Loom
from palettes.swatches import Swatch

# Chosen by us: a dangle of more beads is longer than an ankle is wide.
MOST_LENGTH = 40


class Act(StrEnum):
    """What an event asks for."""

    PAINT = "paint"
    LENGTH = "length"
    BASE = "base"
    PICK = "pick"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing done on the picture.

    Attributes:
        number: counted up by the picture from 1.
        act: what to do.
        numbers: motif, dangle and bead, as many as were meant; for ``BASE`` the base bead.
        value: for ``PAINT`` and ``BASE`` the place of the colour in the tray, for ``LENGTH`` the
            new length.
    """

    number: int
    act: Act
    numbers: tuple[int, ...]
    value: int


def read_events(sent: object, *, epoch: str, done: int) -> tuple[Event, ...]:
    """The events that are new, in their order.

    Args:
        sent: what the browser sent: a list of objects with ``n, epoch, act, id, value``.
        epoch: this session's mark; what carries another belongs to an earlier life of the page.
        done: the highest number that was already done.
    """
    return tuple(event for _, event in news(sent, _event, epoch=epoch, done=done))


def _event(item: Mapping[str, Any]) -> Event | None:
    number, value = whole(item.get("n")), whole(item.get("value"))
    if number is None or value is None:
        return None
    try:
        act, id_ = Act(str(item.get("act"))), str(item.get("id"))
        if id_.startswith("s") != (act is Act.BASE):
            return None
        return Event(number=number, act=act, numbers=area_numbers(id_), value=value)
    except ValueError:
        return None


def applied(
    pattern: Pattern, event: Event, swatches: tuple[Swatch, ...], *, everywhere: bool
) -> Changed | None:
    """The pattern after an event; None where the event means nothing that is there.

    Args:
        pattern: the piece.
        event: what was done.
        swatches: the colours that ``PAINT`` counts in.
        everywhere: whether a new length holds for that dangle in every motif.

    Raises:
        BriefError: the motif is locked.
    """
    numbers = event.numbers
    if event.act is Act.BASE:
        if numbers[0] >= pattern.base_beads or not 0 <= event.value < len(swatches):
            return None
        return changes.paint_strip_bead(pattern, numbers[0], swatches[event.value])
    if event.act is Act.PICK:
        return None
    if not _is_there(pattern, numbers):
        return None
    if event.act is Act.PAINT:
        if not 0 <= event.value < len(swatches):
            return None
        return painted(pattern, numbers, swatches[event.value])
    if len(numbers) != 2 or not 1 <= event.value <= MOST_LENGTH:
        return None
    return changes.lengthen(pattern, *numbers, event.value, everywhere=everywhere)


def _is_there(pattern: Pattern, numbers: tuple[int, ...]) -> bool:
    motif, *rest = numbers
    if motif >= pattern.run.motifs or (rest and rest[0] >= pattern.width(motif)):
        return False
    dangles = Loom(pattern).dangles(motif, pattern.by_hand(motif))
    return len(rest) < 2 or rest[1] < len(dangles[rest[0]])


def painted(pattern: Pattern, numbers: tuple[int, ...], swatch: Swatch) -> Changed:
    """The pattern with a motif, a dangle or a bead in another colour.

    Args:
        pattern: the piece.
        numbers: motif, and dangle, and bead if so much is meant.
        swatch: the colour; the kind of bead stays.
    """
    match numbers:
        case (motif,):
            return changes.paint_motif(pattern, motif, swatch)
        case (motif, dangle):
            return changes.paint_dangle(pattern, motif, dangle, swatch)
        case (motif, dangle, bead, *_):
            return changes.paint_bead(pattern, motif, dangle, bead, swatch)
        case _:
            raise ValueError("nothing to paint was named")
