"""Letters for beads, base beads in tens, and numbers in runs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.design import Design
from explorer.sheet_letters import letter, letters
from explorer.sheet_shapes import runs, tens
from gallery.page_ink import Drawing, Path


@given(data=st.data())
def test_letters_tell_beads_apart(designs: st.SearchStrategy[Design], data: st.DataObject) -> None:
    design = data.draw(designs)
    marks = letters(design)
    used = {n for _, column in design.columns() for n in (column.base, *column.beads)}
    used |= set(design.start_links + design.end_links)
    assert set(marks) == used
    assert len(set(marks.values())) == len({design.beads[n] for n in used})


def test_letters_go_on_after_z() -> None:
    assert [letter(n) for n in (0, 25, 26, 51, 52, 701, 702)] == [
        "A", "Z", "AA", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
    with pytest.raises(ValueError, match="-1"):
        letter(-1)


@given(data=st.data())
def test_base_beads_are_counted_out_in_tens(
    designs: st.SearchStrategy[Design], data: st.DataObject
) -> None:
    design = data.draw(designs)
    drawn = tens(design, letters(design))
    squares = [
        sum(isinstance(m, Path) and m.closed for m in figure.picture.marks)
        for figure in drawn
        if isinstance(figure.picture, Drawing)
    ]
    assert sum(squares) == design.base_beads
    assert all(n == 10 for n in squares[:-1])


def test_numbers_in_runs() -> None:
    assert runs([0, 2, 3, 4, 8]) == "1, 3\N{EN DASH}5, 9"
