"""The order of work: base row, dangles motif by motif, closing and finishing."""

from collections.abc import Iterator
from itertools import groupby

from explorer.design import Column, Part, Place
from explorer.lengths import both, millimetres
from explorer.needle_words import (
    BARE,
    first_words,
    join_words,
    ladder_words,
    start_words,
    straighten_words,
    turns_words,
)
from explorer.sheet_diagrams import figures
from explorer.sheet_facts import Join, SheetFacts, joins
from explorer.sheet_letters import chip
from explorer.sheet_shapes import motif_figures, tens
from explorer.thread_path import Step
from gallery.page import Block, Boxes, Cell, Figures, Head, Heading, Steps, Table, Text

Members = list[tuple[Place, Column]]

_ALONG = (Step.DANGLES, Step.DIVIDERS, Step.MARGINS)


def base_row_blocks(facts: SheetFacts, number: str = "5") -> list[Block]:
    """The ladder, its beads counted out in tens, and the drawings of the thread's path."""
    design = facts.design
    pitch = design.base_pitch_mm
    ten = f"Ten beads measure {millimetres(10.0 * pitch)}: measure after the first ten."
    last = design.base_beads - 1
    steps = [
        "Count the needles out.",
        first_words(facts.plan, design),
        f"String base bead 2. {ladder_words(1)} The next one goes the other way about."
        if last
        else "",
        *_join_texts(facts, (Step.LADDER,), "in the ladder, before base bead {}"),
        f"Go on until {design.base_beads} base beads lie side by side. {ten}" if last else "",
        f"Measure the row: {both(design.strip_mm)}.",
        straighten_words(last - 1, 0) if last else "",
        *_join_texts(facts, (Step.STRAIGHTENING,), "while straightening, at base bead {}"),
    ]
    return [
        Heading(number=number, text="The row of base beads"),
        Text(
            text="Tick a square for every base bead. Over grey squares hangs no motif.",
            quiet=True,
            leads=True,
        ),
        Figures(figures=tens(design, facts.letters)),
        Steps(texts=tuple(filter(None, steps))),
        Text(
            text="The thread's path. Left-handed makers work in the mirror: what begins at the "
            "left here begins at the right, and every number stays the same.",
            quiet=True,
            leads=True,
        ),
        Figures(figures=figures()),
    ]


def _join_texts(facts: SheetFacts, steps: tuple[Step, ...], where: str) -> list[str]:
    found = [join for join in joins(facts.plan) if join.step in steps]
    return [
        f"Thread piece {join.piece} begins {where.format(join.column + 1)}. "
        f"{_join_words(join, facts)}"
        for join in found
    ]


def _join_words(join: Join, facts: SheetFacts) -> str:
    return join_words(facts.plan, facts.design, join.piece, join.legs)


def dangle_blocks(facts: SheetFacts, number: str = "6") -> list[Block]:
    """Motif by motif in the order of work, a box to tick for each."""
    design = facts.design
    shapes = motif_figures(design, facts.letters)
    blocks: list[Block] = [
        Heading(number=number, text="The dangles, motif by motif"),
        Text(
            text=f"{start_words(design)} For every dangle: down through its base bead and string "
            f"its beads from the base down. {turns_words(design)} "
            f"Leave {facts.options.setup.slack_words}. {BARE}"
        ),
    ]
    if shapes:
        blocks.append(Figures(figures=shapes))
    blocks.append(
        Table(
            heads=(
                Head(text="", share=0.5),
                Head(text="", share=1.7),
                Head(text="", share=1.3),
                Head(text="base beads", share=1.5),
                Head(text="beads of each dangle, in order", share=6.2),
                Head(text="beads", share=0.9, right=True),
            ),
            rows=tuple(_rows(facts)),
        )
    )
    return blocks


def _rows(facts: SheetFacts) -> Iterator[tuple[Cell, ...]]:
    """A row for every margin, divider and motif, parted where a new piece of thread begins."""
    begin = {join.column: join for join in joins(facts.plan) if join.step in _ALONG}
    met: set[tuple[Part, int]] = set()
    for start, members in _runs_of(facts, frozenset(begin)):
        if start in begin:
            yield _join_row(begin[start], facts)
        place = members[0][0]
        again = (place.part, place.index) in met
        met.add((place.part, place.index))
        yield _row(facts, start, members, again=again)


