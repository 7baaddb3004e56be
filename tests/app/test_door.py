"""Who is let in: only what our own pages ask, by a name of this server's, with a cookie of its."""

import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.requests import HTTPConnection

from explorer.app.door import Seal, is_welcome
from explorer.app.safe_headers import HEADERS
from tests.app.conftest import serving

NAMES = {"localhost", "127.0.0.1", "fe80::1"}
OWN, OTHER_PORT, OTHER_SITE = (
    "http://localhost:8501",
    "http://localhost:3000",
    "http://evil.example",
)


def asking(**headers: str) -> HTTPConnection:
    pairs = [(name.replace("_", "-").encode(), value.encode()) for name, value in headers.items()]
    return HTTPConnection({"type": "http", "headers": pairs})


@pytest.mark.parametrize(
    "host",
    ["localhost", "localhost:8501", "LOCALHOST:8501", "127.0.0.1:8501", "[fe80::1]:8501"],
)
def test_its_own_names_are_answered(host: str) -> None:
    assert is_welcome(asking(host=host), "GET", NAMES)
    assert is_welcome(asking(host=host, origin=f"http://{host}"), "PUT", NAMES)


@pytest.mark.parametrize(
    "host",
    [
        "evil.example", "evil.example:8501", "localhost.evil.example", "localhost@evil.example",
        "evil.example/localhost", "evil.example#@localhost", "", "localhost:port", "localhost:-1",
        "localhost:99999", "127.0.0.2", "[::1]", "localhost, evil.example", "user@localhost",
    ],
)  # fmt: skip
def test_other_names_are_not(host: str) -> None:
    for method in ("GET", "HEAD", "PUT", "DELETE", ""):
        assert not is_welcome(asking(host=host), method, NAMES)
        assert not is_welcome(asking(host=host, origin=f"http://{host}"), method, NAMES)


@pytest.mark.parametrize(
    "origin",
    [OTHER_PORT, OTHER_SITE, "null", "", "http://localhost", "http://127.0.0.1:8501",
     "https://localhost:8501", "http://localhost:8501.evil.example", "http://localhost:8501/"],
)  # fmt: skip
@pytest.mark.parametrize("method", ["GET", "PUT", "POST", "DELETE", "OPTIONS", ""])
def test_pages_of_another_site_or_port_get_nothing(origin: str, method: str) -> None:
    assert not is_welcome(asking(host="localhost:8501", origin=origin), method, NAMES)


@pytest.mark.parametrize("method", ["PUT", "POST", "DELETE", "OPTIONS", "TRACE", ""])
def test_what_changes_something_says_where_it_comes_from(method: str) -> None:
    assert not is_welcome(asking(host="localhost:8501"), method, NAMES)
    assert is_welcome(asking(host="localhost:8501", origin=OWN), method, NAMES)


def test_a_link_from_elsewhere_opens_a_page_and_a_picture_from_elsewhere_does_not() -> None:
    away = {"host": "localhost:8501", "sec_fetch_site": "cross-site"}
    assert is_welcome(asking(**away, sec_fetch_mode="navigate"), "GET", NAMES)
    assert not is_welcome(asking(**away, sec_fetch_mode="navigate"), "POST", NAMES)
    assert not is_welcome(asking(**away, sec_fetch_mode="no-cors"), "GET", NAMES)
    same_site = {**away, "sec_fetch_site": "same-site", "sec_fetch_mode": "no-cors"}
    assert not is_welcome(asking(**same_site), "GET", NAMES)


def test_one_host_and_one_origin() -> None:
    twice = asking(host="localhost")
    twice.scope["headers"].append((b"host", b"evil.example"))
    assert not is_welcome(HTTPConnection(twice.scope), "GET", NAMES)


def test_a_seal_is_of_one_start_only() -> None:
    seal, other = Seal(), Seal()
    cookie = seal.cookie()
    assert seal.holds(cookie)
    assert cookie != seal.cookie()
    mark, _, sealed = cookie.partition(".")
    for made_up in ("", ".", "x", f"{mark}.", f".{sealed}", f"{mark[::-1]}.{sealed}", "é.é",
                    other.cookie()):  # fmt: skip
        assert not seal.holds(made_up)


def status(address: str, *lines: str) -> int:
    """The status of the answer to a request, and 0 where there is none."""
    name, port = address.removeprefix("http://").split(":")
    with socket.create_connection((name, int(port)), timeout=20) as link:
        link.sendall(("\r\n".join(lines) + "\r\n\r\n").encode("latin-1"))
        answer = link.recv(400).decode("latin-1")
    return int(answer.split()[1]) if answer else 0


