"""The server as it is started: its headers, who may reach it, and what our own fault looks like."""

import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from explorer.app import start
from explorer.app.logging_setup import told
from explorer.app.safe_headers import HEADERS
from explorer.shelf import default_path
from tests.app.conftest import running

if TYPE_CHECKING:
    from tests.app.conftest import Windows

TYPED = "Wrenna 217.5"
# A server with a fault of ours in it: one page that fails, and one button whose callback does.
_FAULTY = f"""
import sys
import streamlit as st
from explorer.app.views import shelf, together
from explorer.app.start import start

def fails():
    raise ValueError("got {TYPED!s}")

def with_button():
    st.header("Together")
    st.button("Break", on_click=fails)

shelf.view, together.view = fails, with_button
sys.exit(start(int(sys.argv[1]), False))
"""


@pytest.fixture
def faulty(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """The address of a server with a fault, and its folder."""
    with running(tmp_path, _FAULTY) as address:
        yield address, tmp_path


def test_every_answer_tells_the_browser_to_load_nothing_from_elsewhere(address: str) -> None:
    for path in ("/", "/size", "/_stcore/health", "/no/such/page.js"):
        try:
            # The address is our own server's.
            with urllib.request.urlopen(address + path, timeout=10) as answer:  # noqa: S310
                found = answer.headers
        except urllib.error.HTTPError as error:
            found = error.headers
        for name, value in HEADERS.items():
            assert found.get_all(name) == [value], (path, name)


@pytest.mark.parametrize(
    ("host", "origin", "wanted"),
    [("", "", 101), ("evil.example", "", 403), ("", "http://evil.example", 403)],
    ids=["own", "another name for this machine", "a page of another site"],
)
def test_only_its_own_pages_reach_the_app(
    address: str, host: str, origin: str, wanted: int
) -> None:
    import socket

    name, port = address.removeprefix("http://").split(":")
    lines = [
        "GET /_stcore/stream HTTP/1.1",
        f"Host: {host or name}:{port}",
        f"Origin: {origin or address}",
        "Upgrade: websocket",
        "Connection: Upgrade",
        "Sec-WebSocket-Version: 13",
        "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==",
        "Sec-WebSocket-Protocol: streamlit",
    ]
    with socket.create_connection((name, int(port)), timeout=10) as link:
        link.sendall(("\r\n".join(lines) + "\r\n\r\n").encode())
        answer = link.recv(200).decode("latin-1")
    assert int(answer.split()[1]) == wanted


def test_it_listens_on_this_machine_only(address: str) -> None:
    import socket

    port = int(address.rpartition(":")[2])
    with pytest.raises(OSError, match="refused"):
        socket.create_connection((_own_address(), port), timeout=5).close()


def _own_address() -> str:
    """An address of this machine other than its loopback, else a loopback one we do not use."""
    import socket

    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # Nothing is sent: connecting a datagram socket only looks up the route.
            probe.connect(("192.0.2.1", 9))
            found = str(probe.getsockname()[0])
        except OSError:
            found = "127.0.0.2"
    return found if not found.startswith("127.0.0.1") else "127.0.0.2"


@pytest.mark.browser
def test_a_fault_shows_a_calm_page_and_goes_to_the_log_without_what_was_typed(
    windows: "Windows", faulty: tuple[str, Path]
) -> None:
    address, folder = faulty
    with windows.page() as page:
        page.goto(f"{address}/shelf")
        page.get_by_role("alert").wait_for()
        shown = page.locator("body").inner_text()
        page.goto(f"{address}/together")
        page.get_by_role("button", name="Break").click()
        page.get_by_role("alert").wait_for()
        shown += page.locator("body").inner_text()
        links = [a.get_attribute("href") or "" for a in page.locator("a").all()]
        page.get_by_role("button", name="Go on").click()
        page.get_by_role("button", name="Break").wait_for()
        page.get_by_role("alert").wait_for(state="detached")
    log = next((folder / "state").rglob("danglewise.log"))
    for _ in range(40):
        if log.read_text().count("ValueError") == 2:
            break
        time.sleep(0.1)
    written, terminal = log.read_text(), (folder / "terminal.txt").read_text()
    assert written.count("builtins.ValueError") == 2
    assert written.count(" fails") == 2
    assert str(log) in shown
    assert not [link for link in links if "//" in link and "127.0.0.1" not in link]
    for text in (shown, written, terminal):
        assert TYPED not in text
        assert "Traceback" not in text
    assert "ValueError" not in shown


def test_the_log_tells_causes_and_places_without_words() -> None:
    def deep(n: int) -> None:
        if n:
            deep(n - 1)
        try:
            float(TYPED)
        except ValueError as error:
            raise KeyError(TYPED) from error

    try:
        deep(100)
    except KeyError as error:
        lines = told(error)
    assert lines[0] == "builtins.KeyError"
    assert "after builtins.ValueError" in lines
    assert len(lines) < 60
    assert "test_served.py" in lines[1]
    assert TYPED not in "\n".join(lines)


def _options(monkeypatch: pytest.MonkeyPatch, *arguments: str) -> list[str]:
    """What the server would be started with."""
    from streamlit.web import cli

    from explorer.__main__ import main

    monkeypatch.setattr(sys, "argv", ["danglewise"])
    monkeypatch.setattr(cli, "main", lambda **_: None)
    # The address of a class's network is none of the machine's that runs this.
    monkeypatch.setattr(start, "check_place", lambda *_: None)
    assert main([*arguments]) == 0
    return sys.argv


def test_nobody_else_is_let_in_unless_told(monkeypatch: pytest.MonkeyPatch) -> None:
    found = _options(monkeypatch)
    assert [o for o in found if o.startswith("--server.address")] == ["--server.address=127.0.0.1"]
    assert "--browser.gatherUsageStats=false" in found


def test_a_network_is_let_in_by_one_address_and_with_a_word_of_care(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    found = _options(monkeypatch, "--listen", "192.168.1.20")
    assert "--server.address=192.168.1.20" in found
    hosts = [o for o in found if o.startswith("--server.allowedHosts")]
    assert hosts == ["--server.allowedHosts=192.168.1.20"]
    told = capsys.readouterr().err
    assert "Everyone in this network" in told
    assert "whoever uses this computer does" in told
    assert "stays in lesson.sqlite3 for later ones" in told
    assert f"out of the folder {default_path().parent}." in told


@pytest.mark.parametrize("address", ["0.0.0.0", "::", "", "localhost", "*", "1.2.3", "224.0.0.1"])  # noqa: S104 - refused
def test_all_networks_at_once_are_refused(address: str, capsys: pytest.CaptureFixture[str]) -> None:
    from explorer.__main__ import main

    assert main(["--listen", address]) == 2
    assert "listen: got" in capsys.readouterr().err
