"""The child's page: the arithmetic of their own piece, then the answers, then a strip to colour in.

Every question is worked out from the numbers printed in it, so that a child who does the sum
right gets the answer that stands on the second page.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import product

from explorer.cautions import cautions
from explorer.design import Design, motif_bead, motif_profile
from explorer.fit import Repeat, motifs_that_fit
from explorer.lengths import MM_PER_INCH
from explorer.piece import Piece
from explorer.sheet_care import ALL
from explorer.sheet_letters import chip, letters
from explorer.sheet_parts import true_size
from gallery.page import (
    LARGE_TYPE,
    Block,
    Break,
    Cell,
    Document,
    Head,
    Heading,
    Note,
    Ruler,
    Table,
    Text,
    Title,
)
from gallery.page_ink import Look

TIMES, MINUS, DIVIDE = "\N{MULTIPLICATION SIGN}", "\N{MINUS SIGN}", "\N{DIVISION SIGN}"
# Chosen by us, because a child's figure fits in it.
_BLANK = "_" * 12
# Lengths are taken to a millionth of a millimetre. Chosen by us, so that sixty-fourths of an inch
# are exact.
_FINEST = 10**6
# The parts of a millimetre or an inch that sums may be in, the coarsest first. Chosen by us,
# because rulers show millimetres and sixteenths of an inch (common practice, no source).
_MM_PARTS = {
    1: "mm",
    10: "tenths of a mm",
    100: "hundredths of a mm",
    1000: "thousandths of a mm",
}
_INCH_PARTS = (16, 32, 64, 128, 256, 512, 1024)


class Level(StrEnum):
    """How hard the page is."""

    EASIER = "whole millimetres"
    FRACTIONS = "inches with fractions"
    HARDER = "division by hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A sum to do.

    Attributes:
        text: what it is about, in words.
        sum: the sum as it is written, without its answer; empty where something is counted.
        answer: what comes out, with its unit.
    """

    text: str
    sum: str
    answer: str


def questions(piece: Piece, level: Level) -> tuple[Question, ...]:
    """The questions of a level, in the order in which a piece is worked out."""
    asked = [*_target(piece, level), *_beads(piece.design)]
    if level is not Level.EASIER:
        asked += _division(piece, level)
    return tuple(asked)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Measure:
    """What lengths are counted in: so many parts of a millimetre or of an inch.

    Attributes:
        parts: into how many parts the unit is cut.
        level: how they are written.
    """

    parts: int
    level: Level

    def count(self, mm: Fraction) -> Fraction:
        """How many parts a length has, exactly."""
        return self.parts * (mm / MM_PER_INCH if self.level is Level.FRACTIONS else mm)

    @property
    def unit(self) -> str:
        """What stands behind a number."""
        if self.level is Level.EASIER:
            return _MM_PARTS[self.parts]
        return "in" if self.level is Level.FRACTIONS else "mm"

    def said(self, count: int) -> str:
        """So many parts as a child writes them: whole, decimal, or mixed with a fraction."""
        if self.level is Level.EASIER:
            return str(count)
        value = Fraction(count, self.parts)
        if self.level is Level.HARDER:
            return f"{float(value):.3f}".rstrip("0").rstrip(".")
        whole, rest = divmod(value, 1)
        return " ".join(str(part) for part in (whole, rest) if part) or "0"


def _target(piece: Piece, level: Level) -> Iterator[Question]:
    found = _true_sum(piece, level)
    if found is None:
        return
    measure, (snug_parts, room_parts, closure_parts) = found
    said, unit = measure.said, measure.unit
    long = snug_parts + room_parts
    if room_parts:
        yield Question(
            text=f"Measured snug it is {said(snug_parts)} {unit} round. "
            "How long with room to move?",
            sum=f"{said(snug_parts)} + {said(room_parts)}",
            answer=f"{said(long)} {unit}",
        )
    if closure_parts:
        yield Question(
            text=(
                "The closure takes up a part of that. How long may the strip be?"
                if room_parts
                else f"It shall be {said(long)} {unit} round, closure and all. How long may the "
                "strip be?"
            ),
            sum=f"{said(long)} {MINUS} {said(closure_parts)}",
            answer=f"{said(long - closure_parts)} {unit}",
        )


def _exact(mm: float) -> Fraction:
    return Fraction(round(mm * _FINEST), _FINEST)