PATHS = ("/", "/size", "/_stcore/health", "/_stcore/host-config", "/static/index.html")


@pytest.mark.parametrize("path", PATHS)
def test_plain_requests_are_looked_at_too(address: str, path: str) -> None:
    own = address.removeprefix("http://")
    port = own.partition(":")[2]
    get = f"GET {path} HTTP/1.1"
    assert status(address, get, f"Host: {own}") in (200, 404)
    assert status(address, get, f"Host: localhost:{port}") in (200, 404)
    assert status(address, get, f"Host: evil.example:{port}") == 403
    assert status(address, get, f"Host: {own}", "Origin: http://localhost:3000") == 403
    assert status(address, get, f"Host: {own}", "Origin: http://evil.example") == 403
    assert status(address, f"GET {path} HTTP/1.0") == 403
    assert status(address, f"POST {path} HTTP/1.1", f"Host: {own}", "Content-Length: 0") == 403


@pytest.mark.parametrize(
    ("origin", "wanted"),
    [("", 403), ("Origin: http://localhost:3000", 403), ("Origin: null", 403), ("own", 101)],
)
def test_the_app_is_driven_by_its_own_pages_only(address: str, origin: str, wanted: int) -> None:
    lines = [
        "GET /_stcore/stream HTTP/1.1",
        f"Host: {address.removeprefix('http://')}",
        "Upgrade: websocket",
        "Connection: Upgrade",
        "Sec-WebSocket-Version: 13",
        "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==",
        "Sec-WebSocket-Protocol: streamlit",
        *([f"Origin: {address}"] if origin == "own" else [origin] if origin else []),
    ]
    assert status(address, *lines) == wanted


def test_whoever_is_turned_away_gets_the_safe_headers(address: str) -> None:
    name, port = address.removeprefix("http://").split(":")
    with socket.create_connection((name, int(port)), timeout=20) as link:
        link.sendall(b"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n")
        told = link.recv(4000).decode("latin-1").lower()
    for header in HEADERS:
        assert f"\r\n{header}:" in told
    assert "set-cookie" not in told


@pytest.fixture
def watched(tmp_path: Path) -> "Iterator[tuple[str, Path]]":
    """A server of its own, and what it writes to the terminal."""
    with serving(tmp_path) as found:
        yield found, next(tmp_path.glob("server-*.log"))


def test_broken_requests_leave_no_traceback_on_the_terminal(watched: tuple[str, Path]) -> None:
    address, terminal = watched
    own = address.removeprefix("http://")
    name, port = own.split(":")
    upload = "PUT /_stcore/upload_file/a/b HTTP/1.1"
    head = f"Host: {own}\r\nOrigin: {address}\r\nContent-Type: multipart/form-data; boundary=x"
    chunked = "Transfer-Encoding: chunked"
    for text in (
        f"{upload}\r\n{head}\r\n{chunked}\r\n\r\nzz\r\nnot a length\r\n",
        f"{upload}\r\n{head}\r\n{chunked}\r\n\r\n5\r\nab",
        f"{upload}\r\n{head}\r\n{chunked}\r\n\r\n-5\r\nabcde\r\n0\r\n\r\n",
        f"{upload}\r\n{head}\r\nContent-Length: 5000\r\n\r\n--x\r\n",
        f"POST / HTTP/1.1\r\n{head}\r\n{chunked}\r\n\r\nffffffffffffffffffff\r\n",
        f"GET / HTTP/1.1\r\n{head}\r\n{chunked}\r\n\r\nzz\r\n",
        f"GET /_stcore/health HTTP/1.1\r\n{head}\r\n{chunked}\r\n\r\nzz\r\n",
        "GET / HTTP/9.9\r\n\r\n",
        "\x00\x01\x02\r\n\r\n",
        f"GET /{'x' * 70000} HTTP/1.1\r\n{head}\r\n\r\n",
    ):
        with socket.create_connection((name, int(port)), timeout=20) as link:
            link.sendall(text.encode("latin-1"))
            link.shutdown(socket.SHUT_WR)
            while link.recv(4000):
                pass
    assert status(address, "GET /_stcore/health HTTP/1.1", f"Host: {own}") == 200
    assert "Traceback" not in terminal.read_text("utf-8")
