"""Any design at all, for properties that hold of every one; and the command line asked."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import strategies as st

from explorer.__main__ import main
from explorer.design import Closure, Column, Design, of_columns
from palettes.beads import Bead
from palettes.charts import bead_kinds
from palettes.finishes import Finish

KINDS = list(bead_kinds().values())

beads = st.builds(
    Bead,
    name=st.text(max_size=8),
    kind=st.sampled_from(KINDS),
    hex=st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}"),
    finish=st.sampled_from(Finish),
)


@st.composite
def _designs(draw: st.DrawFn) -> Design:
    """Any design: other dangles in every motif, any bead anywhere."""
    palette = tuple(draw(st.lists(beads, min_size=1, max_size=4)))
    number = st.integers(0, len(palette) - 1)

    def columns(least: int, most: int, fewest: int, longest: int) -> tuple[Column, ...]:
        hanging = st.lists(number, min_size=fewest, max_size=longest).map(tuple)
        column = st.builds(Column, base=number, beads=hanging)
        return tuple(draw(st.lists(column, min_size=least, max_size=most)))

    motifs = tuple(columns(1, 4, 1, 5) for _ in range(draw(st.integers(1, 4))))
    return of_columns(
        beads=palette,
        base_pitch_mm=draw(st.floats(0.5, 10.0)),
        motifs=motifs,
        dividers=tuple(columns(0, 2, 0, 3) for _ in range(len(motifs) + 1)),
        start_margin=columns(0, 2, 0, 0),
        end_margin=columns(0, 2, 0, 0),
        start_links=tuple(draw(st.lists(number, max_size=3))),
        end_links=tuple(draw(st.lists(number, max_size=3))),
        closure=Closure(length_mm=draw(st.floats(0.0, 50.0))),
    )


@pytest.fixture(scope="session")
def designs() -> st.SearchStrategy[Design]:
    return _designs()


@pytest.fixture
def asked(capsys: pytest.CaptureFixture[str]) -> Callable[..., dict[str, Any]]:
    """Asks the command line and gives its document; code 2 goes with a fault beside it."""

    def ask(*arguments: str, code: int = 0) -> dict[str, Any]:
        found = main([*arguments, "--json"])
        captured = capsys.readouterr()
        assert found == code, captured.out
        document = json.loads(captured.out)
        assert ("error" in document) == (code == 2)
        assert isinstance(document, dict)
        return document

    return ask


@pytest.fixture
def refused(capsys: pytest.CaptureFixture[str]) -> Callable[..., dict[str, str]]:
    """Asks what cannot be, both ways, and gives the fault."""

    def ask(*arguments: str) -> dict[str, str]:
        code = main([*arguments, "--json"])
        captured = capsys.readouterr()
        assert code == 2, captured.out
        assert captured.err == ""
        error: dict[str, str] = json.loads(captured.out)["error"]
        assert set(error) == {"field", "got", "wanted", "remedy"}
        assert all(isinstance(part, str) for part in error.values()), error
        assert all(error[part] for part in ("field", "wanted", "remedy")), error
        assert main(list(arguments)) == 2
        captured = capsys.readouterr()
        assert captured.out == ""
        assert "Traceback" not in captured.err
        assert error["remedy"] in captured.err
        return error

    return ask
