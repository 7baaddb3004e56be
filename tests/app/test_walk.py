"""Steps on and back on the Making page: every press counts, and nothing jumps under the thumb."""

from typing import TYPE_CHECKING, Any

import pytest

from explorer.app.demo import demo
from explorer.app.making import stitches
from explorer.thread_setup import ThreadSetup
from tests.app.conftest import Site, Windows

if TYPE_CHECKING:
    from collections.abc import Iterator

pytestmark = pytest.mark.browser

ALL = len(stitches(demo().piece.design, ThreadSetup()))


@pytest.fixture(params=[1280, 390])
def making(request: pytest.FixtureRequest, windows: Windows, address: str) -> "Iterator[Site]":
    """The page on a laptop, and on a phone that knows touch alone."""
    phone = request.param < 500
    settings: dict[str, Any] = {"is_mobile": True, "has_touch": True} if phone else {}
    with windows.page(request.param, 844 if phone else 900, **settings) as page:
        site = Site(page, address, touch=phone)
        site.open("making")
        told(site, 1)
        yield site


def told(site: Site, step: int) -> None:
    site.page.locator(".dw-stitch").get_by_text(f"step {step} of {ALL}").wait_for()


def spot(site: Site, name: str) -> dict[str, float]:
    box = site.page.get_by_role("button", name=name, exact=True).bounding_box()
    assert box is not None
    return {side: round(box[side]) for side in ("x", "y", "width", "height")}


def test_ten_quick_presses_are_ten_stitches(making: Site) -> None:
    page = making.page
    place = spot(making, "Next step")
    x, y = place["x"] + place["width"] / 2.0, place["y"] + place["height"] / 2.0
    # At one spot, not waiting for the page: a thumb does not look where the button went.
    for _ in range(10):
        page.touchscreen.tap(x, y) if making.touch else page.mouse.click(x, y)
    told(making, 11)
    making.settle()
    told(making, 11)
    for _ in range(4):
        page.get_by_role("button", name="Step back", exact=True).click(no_wait_after=True)
    told(making, 7)
    page.reload()
    making.ready()
    told(making, 7)
    page.get_by_role("button", name="Next step", exact=True).click()
    told(making, 8)


def test_keys_and_presses_add_up(making: Site) -> None:
    page = making.page
    for _ in range(3):
        page.keyboard.press("ArrowRight")
        page.get_by_role("button", name="Next step", exact=True).click(no_wait_after=True)
    page.keyboard.press("ArrowLeft")
    told(making, 6)
    making.settle()
    told(making, 6)


def test_every_stage_keeps_next_where_it_is_and_rings_the_motif_from_near(making: Site) -> None:
    page = making.page
    # There is nothing before the first step, and one button alone is called next.
    assert page.get_by_role("button", name="Step back", exact=True).is_disabled()
    assert page.get_by_role("button", name="Next").all_inner_texts() == ["Next step"]
    assert "Next step" not in page.locator(".st-key-onward").get_by_role("link").inner_text()
    # The hint is for those who have keys.
    hint = page.get_by_text("The left and right arrow keys do the same.")
    assert hint.is_visible() != making.touch
    before = spot(making, "Next step")
    heights, spots, rings = set(), set(), set()
    for stage in page.locator(".st-key-making_stage").get_by_role("radio").all():
        stage.click()
        making.settle()
        words = page.locator(".dw-stitch").bounding_box()
        assert words is not None
        heights.add(round(words["height"]))
        assert spot(making, "Next step") == before
        page.locator("[data-testid=stMain]").evaluate("main => main.scrollTo(0, 0)")
        near, image, ring, below = (
            page.locator(name).bounding_box()
            for name in (".st-key-near", ".st-key-near img", ".dw-ring", ".st-key-making_stage")
        )
        assert near is not None
        assert image is not None
        assert ring is not None
        assert below is not None
        # The picture fills the room that is kept for it, and the ring lies in the picture.
        assert image["height"] == pytest.approx(near["height"], abs=1.0)
        assert image["x"] <= ring["x"]
        assert image["y"] <= ring["y"]
        assert ring["x"] + ring["width"] <= image["x"] + image["width"]
        assert ring["y"] + ring["height"] <= image["y"] + image["height"]
        spots.add(round(below["y"]) if not making.touch else round(below["y"] - near["y"]))
        rings.add((round(ring["x"]), round(ring["width"])))
    assert len(heights) > 2
    assert len(spots) == 1
    assert len(rings) > 3
    bottom = before["y"] + before["height"]
    assert bottom <= page.evaluate("innerHeight")
    # What stands last on the page is not hidden by it.
    page.locator("[data-testid=stMain]").evaluate("main => main.scrollTo(0, main.scrollHeight)")
    page.wait_for_timeout(200)
    last = page.locator("[data-testid=stMainBlockContainer] .dw-figures").bounding_box()
    assert last is not None
    assert last["y"] + last["height"] <= before["y"]
    # Now at the last stage. Arrow keys in a row of choices choose; they walk again once something
    # else is pressed.
    page.get_by_role("button", name="Next step", exact=True).click()
    for _ in range(9):
        page.keyboard.press("ArrowRight")
    told(making, ALL)
    making.settle()
    told(making, ALL)
    assert page.get_by_role("button", name="Next step", exact=True).is_disabled()
    page.keyboard.press("ArrowLeft")
    told(making, ALL - 1)
