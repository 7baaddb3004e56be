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
    for name in ("yellow", "yellow", "green"):
        site.press(page.get_by_role("button", name=name, exact=True))
    page.locator(".choices[data-heard='3']").wait_for()
    site.settle()
    colours = [label.partition(": ")[2] for label in _labels(site)]
    assert colours[:3] == ["yellow", "yellow", "green"]
    page.get_by_text("Parts 1 and 2 look alike").wait_for()
    page.get_by_text(f"Part 4: {colours[3]}. Tap a bowl to change it.").wait_for()
    assert page.locator(".table g.marked").count() == 2
    assert _rung(site) == ["m3"]
    page.screenshot(path=tmp_path / "alike.png", full_page=True)
    site.press(page.get_by_role("button", name="Swap"))
    page.locator(".dw-care:has-text('look alike')").wait_for(state="detached")
    site.settle()
    after = [label.partition(": ")[2] for label in _labels(site)]
    assert sorted(after) == sorted(colours)
    one, other = (
        place + 1 for place, (old, new) in enumerate(zip(colours, after, strict=True)) if old != new
    )
    page.get_by_text(f"Part {one} and part {other} changed places.").wait_for()
    site.press(page.get_by_role("button", name="Surprise"))
    site.settle()
    site.press(page.get_by_role("button", name="All one colour"))
    page.locator(".dw-figures:has-text('all motifs of the same beads')").wait_for()
    for button in page.locator(".st-key-together [data-testid=stButton] button").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 44


def _rung(site: "Site") -> list[str]:
    """The parts with a whole ring."""
    found: list[str] = site.page.locator(".table").evaluate(
        """table => [...table.querySelectorAll("g[data-id]")].filter(node => {
          const { stroke, strokeDasharray } = getComputedStyle(node.querySelector(".outline"));
          return stroke !== "rgba(0, 0, 0, 0)" && strokeDasharray === "none";
        }).map(node => node.dataset.id)"""
    )
    return found


def test_a_tapped_part_is_the_chosen_one_and_the_words_say_what_to_do(
    site: "Site", tmp_path: Path
) -> None:
    from playwright.sync_api import expect

    site.open("together")
    page = site.page
    tip = page.locator(".table .tip")
    assert _rung(site) == ["m0"]
    bowls = page.locator(".choices").bounding_box()
    assert bowls is not None
    site.press(page.get_by_role("button", name="pink", exact=True))
    page.locator(".choices[data-heard='1']").wait_for()
    site.settle()
    assert _rung(site) == ["m1"]
    _tap_part(site, 6)
    page.locator(".table[data-done='1']").wait_for()
    site.settle()
    # Away from the picture, as a finger is.
    page.mouse.move(5, 5)
    expect(tip).to_have_text("Part 7: pink. Tap a bowl to change it.")
    assert _rung(site) == ["m6"]
    _tap_part(site, 6)
    page.locator(".table[data-done='2']").wait_for()
    page.mouse.move(5, 5)
    expect(tip).to_have_text("Part 7 is pink already. Tap another bowl to change it.")
    top = page.locator(".choices").bounding_box()
    assert top is not None
    assert abs(top["y"] - bowls["y"]) < 1
    page.screenshot(path=tmp_path / "already.png")
    site.press(page.get_by_role("button", name="yellow", exact=True))
    page.locator(".choices[data-heard='2']").wait_for()
    site.settle()
    assert _labels(site)[6] == "Part 7: yellow"
    expect(tip).to_contain_text("Part 8: ")
    assert _rung(site) == ["m7"]
    alt = page.locator(".table svg").get_attribute("aria-label")
    assert str(alt).endswith(": 11 parts, start to end")


def _tap_part(site: "Site", motif: int) -> None:
    """Tap the middle of a part."""
    box = site.page.locator(f".table g[data-id='m{motif}']").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    if site.touch:
        site.page.touchscreen.tap(x, y)
    else:
        site.page.mouse.click(x, y)


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
                # Written into a box that is empty again, digit by digit.
                expect(box).to_have_value("")
                site.press(box)
                page.keyboard.type(wrong)
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
    # The first base bead of the band is bare: the thread is hooked there and goes on.
    stitch = page.locator(".dw-stitch strong")
    expect(stitch).to_contain_text("Base bead 1: hook the thread")
    site.press(page.get_by_role("button", name="Next step"))
    expect(stitch).to_contain_text("Base bead 2:")
    site.press(page.get_by_role("button", name="Next step"))
    expect(stitch).to_contain_text("Base bead 3: 4 Starfish Coral")
    page.keyboard.press("ArrowRight")
    expect(stitch).to_contain_text("Base bead 4:")
    page.keyboard.press("ArrowLeft")
    expect(stitch).to_contain_text("Base bead 3:")
    site.settle()
    assert page.locator(".table .lit").count() == 5
    # Fast taps and keys all count.
    for _ in range(4):
        site.press(page.get_by_role("button", name="Next step"))
    expect(stitch).to_contain_text("Base bead 7:")
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    expect(stitch).to_contain_text("Base bead 3:")
    site.settle()
    page.screenshot(path=tmp_path / "making.png", full_page=True)
    page.reload()
    site.ready()
    expect(stitch).to_contain_text("Base bead 3:")
