"""What the picture of the piece reports, checked, and what it does to the design.

They come in a numbered queue: see ``explorer.app.queued``.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from explorer.app.areas import area_numbers
from explorer.app.queued import news, whole
from explorer.bead_numbers import tidied, with_bead
from explorer.design import Column, Design
from explorer.outlines import with_length
from explorer.tips import body_bead
from palettes.beads import Bead
from palettes.swatches import Swatch

# Chosen by us: a dangle of more beads is longer than an ankle is wide.
MOST_LENGTH = 40


class Act(StrEnum):
    """What an event asks for."""

    PAINT = "paint"
    LENGTH = "length"


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing done on the picture.

    Attributes:
        number: counted up by the picture from 1.
        act: what to do.
        numbers: motif, dangle and bead, as many as were meant.
        value: for ``PAINT`` the place of the colour in the tray, for ``LENGTH`` the new length.
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
        return Event(
            number=number,
            act=Act(str(item.get("act"))),
            numbers=area_numbers(str(item.get("id"))),
            value=value,
        )
    except ValueError:
        return None


def applied(
    design: Design, events: Iterable[Event], swatches: tuple[Swatch, ...], *, everywhere: bool
) -> tuple[Design, ...]:
    """The design after each event that changed it, in order.

    Args:
        design: the piece.
        events: what was done.
        swatches: the colours that ``PAINT`` counts in.
        everywhere: whether a new length holds for that dangle in every motif.
    """
    steps = []
    for event in events:
        after = _after(design, event, swatches, everywhere=everywhere)
        if after != design:
            steps.append(after)
            design = after
    return tuple(steps)


def _after(
    design: Design, event: Event, swatches: tuple[Swatch, ...], *, everywhere: bool
) -> Design:
    if not _is_there(design, event.numbers):
        return design
    if event.act is Act.PAINT:
        if not 0 <= event.value < len(swatches):
            return design
        return painted(design, event.numbers, swatches[event.value])
    if len(event.numbers) != 2 or not 1 <= event.value <= MOST_LENGTH:
        return design
    return lengthened(
        design, event.numbers[0], event.numbers[1], event.value, everywhere=everywhere
    )


def _is_there(design: Design, numbers: tuple[int, ...]) -> bool:
    motif, *rest = numbers
    if motif >= len(design.motifs):
        return False
    columns = design.motifs[motif]
    if rest and rest[0] >= len(columns):
        return False
    return len(rest) < 2 or rest[1] < len(columns[rest[0]].beads)


def painted(design: Design, numbers: tuple[int, ...], swatch: Swatch) -> Design:
    """The design with a motif, a dangle or a bead in another colour.

    Args:
        design: the piece.
        numbers: motif, and dangle, and bead if so much is meant.
        swatch: the colour; the kind of bead stays.
    """
    motif, *rest = numbers
    columns = list(design.motifs[motif])
    places = range(len(columns)) if not rest else (rest[0],)
    for place in places:
        beads = list(columns[place].beads)
        for at in range(len(beads)) if len(rest) < 2 else (rest[1],):
            old = design.beads[beads[at]]
            wanted = Bead(name=swatch.name, kind=old.kind, hex=swatch.hex, finish=swatch.finish)
            design, beads[at] = with_bead(design, wanted)
        columns[place] = replace(columns[place], beads=tuple(beads))
    motifs = (*design.motifs[:motif], tuple(columns), *design.motifs[motif + 1 :])
    return tidied(replace(design, motifs=motifs))


def lengthened(design: Design, motif: int, dangle: int, length: int, *, everywhere: bool) -> Design:
    """The design with a dangle of another length; added beads repeat the bead next to the tip.

    Args:
        design: the piece.
        motif: which motif.
        dangle: which of its dangles.
        length: its new number of beads, 1 or more.
        everywhere: the same dangle of every motif as wide too.
    """
    width = len(design.motifs[motif])
    motifs = tuple(
        _with_dangle(columns, dangle, length)
        if number == motif or (everywhere and len(columns) == width)
        else columns
        for number, columns in enumerate(design.motifs)
    )
    return tidied(replace(design, motifs=motifs))


def _with_dangle(columns: tuple[Column, ...], dangle: int, length: int) -> tuple[Column, ...]:
    changed = with_length(columns[dangle], length, body_bead(columns))
    return (*columns[:dangle], changed, *columns[dangle + 1 :])
