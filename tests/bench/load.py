"""A class at once: thirty browsers' worth of sessions on one server, with no browser.

Run by hand: ``python -m tests.bench.load [--seconds 300] [--learners 30] [--rounds 2]`` in the
project's folder. Linux only, for what it reads of processes.

Each learner opens the app, types a measurement and a swatch of its own, and then recolours, has
itself surprised and asks for other proposals at a learner's pace until the time is up. After every
step it checks that the strip on its page has the length that belongs to its own measurement. What
is printed of each round: steps, errors, the times that answers took, processor time a step, and
memory before, at most and after a rest, of the server and of its helper processes together. A
second class with other measurements shows whether memory goes on growing.

The messages are the framework's own and private, so this holds for the version it is pinned to.
"""

import argparse
import asyncio
import collections
import contextlib
import json
import os
import random
import re
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import streamlit
import websockets
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg

from explorer.app.sizing import Measured, Sizing, measured
from explorer.fit import Fit
from tests.app.conftest import _answers, _free_port, _serve

PINNED = "1.67."
# A learner looks and thinks between two steps. Chosen by us.
_THINK_S = (2.0, 6.0)
# So late an answer counts as none: far beyond what anyone waits for. Chosen by us.
_ANSWER_S = 600


@dataclass
class Times:
    """How long steps took, by kind, and what went wrong."""

    took: dict[str, list[float]] = field(default_factory=lambda: collections.defaultdict(list))
    errors: list[str] = field(default_factory=list)


class Session:
    """What one browser tab would hold: the connection, and what the last run put on the page."""

    def __init__(self, link: Any) -> None:
        self.link = link
        self.page = ""
        self.widgets: dict[str, str] = {}
        self.html: list[str] = []
        self.faults: list[str] = []
        self.query = ""
        self.cached: dict[str, ForwardMsg] = {}

    async def rerun(self, *states: dict[str, Any], page: str | None = None) -> None:
        """Ask for a run of the script and read its messages to the end."""
        message = BackMsg()
        message.rerun_script.query_string = self.query
        if page is not None:
            message.rerun_script.page_name = page
        else:
            message.rerun_script.page_script_hash = self.page
        for state in states:
            message.rerun_script.widget_states.widgets.add(**state)
        self.widgets, self.html = {}, []
        await self.link.send(message.SerializeToString())
        while True:
            raw = await asyncio.wait_for(self.link.recv(), _ANSWER_S)
            told = ForwardMsg.FromString(raw)
            if told.WhichOneof("type") == "ref_hash":
                told = self.cached[told.ref_hash]
            elif told.hash:
                self.cached[told.hash] = told
            if self._read(told):
                return

    def _read(self, told: ForwardMsg) -> bool:
        kind = told.WhichOneof("type")
        if kind == "new_session":
            self.page = told.new_session.page_script_hash
            self.widgets, self.html = {}, []
        elif kind == "navigation":
            # Pages of ours are told apart here; the message above names the script only.
            self.page = told.navigation.page_script_hash
        elif kind == "page_info_changed":
            self.query = told.page_info_changed.query_string
        elif kind == "delta" and told.delta.HasField("new_element"):
            self._element(told.delta.new_element)
        # 0 is a whole run; others were stopped for another that follows.
        return kind == "script_finished" and told.script_finished == 0

    def _element(self, element: Any) -> None:
        kind = element.WhichOneof("type")
        inside = getattr(element, kind)
        if kind == "html":
            self.html.append(inside.body)
            if "program itself" in inside.body:
                self.faults.append("the calm page")
        elif kind == "exception":
            self.faults.append(inside.message)
        elif getattr(inside, "label", "") and getattr(inside, "id", ""):
            self.widgets[inside.label] = inside.id

    def figures(self) -> str:
        """The line of figures under the piece."""
        found = [text for text in self.html if "dw-figures" in text]
        return re.sub(r"<[^>]*>|&nbsp;", " ", found[-1]).replace("\u00a0", " ") if found else ""


async def opened(address: str) -> Session:
    """A session's connection, as a browser makes it."""
    link = await websockets.connect(
        f"{address.replace('http', 'ws')}/_stcore/stream",
        subprotocols=[websockets.Subprotocol("streamlit")],
        origin=websockets.Origin(address),
        max_size=None,
    )
    return Session(link)


def strip_told(fit: Fit) -> str:
    """How a page tells a strip's length and motifs."""
    length = f"{fit.strip_mm:.1f}".removesuffix(".0")
    return f"Strip {length} mm.*{fit.motifs} motifs"


async def learner(number: int, address: str, until: float, times: Times) -> None:
    """One learner's lesson; learners of other rounds have other numbers."""
    rng = random.Random(number)  # noqa: S311 - what to press, no secret
    snug = f"{150 + 3 * (number % 50)} mm"
    # Another swatch for each round of fifty, so that no piece is of a round before.
    swatch = f"{60 + 0.2 * (number % 50) + 0.1 * (number // 50):.1f} mm"
    sizing = Sizing(snug=snug, swatch_length=swatch)
    to = measured(sizing)
    assert isinstance(to, Measured)
    fit = to.strip.fit(to.wearer, to.closure)
    assert isinstance(fit, Fit)
    own = strip_told(fit)
    await asyncio.sleep(rng.uniform(0.0, 5.0))
    try:
        session = await opened(address)
        async with session.link:
            await timed("open", times, session.rerun(page=""))
            box = session.widgets["Round the ankle or wrist"]
            await timed("size", times, session.rerun({"id": box, "string_value": snug}))
            box = session.widgets["Length of the swatch"]
            await timed("size", times, session.rerun({"id": box, "string_value": swatch}))
            while time.monotonic() < until:
                await step(session, rng, times)
                told = session.figures()
                if not re.search(own, told) or session.faults:
                    times.errors.append(f"learner {number}: {told!r} {session.faults}")
                    session.faults.clear()
                await asyncio.sleep(rng.uniform(*_THINK_S))
    except Exception as error:  # noqa: BLE001 - whatever ends a lesson is counted
        times.errors.append(f"learner {number}: {type(error).__name__}: {error}")


