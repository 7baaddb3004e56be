"""The child's page: the arithmetic of their own piece, then the answers, then a strip to colour in.

Every question is worked out from the numbers printed in it, so that a child who does the sum
right gets the answer that stands on the second page.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from explorer.design import Design, motif_bead, motif_profile
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
# Lengths are taken to a thousandth of a millimetre. Chosen by us, because it is far finer than any
# bead; rulers show inches in sixteenths (common practice, no source).
_FINEST = 1000
_INCH_PARTS = 16  # as rulers show inches
_PARTS = {16: "sixteenths", 32: "thirty-seconds", 64: "sixty-fourths"}


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


def _target(piece: Piece, level: Level) -> Iterator[Question]:
    wearer = piece.wearer
    if wearer is None:
        return
    parts = [wearer.snug_mm, wearer.ease_mm + wearer.curvature_mm]
    snug, room = (_rounded(mm, level) for mm in parts)
    unit = _unit(level)
    yield Question(
        text=f"Measured snug it is {_said(snug)} {unit} round. How long with room to move?",
        sum=f"{_said(snug)} + {_said(room)}",
        answer=f"{_said(snug + room)} {unit}",
    )
    closure = _rounded(wearer.closure_mm, level)
    if wearer.closure_counted and closure:
        yield Question(
            text="The closure takes up a part of that. How long may the strip be?",
            sum=f"{_said(snug + room)} {MINUS} {_said(closure)}",
            answer=f"{_said(snug + room - closure)} {unit}",
        )


def _rounded(mm: float, level: Level) -> Fraction:
    """A length as the level says it: whole mm, sixteenths of an inch, or as it is."""
    if level is Level.EASIER:
        return Fraction(round(mm))
    if level is Level.FRACTIONS:
        return Fraction(round(Fraction(mm) / MM_PER_INCH * _INCH_PARTS), _INCH_PARTS)
    return _exact(mm)


def _exact(mm: float) -> Fraction:
    return Fraction(round(mm * _FINEST), _FINEST)


def _unit(level: Level) -> str:
    return "in" if level is Level.FRACTIONS else "mm"


def _said(value: Fraction) -> str:
    """A number as a child writes it: whole, decimal, or mixed with a fraction."""
    if value.denominator == 1:
        return str(value.numerator)
    if _FINEST % value.denominator == 0:
        decimal = f"{float(value):.3f}".rstrip("0")
        if value.denominator in (10, 100, 1000, 5, 20, 25, 40, 50, 125, 200, 250, 500):
            return decimal
    whole, rest = divmod(value, 1)
    return f"{whole} {rest}" if whole else str(rest)


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
    return Question(
        text="Motifs, dividers and plain ends stand on base beads. How many base beads?",
        sum=sums,
        answer=f"{design.base_beads} base beads",
    )


def _division(piece: Piece, level: Level) -> Iterator[Question]:
    """How many motifs fit, with what is left over; none where motifs differ in width."""
    design, wearer = piece.design, piece.wearer
    widths, gaps = {len(m) for m in design.motifs}, {len(d) for d in design.dividers}
    if wearer is None or len(widths) != 1 or len(gaps) != 1:
        return
    gap = gaps.pop()
    pitch = _exact(design.base_pitch_mm)
    ends = gap + len(design.start_margin) + len(design.end_margin)
    repeat = pitch * (widths.pop() + gap)
    room = _exact(wearer.target_mm) - ends * pitch
    if room < repeat:
        return
    if level is Level.HARDER:
        parts = next(n for n in (1, 10, 100, _FINEST) if _whole(repeat * n, room * n))
        small = {1: "mm", 10: "tenths of a mm", 100: "hundredths of a mm"}.get(
            parts, "thousandths of a mm"
        )
    else:
        parts, repeat, room = _inch_parts(repeat, room)
        small = f"{_PARTS.get(parts, f'{parts}ths')} of an inch"
    over, by = int(room * parts), int(repeat * parts)
    count, left = divmod(over, by)
    yield Question(
        text=(
            f"For motifs there are {over} {small}; a motif with its divider takes {by}. How many "
            "motifs fit, and what is left over? Divide by hand."
        ),
        sum=f"{over} {DIVIDE} {by}",
        answer=f"{count} motifs, {left} {small} left over",
    )


def _whole(*values: Fraction) -> bool:
    return all(value.denominator == 1 for value in values)


def _inch_parts(repeat: Fraction, room: Fraction) -> tuple[int, Fraction, Fraction]:
    """The coarsest parts of an inch in which as many motifs fit as in truth, and both lengths."""
    truth = room // repeat
    repeat_in, room_in = repeat / MM_PER_INCH, room / MM_PER_INCH
    for parts in (16, 32, 64, 128, 256, 512, 1024):
        by, over = round(repeat_in * parts), round(room_in * parts)
        if by and over // by == truth:
            return parts, Fraction(by, parts), Fraction(over, parts)
    # Nothing coarse tells a strip that fits to a hair: then the lengths as they are.
    parts = math.lcm(repeat_in.denominator, room_in.denominator)
    return parts, repeat_in, room_in


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
    marks = letters(piece.design)
    rows = tuple((str(at), _worded(q), f"{_BLANK}") for at, q in enumerate(asked, 1))
    solved = tuple((str(at), _worded(q), q.answer) for at, q in enumerate(asked, 1))
    blocks: tuple[Block, ...] = (
        Title(text=piece.name, under=f"the sums of your piece: {level.value}"),
        _sums(rows),
        Break(),
        *_colouring(piece.design, marks),
        Break(),
        Title(text="Answers", under=f"{piece.name}: {level.value}"),
        _sums(solved),
        Note(title="For the grown-up beside", texts=ALL),
    )
    foot = " · ".join(part for part in (piece.name, dated) if part)
    scale = LARGE_TYPE if large else 1.0
    return Document(title=f"{piece.name}: sums", blocks=blocks, foot=foot, scale=scale)


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
        Text(text="It is as large as it will be. Over every motif stand its number and letter."),
        true_size(design, marks, Look.OUTLINE),
        Ruler(),
        Table(heads=(Head(text="", share=1), Head(text="your colours", share=6)), rows=rows),
    ]
