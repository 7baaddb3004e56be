"""Heavy work stands in one line, is done by helpers when it has to wait, and never gets stuck."""

import contextlib
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from explorer.app import heavy
from explorer.app.heavy import Job, Line, in_turn
from explorer.app.helper import Helper, HelperLostError
from explorer.errors import BriefError
from tests.app import heavy_work
from tests.app.conftest import ROOT

# Long enough for any machine; nothing here asserts how long it takes.
_LONG = 120.0


@pytest.fixture(autouse=True)
def plain_entry(monkeypatch: pytest.MonkeyPatch) -> None:
    """New processes run the entry script again; one that tests of pages left may be gone by now."""
    monkeypatch.setitem(sys.modules, "__main__", ModuleType("__main__"))


def _until(true: Callable[[], bool]) -> None:
    for _ in range(int(_LONG / 0.02)):
        if true():
            return
        time.sleep(0.02)
    pytest.fail("it did not come about")


def _over(*jobs: Job) -> None:
    """Wait for all of them, as pages do: looking at each again and again."""
    _until(lambda: sum(job.wait(0.01) for job in jobs) == len(jobs))


def _blocked(line: Line, gate: Path) -> Job:
    """The line with one piece of work at its head that ends when the gate is there."""
    job = line.join(heavy_work.until_there, str(gate))
    _until(lambda: job.part > 0.0)
    return job


