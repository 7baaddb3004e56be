"""The child's sums: each answer is what comes out of the numbers printed before it."""

import ast
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.brief import Strip, Wearer
from explorer.cautions import cautions
from explorer.child_page import Level, child_page, questions
from explorer.design import Closure, Column, Design, build
from explorer.fit import Fit, Repeat
from explorer.piece import Piece
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
    return Piece(design=design, name="Ada", wearer=someone)


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


def first_number(words: str) -> Fraction:
    found = re.match(r"\d+ \d+/\d+|\d+/\d+|\d+(\.\d+)?", words)
    assert found
    return value(found[0])


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
    (care,) = (block for block in blocks if isinstance(block, Note))
    own = cautions(piece.design, piece.worn_as, piece.wearer)
    assert care.texts == (*(f"{c.words} {c.remedy}" for c in own), *ALL)


def test_a_piece_of_uneven_parts_and_nobody_measured_still_has_sums() -> None:
    one, two = Column(base=0, beads=(1,)), Column(base=0, beads=(2, 2))
    design = Design(
        beads=BEADS, base_pitch_mm=3.1, motifs=((one,), (two, two)), dividers=((), (one,), ())
    )
    for level in Level:
        found = questions(Piece(design=design), level)
        assert {"3 + 1"} <= {q.sum for q in found}
        assert to_pdf(child_page(Piece(design=design), level)).pages >= 3
