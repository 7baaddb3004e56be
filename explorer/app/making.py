"""The needle's way in words, one stitch at a time, with the beads to look at."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from explorer.design import Column, Design, Part, Place
from explorer.errors import BriefError
from explorer.layout_tags import BeadTag, Spot, tag_of
from explorer.thread import thread_plan
from explorer.thread_path import Leg, Step, path
from explorer.thread_setup import ThreadSetup


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitch:
    """One thing to do.

    Attributes:
        stage: which part of the work it belongs to.
        what: what to pick up, in large type; empty where nothing is picked up.
        how: where the needle goes.
        tags: the beads in question, as tags of the picture.
        motif: the motif it belongs to; None elsewhere.
    """

    stage: str
    what: str
    how: str
    tags: tuple[str, ...]
    motif: int | None = None


_STAGES = {
    Step.LADDER: "The band, bead by bead",
    Step.STRAIGHTENING: "Straighten the band",
    Step.DANGLES: "The fringe",
    Step.DIVIDERS: "The fringe",
    Step.MARGINS: "The fringe",
    Step.END_CLOSURE: "The closure at the end",
    Step.START_CLOSURE: "The closure at the start",
    Step.WEAVING_IN: "Weave the thread in",
    Step.JOINS: "A new thread",
}


def stitches(design: Design, setup: ThreadSetup) -> tuple[Stitch, ...]:
    """Everything to do, in the order of the thread's path.

    The straightening is one step: the needle zigzags back through the whole band. Where a piece of
    thread ends, the new one is a step of its own.

    Args:
        design: the piece.
        setup: the maker's own thread and habits, which the path depends on.
    """
    columns = list(design.columns())
    found: list[Stitch] = []
    for step, group in groupby(_legs(design, setup), key=lambda leg: leg.step):
        legs = list(group)
        if step is Step.STRAIGHTENING:
            found.append(_straighten(columns, legs))
        elif step is Step.JOINS:
            found.append(_join(columns, legs))
        else:
            found.extend(_stitch(design, columns, leg, setup) for leg in legs)
    return tuple(_rounds_told(found, setup.rounds))


def _legs(design: Design, setup: ThreadSetup) -> tuple[Leg, ...]:
    """The path with its joins; without them where the pieces of thread are too short for any.

    The Counting page says then what is wrong with the thread.
    """
    try:
        return thread_plan(design, setup).legs
    except BriefError:
        return path(design, setup)


def _name(design: Design, bead: int) -> str:
    return design.beads[bead].name.strip() or design.beads[bead].hex


def _base_tag(columns: list[tuple[Place, Column]], number: int) -> tuple[str, ...]:
    return (tag_of(columns[number][0]),) if 0 <= number < len(columns) else ()


def _straighten(columns: list[tuple[Place, Column]], legs: list[Leg]) -> Stitch:
    """The zigzag, or as much of it as one piece of thread makes."""
    first, last = legs[0].column, legs[-1].column
    whole = (first, last) == (len(columns) - 2, 0)
    passed = "every base bead, from" if whole else "the base beads from"
    straight = " The band lies straight then." if last == 0 else ""
    return Stitch(
        stage=_STAGES[Step.STRAIGHTENING],
        what="",
        how=(
            f"Zigzag back through {passed} bead {first + 1} to bead {last + 1}: up through one, "
            f"down through the next.{straight}"
        ),
        # The zigzag sets out from the bead beside the first one passed.
        tags=tuple(tag_of(place) for place, _ in columns[last : first + 2]),
    )


def _join(columns: list[tuple[Place, Column]], legs: list[Leg]) -> Stitch:
    """The old end woven away, then the new thread toward where the old one stopped."""
    old, new = ([column for column, _ in leg.visits] for leg in legs)
    return Stitch(
        stage=_STAGES[Step.JOINS],
        what="A new piece of thread",
        how=(
            f"Weave the old end away through {_numbered(old)} and cut it close. Weave the new "
            f"thread in through {_numbered(new)}, leave its tail to be cut later, and go on."
        ),
        tags=tuple(
            tag for column in dict.fromkeys((*old, *new)) for tag in _base_tag(columns, column)
        ),
    )


def _rounds_told(found: list[Stitch], rounds: int) -> Iterator[Stitch]:
    """The stitches, those of a closure with the round they are."""
    stages = (_STAGES[Step.END_CLOSURE], _STAGES[Step.START_CLOSURE])
    turn = dict.fromkeys(stages, 0)
    for stitch in found:
        if rounds > 1 and stitch.stage in turn:
            turn[stitch.stage] += 1
            yield replace(stitch, what=f"{stitch.what}, round {turn[stitch.stage]} of {rounds}")
        else:
            yield stitch


def _numbered(columns: list[int]) -> str:
    beads = "base bead" if len(columns) == 1 else "base beads"
    return f"{beads} {', '.join(str(column + 1) for column in columns)}"


def _stitch(
    design: Design, columns: list[tuple[Place, Column]], leg: Leg, setup: ThreadSetup
) -> Stitch:
    number = leg.column
    if leg.step is Step.LADDER:
        return _ladder(design, columns, number)
    if leg.step in {Step.DANGLES, Step.DIVIDERS, Step.MARGINS}:
        return _hang(design, columns, number, setup)
    if leg.step in {Step.END_CLOSURE, Step.START_CLOSURE}:
        return _closure(design, columns, leg)
    return Stitch(
        stage=_STAGES[leg.step],
        what="",
        how=f"Weave the thread through {_numbered([c for c, _ in leg.visits])}, then cut it close.",
        tags=tuple(tag for column, _ in leg.visits for tag in _base_tag(columns, column)),
    )


def _ladder(design: Design, columns: list[tuple[Place, Column]], number: int) -> Stitch:
    name = _name(design, columns[number][1].base)
    if number == 0:
        how = "Leave the tail hanging; it sews the closure at the start later."
    else:
        how = (
            f"Through bead {number} from the other side, and once more through the new one, so "
            "that the two stand side by side. Draw the thread up."
        )
    return Stitch(
        stage=_STAGES[Step.LADDER],
        what=f"Base bead {number + 1}: 1 {name}",
        how=how,
        tags=_base_tag(columns, number),
    )


def _hang(
    design: Design, columns: list[tuple[Place, Column]], number: int, setup: ThreadSetup
) -> Stitch:
    place, column = columns[number]
    motif = place.index if place.part is Part.MOTIF else None
    onward = "Go on to the next base bead." if number + 1 < len(columns) else "The band ends here."
    if not column.beads:
        return Stitch(
            stage=_STAGES[Step.DANGLES],
            what=f"Base bead {number + 1}: nothing hangs here",
            how=f"Pass under the thread between the beads. {onward}",
            tags=_base_tag(columns, number),
            motif=motif,
        )
    kept = len(column.beads) - 1
    tip = _name(design, column.beads[-1])
    back = "the base bead" if not kept else f"the other {kept} and the base bead"
    if kept == 1:
        back = "the other one and the base bead"
    return Stitch(
        stage=_STAGES[Step.DANGLES],
        what=f"Base bead {number + 1}: {', '.join(_picked(design, column))}",
        how=(
            f"Down through the base bead, string them, skip the last one ({tip}) and go back up "
            f"through {back}. Leave {setup.slack_words}. {onward}"
        ),
        tags=(
            *_base_tag(columns, number),
            *(tag_of(place, bead) for bead in range(len(column.beads))),
        ),
        motif=motif,
    )


def _picked(design: Design, column: Column) -> Iterator[str]:
    """What to string, from the base down, runs of one bead counted."""
    for bead, run in groupby(column.beads):
        yield f"{len(list(run))} {_name(design, bead)}"


def _closure(design: Design, columns: list[tuple[Place, Column]], leg: Leg) -> Stitch:
    at_end = leg.step is Step.END_CLOSURE
    side, links = (1, design.end_links) if at_end else (0, design.start_links)
    names = ", ".join(f"1 {_name(design, bead)}" for bead in links)
    thread = "the working thread" if at_end else "the tail from the start"
    through = f"out through the link beads ({names}), " if links else ""
    return Stitch(
        stage=_STAGES[leg.step],
        what=design.closure.kind.capitalize(),
        how=(
            f"With {thread}: {through}round the ring, back, and twice through base bead "
            f"{leg.column + 1}."
        ),
        tags=(
            *_base_tag(columns, leg.column),
            *(
                str(BeadTag(spot=Spot.LINK, index=side, column=number))
                for number in range(len(links))
            ),
        ),
    )
