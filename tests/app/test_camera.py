"""The camera: its button is there, a picture comes through, and without one all stays calm."""

import contextlib
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.app.conftest import ARGUMENTS, CHROMIUM, PATIENCE_MS, Site

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser
# Chromium's own made-up camera, which shows a moving test picture.
_CAMERA = ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"]

_SHOWS = "() => document.querySelector('[data-testid=stCameraInput] video')?.readyState >= 2"


def _take_out(site: Site) -> None:
    page = site.page
    site.open("colours")
    site.press(page.get_by_role("radio", name="From a photograph"))
    page.locator(".st-key-source_turn button").wait_for()
    site.settle()
    site.press(page.locator(".st-key-source_turn button"))
    page.locator("[data-testid=stCameraInput]").wait_for()
    site.settle()


def _no_fault(site: Site) -> None:
    assert site.page.get_by_role("alert").count() == 0
    assert site.page.locator("[data-testid=stException]").count() == 0


def test_without_leave_the_page_says_what_to_do_and_goes_on(site: Site, tmp_path: Path) -> None:
    _take_out(site)
    page = site.page
    camera = page.locator("[data-testid=stCameraInput]")
    camera.scroll_into_view_if_needed()
    line = page.locator(".dw-small:has-text('allow it beside the address')")
    line.wait_for()
    page.screenshot(path=tmp_path / "no-camera.png")
    _no_fault(site)
    # No link leads off this computer.
    assert [a for a in camera.locator("a").all() if a.is_visible()] == []
    assert camera.get_by_role("button").is_disabled()
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")
    site.press(page.locator(".st-key-source_turn button"))
    camera.wait_for(state="detached")
    site.settle()
    _no_fault(site)


@pytest.fixture
def with_camera(address: str, chromium: "Browser") -> Iterator[Site]:
    browser = chromium.browser_type.launch(executable_path=CHROMIUM, args=[*ARGUMENTS, *_CAMERA])
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, permissions=["camera"]
    )
    context.set_default_timeout(PATIENCE_MS)
    yield Site(context.new_page(), address, touch=True)
    browser.close()


def test_a_photograph_of_the_camera_gives_colours(with_camera: Site, tmp_path: Path) -> None:
    from playwright.sync_api import TimeoutError as NotYetError

    site = with_camera
    _take_out(site)
    page = site.page
    button = page.locator("[data-testid=stCameraInputButton]:enabled")
    button.wait_for()
    # The camera shows something before a picture of it can be taken.
    page.wait_for_function(_SHOWS)
    site.settle()
    taken = page.get_by_role("button", name="Clear photo")
    for _ in range(6):
        site.press(button)
        # A press that comes while the camera still warms up takes nothing.
        with contextlib.suppress(NotYetError):
            taken.wait_for(timeout=15_000)
            break
    page.locator(".photo .frame").wait_for()
    site.settle()
    site.press(page.get_by_role("radio", name="Any colour"))
    page.locator(".dw-found .one").first.wait_for()
    site.settle()
    page.screenshot(path=tmp_path / "camera.png")
    _no_fault(site)
