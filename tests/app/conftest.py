"""A server of our own and a real browser, for the flows that a person walks."""

import json
import os
import shutil
import socket
import subprocess
import sys
import textwrap
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = os.environ.get("DANGLEWISE_CHROMIUM", "/usr/bin/chromium")
# Nothing but the pages themselves: the browser asks no one for updates or lists, does not do a
# graphics card's work over on the processor, and reads what all pages need once for all of them.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-software-rasterizer",
    "--renderer-process-limit=1",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Long enough for a machine that does ten other things: a slow one is not a wrong program.
PATIENCE_MS = int(os.environ.get("DANGLEWISE_PATIENCE_MS", "180000"))
# To find tests that hang on how quick a machine is: the browser is so many times slower, and each
# file that a page loads comes so much later for every time.
SLOWER = float(os.environ.get("DANGLEWISE_SLOWER", "1"))
_LATER_MS = 100
# How often a page is asked whether it has settled.
_LOOK_MS = 40
# Whether every run that the page asked for has begun and come to its end, read off what page and
# server send each other (protocol buffers, ``streamlit.proto``): a run asked for is field 11 of
# what is sent; field 4 of what is got begins one, field 6 ends it, with 2 where another follows.
_WATCH = """
(() => {
  const [ASKS, BEGINS, ENDS, FOLLOWS] = [11, 4, 6, 2];
  const told = { asked: true, running: true, last: 0 };
  window.danglewiseTold = told;
  const number = (bytes, from) => {
    let [value, at, step] = [0, from, 1];
    for (; at < bytes.length; at += 1) {
      value += (bytes[at] & 127) * step;
      step *= 128;
      if (bytes[at] < 128) break;
    }
    return [value, at + 1];
  };
  const fields = (data) => {
    const bytes = new Uint8Array(data.buffer || data);
    const found = new Map();
    let [at, key, size] = [0, 0, 0];
    while (at < bytes.length) {
      [key, at] = number(bytes, at);
      const kind = key % 8;
      size = 0;
      if (kind === 0) [size, at] = number(bytes, at);
      found.set(Math.floor(key / 8), size);
      if (kind === 2) {
        [size, at] = number(bytes, at);
        at += size;
      } else if (kind !== 0) at += kind === 1 ? 8 : 4;
    }
    return found;
  };
  window.WebSocket = class extends window.WebSocket {
    constructor(...given) {
      super(...given);
      this.addEventListener("message", ({ data }) => {
        const got = fields(data);
        told.last = performance.now();
        if (got.has(BEGINS)) Object.assign(told, { asked: false, running: true });
        if (got.has(ENDS)) told.running = got.get(ENDS) === FOLLOWS;
      });
    }
    send(data) {
      if (fields(data).has(ASKS)) told.asked = true;
      super.send(data);
    }
  };
})()
"""
# Nothing is asked for or running, nothing came for a while, what is shown is of the last run, and
# no grey bar stands where a kind of element, nor a gap where a picture, is still being loaded.
_SETTLED = """
() => {
  const app = document.querySelector('[data-testid=stApp]');
  const { asked, running, last } = window.danglewiseTold || {};
  return app && !asked && !running && !(performance.now() - last < 80)
    && app.dataset.testScriptState === 'notRunning'
    && !document.querySelector('[data-stale=true], [data-testid=stSkeleton]')
    && [...document.images].every((image) => image.complete);
}
"""


class Site:
    """A page of the app in a browser, with the waits that every flow needs."""

    def __init__(self, page: "Page", address: str, *, touch: bool) -> None:
        self.page = page
        self.address = address
        self.touch = touch
        page.add_init_script(_WATCH)
        if SLOWER > 1:
            self._slow_down()

    def _slow_down(self) -> None:
        tools = self.page.context.new_cdp_session(self.page)
        tools.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        tools.send("Network.enable")
        later = {"latency": _LATER_MS * SLOWER, "downloadThroughput": -1, "uploadThroughput": -1}
        tools.send("Network.emulateNetworkConditions", {"offline": False} | later)

    def open(self, path: str = "") -> None:
        self.page.goto(f"{self.address}/{path}")
        self.ready()

    def ready(self) -> None:
        """Wait for a whole page after it was asked for."""
        self.page.wait_for_selector("h1")
        self.page.wait_for_selector(".table:not(.waiting)")
        self.settle()

    def settle(self) -> None:
        """Wait until the script has run and everything on the page is of that run."""
        self.page.wait_for_timeout(50)
        # Looked at now and then: by default it is at every frame, which keeps the browser drawing.
        self.page.wait_for_function(_SETTLED, polling=_LOOK_MS)

    def go(self, name: str) -> None:
        self.page.locator(".st-key-pages").get_by_role("link", name=name, exact=True).click()
        self.page.wait_for_selector(f"h2:has-text('{name}')")
        self.settle()

    def to(self, path: str) -> None:
        """Go to a page by its path in the address, whatever it is called."""
        self.page.locator(f".st-key-pages a[href^='{path}?']").click()
        self.page.wait_for_url(f"**/{path}?*")
        self.settle()

    def press(self, thing: "Locator") -> None:
        """Press something as the visitor of this page does: with a finger or a pointer."""
        if self.touch:
            thing.tap()
        else:
            thing.click()

    def figures(self) -> str:
        return self.page.locator(".dw-figures").inner_text().replace("\u00a0", " ")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _serve(folder: Path, port: int) -> "subprocess.Popen[bytes]":
    """A server with a home of its own, started as the command line starts it."""
    code = f"import sys; from explorer.app.start import start; sys.exit(start({port}, False))"
    environment = {
        "PATH": os.environ.get("PATH", ""),
        "PYTHONPATH": str(ROOT),
        "HOME": str(folder),
        "XDG_DATA_HOME": str(folder),
    }
    with (folder / f"server-{port}.log").open("wb") as log:
        return subprocess.Popen(
            [sys.executable, "-c", code], cwd=folder, env=environment, stdout=log, stderr=log
        )


