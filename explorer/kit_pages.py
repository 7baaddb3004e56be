"""A class kit on paper: the teacher's page, labels for the bags, and a sheet for everyone."""

from collections.abc import Iterator
from dataclasses import replace
from math import fsum

from explorer.cautions import cautions
from explorer.kit import Kit, LearnerKit
from explorer.kit_time import SESSION_MIN, time_plan
from explorer.kit_totals import Short, Total, cost_words
from explorer.lengths import millimetres
from explorer.share import link, to_code
from explorer.sheet import making_sheet
from explorer.sheet_care import ALL
from explorer.sheet_facts import SheetOptions
from explorer.sheet_letters import chip, letters
from explorer.sitting import short_words
from explorer.thread import GUESSED_PACE_S
from gallery.page import (
    Block,
    Card,
    Cards,
    Document,
    Head,
    Heading,
    Note,
    Table,
    Text,
    Title,
)
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1

# Twenty-five learners are too many for one teacher (makers' own experience, from memory); half of
# that a helper, chosen by us.
_LEARNERS_A_HELPER = 12


def sheets(kit: Kit, options: SheetOptions) -> Iterator[Document]:
    """Everybody's making sheet, one after the other, so that no two need be held at once.

    Args:
        kit: the class.
        options: date, size of type and pace; spares, thread and wear are the class's own.
    """
    for one in kit.learners:
        own = replace(
            options,
            wear=one.piece.worn_as,
            spares=kit.brief.spares,
            setup=kit.brief.setup,
            link=link(to_code(one.piece)),
        )
        yield making_sheet(one.piece, own)


def labels(kit: Kit) -> Document:
    """A label for every bag: whose it is and what goes in, by letter, colour and count."""
    short: dict[str, list[Short]] = {}
    for lack in kit.short:
        short.setdefault(lack.name, []).append(lack)
    cards = tuple(_card(one, short.get(one.learner.name, [])) for one in kit.learners)
    return Document(title="Labels for bags", blocks=(Cards(cards=cards),), foot="labels for bags")


def _card(one: LearnerKit, short: list[Short]) -> Card:
    design = one.piece.design
    marks = letters(design)
    lacking = {lack.bead: lack for lack in short}
    rows, seen = [], set()
    for number, mark in sorted(marks.items(), key=lambda item: (len(item[1]), item[1])):
        bead = design.beads[number]
        if bead in seen:
            continue
        seen.add(bead)
        used, spares = one.needs()[bead]
        lack = lacking.get(bead)
        held = used + spares - (lack.lacking + lack.spares_lacking if lack else 0)
        rows.append((chip(design, number, mark), f"{bead.name}, {bead.kind.name}", str(held)))
    thread = f"thread {one.plan.length_mm / 1000.0:.1f} m"
    lacks = f" Lacks {sum(lack.lacking for lack in short)} beads." if _lack(short) else ""
    under = f"{girth_words(one)}: {_motifs(one)}; {thread}, 1 needle.{lacks}"
    return Card(title=one.learner.name, under=under, rows=tuple(rows))


def _lack(short: list[Short]) -> bool:
    return any(lack.lacking for lack in short)


def girth_words(one: LearnerKit) -> str:
    """What a learner measures, or between what."""
    learner = one.learner
    if learner.measured:
        return millimetres(learner.most_mm)
    return f"{learner.least_mm:g} to {millimetres(learner.most_mm)}"


def _motifs(one: LearnerKit) -> str:
    motifs = one.fit.motifs
    if one.least_motifs != motifs:
        return f"{one.least_motifs} to {motifs} motifs"
    return f"{motifs} motif{'s' * (motifs > 1)}"


