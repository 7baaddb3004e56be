"""Charts answer to a pointer and to a finger: what is nearest is meant."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Locator

    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def _middle(thing: "Locator") -> tuple[float, float]:
    thing.scroll_into_view_if_needed()
    thing.element_handle().wait_for_element_state("stable")
    box = thing.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def _press(site: "Site", x: float, y: float) -> None:
    if site.touch:
        site.page.touchscreen.tap(x, y)
    else:
        site.page.mouse.click(x, y)


def _unfold(site: "Site", thing: "Locator") -> None:
    """Open the box that something lies in."""
    box = site.page.locator("[data-testid=stExpander]").filter(has=thing)
    site.press(box.locator("summary"))
    thing.first.wait_for()
    site.settle()


def test_a_mark_near_the_press_is_picked(site: "Site", tmp_path: Path) -> None:
    site.open("proposals")
    page = site.page
    _unfold(site, page.locator(".st-key-tradeoff_scores"))
    marks = page.locator("g[data-place]")
    marks.nth(23).wait_for()
    site.settle()
    for place in (9, 3):
        mark = page.locator(f'g[data-place="{place}"]')
        box = mark.bounding_box()
        assert box is not None
        # A little beside its middle, as presses are.
        press = mark.tap if site.touch else mark.click
        press(position={"x": box["width"] / 2 + 2, "y": box["height"] / 2 - 3})
        page.locator(f'g[data-place="{place}"][aria-pressed="true"]').wait_for()
        page.locator(f".st-key-tradeoff_card p:has-text('{place + 1}. ')").wait_for()
        site.settle()
    page.screenshot(path=tmp_path / "tradeoff.png")


def test_the_wheel_of_colours_stays_as_it_is_under_a_press(site: "Site", tmp_path: Path) -> None:
    site.open("colours")
    page = site.page
    plots = page.locator(".plot")
    _unfold(site, plots)
    dots = plots.first.locator("circle.dot")
    assert dots.count() >= 7
    before = plots.first.inner_html()
    for dot in (dots.first, dots.last):
        _press(site, *_middle(dot))
        site.settle()
    assert plots.first.inner_html() == before
    assert page.get_by_role("alert").count() == 0
    # What a dot is stands in its name, for those who point and those who hear.
    assert all(title.strip() for title in plots.first.locator("g > title").all_text_contents())
    page.screenshot(path=tmp_path / "wheel.png")


def test_a_bar_is_picked_by_a_press_and_stepped(site: "Site", tmp_path: Path) -> None:
    site.open("shape")
    page = site.page
    bars = page.locator(".profile [role=slider]")
    before = [bar.get_attribute("aria-valuenow") for bar in bars.all()]
    _press(site, *_middle(bars.nth(3).locator("circle").first))
    site.settle()
    # A press that pulls nothing changes nothing.
    assert [bar.get_attribute("aria-valuenow") for bar in bars.all()] == before
    site.press(page.get_by_role("button", name="Longer", exact=True))
    page.locator(".profile[data-waiting='0']").wait_for()
    site.settle()
    after = [int(bar.get_attribute("aria-valuenow") or 0) for bar in bars.all()]
    assert after[3] == int(before[3] or 0) + 1
    page.screenshot(path=tmp_path / "bar.png")
