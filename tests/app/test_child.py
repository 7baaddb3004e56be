"""A child chooses, makes and counts: few words, every tap seen, no dead end."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def _labels(site: "Site") -> list[str]:
    areas = site.page.locator(".table g[data-id]").all()
    return [str(area.get_attribute("aria-label")) for area in areas]


def test_bowls_fill_the_piece_and_alike_neighbours_are_mended(site: "Site", tmp_path: Path) -> None:
    site.open("together")
    page = site.page
    for name in ("yellow", "yellow", "light blue-green"):
        site.press(page.get_by_role("button", name=name, exact=True))
    page.locator(".choices[data-heard='3']").wait_for()
    site.settle()
    colours = [label.partition(": ")[2] for label in _labels(site)]
    assert colours[:3] == ["Sun Glint", "Sun Glint", "Limpet Green"]
    page.get_by_text("Parts 1 and 2 look alike").wait_for()
    page.get_by_text("Tap a bowl: part 4 gets its colour.").wait_for()
    assert page.locator(".table g.marked").count() == 2
    page.screenshot(path=tmp_path / "alike.png", full_page=True)
    site.press(page.get_by_role("button", name="Swap"))
    page.locator(".dw-care:has-text('look alike')").wait_for(state="detached")
    site.settle()
    after = [label.partition(": ")[2] for label in _labels(site)]
    assert sorted(after) == sorted(colours)
    site.press(page.get_by_role("button", name="Surprise"))
    site.settle()
    site.press(page.get_by_role("button", name="All one colour"))
    page.locator(".dw-figures:has-text('all motifs in one colour')").wait_for()
    for button in page.locator(".st-key-together [data-testid=stButton] button").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44


def test_the_riddle_is_solved_with_the_bands_own_numbers(site: "Site", tmp_path: Path) -> None:
    from playwright.sync_api import expect

    site.open("together")
    page = site.page
    box = page.locator(".st-key-together [data-testid=stNumberInputField]")
    check = page.get_by_role("button", name="Check", exact=True)
    # Checked while it is empty, it says what to do.
    site.press(check)
    page.get_by_text("Write a number in the box.").wait_for()
    size = check.bounding_box()
    assert size is not None
    assert min(size["width"], size["height"]) >= 44
    done = (
        "One part has 6 beads.",
        "67 take away 1 is 66.",
        "66 beads make 11 parts.",
        "11 times 6 is 66.",
        "66 and 1 more is 67.",
    )
    for number, answer in enumerate((6, 66, 11, 66, 67)):
        if number == 2:
            for wrong in ("12", "1", "12"):
                box.fill(wrong)
                site.press(check)
                page.get_by_text(f"{wrong} is not it yet.", exact=False).wait_for()
                site.settle()
            page.screenshot(path=tmp_path / "riddle.png", full_page=True)
        box.fill(str(answer))
        # Neither tiny words nor buttons that do nothing while the box is empty.
        for gone in ("InputInstructions", "stNumberInputStepUp"):
            expect(page.locator(f".st-key-together [data-testid={gone}]:visible")).to_have_count(0)
        # Enter does the same as the button.
        if number == 3:
            page.keyboard.press("Enter")
        else:
            site.press(check)
        page.get_by_text(f"Yes. {done[number]}").wait_for()
        site.settle()
        assert box.count() == (number < 4)
    page.get_by_text("That is it: 67 beads.").wait_for()
    assert page.locator(".dw-band .known").count() == 67
    page.reload()
    site.ready()
    page.get_by_text("Yes. 66 and 1 more is 67.").wait_for()
    page.get_by_text("That is it: 67 beads.").wait_for()


def test_the_needle_is_followed_and_the_place_remembered(site: "Site", tmp_path: Path) -> None:
    from playwright.sync_api import expect

    site.open("making")
    page = site.page
    site.press(page.get_by_role("radio", name="The fringe"))
    page.get_by_text("The fringe, step").wait_for()
    site.settle()
    # The first base bead of the band is bare and needs no stitch of its own.
    stitch = page.locator(".dw-stitch strong")
    expect(stitch).to_contain_text("Base bead 2:")
    site.press(page.get_by_role("button", name="Next"))
    expect(stitch).to_contain_text("Base bead 3: 4 Starfish Coral")
    page.keyboard.press("ArrowRight")
    expect(stitch).to_contain_text("Base bead 4:")
    page.keyboard.press("ArrowLeft")
    expect(stitch).to_contain_text("Base bead 3:")
    site.settle()
    assert page.locator(".table .lit").count() == 5
    # Fast taps and keys all count.
    for _ in range(4):
        site.press(page.get_by_role("button", name="Next"))
    expect(stitch).to_contain_text("Base bead 7:")
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    expect(stitch).to_contain_text("Base bead 3:")
    site.settle()
    page.screenshot(path=tmp_path / "making.png", full_page=True)
    page.reload()
    site.ready()
    expect(stitch).to_contain_text("Base bead 3:")
