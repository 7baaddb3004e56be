"""The child's sums: each answer is what comes out of the numbers printed before it."""

import ast
import math
import re
from fractions import Fraction
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.brief import Strip, Wearer
from explorer.cautions import cautions
from explorer.child_page import Level, Question, child_page, questions
from explorer.design import Closure, Column, build, of_columns
from explorer.fit import Fit, Repeat, curvature_mm
from explorer.piece import Piece, piece_of
from explorer.sheet_care import ALL
from gallery.page import Break, Note, Table, TrueSize
from gallery.page_ink import Look
from gallery.pdf import to_pdf
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
BEADS = (
    Bead(name="ground", kind=KINDS["cube 3"], hex="#39424b"),
    Bead(name="coral", kind=KINDS["round 8/0"], hex="#f0694f"),
    Bead(name="sea", kind=KINDS["round 8/0"], hex="#2fa79b"),
)


def fitted(snug_mm: float, ease_mm: float, closure_mm: float, dangles: int, divider: int) -> Piece:
    someone, closure = Wearer(snug_mm=snug_mm, ease_mm=ease_mm), Closure(length_mm=closure_mm)
    strip = Strip(
        base=KINDS["cube 3"], repeat=Repeat(dangles=dangles, divider=divider), plain_ends=False
    )
    fit = strip.fit(someone, closure)
    assert isinstance(fit, Fit)
    design = build(
        beads=BEADS,
        base=0,
        base_pitch_mm=3.1,
        profiles=(tuple(range(1, dangles + 1)),),
        order=tuple(1 + n % 2 for n in range(fit.motifs)),
        divider_base_beads=divider,
        closure=closure,
    )
    return piece_of(design=design, name="Ada", wearer=someone)


pieces = st.builds(
    fitted,
    st.integers(1400, 3000).map(lambda tenths: tenths / 10.0),
    st.integers(0, 400).map(lambda tenths: tenths / 10.0),
    st.sampled_from([0.0, 12.0, 16.5]),
    st.integers(1, 7),
    st.integers(0, 2),
)


def value(words: str) -> Fraction:
    """A sum as a schoolbook has it, worked out by Python's own grammar and fractions."""
    mixed = re.sub(r"(\d+) (\d+)/(\d+)", r"(\1+\2/\3)", words)
    plain = mixed.replace("\N{MULTIPLICATION SIGN}", "*").replace("\N{MINUS SIGN}", "-")

    def of(node: ast.expr) -> Fraction:
        match node:
            case ast.Constant(value=number):
                return Fraction(str(number))
            case ast.BinOp(left=left, op=op, right=right):
                one, other = of(left), of(right)
                match op:
                    case ast.Add():
                        return one + other
                    case ast.Sub():
                        return one - other
                    case ast.Mult():
                        return one * other
                    case ast.Div():
                        return one / other
                    case _:
                        raise AssertionError(words)
            case _:
                raise AssertionError(words)

    return of(ast.parse(plain, mode="eval").body)


def first_number_text(words: str) -> str:
    found = re.match(r"\d+ \d+/\d+|\d+/\d+|\d+(\.\d+)?", words)
    assert found
    return found[0]


def first_number(words: str) -> Fraction:
    return value(first_number_text(words))


@given(pieces, st.sampled_from(Level))
def test_every_answer_comes_out_of_its_sum(piece: Piece, level: Level) -> None:
    for question in questions(piece, level):
        if not question.sum:
            continue
        if "\N{DIVISION SIGN}" in question.sum:
            over, by = (int(n) for n in question.sum.split(" \N{DIVISION SIGN} "))
            count, left = (int(n) for n in re.findall(r"\d+", question.answer)[:2])
            assert (count, left) == divmod(over, by)
        else:
            assert value(question.sum) == first_number(question.answer)


@given(pieces, st.sampled_from((Level.FRACTIONS, Level.HARDER)))
def test_the_division_gives_the_motifs_of_the_fit(piece: Piece, level: Level) -> None:
    (division,) = (q for q in questions(piece, level) if "Divide by hand" in q.text)
    assert int(division.answer.split()[0]) == len(piece.design.motifs)


