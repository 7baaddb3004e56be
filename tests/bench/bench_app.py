"""How fast the app answers in a browser, as ratios to the framework alone in the same run.

Run by hand: ``python -m tests.bench.bench_app`` from the project's folder. Needs Chromium.

- click: from a click on a motif to its repainted picture, against a rerun of an empty page;
- proposals: from a step of the seed to 24 other pictures, against the same;
- first page: from the address to a whole first page, against the framework's own hello page.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from tests.app.conftest import ARGUMENTS, CHROMIUM, Site, _answers, _free_port, serving

_EMPTY = """
import streamlit as st
st.session_state.setdefault("n", 0)
def more():
    st.session_state.n += 1
st.button("more", on_click=more)
st.text(f"count {st.session_state.n}")
"""
_CLICKS = 40
_SEEDS = 8
_VISITS = 5


@contextmanager
def _framework(folder: Path, *command: str) -> Iterator[str]:
    port = _free_port()
    options = [f"--server.port={port}", "--server.headless=true", "--server.address=127.0.0.1"]
    server = subprocess.Popen(
        [sys.executable, "-m", "streamlit", *command, *options],
        cwd=folder,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        if not _answers(server, port):
            raise RuntimeError(f"the framework did not start for {command}")
        yield f"http://127.0.0.1:{port}"
    finally:
        server.terminate()
        server.wait(20)


def _timed(act: Callable[[], object], ready: Callable[[], object]) -> float:
    start = time.perf_counter()
    act()
    ready()
    return time.perf_counter() - start


def _p95(seconds: list[float]) -> float:
    return statistics.quantiles(seconds, n=20)[-1]


def _empty_reruns(page: Page, address: str) -> list[float]:
    page.goto(address)
    page.get_by_text("count 0").wait_for()
    found = []
    for number in range(1, _CLICKS + 1):
        button = page.get_by_role("button", name="more")
        found.append(_timed(button.click, page.get_by_text(f"count {number}", exact=True).wait_for))
    return found


def _clicks(site: Site) -> list[float]:
    site.open("piece")
    page = site.page
    areas = page.locator(".table g[data-id]").all()
    found = []
    colours = page.get_by_role("group", name="Colour to give").get_by_role("button")
    for number in range(_CLICKS):
        if number % len(areas) == 0:
            colours.nth((number // len(areas) + 1) % 7).click()
            site.settle()
        box = areas[number % len(areas)].bounding_box()
        if box is None:
            raise RuntimeError("a motif has no place in the page")
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        # The acknowledged number and the picture of it arrive in one message.
        done = page.locator(f".table[data-done='{number + 1}']")
        found.append(_timed(partial(page.mouse.click, x, y), done.wait_for))
    return found


def _proposals(site: Site) -> list[float]:
    site.open("proposals")
    page = site.page
    images = page.locator(".st-key-proposals img")
    images.nth(23).wait_for()
    found = []
    for _ in range(_SEEDS):
        before = {image.get_attribute("src") for image in images.all()}

        def others(before: set[str | None] = before) -> None:
            site.settle()
            while {image.get_attribute("src") for image in images.all()} & before:
                page.wait_for_timeout(5)

        found.append(_timed(page.get_by_role("button", name="Show others").click, others))
    return found


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as name, sync_playwright() as driver:
        folder = Path(name)
        (folder / "empty.py").write_text(_EMPTY)
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        page = browser.new_page(viewport={"width": 1280, "height": 900})
        with (
            _framework(folder, "run", "empty.py") as empty,
            _framework(folder, "hello") as hello,
            serving(folder) as address,
        ):
            reruns = _empty_reruns(page, empty)
            base = _p95(reruns)
            clicks = _clicks(Site(page, address, touch=False))
            seeds = _proposals(Site(page, address, touch=False))
            firsts = [_visit(page, address) for _ in range(_VISITS)]
            hellos = [_visit(page, hello) for _ in range(_VISITS)]
        browser.close()
    first, plain = statistics.median(firsts), statistics.median(hellos)
    rows = (
        ("empty rerun", base, 1.0, ""),
        ("click to repainted picture", _p95(clicks), _p95(clicks) / base, "floor 3"),
        ("24 other proposals", max(seeds), max(seeds) / base, "floor 15"),
        ("hello page", plain, 1.0, ""),
        ("first page", first, first / plain, "floor 2.5"),
    )
    for label, seconds, ratio, floor in rows:
        print(f"{label:28} {1000.0 * seconds:8.0f} ms   x {ratio:5.2f}   {floor}")


def _visit(page: Page, address: str) -> float:
    page.goto("about:blank")
    return _timed(partial(page.goto, address), page.locator("h1").first.wait_for)


if __name__ == "__main__":
    main()
