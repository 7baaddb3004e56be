"""Command lines of every command and option end as documented: no traceback, nothing half, no hang.

Short in the ordinary run; with ``DANGLEWISE_LONG_CHECKS=1`` 200 000 lines are drawn and run, and
every option stands in one that ended well.
"""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("hangs and memory are watched by POSIX signals and limits", allow_module_level=True)

from tests.fuzz.run_lines import run

LONG = os.environ.get("DANGLEWISE_LONG_CHECKS") == "1"
# The long run in parts, which two processes can share (`-n 2`).
PARTS, LINES = (4, 50_000) if LONG else (1, 250)


@pytest.mark.parametrize("part", range(PARTS))
def test_every_line_ends_as_documented(part: int) -> None:
    done = run(LINES, seed=part)
    table = "\n".join(done.table())
    sys.stderr.write(f"{table}\n")
    assert not done.found, table
    well = sum(count for (_, code), count in done.codes.items() if code == "0")
    assert well * 4 >= LINES
    assert not (done.never if LONG else ()), done.never


def _warns(_: list[str]) -> int:
    import warnings

    warnings.warn("divided by nothing", RuntimeWarning, stacklevel=1)
    return 0


def _writes(_: list[str]) -> int:
    Path("half.json").write_bytes(b"{")
    return 2


def _prints(*parts: str, code: int) -> Callable[[list[str]], int]:
    def printing(_: list[str]) -> int:
        for stream, words in zip((sys.stdout, sys.stderr), parts, strict=True):
            stream.write(words)
        return code

    return printing


@pytest.mark.parametrize(
    ("instead", "fault"),
    [
        (lambda _: 1 // 0, "exit ZeroDivisionError"),
        (lambda _: 3, "exit 3"),
        (_warns, "exit RuntimeWarning"),
        (_writes, "'half.json' was written"),
        (_prints("", "a.json: got ''.\n", code=2), "no remedy"),
        (_prints("done", "Traceback (most recent call last):", code=0), "'Traceback' is told"),
        (_prints("\x1b[2J", "", code=0), "control characters"),
        (_prints('{"share": NaN}', "", code=0), "no document"),
        (_prints('{"error": {"got": "x"}}', "", code=2), "no whole error"),
        (_prints("{}", "ready", code=0), "beside the document"),
    ],
    # A function's own name tells where it lies in memory, which differs between workers.
    ids=lambda given: given if isinstance(given, str) else "",
)
def test_what_goes_wrong_is_found(
    instead: Callable[[list[str]], int], fault: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tests.fuzz.run_lines.main", instead)
    assert any(fault in found for found in run(20, seed=1).found)