def any_piece(rng: np.random.Generator) -> Piece | None:
    """A piece as makers have them: measured in either unit, any pitch, plain ends, thick bases."""
    limb, ease = rng.integers(1200, 3000) / 10.0, float(rng.integers(0, 40))
    if rng.random() < 0.5:
        limb, ease = rng.integers(70, 190) / 16 * 25.4, rng.integers(0, 25) / 16 * 25.4
    plain = int(rng.integers(0, 4))
    repeat = Repeat(
        dangles=int(rng.integers(1, 8)), divider=int(rng.integers(0, 3)), margins=2 * plain
    )
    wearer = Wearer(
        snug_mm=float(limb),
        ease_mm=float(ease),
        closure_counted=bool(rng.random() < 0.8),
        curvature_mm=float(rng.choice([0.0, 0.0, 0.0, curvature_mm(3.0)])),
    )
    closure = Closure(length_mm=float(rng.choice([0.0, 12.0, 16.5, 19.05])))
    pitch_mm = float(rng.choice([3.1, 1.95, 1.984375, 62.3 / 21.0, 39.5 / 20.0]))
    strip = Strip(base=KINDS["cube 3"], measured_pitch_mm=pitch_mm, repeat=repeat, plain_ends=False)
    fit = strip.fit(wearer, closure)
    if not isinstance(fit, Fit):
        return None
    design = build(
        beads=BEADS,
        base=0,
        base_pitch_mm=pitch_mm,
        profiles=(tuple(range(1, repeat.dangles + 1)),),
        order=tuple(1 + n % 2 for n in range(fit.motifs)),
        divider_base_beads=repeat.divider,
        margins=(plain, plain),
        closure=closure,
    )
    return piece_of(design=design, name="Ada", wearer=wearer)


@cache
def measured_pieces() -> tuple[Piece, ...]:
    """As many as 400 with room to move, found once for every level."""
    rng = np.random.default_rng(14)
    found: list[Piece] = []
    roomy = 0
    while roomy < 400:
        piece = any_piece(rng)
        if piece is not None and piece.wearer is not None:
            found.append(piece)
            roomy += piece.wearer.ease_mm + piece.wearer.curvature_mm > 0.0
    return tuple(found)


SMALL = {"tenths": 10, "hundredths": 100, "thousandths": 1000}


