"""One session that never ends: every page drawn again and again, and the server's memory.

Run by hand: ``python -m tests.bench.soak [--reruns 2000]`` from the project's folder. Linux only.

One session goes through the pages, each drawn ``reruns`` times with something changed now and then,
so that pictures are new too. Printed is the memory after every tenth of the way; the first tenth
fills what is kept on purpose, whose sizes are bounded, and after it memory should stay flat.
"""

import argparse
import asyncio
import random
import tempfile
import time
from pathlib import Path

from tests.app.conftest import _answers, _free_port, _serve
from tests.bench.load import memory_mb, opened

PAGES = (
    "size", "colours", "beads", "proposals", "shape", "piece", "neighbours", "counting", "making",
    "handing-on", "together", "shelf",
)  # fmt: skip
# Every so many reruns something is changed: new pictures, new figures. Chosen by us.
_CHANGE = 50


async def soak(address: str, pid: int, reruns: int) -> None:
    """Draw every page so many times."""
    rng = random.Random(1)  # noqa: S311 - what to press
    session = await opened(address)
    drawn = 0
    start = time.monotonic()
    for turn in range(reruns):
        for page in PAGES:
            await session.rerun(page=page)
            drawn += 1
            if page == "together" and turn % _CHANGE == 0:
                label = rng.choice(("Surprise", "All one colour"))
                await session.rerun({"id": session.widgets[label], "trigger_value": True})
            if session.faults or not session.figures():
                print(f"{page}: {session.faults or 'no figures'}")
                session.faults.clear()
        if (turn + 1) % max(1, reruns // 10) == 0:
            pace = (time.monotonic() - start) / drawn
            print(f"{drawn:6} reruns, {memory_mb(pid):5.0f} MB, {1000 * pace:4.0f} ms each",
                  flush=True)  # fmt: skip
    await session.link.close()


def main() -> None:
    """Start a server and soak it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--reruns", type=int, default=2000)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        port = _free_port()
        process = _serve(Path(name), port)
        try:
            if _answers(process, port):
                asyncio.run(soak(f"http://127.0.0.1:{port}", process.pid, options.reruns))
        finally:
            process.terminate()
            process.wait(20)


if __name__ == "__main__":
    main()