def test_never_two_at_once_and_all_are_done() -> None:
    inside, most, done = 0, 0, []
    gate = threading.Barrier(8)

    @in_turn
    def work(number: int) -> None:
        nonlocal inside, most
        inside += 1
        most = max(most, inside)
        # Lets every other thread run meanwhile.
        threading.Event().wait(0.005)
        inside -= 1
        done.append(number)

    def start(number: int) -> None:
        gate.wait()
        work(number)

    threads = [threading.Thread(target=start, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == 1
    assert sorted(done) == list(range(8))


def test_a_failure_gives_the_turn_away_and_a_nested_call_goes_through() -> None:
    @in_turn
    def fails() -> None:
        raise ValueError("broken")

    @in_turn
    def outer() -> int:
        with pytest.raises(ValueError, match="broken"):
            fails()
        return 7

    found: list[int] = []
    for _ in range(2):
        thread = threading.Thread(target=lambda: found.append(outer()))
        thread.start()
        thread.join(10)
    assert found == [7, 7]


def test_alone_no_process_is_started_and_a_fault_reaches_who_asked() -> None:
    line = Line(2)
    for number in range(3):
        job = line.join(heavy_work.where, number)
        assert job.wait(_LONG)
        assert job.result() == (number, os.getpid())
    failed = line.join(heavy_work.fails)
    assert failed.wait(_LONG)
    with pytest.raises(BriefError, match="snug"):
        failed.result()
    assert line.helpers == 0


def test_who_asks_the_same_shares_it_and_only_the_last_ends_it(tmp_path: Path) -> None:
    line = Line(0)
    first = _blocked(line, tmp_path / "gate")
    assert line.join(heavy_work.until_there, str(tmp_path / "gate")) is first
    other = line.join(heavy_work.where, 1)
    assert line.ahead(other) == 0
    assert line.ahead(line.join(heavy_work.where, 2)) == 1
    line.leave(first)
    assert first.told(0.4)
    line.leave(first)
    assert first.askers == 0
    assert not first.told(0.5)
    # It is not joined any more: who asks now asks anew.
    assert line.join(heavy_work.until_there, str(tmp_path / "gate")) is not first
    (tmp_path / "gate").touch()
    assert other.wait(_LONG)


def test_what_waits_is_ended_at_once_and_with_nothing(tmp_path: Path) -> None:
    line = Line(0)
    _blocked(line, tmp_path / "gate")
    job = line.join(heavy_work.where, 1)
    line.leave(job)
    assert job.wait(0.0)
    assert job.result() is None
    (tmp_path / "gate").touch()


def test_what_no_page_waits_for_is_not_begun(tmp_path: Path) -> None:
    line = Line(0)
    _blocked(line, tmp_path / "gate")
    left, waited = line.join(heavy_work.where, 1), line.join(heavy_work.where, 2)
    left.looked_at -= heavy._FORGOTTEN_S + 1.0
    (tmp_path / "gate").touch()
    assert waited.wait(_LONG)
    assert left.forgotten
    assert left.result() is None
    assert waited.result() == (2, os.getpid())


def test_helpers_come_when_work_waits_do_the_same_and_go_when_nobody_needs_them(
    tmp_path: Path,
) -> None:
    line = Line(1, idle_s=0.3)
    own = _blocked(line, tmp_path / "gate")
    jobs = [line.join(heavy_work.where, number) for number in range(5)]
    _over(*jobs)
    assert [job.result()[0] for job in jobs] == list(range(5))
    assert os.getpid() not in {job.result()[1] for job in jobs}
    (tmp_path / "gate").touch()
    assert own.wait(_LONG)
    assert own.result() == os.getpid()
    _until(lambda: line.helpers == 0)
    again = line.join(heavy_work.where, 9)
    assert again.wait(_LONG)
    assert again.result() == (9, os.getpid())


def test_a_helper_hears_a_stop_and_hands_on_faults() -> None:
    helper = Helper()
    try:
        assert helper.ready()
        job = Job(heavy_work.fails, ())
        with pytest.raises(BriefError, match="snug"):
            helper.do(job)
        for _ in range(2):
            ending = Job(heavy_work.until_ended, (os.devnull,))
            threading.Timer(0.1, lambda job=ending: setattr(job, "wanted", False)).start()
            assert helper.do(ending) == "ended"
            assert ending.part == 0.5
        after = Job(heavy_work.where, (4,))
        assert helper.do(after) == (4, helper.pid)
    finally:
        helper.end()


def test_work_lost_with_its_helper_is_tried_once_more_and_then_told(tmp_path: Path) -> None:
    line, tries = Line(1, idle_s=0.3), tmp_path / "tries"
    own = _blocked(line, tmp_path / "gate")
    deadly, after = line.join(heavy_work.dies, str(tries)), line.join(heavy_work.where, 1)
    _over(after, deadly)
    assert tries.read_text() == ".."
    with pytest.raises(HelperLostError):
        deadly.result()
    # The dead were replaced.
    assert after.result()[0] == 1
    (tmp_path / "gate").touch()
    assert own.wait(_LONG)


@pytest.mark.parametrize("_again", range(20))
def test_where_the_system_starts_no_process_a_thread_does_it_all(_again: int) -> None:
    asked = []
    both = threading.Barrier(2, timeout=0.2)

    def refused() -> Helper:
        asked.append(1)
        # Two are refused at the same moment, where two are asked for.
        with contextlib.suppress(threading.BrokenBarrierError):
            both.wait()
        raise PermissionError("no processes here")

    line = Line(2, make=refused)
    jobs = [line.join(heavy_work.where, number) for number in range(20)]
    _over(*jobs)
    assert {job.result()[1] for job in jobs} == {os.getpid()}
    assert len(asked) <= 2


def test_a_helper_loads_no_framework() -> None:
    code = (
        "import sys, explorer.app.helper, explorer.app.tasks\n"
        "explorer.app.tasks.warm()\n"
        "print(sorted({'streamlit', 'colour', 'tornado', 'starlette'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert (done.stdout.strip(), done.stderr) == ("[]", "")


_SERVER = """
import time
from explorer.app.helper import Helper

if __name__ == "__main__":
    helper = Helper()
    assert helper.ready()
    print(helper.pid, flush=True)
    time.sleep(600)
"""


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="ends a process as POSIX does")
@pytest.mark.parametrize("how", ["SIGKILL", "SIGTERM", "SIGINT"])
def test_no_helper_outlives_its_server(how: str, tmp_path: Path) -> None:
    script = tmp_path / "a folder with spaces" / "server.py"
    script.parent.mkdir()
    script.write_text(_SERVER)
    server = subprocess.Popen(
        [sys.executable, str(script)],
        cwd=script.parent,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    assert server.stdout is not None
    helper = int(server.stdout.readline())
    server.send_signal(getattr(signal, how))
    server.wait(20)
    server.stdout.close()
    _until(lambda: not _lives(helper))


def _lives(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    # A process that has ended stays listed until its new parent has looked (Linux, proc(5)).
    state = Path(f"/proc/{pid}/stat")
    try:
        return state.read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return not state.parent.parent.is_dir()