def lengths_of(question: Question, level: Level) -> tuple[list[float], float]:
    """Every number of a sum of lengths and of its answer in mm, and half the unit it is told to."""
    numbers = re.findall(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?", question.sum)
    values = [value(number) for number in (*numbers, first_number_text(question.answer))]
    if level is Level.FRACTIONS:
        parts = max(16, *(v.denominator for v in values))
        return [float(v) * 25.4 for v in values], 25.4 / parts / 2.0
    unit = next((SMALL[word] for word in SMALL if word in question.answer), 1)
    digits = max(len(n.partition(".")[2]) for n in numbers)
    return [float(v) / unit for v in values], 0.5 / unit / 10**digits


@pytest.mark.parametrize("level", Level)
def test_every_length_printed_is_true_of_the_piece(level: Level) -> None:
    seen = told = 0
    for piece in measured_pieces():
        assert piece.wearer is not None
        someone, design = piece.wearer, piece.design
        asked = questions(piece, level)
        room_mm = someone.ease_mm + someone.curvature_mm
        # Without room to move there is nothing to add.
        seen += room_mm > 0.0
        for question in asked:
            if question.text.startswith("Measured"):
                told += 1
                true = [someone.snug_mm, room_mm, someone.snug_mm + room_mm]
            elif question.text.startswith("The closure"):
                loose_mm = someone.snug_mm + room_mm
                true = [loose_mm, design.closure.length_mm, someone.target_mm(design.closure)]
            else:
                continue
            printed, half = lengths_of(question, level)
            assert printed == pytest.approx(true, abs=half + 1e-6), question
        if level is Level.EASIER:
            continue
        # The division: beads are exact; lengths are what the motifs leave, to half the unit.
        division = asked[-1]
        over, by = (int(n) for n in division.sum.split(" \N{DIVISION SIGN} "))
        count, left = (int(n) for n in re.findall(r"\d+", division.answer)[:2])
        assert (count, left) == divmod(over, by)
        assert count == len(design.motifs)
        if "base bead" in division.answer:
            spare_mm = someone.target_mm(design.closure) - design.strip_mm
            assert left == math.floor((spare_mm + 1e-6) / design.base_pitch_mm)
            assert by == len(design.motifs[0]) + len(design.dividers[0])
        else:
            unit = next((SMALL[word] for word in SMALL if word in division.answer), 1)
            true_left = someone.target_mm(design.closure) - design.strip_mm
            assert left / unit == pytest.approx(true_left, abs=0.5 / unit + 1e-6)
            repeat_mm = (len(design.motifs[0]) + len(design.dividers[0])) * design.base_pitch_mm
            assert by / unit == pytest.approx(repeat_mm, abs=1e-6)
    # Where no fine parts make a true sum the question is left out; that is rare.
    assert told > 0.98 * seen


def test_plain_ends_are_in_the_sums() -> None:
    # By hand: 81 base beads of 2.5 mm are 202.5 mm; 3 plain ones at each end and the last divider
    # leave 74 for motifs, which take 6 each: 12 motifs, 2 beads left over.
    someone = Wearer(snug_mm=203.0)
    repeat = Repeat(dangles=5, divider=1, margins=6)
    strip = Strip(base=KINDS["cube 3"], measured_pitch_mm=2.5, repeat=repeat, plain_ends=False)
    fit = strip.fit(someone)
    assert isinstance(fit, Fit)
    design = build(
        beads=BEADS,
        base=0,
        base_pitch_mm=2.5,
        profiles=((1, 2, 3, 2, 1),),
        order=(1,) * fit.motifs,
        divider_base_beads=1,
        margins=(3, 3),
    )
    *_, division = questions(piece_of(design=design, wearer=someone), Level.FRACTIONS)
    assert division.sum == "74 \N{DIVISION SIGN} 6"
    assert division.answer == "12 motifs, 2 base beads left over"
    assert "81 base beads, 7 of them at the ends" in division.text
    sums = {q.sum for q in questions(piece_of(design=design, wearer=someone), Level.EASIER)}
    times = "\N{MULTIPLICATION SIGN}"
    assert f"12 {times} 5 + 13 {times} 1 + 6" in sums


@given(pieces)
def test_beads_are_those_of_the_design(piece: Piece) -> None:
    answers = [q.answer for q in questions(piece, Level.EASIER)]
    assert f"{piece.design.base_beads} base beads" in answers
    dangle_beads = sum(len(c.beads) for motif in piece.design.motifs for c in motif)
    assert f"{dangle_beads} beads" in answers


def test_the_easier_page_has_whole_numbers_only() -> None:
    for question in questions(fitted(152.4, 12.7, 16.5, 5, 1), Level.EASIER):
        assert not re.search(r"\d[./]\d", question.text + question.sum + question.answer)


def test_fractions_are_those_of_a_ruler() -> None:
    # Six inches and half an inch, on a ruler with sixteenths.
    first = questions(fitted(152.4, 12.7, 0.0, 5, 1), Level.FRACTIONS)[0]
    assert (first.sum, first.answer) == ("6 + 1/2", "6 1/2 in")


def test_a_worked_division() -> None:
    # By hand: 190 - 3.1 = 186.9 mm; a repeat takes 6 * 3.1 = 18.6 mm; 1869 / 186 = 10, rest 9.
    asked = questions(fitted(170.0, 20.0, 0.0, 5, 1), Level.HARDER)[-1]
    assert asked.sum == "1869 \N{DIVISION SIGN} 186"
    assert asked.answer == "10 motifs, 9 tenths of a mm left over"


@pytest.mark.parametrize("level", Level)
def test_the_answers_stand_on_a_later_page_and_the_strip_is_for_colouring(level: Level) -> None:
    piece = fitted(150.0, 20.0, 16.0, 5, 1)
    blocks = child_page(piece, level).blocks
    asked, _, solved = (block for block in blocks if isinstance(block, Table))
    assert [row[:2] for row in asked.rows] == [row[:2] for row in solved.rows]
    assert all(set(str(row[2])) == {"_"} for row in asked.rows)
    assert [row[2] for row in solved.rows] == [q.answer for q in questions(piece, level)]
    assert isinstance(blocks[list(blocks).index(solved) - 2], Break)
    (strip,) = (block for block in blocks if isinstance(block, TrueSize))
    assert strip.look is Look.OUTLINE
    care, again = (block for block in blocks if isinstance(block, Note))
    # Beside the child's pages and beside the answers, which may be printed apart.
    assert care == again
    own = cautions(piece.design, piece.worn_as, piece.wearer)
    assert care.texts == (*(f"{c.words} {c.remedy}" for c in own), *ALL)


def test_a_piece_of_uneven_parts_and_nobody_measured_still_has_sums() -> None:
    one, two = Column(base=0, beads=(1,)), Column(base=0, beads=(2, 2))
    design = of_columns(
        beads=BEADS, base_pitch_mm=3.1, motifs=((one,), (two, two)), dividers=((), (one,), ())
    )
    for level in Level:
        found = questions(piece_of(design=design), level)
        assert {"3 + 1"} <= {q.sum for q in found}
        assert to_pdf(child_page(piece_of(design=design), level)).pages >= 3