async def step(session: Session, rng: random.Random, times: Times) -> None:
    """Go to a page and press something there."""
    what = rng.choice(("Surprise", "Surprise", "All one colour", "Show others", "neighbours"))
    page = {"Show others": "proposals", "neighbours": "neighbours"}.get(what, "together")
    await timed(f"page {page}", times, session.rerun(page=page))
    if what in session.widgets:
        press = {"id": session.widgets[what], "trigger_value": True}
        await timed(what, times, session.rerun(press))
    elif what != "neighbours":
        times.errors.append(f"no button {what!r} on page {page}")


async def timed(kind: str, times: Times, work: Any) -> None:
    """Do it and write down how long it took."""
    start = time.perf_counter()
    await work
    times.took[kind].append(time.perf_counter() - start)


def processes(pid: int) -> list[int]:
    """A process and those that it started and that it or they started, by their numbers."""
    found = [pid]
    for task in Path(f"/proc/{pid}/task").glob("*/children"):
        with contextlib.suppress(OSError):
            for child in task.read_text().split():
                found += processes(int(child))
    return found


def memory_mb(pid: int) -> float:
    """What a process and its helpers hold in memory now (proc(5)); shared pages count for each."""
    pages = 0
    for one in processes(pid):
        with contextlib.suppress(OSError):
            pages += int(Path(f"/proc/{one}/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def processor_s(pid: int) -> float:
    """The processor time that a process and its helpers have taken, ended ones too (proc(5))."""
    ticks = 0
    for one in processes(pid):
        with contextlib.suppress(OSError):
            told = Path(f"/proc/{one}/stat").read_text().rpartition(")")[2].split()
            # utime, stime, cutime and cstime.
            ticks += sum(int(value) for value in told[11:15])
    return ticks / os.sysconf("SC_CLK_TCK")


async def lesson(address: str, learners: range, seconds: float, pid: int) -> Times:
    """All learners at once, and the server's memory meanwhile."""
    times = Times()
    until = time.monotonic() + seconds
    tasks = [asyncio.create_task(learner(n, address, until, times)) for n in learners]
    memory: list[float] = []
    while not all(task.done() for task in tasks):
        memory.append(memory_mb(pid))
        await asyncio.sleep(1.0)
    await asyncio.gather(*tasks)
    times.took["memory"] = memory
    return times


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=300.0)
    parser.add_argument("--learners", type=int, default=30)
    parser.add_argument("--rounds", type=int, default=2)
    # The framework forgets a session that nobody comes back to after two minutes.
    parser.add_argument("--rest", type=float, default=200.0)
    options = parser.parse_args()
    if not streamlit.__version__.startswith(PINNED):
        sys.exit(f"the messages are known for Streamlit {PINNED}*; got {streamlit.__version__}")
    with tempfile.TemporaryDirectory() as name:
        port = _free_port()
        process = _serve(Path(name), port)
        try:
            if not _answers(process, port):
                sys.exit("the server did not start")
            address = f"http://127.0.0.1:{port}"
            # The first session loads what is loaded once.
            asyncio.run(lesson(address, range(49, 50), 20.0, process.pid))
            for number in range(options.rounds):
                learners = range(50 * number, 50 * number + options.learners)
                before, spent = memory_mb(process.pid), processor_s(process.pid)
                times = asyncio.run(lesson(address, learners, options.seconds, process.pid))
                spent = processor_s(process.pid) - spent
                time.sleep(options.rest)
                print(f"round {number + 1}")
                report(times, before, memory_mb(process.pid), spent)
        finally:
            process.terminate()
            process.wait(20)


def report(times: Times, before: float, after: float, spent: float) -> None:
    """Print the table."""
    memory = times.took.pop("memory")
    every = [value for values in times.took.values() for value in values]
    for kind, values in sorted(times.took.items()):
        line(kind, values)
    line("all", every)
    print(f"errors {len(times.errors)}: {json.dumps(times.errors[:5])}")
    print(f"processor time: {spent:.0f} s, {spent / len(every):.3f} s a step")
    print(
        f"memory MB: {before:.0f} before, {max(memory):.0f} at most, {after:.0f} after a rest",
        flush=True,
    )


def line(kind: str, values: list[float]) -> None:
    """One row: steps, median, 95th percentile, longest."""
    p95 = statistics.quantiles(values, n=20)[-1] if len(values) > 1 else values[0]
    print(
        f"{kind:18} {len(values):5} steps  p50 {statistics.median(values):6.2f} s  "
        f"p95 {p95:6.2f} s  most {max(values):6.2f} s"
    )


if __name__ == "__main__":
    with contextlib.suppress(KeyboardInterrupt):
        main()
