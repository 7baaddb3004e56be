"""A piece is handed on in a real browser: as a sheet, as a link, and by the shelf."""

import io
import json
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from playwright.sync_api import Download

    from tests.app.conftest import Site

pytestmark = pytest.mark.browser


def kind(site: "Site", name: str) -> None:
    site.page.locator(".st-key-hand_kind").get_by_text(name, exact=True).click()
    site.settle()


def loaded(site: "Site", name: str) -> bytes:
    button = site.page.get_by_role("button", name=name)
    button.wait_for(timeout=90_000)
    with site.page.expect_download() as caught:
        button.click()
    download: Download = caught.value
    return Path(download.path()).read_bytes()


def nothing_sticks_out(site: "Site") -> None:
    page = site.page
    assert page.evaluate("document.documentElement.scrollWidth") <= page.evaluate("innerWidth")


def test_a_sheet_is_made_shown_and_read(site: "Site") -> None:
    site.open("handing-on")
    page = site.page
    page.get_by_role("button", name="Make the pages").click()
    content = loaded(site, "Download the making sheet")
    page.get_by_role("img", name="The first page of the making sheet").wait_for()
    nothing_sticks_out(site)
    text = PdfReader(io.BytesIO(content)).pages[0].extract_text()
    beads = int(site.figures().rsplit(" · ", 1)[1].split(" ")[0])
    assert str(beads) in text
    assert "Anklet for Ottilie" in text


def test_a_link_opens_the_piece_and_a_broken_one_says_so(site: "Site") -> None:
    site.open("handing-on")
    page = site.page
    kind(site, "As a link")
    page.get_by_role("img", name="A code to scan").wait_for()
    nothing_sticks_out(site)
    link = "".join(page.locator("[data-testid=stCode] code").inner_text().split())
    assert "Ottilie" not in link
    motifs = site.figures().split(" · ")[1]
    page.goto(link)
    site.ready()
    page.get_by_text("The piece of the link is on the table").wait_for()
    assert motifs in site.figures()
    assert "piece=" not in page.url
    page.goto(link[:-5])
    site.ready()
    page.get_by_text("The link brought no piece").wait_for()
    page.get_by_role("button", name="Close", exact=True).click()
    page.get_by_text("The link brought no piece").wait_for(state="detached")


def test_the_shelf_keeps_a_photograph_and_goes_along(site: "Site") -> None:
    from playwright.sync_api import expect

    site.open("shelf")
    page = site.page
    before = page.get_by_role("button", name="Details").count()
    page.get_by_role("button", name="Put this piece on the shelf").click()
    expect(page.get_by_role("button", name="Details")).to_have_count(before + 1)
    site.settle()
    page.get_by_role("button", name="Details").first.click()
    page.get_by_role("textbox", name="Minutes it took").fill("345")
    page.get_by_role("textbox", name="Minutes it took").press("Tab")
    page.get_by_role("button", name="Write it down").click()
    page.get_by_text("Written down.").wait_for()
    picture = Path(__file__).parents[1] / "golden" / "worn.png"
    page.locator(".st-key-shelf_panel input[type=file]").set_input_files(picture)
    page.get_by_role("img", name="photograph 1").wait_for()
    nothing_sticks_out(site)
    page.get_by_text("Take the shelf along").click()
    content = loaded(site, "Download all pieces")
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        assert "photographs/0001-1.jpg" in archive.namelist()
        assert json.loads(archive.read("pieces/0001.json"))["shelf"]["minutes"] == 345


def test_what_is_thrown_away_is_there_after_a_reload(site: "Site") -> None:
    from playwright.sync_api import expect

    site.open("shelf")
    page = site.page
    before = page.get_by_role("button", name="Details").count()
    site.press(page.get_by_role("button", name="Put this piece on the shelf"))
    expect(page.get_by_role("button", name="Details")).to_have_count(before + 1)
    site.settle()
    site.press(page.get_by_role("button", name="Throw away").first)
    page.get_by_role("button", name="Bring it back").wait_for()
    page.reload()
    site.ready()
    expect(page.get_by_role("button", name="Bring it back")).to_have_count(0)
    site.press(page.get_by_text("Thrown away", exact=True))
    page.get_by_text("thrown away on").first.wait_for()
    nothing_sticks_out(site)
    site.press(page.get_by_role("button", name="Bring back").first)
    page.get_by_text("is back.").wait_for()
    expect(page.get_by_role("button", name="Details")).to_have_count(before + 1)
