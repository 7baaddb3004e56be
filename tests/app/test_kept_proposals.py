"""What was kept and what was put away among proposals comes back, page after page."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def _cards(site: "Site") -> int:
    return site.page.locator(".st-key-proposals img").count()


def _act(site: "Site", key: str) -> None:
    button = site.page.locator(f".st-key-{key} button")
    button.wait_for()
    site.press(button)
    site.settle()


def _words(site: "Site", key: str) -> str:
    return site.page.locator(f".st-key-{key} button").inner_text()


def _pictures(site: "Site") -> list[str]:
    images = site.page.locator(".st-key-proposals img").all()
    return [str(image.get_attribute("src")).rpartition("/")[2] for image in images]


def test_kept_and_put_away_outlive_a_page_and_a_reload(site: "Site", tmp_path: Path) -> None:
    page = site.page
    site.open("proposals")
    page.locator(".st-key-put_23 button").wait_for()
    site.settle()
    assert _cards(site) == 24
    first = _pictures(site)
    # The third is kept; then the first goes, so that the kept one is the second.
    _act(site, "keep_2")
    page.locator(".st-key-keep_2 button:has-text('Kept')").wait_for()
    _act(site, "away_0")
    page.locator(".st-key-put_23").wait_for(state="detached")
    site.settle()
    _act(site, "keep_4")
    page.locator(".st-key-keep_4 button:has-text('Kept')").wait_for()
    page.screenshot(path=tmp_path / "kept.png", full_page=True)

    def stands() -> None:
        page.locator(".st-key-put_22 button").wait_for()
        site.settle()
        assert _cards(site) == 23
        assert _pictures(site) == first[1:]
        assert [n for n in range(23) if _words(site, f"keep_{n}") == "Kept"] == [1, 4]

    stands()
    site.to("piece")
    site.to("proposals")
    stands()
    page.reload()
    site.ready()
    stands()
    site.press(page.get_by_role("button", name="Bring back 1"))
    page.locator(".st-key-put_23 button").wait_for()
    site.settle()
    assert _pictures(site) == first
    _act(site, "keep_2")
    page.locator(".st-key-keep_2 button:has-text('Kept')").wait_for(state="detached")
    page.reload()
    site.ready()
    page.locator(".st-key-put_23 button").wait_for()
    site.settle()
    assert [n for n in range(24) if _words(site, f"keep_{n}") == "Kept"] == [5]
