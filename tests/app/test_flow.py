"""A maker walks from a measurement to a counted piece, in a real browser."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def test_from_size_over_proposals_to_the_piece(site: "Site", tmp_path: Path) -> None:
    from playwright.sync_api import expect

    site.open()
    page = site.page
    assert "11 motifs, 67 base beads" in site.figures()
    page.screenshot(path=tmp_path / "size.png")

    # Worked out by hand: 170 + 22 - 18 = 174 mm at 3.1 mm a bead are 56 beads; 6 n + 1 <= 56
    # gives 9 motifs on 55 beads, 170.5 mm, 3.5 mm left over.
    page.get_by_role("textbox", name="Round the ankle or wrist").fill("17 cm")
    page.keyboard.press("Tab")
    page.locator(".dw-figures:has-text('9 motifs')").wait_for()
    site.settle()
    assert "Strip 170.5 mm, 3.5 mm left over · 9 motifs, 55 base beads" in site.figures()

    site.go("Colours")
    page.get_by_role("button", name="Meadow Hum").click()
    page.wait_for_selector("button[aria-pressed=true]:has-text('Meadow Hum')")
    page.get_by_role("button", name="Field Poppy", exact=True).wait_for()
    site.settle()
    page.screenshot(path=tmp_path / "colours.png")

    site.go("Proposals")
    page.get_by_role("button", name="Put on the table").first.wait_for()
    expect(page.locator(".st-key-proposals img")).to_have_count(24)
    page.screenshot(path=tmp_path / "proposals.png")
    page.get_by_role("button", name="Put on the table").nth(2).click()
    page.get_by_role("button", name="On the table now", exact=True).wait_for()
    site.settle()
    figures = site.figures()

    site.go("Piece")
    assert site.figures() == figures
    counted = page.locator(".dw-counts tbody tr")
    cells = [row.locator("td").all_inner_texts() for row in counted.all()]
    *rows, total = cells
    assert sum(int(row[-1]) for row in rows) == int(total[-1])
    assert f"{total[-1]} beads to count out" in figures
    page.screenshot(path=tmp_path / "piece.png", full_page=True)
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")
