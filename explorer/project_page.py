"""A piece as a project for others: sizes, supplies, pictures of the steps, the maths of re-sizing.

The same blocks become a PDF or one self-contained web page.
"""

from dataclasses import dataclass

from explorer.brief import MOST_SNUG_MM, Wearer
from explorer.changes import TooShort, resize
from explorer.counts import Counts, Spares, counts
from explorer.design import NO_CLOSURE, Closure, Design
from explorer.errors import BriefError
from explorer.layout import motif_scene, thumbnail_scene
from explorer.lengths import both, inches, millimetres
from explorer.piece import Piece, worn_by
from explorer.sheet_care import ALL, own_care
from explorer.sheet_facts import SheetFacts, SheetOptions, sheet_facts
from explorer.sheet_letters import chip
from explorer.sheet_parts import strip_rows, thread_blocks
from explorer.sheet_work import base_row_blocks, dangle_blocks, finish_blocks
from explorer.sitting import Sitting, sitting
from explorer.thread import thread_plan
from explorer.weave import weave
from gallery.page import (
    Block,
    Cell,
    Document,
    Facts,
    Figure,
    Figures,
    Head,
    Heading,
    Note,
    Table,
    Text,
    Title,
)
from palettes.names import word_for
from palettes.spaces import hex_to_srgb1

