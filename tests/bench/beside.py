"""How long a light step of one session takes while others search, on one server.

Run by hand: ``python -m tests.bench.beside [--searching 6]`` from the project's folder.
"""

import argparse
import asyncio
import statistics
import tempfile
import threading
import time
import urllib.request
from pathlib import Path

from tests.app.conftest import _answers, _free_port, _serve
from tests.bench.load import Session, opened

_SECONDS = 25.0


async def press(session: Session, label: str) -> float:
    """Press a button and wait for the whole page; the seconds it took."""
    start = time.perf_counter()
    await session.rerun({"id": session.widgets[label], "trigger_value": True})
    return time.perf_counter() - start


async def measure(address: str, searching: int) -> None:
    """Print the times of a light step alone and beside searches, and of the server's own answer."""
    light = await opened(address)
    await light.rerun(page="together")
    others = [await opened(address) for _ in range(searching)]
    for number, other in enumerate(others):
        await other.rerun(page="")
        box = other.widgets["Round the ankle or wrist"]
        await other.rerun({"id": box, "string_value": f"{200 + 7 * number} mm"})
        await other.rerun(page="proposals")
    alone = [await press(light, "All one colour") for _ in range(12)]
    answers: list[float] = []
    over = threading.Event()
    pings = threading.Thread(target=_ping, args=(address, answers, over))
    pings.start()
    searches = [asyncio.create_task(_search(other, over)) for other in others]
    beside = []
    end = time.monotonic() + _SECONDS
    while time.monotonic() < end:
        beside.append(await press(light, "All one colour"))
        await asyncio.sleep(0.2)
    over.set()
    pings.join()
    found = sum(await asyncio.gather(*searches))
    for label, values in (("alone", alone), (f"beside {searching}", beside), ("ping", answers)):
        p95 = statistics.quantiles(values, n=20)[-1]
        print(f"{label:12} p50 {statistics.median(values):5.2f} s  p95 {p95:5.2f} s")
    ratio = statistics.median(beside) / statistics.median(alone)
    print(f"a light step beside {searching} searching to one alone: {ratio:.1f}")
    print(f"searches meanwhile: {found}")


async def _search(session: Session, over: threading.Event) -> int:
    found = 0
    while not over.is_set():
        await press(session, "Show others")
        found += 1
    return found


def _ping(address: str, answers: list[float], over: threading.Event) -> None:
    while not over.is_set():
        start = time.perf_counter()
        # The address is our own server's.
        with urllib.request.urlopen(f"{address}/_stcore/health", timeout=60):  # noqa: S310
            answers.append(time.perf_counter() - start)
        time.sleep(0.05)


def main() -> None:
    """Start a server and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--searching", type=int, default=6)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        port = _free_port()
        process = _serve(Path(name), port)
        try:
            if _answers(process, port):
                asyncio.run(measure(f"http://127.0.0.1:{port}", options.searching))
        finally:
            process.terminate()
            process.wait(20)


if __name__ == "__main__":
    main()
