"""While a network is let in, nothing of the maker's who started the server is shown elsewhere."""

import asyncio
import os
import subprocess
import sys
import time
import urllib.request
from collections.abc import Coroutine, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

import pytest
import streamlit
import websockets
from streamlit.testing.v1 import AppTest

from explorer import shelf_tables
from explorer.app import network, stock
from explorer.app.demo import demo
from explorer.app.kept import to_text
from explorer.piece import to_json
from explorer.shelf import Shelf
from palettes.charts import bead_kinds
from palettes.tray import TrayBead
from tests.app.conftest import ROOT, _free_port
from tests.bench.load import PINNED, Session

T = TypeVar("T")
# Two addresses of this machine that are not its usual one: nothing leaves it.
HERE, ELSEWHERE = "127.0.0.2", "127.0.0.3"
PAGES = ("size", "colours", "proposals", "shape", "piece", "counting", "making", "together",
         "handing-on", "shelf", "beads")  # fmt: skip
WRENNA, IDA, TEAL = "Wrenna's anklet", "Ida Harbour", "Grandmother's teal"


def run(work: Coroutine[Any, Any, T]) -> T:
    """Do it in a thread of its own: the browser's driver keeps a loop in the tests' own thread."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(asyncio.run, work).result()


def makers_own(folder: Path) -> Path:
    """A shelf with something of everything; its file."""
    path = folder / "danglewise" / "shelf.sqlite3"
    shelf = Shelf(path)
    work = demo()
    named = replace(work, piece=replace(work.piece, name=WRENNA))
    shelf.put(WRENNA, to_json(named.piece), who=IDA)
    shelf_tables.keep(shelf, "0123456789abcdef", to_text(named))
    bead = TrayBead(name=TEAL, kind=bead_kinds()["round 8/0"], hex="#1f8a83")
    shelf.keep_tray(stock.with_new(stock.Boxes(), (bead,)).content)
    return path


@pytest.fixture
def lesson(tmp_path: Path) -> Iterator[str]:
    """A server that lets in a network of this machine's own addresses; its port."""
    makers_own(tmp_path)
    port = _free_port()
    code = f"import sys; from explorer.app.start import start; start({port}, False, {HERE!r})"
    environment = {
        "PATH": os.environ.get("PATH", ""),
        "PYTHONPATH": str(ROOT),
        "HOME": str(tmp_path),
        "XDG_DATA_HOME": str(tmp_path),
    }
    with (tmp_path / "terminal.txt").open("wb") as out:
        server = subprocess.Popen(
            [sys.executable, "-c", code], cwd=tmp_path, env=environment, stdout=out, stderr=out
        )
    try:
        for _ in range(240):
            try:
                with urllib.request.urlopen(f"http://{HERE}:{port}/_stcore/health", timeout=2):
                    break
            except OSError:
                assert server.poll() is None
                time.sleep(0.25)
        yield f"http://{HERE}:{port}"
    finally:
        server.terminate()
        server.wait(20)


class _Heard:
    """A connection, and all that came through it."""

    def __init__(self, link: Any) -> None:
        self._link = link
        self.heard = b""

    async def send(self, message: bytes) -> None:
        await self._link.send(message)

    async def recv(self) -> bytes:
        got: bytes = await self._link.recv()
        self.heard += got
        return got


async def heard_from(address: str, whence: str) -> str:
    """Everything that a browser at an address gets to hear on every page, the first one first."""
    async with websockets.connect(
        f"{address.replace('http', 'ws')}/_stcore/stream",
        subprotocols=[websockets.Subprotocol("streamlit")],
        origin=websockets.Origin(address),
        max_size=None,
        local_addr=(whence, 0),
    ) as link:
        told = _Heard(link)
        session = Session(told)
        for page in ("", *PAGES):
            await session.rerun(page=page)
            assert session.faults == []
        return told.heard.decode("utf-8", "replace")


@pytest.mark.skipif(sys.platform != "linux", reason="has several addresses of its own on Linux")
@pytest.mark.skipif(
    not streamlit.__version__.startswith(PINNED),
    reason="the framework's messages are known for one version",
)
def test_a_lesson_shows_nothing_of_the_maker_who_started_it(lesson: str, tmp_path: Path) -> None:
    theirs = run(heard_from(lesson, ELSEWHERE))
    assert "unencrypted" in theirs
    assert "what was saved in earlier lessons stands there too" in theirs
    for own in (WRENNA, IDA, TEAL, "Carry on with", str(tmp_path)):
        assert own not in theirs
    mine = run(heard_from(lesson, HERE))
    assert "unencrypted" in mine
    assert "Whoever uses this computer sees your own shelf and beads" in mine
    assert "What is saved in a lesson stays in lesson.sqlite3 for later ones" in mine
    assert f"out of the folder {tmp_path / 'danglewise'}." in mine
    # The last table can be anyone's now.
    assert "Carry on with" not in mine
    assert WRENNA in mine
    assert TEAL in mine


def test_the_usual_server_says_nothing_of_a_network() -> None:
    assert network.listening_at() == ""
    assert not network.from_elsewhere()


def _two_visits() -> None:
    import streamlit as st

    from explorer.app import session
    from explorer.app.parts.open_network import say_network

    session.begin()
    say_network()
    st.text(f"{session.shelf().path.name} {session.last_time() is not None}")


@pytest.mark.parametrize(
    ("addresses", "shelves"),
    [
        ([HERE, HERE], ["shelf.sqlite3", "shelf.sqlite3"]),
        ([ELSEWHERE, None, HERE], ["lesson.sqlite3"] * 3),
        ([None, HERE], ["lesson.sqlite3", "shelf.sqlite3"]),
        ([HERE, None], ["shelf.sqlite3", "shelf.sqlite3"]),
        ([HERE, ELSEWHERE, HERE], ["shelf.sqlite3", "lesson.sqlite3", "lesson.sqlite3"]),
    ],
)
def test_whose_shelf_a_session_sees(
    addresses: list[str | None],
    shelves: list[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Once a session has been elsewhere it stays so, also when nobody is connected for a moment."""
    makers_own(tmp_path)
    now: list[str | None] = [None]

    class Context:
        @property
        def ip_address(self) -> str | None:
            return now[0]

    monkeypatch.setattr(network, "listening_at", lambda: HERE)
    monkeypatch.setattr("streamlit.context", Context())
    app = AppTest.from_function(_two_visits, default_timeout=60)
    seen = []
    for address in addresses:
        now[0] = address
        app.run()
        assert not app.exception
        seen.append(app.text[0].value)
    assert seen == [f"{shelf} False" for shelf in shelves]


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [("192.168.1.20", "192.168.1.20", True), ("192.168.1.20", "192.168.1.2", False),
     ("fe80::1", "fe80:0::1%eth0", True), ("fe80::1", "no address", False)],
)  # fmt: skip
def test_addresses_are_compared_as_addresses(one: str, other: str, *, same: bool) -> None:
    assert network._same(one, other) is same
