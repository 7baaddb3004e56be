"""Every page in a browser that writes a decimal comma: no figure is left with a point."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from tests.app.conftest import Site, Windows

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

# Everything that is read or heard: text, names, tips and what stands in boxes, through the shadow
# roots of components; styles, scripts and texts to copy (links, files) are none of it.
_TEXTS = """
() => {
  const out = [];
  const look = (root) => {
    const walk = document.createTreeWalker(root, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.currentNode; node; node = walk.nextNode()) {
      if (node.nodeType === 3) {
        if (!node.parentElement?.closest('style, script, code, textarea')) out.push(node.data);
        continue;
      }
      for (const name of ['aria-label', 'aria-valuetext', 'title', 'alt', 'placeholder']) {
        out.push(node.getAttribute?.(name));
      }
      if (node.matches?.('input')) out.push(node.value);
      if (node.shadowRoot) look(node.shadowRoot);
    }
  };
  look(document.body);
  return out.filter((text) => text && /[0-9]\\.[0-9]/.test(text));
}
"""
_POINT = re.compile(r"\d+\.\d+")
# Right as they are: the choice of writing itself, and the name of a licence.
_RIGHT = {"1.5", "CC BY 4.0"}
PATHS = (
    "", "colours", "proposals", "shape", "piece", "neighbours", "counting", "making", "handing-on",
    "together", "shelf", "beads",
)  # fmt: skip


class Walker:
    """Opens what can be opened on a page and gathers figures with points."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self.page: Page = site.page
        self.found: list[tuple[str, str]] = []

    def look(self, where: str) -> None:
        for text in self.page.evaluate(_TEXTS):
            rest = text
            for right in _RIGHT:
                rest = rest.replace(right, "") if text.strip() != right else ""
            if _POINT.search(rest) and (where, text) not in self.found:
                self.found.append((where, text))

    def all_of(self, where: str) -> None:
        """The page as it is, with its folds open, its lists let down and its tips shown."""
        page = self.page
        for fold in page.locator("[data-testid=stExpander] summary").all():
            if fold.is_visible() and not fold.evaluate("one => one.parentElement.open"):
                fold.click()
                self.site.settle()
        self.look(where)
        for box in page.locator("[data-testid=stSelectbox] input:enabled").all():
            if box.is_visible():
                # Scrolling shuts a list, so it is let down once nothing moves.
                box.scroll_into_view_if_needed()
                self.site.settle()
                box.focus()
                box.press("ArrowDown")
                page.locator("[role=option]").first.wait_for()
                self.look(f"{where}, list")
                page.keyboard.press("Escape")
                page.locator("[role=option]").first.wait_for(state="detached")
        for help_ in page.get_by_role("button", name="Help for").all():
            if help_.is_visible():
                help_.scroll_into_view_if_needed()
                self.site.settle()
                help_.hover()
                page.locator("[data-testid=stTooltipContent]").first.wait_for()
                self.look(f"{where}, help")
                page.mouse.move(0, 0)
                page.locator("[data-testid=stTooltipContent]").first.wait_for(state="detached")


@pytest.fixture(scope="module")
def site(windows: Windows, address: str) -> Iterator[Site]:
    """One table for all of them: nothing here is changed on it."""
    with windows.page(1280, 1000, locale="de-DE") as page:
        site = Site(page, address, touch=False)
        site.open()
        # The browser has said how it writes once the figures have their comma.
        page.locator(".dw-figures:has-text('207,7 mm')").wait_for()
        site.settle()
        yield site


@pytest.fixture
def walker(site: Site) -> Walker:
    return Walker(site)


def _kept(site: Site, path: str) -> None:
    """Another page of the same table."""
    site.open(f"{path}?{site.page.url.partition('?')[2]}")
    site.page.locator(".dw-figures:has-text(',')").or_(site.page.locator("h2")).first.wait_for()
    site.settle()


@pytest.mark.parametrize("path", PATHS)
def test_every_page_writes_figures_with_a_comma(walker: Walker, path: str) -> None:
    _kept(walker.site, path)
    walker.all_of(path or "size")
    assert walker.found == []


def test_every_way_of_handing_on_writes_a_comma(walker: Walker) -> None:
    site, page = walker.site, walker.page
    _kept(site, "handing-on")
    kinds = page.locator(".st-key-hand_kind").get_by_role("radio")
    for number in range(1, kinds.count()):
        kinds.nth(number).click()
        site.settle()
        walker.all_of(f"handing on {number}")
        roster = page.get_by_role("textbox", name="Learners")
        if roster.count():
            roster.fill("Ada, 152,5 mm\nBo, 6 1/4 in\nnot measured yet, 150 - 165,5")
            roster.press("Control+Enter")
            page.get_by_role("button", name="Work the kits out").click()
            page.get_by_role("heading", name="Everyone", exact=True).wait_for()
            site.settle()
            walker.look("class kit")
    assert walker.found == []


def test_every_source_of_colours_and_my_beads_write_a_comma(walker: Walker) -> None:
    site, page = walker.site, walker.page
    _kept(site, "beads")
    # Whatever earlier tests left among this server's beads.
    starter = page.get_by_role("button", name="Try it with the starter beads").first
    starter.or_(page.locator(".st-key-my_beads_grid button").first).wait_for()
    if starter.is_visible():
        starter.click()
    site.settle()
    page.locator(".st-key-my_beads_grid button").first.click()
    site.settle()
    walker.all_of("my beads")
    _kept(site, "colours")
    ways = page.locator(".st-key-source_pick").get_by_role("radio")
    assert ways.count() > 3
    for number in range(ways.count()):
        ways.nth(number).click()
        site.settle()
        walker.all_of(f"colours {number}")
    assert walker.found == []


def test_a_distance_and_pieces_side_by_side_write_a_comma(walker: Walker) -> None:
    site, page = walker.site, walker.page
    _kept(site, "neighbours")
    page.get_by_role("textbox", name="One more distance").fill("4,5 m")
    page.get_by_role("textbox", name="One more distance").press("Enter")
    page.get_by_text("Steps at 4,5 m").wait_for()
    walker.look("contrast")
    _kept(site, "shelf")
    for _ in range(2):
        page.get_by_role("button", name="Put this piece on the shelf").click()
        site.settle()
    # One that was pressed bears another name from then on.
    for _ in range(2):
        page.get_by_role("button", name="Compare", exact=True).first.click()
        site.settle()
    page.get_by_role("button", name="Details").first.click()
    site.settle()
    page.get_by_role("textbox", name="The same piece round another").fill("190,5 mm")
    page.get_by_role("textbox", name="The same piece round another").press("Enter")
    page.get_by_text("Put it on the table in that size").wait_for()
    walker.all_of("shelf")
    assert walker.found == []
