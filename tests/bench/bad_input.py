"""Types nonsense into every box of every page in a browser, and looks at what becomes of it.

Run by hand: ``python -m tests.bench.bad_input [PAGE ...]`` from the project's folder. Needs
Chromium. All boxes of a page get one piece of nonsense after the other. Nothing may crash; and what
was typed must still stand in its box, or the table must be as it was. Prints what was found and a
line for each page.
"""

import contextlib
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Dialog, Locator, Page, sync_playwright
from playwright.sync_api import TimeoutError as TooLongError

from tests.app.conftest import ARGUMENTS, CHROMIUM, Site, serving

NONSENSE = {
    "nothing": "",
    "letters": "abc",
    "negative": "-1",
    "zero": "0",
    "overflow": "1e400",
    "NaN": "NaN",
    "infinite": "inf",
    "Arabic-Indic digit": "\u0663",
    "long": "7" * 10_000,
    "markup": "<script>alert(1)</script>",
    "formula": "=1+1",
    "path": "../../x",
    "emoji": "\U0001f9f5\U0001f469\u200d\U0001f469\u200d\U0001f467",
    "right to left": "\u202e\u05d0\u05d1\u05d2 \u0645\u0631\u062d\u0628\u0627",
}
# Pages, and the choices on them that bring other boxes.
PAGES: tuple[tuple[str, str], ...] = (
    ("size", ""),
    ("colours", ""),
    ("colours", "To suit a mood"),
    ("colours", "From a photograph"),
    ("colours", "From favourites"),
    ("colours", "From my beads"),
    ("beads", ""),
    ("proposals", ""),
    ("shape", ""),
    ("piece", ""),
    ("neighbours", ""),
    ("counting", ""),
    ("making", ""),
    ("handing-on", ""),
    ("handing-on", "A customer"),
    ("handing-on", "A class"),
    ("together", ""),
    ("shelf", ""),
)
_BOXES = "[data-testid=stMain] :is(input[type=text], input[type=number], textarea):visible"
_FAULTS = "[data-testid=stException], .dw-fault:has-text('in the program itself')"
_OPEN = """
() => document.querySelectorAll("[data-testid=stExpander] details:not([open]) > summary")
  .forEach((summary) => summary.click())
"""
_PATIENCE_MS, _SHORT_MS = 120_000, 5_000


def _name(box: Locator) -> str:
    return str(
        box.evaluate(
            "b => b.getAttribute('aria-label') || b.closest('[data-testid]')?.innerText || b.name"
        )
    )[:60]


def _boxes(site: Site) -> dict[str, Locator]:
    """The boxes by their names, the second of a name by its place too."""
    site.page.evaluate(_OPEN)
    site.settle()
    found: dict[str, Locator] = {}
    for box in site.page.locator(_BOXES).all():
        # A box of choices is typed in to look for one of its own; nothing of it is kept.
        if box.get_attribute("role") != "combobox":
            name = _name(box)
            while name in found:
                name += "'"
            found[name] = box
    return found


def _type(page: Page, box: Locator, text: str) -> None:
    box.focus(timeout=_SHORT_MS)
    page.keyboard.press("Control+a")
    page.keyboard.press("Delete")
    page.keyboard.insert_text(text)
    page.keyboard.press("Tab")


def _crashed(page: Page) -> bool:
    return page.locator(_FAULTS).count() > 0


def _open(site: Site, path: str, choice: str) -> None:
    site.open(path)
    if choice:
        site.page.get_by_role("radio", name=choice).first.click()
        site.settle()


def _walk(site: Site, path: str, choice: str) -> list[str]:
    """What was found wrong on a page."""
    page, found = site.page, []
    dialogs: list[str] = []

    def refuse(dialog: Dialog) -> None:
        dialogs.append(dialog.message)
        dialog.dismiss()

    page.on("dialog", refuse)
    _open(site, path, choice)
    for what, text in NONSENSE.items():
        boxes = _boxes(site)
        for box in boxes.values():
            # What was typed before it can take a box away; it comes back with better words.
            with contextlib.suppress(TooLongError):
                _type(page, box, text)
        site.settle()
        if _crashed(page):
            found.append(f"{path} {choice}: {what} crashes the page")
            _open(site, path, choice)
            continue
        again = _boxes(site)
        held = {name: box.input_value() for name, box in again.items() if name in boxes}
        other = {name: value[:24] for name, value in held.items() if value != text}
        messages = page.locator(".dw-fault").count()
        words = f"{len(boxes)} boxes, {messages} messages; other: {other}"
        print(f"  {path} {choice} {what}: {words}", flush=True)
    if dialogs:
        found.append(f"{path}: a script of the maker's text ran: {dialogs}")
    return found


def main() -> int:
    """Walk all pages, or those that are named."""
    wanted = sys.argv[1:]
    found: list[str] = []
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder)) as address,
        sync_playwright() as driver,
    ):
        errors: list[str] = []
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        for path, choice in PAGES:
            if wanted and path not in wanted:
                continue
            context = browser.new_context(viewport={"width": 1280, "height": 900})
            page = context.new_page()
            page.set_default_timeout(_PATIENCE_MS)
            page.on("pageerror", lambda error: errors.append(f"an error in the page: {error}"))
            try:
                found += _walk(Site(page, address, touch=False), path, choice)
            except Exception as error:  # noqa: BLE001 - told, and the next page is walked
                found.append(f"{path} {choice}: the walk broke off: {str(error)[:300]}")
            context.close()
        browser.close()
    found += errors
    print("\n".join(found) or "nothing crashed")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
