"""Command lines and flows answer as they did when they were recorded.

They were recorded when a piece was still kept as beads. What all of them answer is looked at with
``DANGLEWISE_LONG_CHECKS=1`` only; what differs is explained one by one in ``explained``.
"""

import os
import sys
from collections.abc import Iterable

import pytest

if sys.platform == "win32":
    pytest.skip("hangs and memory are watched by POSIX signals", allow_module_level=True)

from explorer.app.state import Work
from tests.recorded import record
from tests.recorded.commands import BAD, COMMANDS
from tests.recorded.explained import EXPLAINED
from tests.recorded.flows import FLOWS

long = pytest.mark.skipif(
    os.environ.get("DANGLEWISE_LONG_CHECKS") != "1", reason="only with DANGLEWISE_LONG_CHECKS=1"
)


def test_all_is_recorded() -> None:
    kept = record.kept()
    assert (len(COMMANDS), len(BAD), len(FLOWS)) == (140, 20, 60)
    assert [*kept] == [*COMMANDS, *FLOWS]
    ends = {line: kept[line][0].split("\n")[0] for line in COMMANDS}
    assert ends == {line: "exit 2" if line in BAD else "exit 0" for line in COMMANDS}
    for name, (_, steps) in FLOWS.items():
        assert 3 <= len(steps) <= 8, name
        assert len(kept[name]) == len(steps) + 1, name


@long
def test_command_lines_answer_as_recorded() -> None:
    _compare(record.commands(), COMMANDS)


@long
def test_flows_go_as_recorded() -> None:
    _compare(record.flows_of(FLOWS), FLOWS)


def _compare(now: record.Answers, keys: Iterable[str]) -> None:
    kept = record.kept()
    other = {key for key in keys if kept[key] != now[key]}
    plain = {key: kept[key] for key in keys if key not in EXPLAINED}
    found = [*record.differences(plain, now)]
    assert not found, "\n".join((f"{len(found)} answer otherwise than recorded", *found))
    alike = [key for key in keys if key in EXPLAINED and key not in other]
    assert not alike, f"explained, and yet as recorded: {alike}"


def test_a_difference_is_told_with_its_step(monkeypatch: pytest.MonkeyPatch) -> None:
    name = "drops at the tips"
    was = record.flows_of((name,))
    assert [*record.differences(was, record.flows_of((name,)))] == []

    def nothing(work: Work, **_: object) -> Work:
        return work

    monkeypatch.setitem(record._WORDS, "tips", nothing)
    (told,) = record.differences(was, record.flows_of((name,)))
    assert told.startswith(f"{name}, step 1 ('tips', {{'kind': 'drop 3.4'}}):\n    -")
    assert "drop 3.4" in told
    assert len(told.split("\n")) < 10


def test_lost_and_other_answers_are_told() -> None:
    line = COMMANDS[0]
    told = [*record.differences({line: ["exit 0\na\nb\nc"]}, {line: ["exit 0\na\nB\nc"]})]
    assert told == [f"{line}:\n    -b\n    +B"]
    assert [*record.differences({line: ["exit 0"]}, {})] == [f"{line}:\n    -exit 0"]
