"""All that a making sheet is worked out from, once for the whole sheet."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from explorer.cautions import Caution, Wear, cautions
from explorer.counts import Counts, Spares, counts
from explorer.design import Design
from explorer.needle_words import joined
from explorer.piece import Piece
from explorer.sheet_letters import letters
from explorer.thread import GUESSED_PACE_S, ThreadPlan, thread_plan, weaving_time_s
from explorer.thread_path import Leg, Step
from explorer.thread_setup import ThreadSetup


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOptions:
    """What the maker decides about a sheet.

    Attributes:
        dated: the date as it shall be printed; empty for none, since the core has no clock.
        wear: what the piece is worn as.
        spares: the rule for spare beads.
        setup: thread and needle.
        pace_s: seconds a bead.
        large: large type.
        link: a link that rebuilds the piece, printed as a code to scan; empty for none.
        of_whom: whom the sheet is for; empty for nobody.
    """

    dated: str = ""
    wear: Wear = Wear.BRACELET
    spares: Spares = field(default_factory=Spares)
    setup: ThreadSetup = field(default_factory=ThreadSetup)
    pace_s: float = GUESSED_PACE_S
    large: bool = False
    link: str = ""
    of_whom: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFacts:
    """A piece and what follows from it.

    Attributes:
        piece: the piece.
        options: the maker's choices.
        counts: its beads.
        plan: its thread.
        letters: the letter of every bead number in use.
        cautions: what to know before weaving.
        minutes: how long it takes to weave.
    """

    piece: Piece
    options: SheetOptions
    counts: Counts
    plan: ThreadPlan
    letters: Mapping[int, str]
    cautions: tuple[Caution, ...]
    minutes: float

    @property
    def design(self) -> Design:
        """The piece's design."""
        return self.piece.design


def sheet_facts(piece: Piece, options: SheetOptions) -> SheetFacts:
    """What a sheet says of a piece, worked out.

    Raises:
        BriefError: the thread's working length does not reach for the longest stitch.
    """
    tally = counts(piece.design, options.spares)
    return SheetFacts(
        piece=piece,
        options=options,
        counts=tally,
        plan=thread_plan(piece.design, options.setup),
        letters=letters(piece.design),
        cautions=cautions(piece.design, options.wear, piece.wearer),
        minutes=weaving_time_s(tally.total, options.pace_s) / 60.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Where a new piece of thread begins: before which step at which base bead, from 0.

    Attributes:
        piece: which piece of thread begins, counted from 1.
        step: the step that it goes on with.
        column: the base bead that it goes on with.
        legs: the old end's stitch and the new one's.
    """

    piece: int
    step: Step
    column: int
    legs: tuple[Leg, Leg]


def joins(plan: ThreadPlan) -> tuple[Join, ...]:
    """Every join of a plan, in the order of work; the first piece of thread needs none."""
    sewn = joined(plan.legs)
    found: list[Join] = []
    pending = False
    for leg in plan.legs:
        if leg.step is Step.JOINS:
            pending = True
        elif pending:
            at = len(found)
            found.append(Join(piece=at + 2, step=leg.step, column=leg.column, legs=sewn[at]))
            pending = False
    return tuple(found)
