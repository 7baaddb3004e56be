"""A long search is watched, stopped, and looked on with, in a browser."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.app.conftest import PATIENCE_MS, Site, Windows, running

pytestmark = pytest.mark.browser
# A server whose searches wait half way, until they are stopped or a file lets them go on.
_HELD = """
import pathlib, sys, time
from explorer.app import tasks
from explorer.app.heavy import Job
from explorer.app.start import start

go, told = pathlib.Path("go"), Job.told

def held(self, part):
    while self.task is tasks.search and part > 0.5 and self.wanted and not go.exists():
        time.sleep(0.02)
    return told(self, part)

Job.told = held
sys.exit(start(int(sys.argv[1]), False))
"""


@pytest.fixture
def held(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """The address of a server whose searches are held, and the file that lets them go on."""
    with running(tmp_path, _HELD) as address:
        yield address, tmp_path / "go"


@pytest.mark.parametrize(("width", "height"), [(1280, 900), (390, 844)], ids=["1280", "390"])
def test_stop_shows_what_was_found_and_look_on_finds_the_rest(
    windows: Windows, held: tuple[str, Path], tmp_path: Path, width: int, height: int
) -> None:
    from playwright.sync_api import expect

    address, go = held
    with windows.page(width, height, has_touch=width < 500) as page:
        site = Site(page, address, touch=width < 500)
        page.goto(f"{address}/proposals")
        stop = page.locator(".st-key-search_stop button")
        stop.wait_for()
        page.wait_for_selector(".table:not(.waiting)")
        bar = page.locator(".st-key-search [role=progressbar]")
        expect(bar).to_have_attribute("aria-valuenow", re.compile("5[0-9]"), timeout=PATIENCE_MS)
        page.screenshot(path=tmp_path / "searching.png")
        assert page.locator(".st-key-proposals").count() == 0
        # The row of pages answers meanwhile, and the way back finds the search where it was.
        site.to("piece")
        page.locator(".st-key-pages a[href^='proposals?']").click()
        stop.wait_for()

        site.press(stop)
        page.locator(".st-key-search_on button").wait_for()
        site.settle()
        page.screenshot(path=tmp_path / "stopped.png")
        images = page.locator(".st-key-proposals img")
        images.first.wait_for()
        found = images.count()
        assert 1 <= found <= 24
        assert stop.count() == 0
        assert page.locator("p.dw-note:has-text('Stopped')").count() == 1
        # What was found can be used: it goes on the table.
        site.press(page.locator(".st-key-put_0 button"))
        page.locator(".st-key-put_0 button:disabled").wait_for()
        site.settle()
        assert images.count() == found

        go.touch()
        site.press(page.locator(".st-key-search_on button"))
        page.locator(".st-key-search_on").wait_for(state="detached")
        expect(images).to_have_count(24, timeout=PATIENCE_MS)
        site.settle()
        assert page.locator(".st-key-search_on").count() == 0
        assert page.locator("p.dw-note:has-text('Stopped')").count() == 0
        assert page.get_by_role("alert").count() == 0