def _answers(server: "subprocess.Popen[bytes]", port: int) -> bool:
    """Whether it came up; False when it ended, as with a port that was taken meanwhile."""
    for _ in range(240):
        if server.poll() is not None:
            return False
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=2):
                return True
        except OSError:
            time.sleep(0.25)
    return False


@contextmanager
def serving(folder: Path, again_at: str = "") -> Iterator[str]:
    """A running server whose shelf lies in the folder; its address.

    Args:
        folder: its home.
        again_at: the address of an earlier one that is started again.
    """
    for _ in range(3):
        port = urlsplit(again_at).port or _free_port()
        server = _serve(folder, port)
        try:
            if _answers(server, port):
                yield f"http://127.0.0.1:{port}"
                return
        finally:
            server.terminate()
            server.wait(20)
    logs = "\n".join(log.read_text() for log in folder.glob("server-*.log"))
    pytest.fail(f"the server did not start:\n{logs}")


@contextmanager
def running(folder: Path, code: str) -> Iterator[str]:
    """A server that some code of a test's own starts, given the port as its argument; its address.

    Its home, its shelf and its log lie in the folder.
    """
    port = _free_port()
    environment = {
        "PATH": os.environ.get("PATH", ""),
        "PYTHONPATH": str(ROOT),
        "HOME": str(folder),
        "XDG_DATA_HOME": str(folder),
        "XDG_STATE_HOME": str(folder / "state"),
    }
    with (folder / "terminal.txt").open("wb") as out:
        server = subprocess.Popen(
            [sys.executable, "-c", code, str(port)],
            cwd=folder, env=environment, stdout=out, stderr=out,
        )  # fmt: skip
        try:
            assert _answers(server, port)
            yield f"http://127.0.0.1:{port}"
        finally:
            server.terminate()
            server.wait(20)


def said(code: str, how: str) -> list[str]:
    """The lines that some code prints in a process of its own, given one word."""
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code), how],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.fixture(autouse=True)
def own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test touches the shelf of whoever runs it."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))


@pytest.fixture(autouse=True, scope="session")
def options_of_the_app() -> None:
    """Those that its start gives the framework and a test without a server would lack."""
    from streamlit import config

    config.set_option("global.disableWidgetStateDuplicationWarning", True)


@pytest.fixture(scope="session")
def data_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("server")


@pytest.fixture(scope="session")
def address(data_folder: Path) -> Iterator[str]:
    with serving(data_folder) as found:
        yield found


@pytest.fixture(scope="session")
def chromium() -> "Iterator[Browser]":
    if shutil.which(CHROMIUM) is None:
        if os.environ.get("CI") == "true":
            pytest.fail(f"no browser at {CHROMIUM}")
        pytest.skip(f"no browser at {CHROMIUM}")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE_MS)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


class Windows:
    """Pages in one browser, whose windows are kept as long as it runs.

    A new window, with all of the framework's scripts read anew in it, costs more than most tests
    do. So an empty page holds each window open, and what a page of a test leaves behind in it is
    cleared away.
    """

    def __init__(self, browser: "Browser") -> None:
        self._browser = browser
        self._kept: dict[str, Page] = {}

    @contextmanager
    def page(self, width: int = 1280, height: int = 900, **options: Any) -> "Iterator[Page]":
        """A page in a window of that size, with nothing left of earlier ones."""
        options["viewport"] = {"width": width, "height": height}
        key = json.dumps(options, sort_keys=True)
        if key not in self._kept:
            self._kept[key] = self._browser.new_context(**options).new_page()
        held = self._kept[key]
        context = held.context
        context.set_default_timeout(PATIENCE_MS)
        try:
            yield context.new_page()
        finally:
            for page in context.pages:
                if page is not held:
                    _clear(page)
            context.clear_cookies()


def _clear(page: "Page") -> None:
    """Close a page and take away what its site has stored."""
    site = urlsplit(page.url)
    page.goto("about:blank")
    if site.netloc:
        tools = page.context.new_cdp_session(page)
        origin = f"{site.scheme}://{site.netloc}"
        tools.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
    page.close()


@pytest.fixture(scope="session")
def windows(chromium: "Browser") -> Windows:
    return Windows(chromium)


@pytest.fixture(params=[(1280, 900), (390, 844)], ids=["1280", "390"])
def site(request: pytest.FixtureRequest, windows: Windows, address: str) -> "Iterator[Site]":
    """The app at a laptop's and at a phone's width; any error in the page fails the test."""
    width, height = request.param
    errors: list[str] = []
    with windows.page(width, height, has_touch=width < 500) as page:
        page.on("pageerror", lambda error: errors.append(str(error)))
        yield Site(page, address, touch=width < 500)
    assert errors == []
