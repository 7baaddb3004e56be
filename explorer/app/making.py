"""The needle's way in words, one stitch at a time, with the beads to look at."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from explorer.design import Column, Design, Place
from explorer.errors import BriefError
from explorer.layout_tags import BeadTag, Spot, parse_tag, tag_of
from explorer.needle_words import (
    BARE,
    cut_words,
    first_words,
    join_words,
    joined,
    ladder_words,
    numbered,
    start_words,
    straighten_words,
    turn_words,
)
from explorer.thread import ThreadPlan, thread_plan
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
        motif: the motif to look at from near; None where no bead is in question.
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
    plan = _plan(design, setup)
    found: list[Stitch] = []
    for step, group in groupby(
        plan.legs if plan else path(design, setup), key=lambda leg: leg.step
    ):
        legs = list(group)
        if step is Step.STRAIGHTENING:
            found.append(_straighten(columns, legs))
        elif plan is not None and step is Step.JOINS:
            piece = 2 + sum(stitch.stage == _STAGES[Step.JOINS] for stitch in found)
            found.append(_join(design, columns, plan, piece, legs))
        else:
            found.extend(_stitch(design, columns, leg, setup) for leg in legs)
    return tuple(
        replace(stitch, motif=_motif_near(design, stitch.tags))
        for stitch in _rounds_told(_begun(found, design, plan), setup.rounds)
    )


def _motif_near(design: Design, tags: tuple[str, ...]) -> int | None:
    """The motif that the first bead belongs to or stands beside."""
    if not tags:
        return None
    tag = parse_tag(tags[0])
    last = len(design.motifs) - 1
    return last * tag.index if tag.spot in {Spot.MARGIN, Spot.LINK} else min(tag.index, last)


def _plan(design: Design, setup: ThreadSetup) -> ThreadPlan | None:
    """The thread with its joins; none where the pieces of thread are too short for any.

    The Counting page says then what is wrong with the thread.
    """
    try:
        return thread_plan(design, setup)
    except BriefError:
        return None


def _begun(found: list[Stitch], design: Design, plan: ThreadPlan | None) -> list[Stitch]:
    """The stitches, the first one told with its thread, the fringe begun with a step of its own."""
    told = list(found)
    if plan is not None:
        told[0] = replace(told[0], how=first_words(plan, design))
    stages = [stitch.stage for stitch in told]
    fringe = _STAGES[Step.DANGLES]
    if fringe in stages:
        place, _ = next(design.columns())
        hook = Stitch(
            stage=fringe,
            what="Base bead 1: hook the thread",
            how=start_words(design),
            tags=(tag_of(place),),
        )
        told.insert(stages.index(fringe), hook)
    return told


def _name(design: Design, bead: int) -> str:
    return design.beads[bead].name.strip() or design.beads[bead].hex


def _base_tag(columns: list[tuple[Place, Column]], number: int) -> tuple[str, ...]:
    return (tag_of(columns[number][0]),) if 0 <= number < len(columns) else ()


def _straighten(columns: list[tuple[Place, Column]], legs: list[Leg]) -> Stitch:
    """The zigzag, or as much of it as one piece of thread makes."""
    first, last = legs[0].column, legs[-1].column
    return Stitch(
        stage=_STAGES[Step.STRAIGHTENING],
        what="",
        how=straighten_words(first, last),
        # The zigzag sets out from the bead beside the first one passed.
        tags=tuple(tag_of(place) for place, _ in columns[last : first + 2]),
    )


def _join(
    design: Design,
    columns: list[tuple[Place, Column]],
    plan: ThreadPlan,
    piece: int,
    legs: list[Leg],
) -> Stitch:
    """The old end woven away, then the new thread toward where the old one stopped."""
    (join,) = joined(legs)
    cut = cut_words(plan, piece)
    return Stitch(
        stage=_STAGES[Step.JOINS],
        what=f"{cut[0].upper()}{cut[1:]}",
        how=join_words(plan, design, piece, join),
        tags=tuple(
            tag
            for column in dict.fromkeys(column for leg in join for column, _ in leg.visits)
            for tag in _base_tag(columns, column)
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
        how=f"Weave the thread through {numbered(leg)}, then cut it close.",
        tags=tuple(tag for column, _ in leg.visits for tag in _base_tag(columns, column)),
    )


def _ladder(design: Design, columns: list[tuple[Place, Column]], number: int) -> Stitch:
    name = _name(design, columns[number][1].base)
    if number == 0:
        # With a plan, the words that tell its lengths take the place of these.
        how = "Leave a long tail hanging; it sews the closure at the start later."
    else:
        how = f"{ladder_words(number)} Draw the thread up."
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
    onward = "Go on to the next base bead." if number + 1 < len(columns) else "The band ends here."
    if not column.beads:
        return Stitch(
            stage=_STAGES[Step.DANGLES],
            what=f"Base bead {number + 1}: nothing hangs here",
            how=f"{BARE} {onward}",
            tags=_base_tag(columns, number),
        )
    tip = column.beads[-1]
    turn = turn_words(design.beads[tip].kind.form, len(column.beads) - 1, _name(design, tip))
    return Stitch(
        stage=_STAGES[Step.DANGLES],
        what=f"Base bead {number + 1}: {', '.join(_picked(design, column))}",
        how=(
            f"Down through the base bead and string them from the base down. {turn} "
            f"Leave {setup.slack_words}. {onward}"
        ),
        tags=(
            *_base_tag(columns, number),
            *(tag_of(place, bead) for bead in range(len(column.beads))),
        ),
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
        what=design.closure.name.capitalize(),
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
