"""Work on the picture itself: click, touch, keys, pull; nothing lost, everything undone."""

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Locator

    from tests.app.conftest import Site

pytestmark = pytest.mark.browser
WIDTHS = {"1280": (1280, 900), "390": (390, 844)}
# Where a dangle's first and last bead lie on the page: on a phone they point out of a loop.
_ENDS = """
(root, place) => {
  const { data, svg } = root.memory;
  const page = svg.getBoundingClientRect();
  const [left, top, width, height] = data.box;
  const beads = data.areas[place].beads;
  return [beads[0], beads[beads.length - 1]].map(([x, y]) => [
    page.left + ((x - left) / width) * page.width,
    page.top + ((y - top) / height) * page.height,
  ]);
}
"""


def _areas(site: "Site") -> "Locator":
    return site.page.locator(".table g[data-id]")


def _labels(site: "Site") -> list[str]:
    return [str(area.get_attribute("aria-label")) for area in _areas(site).all()]


def _pick(site: "Site", colour: str) -> None:
    site.page.get_by_role("button", name=colour, exact=True).click()
    site.page.locator(f"button[aria-pressed=true]:has-text('{colour}')").wait_for()
    site.settle()


def _press(site: "Site", point: tuple[float, float]) -> None:
    if site.touch:
        site.page.touchscreen.tap(*point)
    else:
        site.page.mouse.click(*point)


def _middles(site: "Site") -> list[tuple[float, float]]:
    """The middle of each motif's outline on the page."""
    boxes = [area.bounding_box() for area in _areas(site).all()]
    return [(b["x"] + b["width"] / 2, b["y"] + b["height"] / 2) for b in boxes if b]


def test_a_hundred_fast_clicks_are_all_done(site: "Site") -> None:
    site.open("piece")
    _pick(site, "Anemone Rose")
    page = site.page
    page.locator(".table svg").scroll_into_view_if_needed()
    middles = _middles(site)
    for number in range(100):
        _press(site, middles[number % len(middles)])
    page.locator(".table[data-done='100']").wait_for()
    site.settle()
    # No press is taken for one of another tab.
    assert page.locator(".st-key-elsewhere").count() == 0
    assert all("Anemone Rose" in label for label in _labels(site))
    assert "all motifs of the same beads" in site.figures()


def test_keys_walk_paint_and_undo(site: "Site") -> None:
    site.open("piece")
    before = _labels(site)
    _pick(site, "Sun Glint")
    page = site.page
    _areas(site).first.focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    assert page.locator(".table .tip").inner_text() == before[3]
    page.keyboard.press("Enter")
    page.locator(".table[data-done='1']").wait_for()
    site.settle()
    assert _labels(site)[3] == "Motif 4 of 11: Sun Glint"
    # The focus is where it was, so the next key goes on from there.
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Space")
    page.locator(".table[data-done='2']").wait_for()
    site.settle()
    assert _labels(site)[4] == "Motif 5 of 11: Sun Glint"
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
        site.settle()
    assert _labels(site) == before


def test_every_fast_undo_and_redo_is_heard(site: "Site") -> None:
    site.open("piece")
    page = site.page
    first = _labels(site)
    _pick(site, "Anemone Rose")
    for number, point in enumerate(_middles(site)[:4], 1):
        _press(site, point)
        page.locator(f".table[data-done='{number}']").wait_for()
    site.settle()
    after = _labels(site)
    # All in one go, with no time to answer between them.
    page.locator(".st-key-undo button").evaluate("b => { for (let i = 0; i < 4; i++) b.click(); }")
    page.locator(".queue[data-heard='4']").wait_for(state="attached")
    site.settle()
    assert _labels(site) == first
    for _ in range(3):
        page.keyboard.press("Control+Shift+Z")
    page.keyboard.press("Control+Z")
    page.keyboard.press("Control+Shift+Z")
    page.keyboard.press("Control+Shift+Z")
    page.locator(".queue[data-heard='10']").wait_for(state="attached")
    site.settle()
    assert _labels(site) == after != first
    # As long as a child holds the keys: the framework once lost its page in such a hurry.
    for _ in range(20):
        page.keyboard.press("Control+Z")
        page.keyboard.press("Control+Shift+Z")
    page.locator(".queue[data-heard='50']").wait_for(state="attached")
    site.settle()
    assert _labels(site) == after


@pytest.mark.parametrize(
    ("site", "touch"),
    [(WIDTHS["1280"], False), (WIDTHS["1280"], True), (WIDTHS["390"], True)],
    indirect=["site"],
    ids=["1280-mouse", "1280-finger", "390-finger"],
)
def test_a_dangle_follows_the_pull(site: "Site", touch: bool) -> None:
    site.open("piece")
    page = site.page
    page.get_by_role("radio", name="Sets a length").click()
    page.locator(".table[data-act=length]").wait_for()
    site.settle()
    assert "dangle 3 of 5: 7 beads" in _labels(site)[2]
    page.locator(".table svg").scroll_into_view_if_needed()
    first, last = page.locator(".table").evaluate(_ENDS, 2)
    # Its tip, pulled the way it hangs by two beads and a little.
    by = [2.2 / 6 * (last[axis] - first[axis]) for axis in (0, 1)]
    end = (last[0] + by[0], last[1] + by[1])
    if touch:
        _finger(site, (last[0], last[1]), end)
    else:
        page.mouse.move(*last)
        page.mouse.down()
        page.mouse.move(last[0] + by[0] / 2, last[1] + by[1] / 2)
        page.mouse.move(*end)
        assert page.locator(".table .tip").inner_text() == "9 beads"
        page.mouse.up()
    page.locator(".table[data-done='1']").wait_for()
    site.settle()
    assert "dangle 3 of 5: 9 beads" in _labels(site)[2]
    page.get_by_role("button", name="Undo").click()
    page.locator(".queue[data-heard='1']").wait_for(state="attached")
    site.settle()
    assert "dangle 3 of 5: 7 beads" in _labels(site)[2]


def _finger(site: "Site", start: tuple[float, float], end: tuple[float, float]) -> None:
    """A touch that moves, as the browser's own input and not as made-up events."""
    driver = site.page.context.new_cdp_session(site.page)
    steps = [
        (start[0] + (end[0] - start[0]) * part / 4, start[1] + (end[1] - start[1]) * part / 4)
        for part in range(5)
    ]
    for number, (x, y) in enumerate(steps):
        kind = "touchMove" if number else "touchStart"
        points = [{"x": x, "y": y, "id": 1}]
        driver.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    driver.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    driver.detach()


def test_a_dangle_is_pulled_longer_and_stepped_shorter(site: "Site") -> None:
    site.open("piece")
    page = site.page
    page.get_by_role("radio", name="Sets a length").click()
    page.locator(".table[data-act=length]").wait_for()
    site.settle()
    assert _labels(site)[2].startswith("Motif 1 of 11, dangle 3 of 5: 7 beads")
    area = _areas(site).nth(2)
    area.scroll_into_view_if_needed()
    area.focus()
    page.keyboard.press("ArrowDown")
    page.locator(".table[data-done='1']").wait_for()
    site.settle()
    assert "8 beads" in _labels(site)[2]
    page.get_by_role("button", name="Shorter").click()
    page.get_by_role("button", name="Shorter").click()
    page.locator(".table[data-done='3']").wait_for()
    site.settle()
    # The same dangle of every motif follows: motif 3 has the same outline as motif 1.
    labels = _labels(site)
    assert "6 beads" in labels[2]
    assert "6 beads" in labels[12]