def _true_sum(piece: Piece, level: Level) -> tuple[_Measure, tuple[int, int, int]] | None:
    """The coarsest parts in which each number printed, results too, is the nearest to the truth.

    Numbers that are rounded one by one need not add up to the rounded sum: then finer parts do.

    Returns:
        The measure, and snug, room and closure in its parts; None where no parts serve, or nobody
        was measured.
    """
    wearer = piece.wearer
    if wearer is None:
        return None
    closure_mm = piece.design.closure.length_mm if wearer.closure_counted else 0.0
    lengths = [
        _exact(mm) for mm in (wearer.snug_mm, wearer.ease_mm + wearer.curvature_mm, closure_mm)
    ]
    all_parts = _INCH_PARTS if level is Level.FRACTIONS else tuple(_MM_PARTS)
    measures = [_Measure(parts=parts, level=level) for parts in all_parts]
    if level is Level.HARDER:
        # Decimals are what this level is about: all that there are, if they come out.
        measures.sort(key=lambda one: (not _whole(*map(one.count, lengths)), one.parts == 1))
    for measure in measures:
        true = [measure.count(mm) for mm in lengths]
        # The nearest whole numbers first, a half upward, so that one length is told one way.
        for a, b, c in product(*(sorted({math.floor(t), math.ceil(t)}, key=_off(t)) for t in true)):
            off = (a - true[0], b - true[1], c - true[2])
            results = (*off, off[0] + off[1], off[0] + off[1] - off[2])
            if all(abs(result) <= Fraction(1, 2) for result in results):
                return measure, (a, b, c)
    return None


def _off(true: Fraction) -> Callable[[int], tuple[Fraction, int]]:
    return lambda number: (abs(number - true), -number)


def _beads(design: Design) -> Iterator[Question]:
    profile = motif_profile(design.motifs[0])
    alike = all(motif_profile(motif) == profile for motif in design.motifs)
    which = "a motif" if alike else "the first motif"
    yield Question(
        text=f"The dangles of {which} have {_listed(profile)} beads. How many together?",
        sum=" + ".join(map(str, profile)),
        answer=f"{sum(profile)} beads",
    )
    motifs = len(design.motifs)
    if alike:
        yield Question(
            text=f"There are {motifs} motifs. How many dangle beads in all?",
            sum=f"{motifs} {TIMES} {sum(profile)}",
            answer=f"{motifs * sum(profile)} beads",
        )
    yield _base_question(design)
    tens, more = divmod(design.base_beads, 10)
    yield Question(
        text="Base beads are counted out in tens. How many tens, and how many more?",
        sum=f"{design.base_beads} {DIVIDE} 10",
        answer=f"{tens} tens and {more} more",
    )
    marks = letters(design)
    first = motif_bead(design.motifs[0])
    same = sum(motif_bead(motif) == first for motif in design.motifs)
    yield Question(
        text=f"Count on your strip: how many motifs are colour {marks[first]}?",
        sum="",
        answer=f"{same}",
    )


def _listed(numbers: tuple[int, ...]) -> str:
    if len(numbers) == 1:
        return str(numbers[0])
    return f"{', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def _base_question(design: Design) -> Question:
    widths, gaps = {len(m) for m in design.motifs}, {len(d) for d in design.dividers}
    plain = len(design.start_margin) + len(design.end_margin)
    if len(widths) == 1 and len(gaps) == 1:
        wide, gap = widths.pop(), gaps.pop()
        sums = f"{len(design.motifs)} {TIMES} {wide}"
        sums += f" + {len(design.dividers)} {TIMES} {gap}" if gap else ""
    else:
        sums = f"{sum(map(len, design.motifs))} + {sum(map(len, design.dividers))}"
    sums += f" + {plain}" if plain else ""
    parts = ["Motifs", *(["dividers"] if any(design.dividers) else ())]
    parts += ["plain ends"] if plain else []
    named = " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))
    return Question(
        text=f"{named} stand on base beads. How many base beads?",
        sum=sums,
        answer=f"{design.base_beads} base beads",
    )


def _division(piece: Piece, level: Level) -> Iterator[Question]:
    """How many motifs fit, with what is left over; none where that is not what the piece has."""
    design, wearer = piece.design, piece.wearer
    widths, gaps = {len(m) for m in design.motifs}, {len(d) for d in design.dividers}
    if wearer is None or len(widths) != 1 or len(gaps) != 1:
        return
    gap = gaps.pop()
    ends = gap + len(design.start_margin) + len(design.end_margin)
    wide = widths.pop() + gap
    # The most base beads that the length holds: a strip of nothing but motifs of one bead.
    fit = motifs_that_fit(
        wearer.target_mm(design.closure), design.base_pitch_mm, Repeat(dangles=1, divider=0)
    )
    count, left = divmod(fit - ends, wide)
    if count != len(design.motifs):
        return
    by_length = _by_length(piece, ends, wide) if level is Level.HARDER else None
    if by_length is not None:
        yield by_length
        return
    taken = f", {ends} of them at the ends" if ends else ""
    yield Question(
        text=(
            f"The longest strip that may be has {_many(fit, 'base bead')}{taken}. For motifs "
            f"there are {fit - ends}; a motif with its divider takes {wide}. How many motifs fit, "
            "and what is left over? Divide by hand."
        ),
        sum=f"{fit - ends} {DIVIDE} {wide}",
        answer=f"{_many(count, 'motif')}, {_many(left, 'base bead')} left over",
    )


