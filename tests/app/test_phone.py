"""On a phone held upright, and on a laptop: what a page is for is in reach without scrolling."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from explorer.app.demo import demo
from explorer.piece import to_json
from palettes.spaces import linear1_to_xyz1, srgb1_to_linear1

if TYPE_CHECKING:
    from playwright.sync_api import Locator

    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def _height(site: "Site") -> int:
    size = site.page.viewport_size
    assert size is not None
    return size["height"]


def _box(thing: "Locator") -> tuple[float, float]:
    """Upper and lower edge on the screen."""
    box = thing.bounding_box()
    assert box is not None
    return box["y"], box["y"] + box["height"]


def test_a_step_and_its_buttons_are_seen_at_once(site: "Site") -> None:
    site.open("making")
    page = site.page
    site.press(page.get_by_role("radio", name="The fringe"))
    page.get_by_text("The fringe, step").wait_for()
    site.settle()
    on = page.get_by_role("button", name="Next step")
    # The thread hooked, then a dangle.
    for words in ("hook it under", "turning bead"):
        page.locator(".dw-stitch").get_by_text(words).wait_for()
        site.settle()
        page.locator("[data-testid=stMain]").evaluate("main => main.scrollTo(0, 0)")
        picture, step = _box(page.locator(".table .frame")), _box(page.locator(".dw-stitch"))
        back, here = _box(page.get_by_role("button", name="Step back")), _box(on)
        assert 0 <= picture[0] < picture[1] <= step[0] < step[1] <= here[0]
        assert here[0] < here[1] <= _height(site)
        assert back == here
        site.press(on)
    if site.touch:
        # The lower third of the screen is where a thumb is.
        assert _height(site) * 2 / 3 < here[0]


def test_a_long_name_without_a_space_widens_no_page(site: "Site") -> None:
    piece = replace(demo().piece, name="x" * 190)
    site.open("piece")
    page = site.page
    page.locator("input[type=file]").last.set_input_files(
        {"name": "a.json", "mimeType": "application/json", "buffer": to_json(piece).encode()}
    )
    page.locator("h1").get_by_text(piece.name).wait_for()
    site.settle()
    site.to("shelf")
    site.press(page.get_by_role("button", name="Put this piece on the shelf"))
    page.get_by_text("stands on the shelf as number").wait_for()
    site.press(page.get_by_role("button", name="Details").first)
    page.get_by_role("heading", level=3, name=piece.name).wait_for()
    site.settle()
    for path in ("shelf", "counting", "handing-on"):
        site.to(path)
        wide = page.locator("[data-testid=stMain]").evaluate("one => one.scrollWidth")
        size = page.viewport_size
        assert size is not None
        assert wide <= size["width"], path


def test_bowls_and_picture_are_seen_together(site: "Site") -> None:
    site.open("together")
    page = site.page
    bowls = page.get_by_role("group", name="Bowls of beads").get_by_role("button")
    for bowl in (bowls.first, bowls.last):
        bowl.scroll_into_view_if_needed()
        site.press(bowl)
        site.settle()
        picture, here = _box(page.locator(".table .frame")), _box(bowl)
        assert 0 <= picture[0] < picture[1] <= here[0] < here[1] <= _height(site)


def test_the_ring_of_the_picked_motif_is_light_and_dark_wherever_it_lies(site: "Site") -> None:
    site.open("piece")
    page = site.page
    site.press(page.get_by_role("radio", name="Picks a motif"))
    page.locator("g.chosen").wait_for(state="attached")
    site.settle()
    rings = page.locator("g[data-id]").evaluate_all(
        """nodes => nodes.map((node) => [...node.querySelectorAll("polygon")].map((one) => {
          const { stroke, strokeWidth } = getComputedStyle(one);
          return [stroke, parseFloat(strokeWidth)];
        }))"""
    )
    none = "rgba(0, 0, 0, 0)"
    ringed = [ring for ring in rings if any(stroke != none for stroke, _ in ring)]
    assert len(ringed) == 1
    (edge, wide), (ring, narrow) = ringed[0]

    def luminance(stroke: str) -> float:
        srgb1 = np.array([int(level) / 255 for level in re.findall(r"\d+", stroke)[:3]])
        return float(linear1_to_xyz1(srgb1_to_linear1(srgb1))[1])

    # As far apart as signs have to be from what is beside them (WCAG 2.2, 1.4.11: 3 to 1).
    assert (luminance(edge) + 0.05) / (luminance(ring) + 0.05) >= 3.0
    assert narrow >= 3
    assert wide - narrow >= 3
