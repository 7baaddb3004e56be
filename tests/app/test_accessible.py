"""Every page under the policy, and by WCAG 2.2 AA and good practice, as axe-core judges it.

axe-core is by Deque Systems, under MPL 2.0.
"""

import json
import os
import re
from importlib.resources import files
from importlib.util import find_spec
from typing import Any

import pytest

from tests.app.conftest import Site, Windows

pytestmark = pytest.mark.browser
# Ships axe-core as a file; only the file is used.
_PACKAGE = "axe_playwright_python"
# What the framework's own uploader does on a page with nothing else on it.
_FRAMEWORK = {"presentation-role-conflict": "stFileUploader"}
_OPEN = """
() => document.querySelectorAll("[data-testid=stExpander] details:not([open]) > summary")
  .forEach((summary) => summary.click())
"""
_RUN = """
async () => {
  const found = await axe.run(document, { resultTypes: ["violations"] });
  return found.violations.flatMap((v) =>
    v.nodes.map((n) => ({ rule: v.id, at: n.target.flat().join(" "), html: n.html,
                          why: n.failureSummary })));
}
"""


@pytest.fixture(scope="module")
def axe() -> str:
    if find_spec(_PACKAGE) is None:
        if os.environ.get("CI") == "true":
            pytest.fail(f"{_PACKAGE}, which holds axe-core, is not installed")
        pytest.skip(f"{_PACKAGE}, which holds axe-core, is not installed")
    return (files(_PACKAGE) / "axe.min.js").read_text(encoding="utf-8")


def _violations(site: Site, axe: str) -> list[dict[str, Any]]:
    # Closed boxes are opened: what is hidden is not judged.
    site.page.evaluate(_OPEN)
    site.settle()
    site.page.evaluate(axe)
    found: list[dict[str, Any]] = site.page.evaluate(_RUN)
    return [
        one
        for one in found
        if one["rule"] not in _FRAMEWORK or _FRAMEWORK[one["rule"]] not in one["html"] + one["at"]
    ]


def _paths(site: Site) -> list[str]:
    site.open()
    links = site.page.locator(".st-key-pages a").all()
    hrefs = [str(link.get_attribute("href")) for link in links]
    return [href.partition("?")[0].rstrip("/").rpartition("/")[2] for href in hrefs] + ["beads"]


@pytest.mark.parametrize(
    ("width", "height", "scheme"), [(1280, 900, "light"), (390, 844, "dark")], ids=["1280", "390"]
)
def test_every_page_runs_under_the_policy_and_breaks_no_rule(
    windows: Windows, address: str, axe: str, width: int, height: int, scheme: Any
) -> None:
    broken = []
    stopped: list[str] = []
    asked: set[str] = set()
    with windows.page(
        width, height, color_scheme=scheme, reduced_motion="reduce", has_touch=width < 500
    ) as page:
        page.on("console", lambda m: stopped.append(m.text) if "Content Sec" in m.text else None)
        page.on("request", lambda r: asked.add(r.url.split("/")[2] if "//" in r.url else r.url[:5]))
        site = Site(page, address, touch=width < 500)
        paths = _paths(site)
        assert len(paths) > 11
        for path in paths:
            if path == "beads":
                site.open(path)
            else:
                site.to(path)
            assert page.get_by_role("alert").filter(has_text="program itself").count() == 0, path
            if path == "piece":
                site.press(page.locator(".table g[data-id]").first)
                page.locator(".table[data-done='1']").wait_for()
            broken += [{"page": path, **one} for one in _violations(site, axe)]
            wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
            broken += [{"page": path, "scrolls": wide}] if wide > 0 else []
    assert broken == [], json.dumps(broken, indent=1)
    # The framework's one script within its page's text is stopped, and nothing else is; the page
    # itself was loaded twice.
    assert {re.sub(r".*(inline script).*", r"\1", text, flags=re.DOTALL) for text in stopped} <= {
        "inline script"
    }
    assert len(stopped) <= 3
    assert asked <= {address.removeprefix("http://"), "data:", "blob:"}


def test_a_broken_rule_is_found(windows: Windows, axe: str) -> None:
    with windows.page() as page:
        page.set_content("<html lang='en'><title>t</title><main><h1>t</h1><img src='a.png'></main>")
        page.evaluate(axe)
        assert [one["rule"] for one in page.evaluate(_RUN)] == ["image-alt"]
