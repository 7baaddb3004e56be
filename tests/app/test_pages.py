"""The row of pages: every address opens its page, and the present one is seen in the row."""

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.app.conftest import Site

pytestmark = pytest.mark.browser
# Addresses that links of earlier versions hold, and the names that their pages have.
_PAGES = {
    "": "Size",
    "size": "Size",
    "neighbours": "Contrast",
    "handing-on": "Print and share",
    "shelf": "Shelf",
    "beads": "My beads",
}
_IN_ROW = {"beads": "Colours"}
_SEEN = """
(link) => {
  const row = document.querySelector(".st-key-pages").getBoundingClientRect();
  const box = link.getBoundingClientRect();
  return box.left >= row.left - 1 && box.right <= row.right + 1 && box.height >= 24;
}
"""


def test_every_address_opens_its_page_and_marks_it_in_the_row(site: "Site") -> None:
    page = site.page
    for path, name in _PAGES.items():
        site.open(path)
        page.wait_for_selector(f"h2:has-text('{name}')")
        assert page.get_by_role("dialog").count() == 0
        here = page.locator(".st-key-pages a[aria-current=page]")
        here.wait_for()
        assert here.inner_text() == _IN_ROW.get(path, name)
        page.wait_for_function(f"() => ({_SEEN})(document.querySelector('[aria-current=page]'))")
        assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")


def test_the_way_on_leads_through_the_pages_and_keeps_the_row_with_it(site: "Site") -> None:
    page = site.page
    site.open()
    for name in ("Colours", "Proposals", "Shape", "Piece", "Contrast", "Counting"):
        page.locator(".st-key-onward a", has_text=f"Next: {name}").click()
        page.wait_for_selector(f"h2:has-text('{name}')")
        site.settle()
        assert page.locator(".st-key-pages a[aria-current=page]").inner_text() == name
        page.wait_for_function(f"() => ({_SEEN})(document.querySelector('[aria-current=page]'))")


def test_the_keyboard_reaches_the_last_page_of_the_row(site: "Site") -> None:
    site.open()
    site.page.locator(".st-key-pages a").first.focus()
    for _ in range(10):
        site.page.keyboard.press("Tab")
    focused = site.page.evaluate("document.activeElement.innerText")
    assert focused == "Shelf"
    site.page.wait_for_function(f"() => ({_SEEN})(document.activeElement)")


def test_a_start_brings_the_picture_and_a_word_into_sight(site: "Site") -> None:
    page = site.page
    site.open()
    page.get_by_role("textbox", name="Measured round it, snug").fill("17 cm")
    page.keyboard.press("Tab")
    site.settle()
    page.get_by_role("button", name="Start mine").click()
    said = page.get_by_role("status").filter(has_text="Yours is on the table: 9 motifs")
    said.wait_for()
    page.wait_for_function("() => document.querySelector('[data-testid=stMain]').scrollTop === 0")
    site.ready()
    picture = page.locator(".table .frame").bounding_box()
    box = said.bounding_box()
    height = page.viewport_size["height"] if page.viewport_size else 0
    assert picture is not None
    assert box is not None
    assert 0 <= box["y"] < picture["y"] < picture["y"] + picture["height"] <= height
