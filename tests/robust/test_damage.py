"""Damaged shelves: clear words, every undamaged piece saved, and no damaged one taken for whole.

Short in the ordinary run; ``DANGLEWISE_LONG_CHECKS=1`` damages 5 000 shelves.
"""

import contextlib
import io
import json
import os
from pathlib import Path
from typing import Any

import pytest

from explorer.__main__ import main
from explorer.shelf import NewerShelfError, Shelf, ShelfError
from explorer.shelf_saved import Saved
from tests.robust.damage import build, damaged, spans, untouched

LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
_BUILDS = 50 if LONG else 6
_EACH = 100 if LONG else 10


def asked(*arguments: str) -> tuple[int, dict[str, Any]]:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        code = main(["shelf", *arguments, "--json"])
    return code, json.loads(out.getvalue())


def clear(code: int, document: dict[str, Any]) -> None:
    """Done, or a fault in our own words that names what is wrong and what to do."""
    assert code in (0, 2), document
    if code:
        error = document["error"]
        assert error["field"]
        assert error["wanted"]
        assert error["remedy"]
        assert "Traceback" not in str(document)


def standing(path: Path) -> dict[int, Saved]:
    shelf = Shelf(path)
    found = (*shelf.standing().pieces, *shelf.standing(thrown=True).pieces)
    return {saved.number: saved for saved in found}


@pytest.mark.parametrize("number", range(_BUILDS))
def test_what_is_whole_on_a_damaged_shelf_is_saved(number: int, tmp_path: Path) -> None:
    first = tmp_path / "first.sqlite3"
    build(first, number)
    before, held = first.read_bytes(), standing(first)
    needs = spans(first, "pieces")
    assert set(needs) == set(held)
    for turn in range(_EACH):
        folder = tmp_path / f"{turn}"
        folder.mkdir()
        path, new = folder / "shelf.sqlite3", folder / "new.sqlite3"
        after = damaged(before, number * _EACH + turn)
        path.write_bytes(after)
        whole = {one for one, where in needs.items() if untouched(before, after, where)}
        code, told = asked("rescue", str(path), "--out", str(new))
        clear(code, told)
        assert path.read_bytes() == after
        saved = standing(new) if new.exists() else {}
        assert whole <= set(saved), (number, turn, told)
        # What is called whole is just as it was.
        assert all(held.get(one) == found for one, found in saved.items()), (number, turn)
        _use(path, whole, turn)


def _use(path: Path, whole: set[int], turn: int) -> None:
    """The damaged shelf itself: what can be read is read, and each command has clear words."""
    try:
        assert whole <= set(standing(path))
    except NewerShelfError:
        pass
    except ShelfError:
        assert not whole
    commands = (
        ("list",),
        ("list", "--thrown-away"),
        ("export", "--out", str(path.with_name("all.zip"))),
        ("throw-away", "1"),
        ("bring-back", "2"),
    )
    # They take most of the time, so each shelf meets one of them.
    clear(*asked(*commands[turn % len(commands)], "--shelf", str(path)))