def class_page(kit: Kit, options: SheetOptions) -> Document:
    """The teacher's page: everybody, what to buy, who lacks what, and a plan of time."""
    helpers = -(-len(kit.learners) // _LEARNERS_A_HELPER)
    under = f"{len(kit.learners)} learners; {helpers} grown-up{'s' * (helpers > 1)} to help"
    return Document(
        title="Class kit",
        blocks=(
            Title(text="Class kit", under=under),
            *_learner_blocks(kit),
            *_short_blocks(kit),
            *_total_blocks(kit),
            *_time_blocks(kit, options.pace_s),
            *_own_blocks(kit),
            Note(title="Take care", texts=ALL),
        ),
        foot=" · ".join(part for part in ("class kit", options.dated) if part),
    )


def _learner_blocks(kit: Kit) -> list[Block]:
    rows = tuple(
        (
            str(at),
            one.learner.name,
            girth_words(one),
            millimetres(one.sitting.finished_mm),
            millimetres(one.sitting.ease_mm),
            _motifs(one).removesuffix("s").removesuffix(" motif"),
            str(one.counts.base_beads),
            str(one.counts.total + one.counts.spares),
            f"{one.plan.length_mm / 1000.0:.1f}",
        )
        for at, one in enumerate(kit.learners, 1)
    )
    heads = (
        Head(text="", share=0.6, right=True),
        Head(text="name", share=3.4),
        Head(text="measured", share=2.2, right=True),
        Head(text="finished", share=1.6, right=True),
        Head(text="ease", share=1.4, right=True),
        Head(text="motifs", share=1.4, right=True),
        Head(text="base beads", share=1.3, right=True),
        Head(text="beads to count out", share=1.8, right=True),
        Head(text="thread, m", share=1.2, right=True),
    )
    blocks: list[Block] = [Heading(text="Everyone"), Table(heads=heads, rows=rows)]
    blocks.append(Text(text=_size_note(kit), quiet=True))
    blocks += [
        Text(text=f"{one.learner.name}: {short_words(one.sitting)}")
        for one in kit.learners
        if one.sitting.short_by_mm
    ]
    blocks += [
        Text(
            text=f"{one.learner.name} is measured too short for one motif: "
            f"{millimetres(one.learner.most_mm)} of at least {millimetres(one.needs_mm)}."
        )
        for one in kit.unfit
    ]
    return blocks


def _size_note(kit: Kit) -> str:
    """What the columns of sizes mean."""
    closure = kit.brief.closure
    with_it = (
        f"with the {closure.name} of {millimetres(closure.length_mm)}"
        if closure.length_mm
        else "no closure counted"
    )
    return (
        f"Finished is the piece closed, {with_it}. Ease is finished less measured; for a size band "
        "it is reckoned from the larger end."
    )


def own_cautions(kit: Kit) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Every caution of the learners' pieces but of their size, once, with whom it concerns."""
    concerned: dict[str, list[str]] = {}
    for one in kit.learners:
        for caution in cautions(one.piece.design, one.piece.worn_as):
            words = f"{caution.words} {caution.remedy}"
            concerned.setdefault(words, []).append(one.learner.name)
    return tuple((words, tuple(names)) for words, names in concerned.items())


def _own_blocks(kit: Kit) -> list[Block]:
    texts = tuple(
        words if len(names) == len(kit.learners) else f"{', '.join(names)}: {words}"
        for words, names in own_cautions(kit)
    )
    return [Note(title="Before you begin", texts=texts)] if texts else []


def _short_blocks(kit: Kit) -> list[Block]:
    if not kit.brief.tray:
        return []
    blocks: list[Block] = [Heading(text="Who lacks what")]
    if not kit.short:
        return [*blocks, Text(text="Nobody: the tray has enough for everyone.")]
    rows = tuple(
        (
            lack.name,
            f"{lack.bead.name}, {lack.bead.kind.name}",
            str(lack.needed),
            str(lack.given),
            str(lack.lacking or "\N{EN DASH}"),
            str(lack.spares_lacking or "\N{EN DASH}"),
        )
        for lack in kit.short
    )
    figures = ("needed", "in the bag", "lacking", "spares lacking")
    heads = (
        Head(text="name", share=3),
        Head(text="bead", share=3.4),
        *(Head(text=text, share=1.2, right=True) for text in figures),
    )
    return [
        *blocks,
        Text(
            text="What is short was shared so that nobody has more while somebody has less than "
            "needed; beads of the pieces first, then spares.",
            quiet=True,
        ),
        Table(heads=heads, rows=rows),
    ]


def _total_blocks(kit: Kit) -> list[Block]:
    rows = tuple(_total_row(total) for total in kit.totals)
    figures = ("in the pieces", "spare", "in the tray", "to buy")
    heads = (
        Head(text="bead", share=4.6),
        *(Head(text=text, share=1.2, right=True) for text in figures),
        Head(text="packs", share=2),
    )
    thread = fsum(one.plan.length_mm for one in kit.learners) / 1000.0
    cost = cost_words(kit.totals)
    return [
        Heading(text="For all together"),
        Table(heads=heads, rows=rows),
        *([Text(text=cost)] if cost else []),
        Text(
            text=f"Thread: {thread:.0f} m with tails and allowance. Needles: one each, and spare."
        ),
    ]


def _total_row(total: Total) -> tuple[str, ...]:
    bead = total.bead
    word = word_for(hex_to_srgb1(bead.hex))
    packs = " + ".join(f"{pack.weight_g:g} g" for pack in total.packs)
    return (
        f"{bead.name}, near {word}; {bead.kind.name}, {bead.finish.value} ({bead.hex})",
        str(total.used),
        str(total.spares),
        "?" if total.in_tray is None else str(total.in_tray),
        str(total.to_buy or "\N{EN DASH}"),
        packs or "\N{EN DASH}",
    )


def _time_blocks(kit: Kit, pace_s: float) -> list[Block]:
    stages = time_plan(kit.learners, pace_s)
    rows = [
        (stage.name, _minutes(stage.quickest_min), _minutes(stage.slowest_min), str(stage.session))
        for stage in stages
    ]
    # The sums of what is printed, so that the columns add up on paper.
    quick, slow = (sum(int(row[column]) for row in rows) for column in (1, 2))
    rows.append(("in all", str(quick), str(slow), str(stages[-1].session)))
    guess = " (a guess: time your own)" if pace_s == GUESSED_PACE_S else ""
    heads = (
        Head(text="minutes", share=4),
        Head(text="least work", share=1.2, right=True),
        Head(text="most work", share=1.2, right=True),
        Head(text="ends in session", share=1.4, right=True),
    )
    return [
        Heading(text="A plan of time"),
        Text(
            text=f"Sessions of {SESSION_MIN:g} minutes, {pace_s:g} seconds a bead{guess}.",
            quiet=True,
        ),
        Table(heads=heads, rows=tuple(rows), bold_last=True),
    ]


def _minutes(minutes: float) -> str:
    return f"{minutes:.0f}"