TIMES, MINUS, DIVIDE = "\N{MULTIPLICATION SIGN}", "\N{MINUS SIGN}", "\N{DIVISION SIGN}"
# Chosen by us, because a class has fewer learners and the table fits a page.
MOST_SIZES = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """The girths that a project is written for, and how the piece shall sit."""

    least_mm: float
    most_mm: float
    step_mm: float
    ease_mm: float
    closure: Closure = NO_CLOSURE
    closure_counted: bool = True

    def __post_init__(self) -> None:
        if not 0.0 < self.least_mm <= self.most_mm <= MOST_SNUG_MM:
            raise BriefError(
                "sizes",
                f"{self.least_mm:g} to {self.most_mm:g} mm",
                f"two girths up to {MOST_SNUG_MM:g} mm, the smaller first",
                "Give the smallest and the largest girth.",
            )
        if not self.step_mm >= 1.0 or (self.most_mm - self.least_mm) / self.step_mm > MOST_SIZES:
            raise BriefError(
                "step",
                f"{self.step_mm:g} mm",
                f"1 mm or more, and at most {MOST_SIZES} steps",
                "Choose a larger step.",
            )

    @property
    def girths_mm(self) -> tuple[float, ...]:
        """Every girth, from the smallest up."""
        steps = int((self.most_mm - self.least_mm) / self.step_mm + 1e-9)
        return tuple(self.least_mm + step * self.step_mm for step in range(steps + 1))

    def wearer(self, girth_mm: float) -> Wearer:
        """Someone of that girth."""
        return Wearer(
            snug_mm=girth_mm,
            ease_mm=self.ease_mm,
            closure_counted=self.closure_counted,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """The piece in one size; ``design`` is None where not one motif fits."""

    girth_mm: float
    design: Design | None
    sits: Sitting | None
    counts: Counts | None
    thread_mm: float | None


def size_rows(piece: Piece, sizes: Sizes, options: SheetOptions) -> tuple[SizeRow, ...]:
    """The piece resized to every girth."""
    return tuple(_size_row(piece, girth, sizes, options) for girth in sizes.girths_mm)


def _size_row(piece: Piece, girth_mm: float, sizes: Sizes, options: SheetOptions) -> SizeRow:
    found = resize(piece.pattern, sizes.wearer(girth_mm), closure=sizes.closure)
    if isinstance(found, TooShort):
        return SizeRow(girth_mm=girth_mm, design=None, sits=None, counts=None, thread_mm=None)
    design = weave(found.pattern)
    plan = thread_plan(design, options.setup)
    return SizeRow(
        girth_mm=girth_mm,
        design=design,
        sits=sitting(design, sizes.wearer(girth_mm)),
        counts=counts(design, Spares(percent=0.0, least=0)),
        thread_mm=plan.length_mm,
    )


def project_page(piece: Piece, sizes: Sizes, options: SheetOptions | None = None) -> Document:
    """The piece written as a project that others can make in their own size.

    Args:
        piece: the design; its wearer's measurement is not printed.
        sizes: the girths of the size table.
        options: thread, spares, date; a link is printed as a code.
    """
    facts = sheet_facts(worn_by(piece, None), options or SheetOptions())
    return Document(
        title=piece.name,
        blocks=(
            Title(text=piece.name, under=_under(facts)),
            Figures(
                figures=(Figure(picture=thumbnail_scene(piece.design, aspect=2.4), width_mm=150),)
            ),
            *_supply_blocks(facts),
            *_size_blocks(facts, sizes),
            *_maths_blocks(piece.design, sizes, filled=piece.plain_ends),
            *_step_blocks(facts),
            *own_care(facts),
            Note(title="Take care", texts=ALL),
        ),
        foot=" · ".join(part for part in (piece.name, facts.options.dated) if part),
    )


def _under(facts: SheetFacts) -> str:
    motifs = len(facts.design.motifs)
    return (
        f"{facts.options.wear.with_article} of {motifs} motifs, and how to make it in another size"
    )


def _supply_blocks(facts: SheetFacts) -> list[Block]:
    design = facts.design
    seen: dict[str, int] = {}
    for number in facts.letters:
        seen.setdefault(facts.letters[number], number)
    rows = tuple(_supply_row(design, mark, number) for mark, number in seen.items())
    return [
        Heading(text="Supplies"),
        Table(
            heads=(
                Head(text="", share=0.9),
                Head(text="beads", share=2.4),
                Head(text="colour", share=3),
                Head(text="finish", share=1.6),
            ),
            rows=rows,
        ),
        *thread_blocks(facts, "")[1:2],
    ]


def _supply_row(design: Design, mark: str, number: int) -> tuple[Cell, ...]:
    bead = design.beads[number]
    word = word_for(hex_to_srgb1(bead.hex))
    return (chip(design, number, mark), bead.kind.name, f"{word} ({bead.hex})", bead.finish.value)


def _size_blocks(facts: SheetFacts, sizes: Sizes) -> list[Block]:
    marks = list(dict.fromkeys(facts.letters.values()))
    heads = [
        Head(text="girth, snug", share=2.4),
        Head(text="finished", share=1.3, right=True),
        *(Head(text=text, share=1.1, right=True) for text in ("motifs", "base beads")),
        *(Head(text=mark, share=0.7, right=True) for mark in marks[:10]),
        Head(text="thread, m", share=1.1, right=True),
    ]
    found = size_rows(facts.piece, sizes, facts.options)
    rows = [_size_cells(row, facts, marks[:10]) for row in found]
    short = [
        millimetres(row.girth_mm) for row in found if row.sits is not None and row.sits.short_by_mm
    ]
    more = len(marks) - 10
    extra = f" Of {more} more beads the sheet of your size tells." if more > 0 else ""
    return [
        Heading(text="Sizes"),
        Text(
            text=f"Ease {both(sizes.ease_mm)}. Beads in the piece by letter, without spares: add a "
            f"tenth, and at least five of each.{extra}",
            quiet=True,
        ),
        Table(heads=tuple(heads), rows=tuple(rows)),
        *(
            [Text(text=f"Shorter than the limb, so that more ease is wanted: {', '.join(short)}.")]
            if short
            else []
        ),
    ]


def _size_cells(row: SizeRow, facts: SheetFacts, marks: list[str]) -> tuple[Cell, ...]:
    girth = f"{millimetres(row.girth_mm)}, {inches(row.girth_mm)}"
    if row.design is None or row.counts is None or row.thread_mm is None or row.sits is None:
        return (girth, "", "too short", *([""] * (len(marks) + 2)))
    by_mark = dict.fromkeys(marks, 0)
    for entry in row.counts.by_bead:
        mark = facts.letters.get(entry.bead)
        if mark in by_mark:
            by_mark[mark] += entry.used
    return (
        girth,
        millimetres(row.sits.finished_mm),
        str(len(row.design.motifs)),
        str(row.design.base_beads),
        *(str(by_mark[mark]) for mark in marks),
        f"{row.thread_mm / 1000.0:.1f}",
    )


def _maths_blocks(design: Design, sizes: Sizes, *, filled: bool) -> list[Block]:
    widths, gaps = {len(m) for m in design.motifs}, {len(d) for d in design.dividers}
    closure = f" {MINUS} closure" if sizes.closure_counted and sizes.closure.length_mm else ""
    rows = [("ease", both(sizes.ease_mm))]
    if sizes.closure.length_mm:
        rows.append((sizes.closure.name, f"{both(sizes.closure.length_mm)}, closed"))
    rows.append(("longest strip", f"girth + ease{closure}"))
    if len(widths) == 1 and len(gaps) == 1:
        wide, gap = widths.pop(), gaps.pop()
        # Plain ends that fill what is left over are found anew in every size.
        plain = 0 if filled else len(design.start_margin) + len(design.end_margin)
        ends = gap + plain
        pitch = design.base_pitch_mm
        rows += [
            (
                "a motif takes",
                f"({wide} + {gap}) {TIMES} {pitch:.4g} mm = {(wide + gap) * pitch:.4g} mm",
            ),
            (
                "motifs",
                (
                    f"(longest strip {MINUS} {ends} {TIMES} {pitch:.4g} mm) {DIVIDE} "
                    f"{(wide + gap) * pitch:.4g} mm, rounded down"
                ),
            ),
            ("base beads", f"motifs {TIMES} {wide + gap} + {ends}"),
        ]
        if filled:
            rows += [
                ("left over", f"longest strip {MINUS} base beads {TIMES} {pitch:.4g} mm"),
                (
                    "plain at each end",
                    f"left over {DIVIDE} {2 * pitch:.4g} mm, rounded down: base beads besides",
                ),
            ]
    else:
        rows += list(strip_rows(design))
    return [
        Heading(text="Your own size"),
        Facts(rows=tuple(rows)),
        Text(
            text="Weave a swatch of twenty base beads, measure it, divide by twenty, and take that "
            "in place of the millimetres given. The order of colours begins anew at its end, or "
            "is mirrored about the middle where it was.",
            quiet=True,
        ),
    ]


def _step_blocks(facts: SheetFacts) -> list[Block]:
    shown = min(2, len(facts.design.motifs))
    close_up = motif_scene(facts.design, 0, shown, hang="regular")
    return [
        Text(
            text=f"The counts in the steps are those of the piece in the picture, "
            f"{facts.design.base_beads} base beads: take your own from the table.",
            quiet=True,
        ),
        *base_row_blocks(facts, "1"),
        *dangle_blocks(facts, "2"),
        Figures(figures=(Figure(picture=close_up, caption="the first motifs", width_mm=80.0),)),
        *finish_blocks(facts, "3"),
    ]
