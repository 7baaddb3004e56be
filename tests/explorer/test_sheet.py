"""The making sheet says what the design says, bead by bead, and can be worked from."""

import io
import re
from collections import Counter
from itertools import groupby
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader

from explorer.brief import Wearer
from explorer.cautions import Wear
from explorer.counts import Spares, counts
from explorer.design import Closure, Column, Design, build, of_columns
from explorer.layout import strip_scene
from explorer.piece import Piece, piece_of
from explorer.sheet import making_sheet
from explorer.sheet_care import ALL
from explorer.sheet_diagrams import figures
from explorer.sheet_facts import SheetOptions, joins, sheet_facts
from explorer.sheet_letters import letters
from explorer.thread import thread_plan
from explorer.thread_path import Step
from explorer.thread_setup import ThreadSetup
from gallery.page import (
    A4,
    LETTER,
    Block,
    Boxes,
    Chip,
    Document,
    Facts,
    Figures,
    Heading,
    Note,
    Paper,
    Steps,
    Table,
    Text,
    Title,
    TrueSize,
)
from gallery.page_ink import Drawing, Oval, Path, mirrored
from gallery.pdf import to_pdf
from palettes.beads import Bead
from palettes.charts import bead_kinds

KINDS = bead_kinds()
BEADS = (
    Bead(name="ground", kind=KINDS["cube 1.8"], hex="#eeeeee"),
    Bead(name="one", kind=KINDS["round 11/0"], hex="#aa2222"),
    Bead(name="two", kind=KINDS["round 11/0"], hex="#2222aa"),
    Bead(name="three", kind=KINDS["round 11/0"], hex="#22aa22"),
)


def worked(**changes: Any) -> Piece:
    # common practice, no source: ten motifs of seven dangles, one divider, 81 base beads.
    parts: dict[str, Any] = {
        "beads": BEADS,
        "base": 0,
        "base_pitch_mm": 1.95,
        "profiles": ((1, 2, 4, 6, 4, 2, 1),),
        "order": tuple(1 + i % 3 for i in range(10)),
        "divider_base_beads": 1,
        "divider_hangs": (1,),
        "closure": Closure(kind="lobster clasp", length_mm=16.0),
    }
    return piece_of(
        design=build(**(parts | changes)),
        name="A trial",
        wearer=Wearer(snug_mm=152.4, ease_mm=12.7, closure_counted=False),
        seed=4711,
    )


def tables(document: Document) -> list[Table]:
    return [block for block in document.blocks if isinstance(block, Table)]


def said(blocks: tuple[Block, ...]) -> str:
    """All words of a document, whatever block they stand in."""
    found: list[str] = []
    for block in blocks:
        match block:
            case Title():
                found += [block.text, block.under]
            case Heading() | Text():
                found.append(block.text)
            case Facts():
                found += [part for row in block.rows for part in row]
            case Steps():
                found += block.texts
            case Note():
                found += [block.title, *block.texts]
            case Table():
                found += [cell for row in block.rows for cell in row if isinstance(cell, str)]
            case _:
                pass
    return "\n".join(found)


def test_the_beads_to_count_out_are_the_counts() -> None:
    piece = worked()
    table = tables(making_sheet(piece))[0]
    tally = counts(piece.design)
    by_letter = {mark: n for n, mark in letters(piece.design).items()}
    for row in table.rows[:-1]:
        box, chip, words, used, spares, out = row
        assert isinstance(box, Boxes)
        assert isinstance(chip, Chip)
        entry = tally.by_bead[by_letter[chip.letter]]
        found = piece.design.beads[entry.bead]
        assert (used, spares, out) == (
            str(entry.used),
            str(entry.spares),
            str(entry.to_count_out),
        )
        assert isinstance(words, str)
        assert all(part in words for part in (found.name, found.kind.name, found.hex))
    assert table.rows[-1][3:] == (
        str(tally.total),
        str(tally.spares),
        str(tally.total + tally.spares),
    )


