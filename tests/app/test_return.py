"""The piece on the table comes back: after a reload, on Back, in two tabs, after a restart.

Its steps come back with it, and no tab writes over another.
"""

from pathlib import Path

import pytest

from tests.app.conftest import Site, Windows, serving

pytestmark = pytest.mark.browser
LAPTOP = pytest.mark.parametrize("site", [(1280, 900)], indirect=True, ids=["1280"])


def _measure(site: Site, text: str, motifs: int) -> None:
    site.page.get_by_role("textbox", name="Round the ankle or wrist").fill(text)
    site.page.keyboard.press("Tab")
    site.page.locator(f".dw-figures:has-text('{motifs} motifs')").wait_for()
    site.settle()


@LAPTOP
def test_reload_back_and_a_second_tab(site: Site) -> None:
    from playwright.sync_api import expect

    site.open()
    _measure(site, "17 cm", 9)
    site.page.reload()
    site.ready()
    assert "9 motifs" in site.figures()
    expect(site.page.get_by_role("textbox", name="Round the ankle")).to_have_value("17 cm")

    site.go("Colours")
    site.page.go_back()
    site.page.get_by_role("textbox", name="Round the ankle").wait_for()
    site.settle()
    assert "9 motifs" in site.figures()

    # The same table in another tab, and a table of its own where the address names none.
    other = Site(site.page.context.new_page(), site.address, touch=False)
    other.page.goto(site.page.url)
    other.ready()
    assert "9 motifs" in other.figures()
    third = Site(site.page.context.new_page(), site.address, touch=False)
    third.open()
    assert "11 motifs" in third.figures()
    _measure(third, "15 cm", 8)
    site.page.reload()
    site.ready()
    assert "9 motifs" in site.figures()


def _labels(site: Site) -> list[str]:
    areas = site.page.locator(".table g[data-id]").all()
    return [str(area.get_attribute("aria-label")) for area in areas]


def _paint(site: Site, colour: str, *motifs: int) -> None:
    """Give motifs a colour, each as a step of its own."""
    page = site.page
    page.get_by_role("button", name=colour, exact=True).click()
    page.locator(f"button[aria-pressed=true]:has-text('{colour}')").wait_for()
    site.settle()
    for motif in motifs:
        done = int(page.locator(".table").get_attribute("data-done") or 0)
        page.locator(".table g[data-id]").nth(motif).focus()
        page.keyboard.press("Enter")
        page.locator(f".table[data-done='{done + 1}']").wait_for()
        site.settle()


def _step(site: Site, name: str) -> None:
    site.page.locator(f".st-key-{name} button").click()
    site.settle()


@LAPTOP
def test_two_tabs_on_one_table_write_over_nothing(site: Site, tmp_path: Path) -> None:
    site.open("piece")
    _paint(site, "Anemone Rose", 0)
    other = Site(site.page.context.new_page(), site.address, touch=False)
    other.page.goto(site.page.url)
    other.ready()
    assert _labels(other) == _labels(site)

    _paint(site, "Kelp Shade", 1)
    _paint(other, "Kelp Shade", 2)
    line = other.page.locator(".st-key-elsewhere")
    line.wait_for()
    other.settle()
    other.page.screenshot(path=tmp_path / "elsewhere.png")
    assert site.page.locator(".st-key-elsewhere").count() == 0
    ours, theirs = _labels(other), _labels(site)
    assert ours != theirs
    assert other.page.url != site.page.url
    # Whichever way the maker goes, a reload of either finds what it showed.
    for tab, labels in ((site, theirs), (other, ours)):
        again = Site(site.page.context.new_page(), site.address, touch=False)
        again.page.goto(tab.page.url)
        again.ready()
        assert _labels(again) == labels
        again.page.close()

    _step(other, "elsewhere_take")
    line.wait_for(state="detached")
    assert _labels(other) == theirs
    assert other.page.url == site.page.url
    _step(other, "undo")
    assert _labels(other) == ours


@LAPTOP
def test_one_of_two_tabs_goes_on_alone(site: Site) -> None:
    site.open("piece")
    _paint(site, "Anemone Rose", 0)
    other = Site(site.page.context.new_page(), site.address, touch=False)
    other.page.goto(site.page.url)
    other.ready()
    _paint(site, "Kelp Shade", 1)
    _paint(other, "Kelp Shade", 2)
    other.page.locator(".st-key-elsewhere").wait_for()
    other.settle()
    _step(other, "elsewhere_mine")
    other.page.locator(".st-key-elsewhere").wait_for(state="detached")
    _paint(site, "Foam Edge", 3)
    _paint(other, "Foam Edge", 4)
    for tab in (site, other):
        labels = _labels(tab)
        tab.page.reload()
        tab.ready()
        assert _labels(tab) == labels
        assert tab.page.locator(".st-key-elsewhere").count() == 0


def test_steps_are_taken_back_after_a_reload(site: Site) -> None:
    site.open("piece")
    first = _labels(site)
    _paint(site, "Anemone Rose", 0, 1)
    second = _labels(site)
    _paint(site, "Foam Edge", 2)
    third = _labels(site)
    _step(site, "undo")
    assert _labels(site) == second
    site.page.reload()
    site.ready()
    assert _labels(site) == second
    _step(site, "redo")
    assert _labels(site) == third
    assert site.page.locator(".st-key-redo button").is_disabled()
    for _ in range(3):
        _step(site, "undo")
    assert _labels(site) == first
    assert site.page.locator(".st-key-undo button").is_disabled()


@LAPTOP
@pytest.mark.parametrize("mark", ["0123456789abcdef", "..%2F%00" + "x" * 3000])
def test_an_address_of_no_table_begins_anew(site: Site, mark: str) -> None:
    site.open(f"?table={mark}")
    assert "11 motifs" in site.figures()


def test_a_restart_of_the_server(windows: Windows, tmp_path: Path) -> None:
    with windows.page() as page:
        with serving(tmp_path) as address:
            site = Site(page, address, touch=False)
            site.open()
            _measure(site, "17 cm", 9)
            _measure(site, "15 cm", 8)
            table = page.url.partition("?")[2]
        with serving(tmp_path) as address:
            site = Site(page, address, touch=False)
            site.open(f"?{table}")
            assert "8 motifs" in site.figures()
            for motifs in (9, 11):
                _step(site, "undo")
                page.locator(f".dw-figures:has-text('{motifs} motifs')").wait_for()
            assert page.locator(".st-key-undo button").is_disabled()


def test_words_typed_while_the_server_was_away_are_written_or_stay(
    windows: Windows, tmp_path: Path
) -> None:
    with windows.page() as page:
        with serving(tmp_path) as address:
            site = Site(page, address, touch=False)
            site.open("shelf")
            page.get_by_role("button", name="Put this piece on the shelf").click()
            page.get_by_role("button", name="Details").click()
            box = page.get_by_role("textbox", name="Lots of the beads")
            box.wait_for()
            site.settle()
            box.press_sequentially("lot 123")
        with serving(tmp_path, address):
            write = page.get_by_role("button", name="Write it down")
            # The connection is up again, and the page stands there as it was.
            page.wait_for_timeout(4000)
            assert box.input_value() == "lot 123"
            write.click()
            page.get_by_text("Written down.").or_(page.get_by_text("Not written")).first.wait_for()
            site.settle()
            assert box.input_value() == "lot 123"
            if page.get_by_text("Written down.").count() == 0:
                write.click()
            page.get_by_text("Written down.").wait_for()
            page.reload()
            site.ready()
            assert box.input_value() == "lot 123"