def _runs_of(facts: SheetFacts, cuts: frozenset[int]) -> Iterator[tuple[int, Members]]:
    """Columns of one part, with their number on the strip; a cut begins a new run."""
    run: Members = []
    for number, (place, column) in enumerate(facts.design.columns()):
        same = run and (run[0][0].part, run[0][0].index) == (place.part, place.index)
        if run and (not same or number in cuts):
            yield number - len(run), run
            run = []
        run.append((place, column))
    yield facts.design.base_beads - len(run), run


def _row(facts: SheetFacts, start: int, members: Members, *, again: bool) -> tuple[Cell, ...]:
    design, place = facts.design, members[0][0]
    columns = [column for _, column in members]
    hanging = list(dict.fromkeys(bead for column in columns for bead in column.beads))
    name = {
        Part.MOTIF: f"motif {place.index + 1}",
        Part.DIVIDER: "divider",
        Part.MARGIN: "plain",
    }[place.part]
    last = start + len(columns)
    where = f"{start + 1}\N{EN DASH}{last}" if last > start + 1 else str(last)
    chips: Cell = "\N{EN DASH}"
    if len(hanging) == 1:
        chips = chip(design, hanging[0], facts.letters[hanging[0]])
    elif hanging:
        chips = " ".join(dict.fromkeys(facts.letters[bead] for bead in hanging))
    beads = sum(len(column.beads) for column in columns)
    return (
        Boxes(),
        f"{name}, on" if again else name,
        chips,
        where,
        dangles_words(columns, facts),
        str(beads or "\N{EN DASH}"),
    )


def _join_row(join: Join, facts: SheetFacts) -> tuple[Cell, ...]:
    return (
        Boxes(),
        "new thread",
        "",
        f"before {join.column + 1}",
        _join_words(join, facts),
        "",
    )


def dangles_words(columns: list[Column], facts: SheetFacts) -> str:
    """Dangles in words: lengths alone where all beads are of one sort, else runs of letters."""
    sorts = {facts.letters[bead] for column in columns for bead in column.beads}
    if not sorts:
        return "nothing hangs"
    if len(sorts) == 1:
        return " · ".join(
            str(len(column.beads)) if column.beads else "\N{EN DASH}" for column in columns
        )
    return "  |  ".join(_runs(column, facts) for column in columns)


def _runs(column: Column, facts: SheetFacts) -> str:
    marks = [facts.letters[bead] for bead in column.beads]
    return " ".join(f"{len(list(same))}{mark}" for mark, same in groupby(marks)) or "\N{EN DASH}"


def finish_blocks(facts: SheetFacts, number: str = "7") -> list[Block]:
    """Closing and finishing."""
    design, setup = facts.design, facts.options.setup
    closure = design.closure
    name = f": {closure.kind}" if closure.kind and closure.length_mm else ""
    rounds = {1: "once", 2: "twice"}.get(setup.rounds, f"{setup.rounds} times")
    round_it = "and round the ring of the closure, back, and twice through"
    end = f"out{_through(facts, design.end_links)} {round_it} the end bead"
    start = f"out{_through(facts, design.start_links)} {round_it} base bead 1"
    steps = (
        f"With the working thread at base bead {design.base_beads}: {end}. Do this {rounds}.",
        *_join_texts(facts, (Step.END_CLOSURE,), "at the closure, base bead {}"),
        f"Weave this end back through {setup.weave_beads} base beads and cut it off close.",
        (
            f"Thread the tail at base bead 1 and sew the other half of the closure: {start}. "
            f"Do this {rounds}, weave the tail in and cut it off."
        ),
        "Pull gently at every dangle and at the closure: nothing may slip or show bare thread.",
        f"Close it and measure: the strip alone is {both(design.strip_mm)}.",
        "Count the needles in.",
    )
    return [Heading(number=number, text=f"Close and finish{name}"), Steps(texts=steps)]


def _through(facts: SheetFacts, links: tuple[int, ...]) -> str:
    if not links:
        return ""
    marks = ", ".join(facts.letters[bead] for bead in links)
    return f" through link bead{'s' * (len(links) > 1)} {marks}"