def lengths_said(words: str) -> list[int]:
    """The dangle lengths that a row of the order of work spells, none as 0."""
    if words == "nothing hangs":
        return []
    parts = re.split(r" · |  \|  ", words)
    return [
        sum(int(n) for n in re.findall(r"\d+", part)) if part != "\N{EN DASH}" else 0
        for part in parts
    ]


@given(data=st.data())
def test_the_order_of_work_covers_every_base_bead_and_hangs_every_bead(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    design = data.draw(designs)
    table = tables(making_sheet(piece_of(design=design)))[-1]
    covered: list[int] = []
    hung_beads: list[int] = []
    for _, name, _, where, words, _ in table.rows:
        assert isinstance(where, str)
        assert isinstance(words, str)
        if name == "new thread":
            continue
        first, _, last = where.partition("\N{EN DASH}")
        span = range(int(first), int(last or first) + 1)
        covered += span
        spelled = lengths_said(words)
        hung_beads += spelled or [0] * len(span)
    assert covered == list(range(1, design.base_beads + 1))
    assert hung_beads == [len(column.beads) for _, column in design.columns()]


def test_runs_of_letters_spell_a_mixed_dangle_from_the_base_down() -> None:
    mixed = Column(base=0, beads=(1, 1, 2, 1, 3))
    motifs = ((mixed, mixed),)
    design = of_columns(beads=BEADS, base_pitch_mm=1.95, motifs=motifs, dividers=((), ()))
    row = tables(making_sheet(piece_of(design=design)))[-1].rows[0]
    assert row[4] == "2A 1B 1A 1C  |  2A 1B 1A 1C"


def test_the_picture_is_the_whole_strip_and_names_every_motif() -> None:
    piece = worked()
    (picture,) = (b for b in making_sheet(piece).blocks if isinstance(b, TrueSize))
    assert picture.scene == strip_scene(piece.design, hang="regular")
    assert [label.text for label in picture.labels] == [
        f"{n + 1} {'ABC'[n % 3]}" for n in range(10)
    ]
    # Every label stands over its own motif: seven base beads of 1.95 mm, eight to a repeat.
    for n, label in enumerate(picture.labels):
        assert label.left_mm == pytest.approx((1 + 8 * n) * 1.95)
        assert label.right_mm - label.left_mm == pytest.approx(7 * 1.95)


def test_the_size_adds_up() -> None:
    words = said(making_sheet(worked()).blocks)
    assert "152.4 snug + 12.7 ease = 165.1 mm (6 1/2 in)" in words
    assert (
        "10 motifs \N{MULTIPLICATION SIGN} 7 + 11 dividers \N{MULTIPLICATION SIGN} 1 = 81" in words
    )
    # 81 * 1.95 = 157.95 and 165.1 - 157.95 = 7.15, to a tenth.
    assert re.search(r"= 15(7\.9|8) mm", words)
    assert re.search(r"left over\n7\.[12] mm", words)


def test_date_seed_cautions_and_care_are_printed() -> None:
    sheet = making_sheet(worked(), SheetOptions(dated="2026-11-25", wear=Wear.CHILD))
    assert sheet.foot == "A trial · 2026-11-25 · seed 4711"
    words = said(sheet.blocks)
    for text in ALL:
        assert text in words
    for caution in sheet_facts(worked(), SheetOptions(wear=Wear.CHILD)).cautions:
        assert caution.words in words
    assert "seed" not in making_sheet(piece_of(design=worked().design)).foot


def test_magnets_are_spoken_of_where_a_child_wears_it() -> None:
    words = said(making_sheet(worked(), SheetOptions(wear=Wear.BRACELET)).blocks)
    assert "Magnetic" not in words
    assert "choke" in words


def test_every_piece_of_thread_is_cut_and_started() -> None:
    piece = worked()
    plan = thread_plan(piece.design)
    assert plan.joins >= 2
    words = said(making_sheet(piece).blocks)
    for number, length in enumerate(plan.pieces_mm, 1):
        assert f"Cut piece {number}: {round(length)} mm" in words
    begun = re.findall(r"Take thread piece (\d+) of", words)
    assert [int(n) for n in begun] == list(range(1, len(plan.pieces_mm) + 1))


def test_joins_are_the_plans() -> None:
    plan = thread_plan(worked().design)
    found = joins(plan)
    assert [join.piece for join in found] == list(range(2, plan.joins + 2))
    groups = [step for step, _ in groupby(leg.step for leg in plan.legs)]
    after = [groups[i + 1] for i, step in enumerate(groups[:-1]) if step is Step.JOINS]
    assert [join.step for join in found] == after


def test_drawings_come_for_both_hands() -> None:
    drawn = figures()
    for right, left in zip(drawn[::2], drawn[1::2], strict=True):
        assert right.caption.endswith("right-handed")
        assert left.caption.endswith("left-handed")
        assert isinstance(right.picture, Drawing)
        assert left.picture == mirrored(right.picture)
        for mark in right.picture.marks:
            points = mark.points_mm if isinstance(mark, Path) else ((mark.x_mm, mark.y_mm),)
            for x, y in points:
                assert 0.0 <= x <= right.picture.width_mm
                assert -0.5 <= y <= right.picture.height_mm


def test_motifs_of_one_build_are_drawn_once() -> None:
    shapes = [b for b in making_sheet(worked()).blocks if isinstance(b, Figures)][-1]
    (figure,) = shapes.figures
    assert figure.caption == "every motif"
    assert isinstance(figure.picture, Drawing)
    assert sum(isinstance(mark, Oval) for mark in figure.picture.marks) == 20


def test_the_printed_sheet_reads_as_the_design() -> None:
    piece = worked()
    # Thread in one piece, so that no motif's row is parted by a join.
    options = SheetOptions(dated="a day", setup=ThreadSetup(working_mm=15_000.0))
    printed = to_pdf(making_sheet(piece, options))
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(printed.pdf)).pages)
    assert printed.lacking == ()
    assert text.count("1 · 2 · 4 · 6 · 4 · 2 · 1") == 10
    tally = counts(piece.design)
    for entry in tally.by_bead:
        assert f"{entry.to_count_out}" in text
    assert Counter(re.findall(r"motif (\d+)", text)) == Counter(str(n) for n in range(1, 11))


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("motifs", [5, 7, 9, 10, 13])
def test_headings_are_printed_with_what_follows(paper: Paper, large: bool, motifs: int) -> None:
    piece = worked(order=tuple(1 + i % 3 for i in range(motifs)))
    printed = to_pdf(making_sheet(piece, SheetOptions(large=large)), paper)
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(printed.pdf)).pages]

    def page_of(words: str) -> int:
        (found,) = [at for at, text in enumerate(pages) if words in text]
        return found

    cuts = len(thread_plan(piece.design).pieces_mm)
    for number in range(1, cuts + 1):
        assert page_of(f"Cut piece {number}:") == page_of("Thread and needle")
    assert page_of("ladder stitch, right-handed") == page_of("The thread's path.")


def test_large_type_is_larger_and_longer() -> None:
    plain, large = (
        to_pdf(making_sheet(worked(), SheetOptions(large=size))) for size in (False, True)
    )
    assert large.pages > plain.pages


def test_extremes_are_printed() -> None:
    # One motif of one dangle of one bead, and a strip of two hundred motifs.
    least = worked(profiles=((1,),), order=(1,), divider_base_beads=0)
    assert to_pdf(making_sheet(least)).pages >= 1
    long = worked(order=tuple(1 + i % 3 for i in range(200)))
    assert to_pdf(making_sheet(long, SheetOptions(spares=Spares(percent=20.0)))).pages > 10