def _by_length(piece: Piece, ends: int, wide: int) -> Question | None:
    """The same division in parts of a millimetre; None where a motif's length does not come out."""
    wearer, pitch = piece.wearer, _exact(piece.design.base_pitch_mm)
    if wearer is None:
        return None
    room_mm = wearer.target_mm(piece.design.closure)
    repeat, room = pitch * wide, _exact(room_mm) - ends * pitch
    # A motif's length is taken many times, so it must be exact; the room is rounded once at most.
    exact = [parts for parts in _MM_PARTS if _whole(repeat * parts)]
    best = [parts for parts in exact if _whole(room * parts)]
    for parts in (*best, *exact):
        over, by = round(room * parts), int(repeat * parts)
        count, left = divmod(over, by)
        if count == len(piece.design.motifs):
            small = _MM_PARTS[parts]
            return Question(
                text=(
                    f"For motifs there are {over} {small}; a motif with its divider takes {by}. "
                    "How many motifs fit, and what is left over? Divide by hand."
                ),
                sum=f"{over} {DIVIDE} {by}",
                answer=f"{_many(count, 'motif')}, {left} {small} left over",
            )
    return None


def _many(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _whole(*values: Fraction) -> bool:
    return all(value.denominator == 1 for value in values)


def child_page(
    piece: Piece, level: Level = Level.EASIER, *, dated: str = "", large: bool = True
) -> Document:
    """Questions, answers on a page of their own, and the strip to colour in at true size.

    Args:
        piece: the child's piece.
        level: how hard.
        dated: the date as it shall be printed.
        large: large type.
    """
    asked = questions(piece, level)
    hard = _level_words(piece, level)
    marks = letters(piece.design)
    rows = tuple((str(at), _worded(q), f"{_BLANK}") for at, q in enumerate(asked, 1))
    solved = tuple((str(at), _worded(q), q.answer) for at, q in enumerate(asked, 1))
    # With the child's pages and with the answers, which may be printed apart.
    care = (Note(title="For the grown-up beside", texts=(*_own_care(piece), *ALL)),)
    blocks: tuple[Block, ...] = (
        Title(text=piece.name, under=f"the sums of your piece: {hard}"),
        _sums(rows),
        Break(),
        *_colouring(piece.design, marks),
        *care,
        Break(),
        Title(text="Answers", under=f"{piece.name}: {hard}"),
        _sums(solved),
        *care,
    )
    foot = " · ".join(part for part in (piece.name, dated) if part)
    scale = LARGE_TYPE if large else 1.0
    return Document(title=f"{piece.name}: sums", blocks=blocks, foot=foot, scale=scale)


def _own_care(piece: Piece) -> Iterator[str]:
    """The piece's own cautions."""
    for caution in cautions(piece.design, piece.worn_as, piece.wearer):
        yield f"{caution.words} {caution.remedy}"


def _level_words(piece: Piece, level: Level) -> str:
    """How hard the page is, in words that are true of it."""
    found = _true_sum(piece, level)
    finer = found is not None and found[0].parts > 1
    return "whole numbers" if level is Level.EASIER and finer else level.value


def _worded(question: Question) -> str:
    return f"{question.text}\n{question.sum} =" if question.sum else question.text


def _sums(rows: tuple[tuple[Cell, ...], ...]) -> Table:
    heads = (Head(text="", share=0.5), Head(text="", share=5.4), Head(text="", share=2.6))
    return Table(heads=heads, rows=rows)


def _colouring(design: Design, marks: dict[int, str]) -> list[Block]:
    used = dict.fromkeys(motif_bead(motif) for motif in design.motifs)
    rows = tuple((chip(design, n, marks[n]), design.beads[n].name) for n in used)
    return [
        Heading(text="Colour your strip in"),
        Text(
            text="It is as large as it will be. Over the motifs stand their numbers and letters, "
            "as far as there is room."
        ),
        true_size(design, marks, Look.OUTLINE),
        Ruler(),
        Table(heads=(Head(text="", share=1), Head(text="your colours", share=6)), rows=rows),
    ]
