"""A class at once on one server, in short: no fault, nobody sees another's, nothing is left behind.

``python -m tests.bench.load`` and ``tests.bench.soak`` do the same for long and with figures.
"""

import asyncio
import os
import subprocess
import sys
import time
from collections.abc import Coroutine, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import pytest
import streamlit

from tests.app.conftest import _answers, _free_port, _serve
from tests.bench import load, soak

T = TypeVar("T")

pytestmark = [
    pytest.mark.skipif(sys.platform != "linux", reason="reads processes as Linux tells of them"),
    pytest.mark.skipif(
        not streamlit.__version__.startswith(load.PINNED),
        reason="the framework's messages are known for one version",
    ),
]


def _run(work: Coroutine[Any, Any, T]) -> T:
    """Do it in a thread of its own: the browser's driver keeps a loop in the tests' own thread."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(asyncio.run, work).result()


@pytest.fixture
def server(tmp_path: Path) -> Iterator[tuple[str, "subprocess.Popen[bytes]"]]:
    port = _free_port()
    process = _serve(tmp_path, port)
    try:
        assert _answers(process, port)
        yield f"http://127.0.0.1:{port}", process
    finally:
        process.terminate()
        process.wait(60)


def test_a_few_learners_at_once(server: tuple[str, "subprocess.Popen[bytes]"]) -> None:
    address, process = server
    times = _run(load.lesson(address, range(4), 8.0, process.pid))
    assert times.errors == []
    assert len(times.took["open"]) == 4
    assert len(times.took["size"]) == 8


def test_searches_of_several_at_once_are_done_by_helpers_that_end_with_the_server(
    server: tuple[str, "subprocess.Popen[bytes]"],
) -> None:
    address, process = server

    async def search(number: int) -> list[str]:
        session = await load.opened(address)
        async with session.link:
            await session.rerun(page="")
            box = session.widgets["Round the ankle or wrist"]
            await session.rerun({"id": box, "string_value": f"{200 + 9 * number} mm"})
            await session.rerun(page="proposals")
            await session.rerun({"id": session.widgets["Show others"], "trigger_value": True})
            assert "Hide" in session.widgets
            return session.faults

    async def all_of_them() -> list[list[str]]:
        return await asyncio.gather(*(search(number) for number in range(4)))

    assert _run(all_of_them()) == [[]] * 4
    helpers = [pid for pid in load.processes(process.pid) if pid != process.pid]
    assert helpers
    process.terminate()
    process.wait(60)
    for _ in range(600):
        if not any(Path(f"/proc/{pid}").is_dir() for pid in helpers):
            return
        time.sleep(0.1)
    pytest.fail(f"left behind: {helpers} of {os.getpid()}")


def test_every_page_again_and_again(
    server: tuple[str, "subprocess.Popen[bytes]"], capsys: pytest.CaptureFixture[str]
) -> None:
    address, process = server
    _run(soak.soak(address, process.pid, 1))
    told = capsys.readouterr().out
    assert f"{len(soak.PAGES):6} reruns" in told
    assert "no figures" not in told
    assert "calm page" not in told
