"""The door of the server: who asks, by which name, from which page; all else is turned away.

Every request names the server it means (Host) and, where a page's program sends it, that page's
site (Origin; RFC 6454). A page of another site that points a name of its own at this machine has
another Host; one at another port of this machine has another Origin. What changes something, or
opens the app's connection, must say its Origin. Browsers say besides where any request comes from
(W3C Fetch Metadata); a link from elsewhere may open a page, and does no more.

Files are taken only at addresses that a page was given (``explorer.app.uploads``), and only from a
browser that has got a page from this server: it holds a cookie under a seal that is made anew at
each start.
"""

import hashlib
import hmac
import secrets
from collections.abc import Collection
from contextlib import suppress
from urllib.parse import urlsplit

from starlette.requests import ClientDisconnect, HTTPConnection
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from explorer.app.logging_setup import log_fault
from explorer.app.uploads import Uploads

_READING = frozenset({"GET", "HEAD"})
_FROM_HERE = frozenset({"same-origin", "none"})
# WebSocket close codes (RFC 6455, 7.4.1): against the rules; a fault of ours.
_AGAINST_RULES, _OUR_FAULT = 1008, 1011
_MARK_BYTES = 16


class _GoneError(Exception):
    """Nothing more can be said to whoever asked."""


class Seal:
    """Cookies that nobody else can make, as long as this object lives."""

    def __init__(self) -> None:
        self._secret = secrets.token_bytes(32)

    def cookie(self) -> str:
        """A new one."""
        mark = secrets.token_hex(_MARK_BYTES)
        return f"{mark}.{self._sealed(mark)}"

    def holds(self, cookie: str) -> bool:
        """Whether a cookie is one of ours."""
        mark, _, seal = cookie.partition(".")
        return hmac.compare_digest(seal.encode(), self._sealed(mark).encode())

    def _sealed(self, mark: str) -> str:
        return hmac.new(self._secret, mark.encode(), hashlib.sha256).hexdigest()


def is_welcome(asking: HTTPConnection, method: str, names: Collection[str]) -> bool:
    """Whether a request is one of our own pages', or opens one.

    Args:
        asking: the request, or the opening of a connection.
        method: of HTTP; empty for a connection.
        names: the names that this server answers to, in small letters.
    """
    hosts, origins = asking.headers.getlist("host"), asking.headers.getlist("origin")
    if len(hosts) != 1 or len(origins) > 1 or _name(hosts[0]) not in names:
        return False
    if origins:
        return origins[0].lower() == f"http://{hosts[0].lower()}"
    if asking.headers.get("sec-fetch-mode", "") == "navigate":
        return method in _READING
    site = asking.headers.get("sec-fetch-site", "same-origin")
    return method in _READING and site in _FROM_HERE


def _name(host: str) -> str:
    """The name in a Host header, without its port; empty for what is none."""
    try:
        found = urlsplit(f"//{host}")
        # Asking for the port tells whether it is one.
        plain = found.port is None or found.port > 0
    except ValueError:
        return ""
    rest = (found.username, found.password, found.path, found.query, found.fragment)
    return (found.hostname or "") if plain and not any(rest) else ""


class Door:
    """Lets in what is welcome, and says calmly what is not.

    Args:
        app: what answers.
        names: the names that this server answers to.
        uploads: the files that pages ask for.
    """

    def __init__(self, app: ASGIApp, *, names: Collection[str], uploads: Uploads) -> None:
        self.app = app
        self._names = frozenset(name.lower() for name in names)
        self._uploads = uploads
        self._seal = Seal()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one connection; a fault goes to the log and not to the terminal."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        begun = False

        async def sent(message: Message) -> None:
            nonlocal begun
            begun = True
            try:
                await send(message)
            except Exception as error:
                # The server has closed the connection already, as after a request that is none.
                raise _GoneError from error

        try:
            await self._let_in(scope, receive, sent)
        except (_GoneError, ClientDisconnect):
            # Whoever asked has gone, in the midst of it or before.
            return
        except Exception as error:  # noqa: BLE001 - the last door: it is told in the log
            log_fault(error)
            if not begun:
                with suppress(_GoneError):
                    await _refuse(scope, receive, sent, 500, "The program itself is at fault.")

    async def _let_in(self, scope: Scope, receive: Receive, send: Send) -> None:
        asking, method = HTTPConnection(scope), scope.get("method", "")
        if not is_welcome(asking, method, self._names):
            await _refuse(scope, receive, send, 403, "This server answers only to its own pages.")
        elif method in _READING or scope["type"] == "websocket":
            await self.app(scope, receive, self._with_cookie(asking, send))
        else:
            await self._change(asking, method, receive, send)

    async def _change(
        self, asking: HTTPConnection, method: str, receive: Receive, send: Send
    ) -> None:
        """A file comes or is taken back; nothing else is changed over HTTP."""
        scope, address = asking.scope, asking.url.path
        sealed = self._seal.holds(asking.cookies.get(_cookie_name(asking), ""))
        known = self._uploads.knows(address)
        if sealed and not known and method == "DELETE":
            # A page takes back what is gone already, as after a restart of the server.
            await Response(status_code=204)(scope, receive, send)
        elif not sealed or not known:
            await _refuse(scope, receive, send, 403, "No page here has asked for this.")
        elif method != "PUT":
            await self.app(scope, receive, send)
        elif (length := _length(asking)) is None:
            await _refuse(scope, receive, send, 411, "A file is sent with its length.")
        elif not self._uploads.begin(address, length):
            await _refuse(scope, receive, send, 413, "There is no room for this file now.")
        else:
            try:
                await self.app(scope, receive, send)
            finally:
                self._uploads.end(address)

    def _with_cookie(self, asking: HTTPConnection, send: Send) -> Send:
        """Give a browser that has none a cookie along with the answer."""
        name = _cookie_name(asking)
        if asking.scope["type"] != "http" or self._seal.holds(asking.cookies.get(name, "")):
            return send
        cookie = f"{name}={self._seal.cookie()}; Path=/; HttpOnly; SameSite=Lax"

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start":
                more = (b"set-cookie", cookie.encode())
                message = {**message, "headers": [*message["headers"], more]}
            await send(message)

        return told


def _cookie_name(asking: HTTPConnection) -> str:
    # Browsers do not tell the ports of a machine apart in their cookies.
    return f"danglewise_{(asking.scope.get('server') or ('', 0))[1]}"


def _length(asking: HTTPConnection) -> int | None:
    """How many bytes a request says will come; None where it does not say."""
    text = asking.headers.get("content-length", "")
    whole = text.isascii() and text.isdigit() and len(text) < 16
    return int(text) if whole and "transfer-encoding" not in asking.headers else None


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, words: str) -> None:
    if scope["type"] == "websocket":
        code = _OUR_FAULT if status == 500 else _AGAINST_RULES
        await send({"type": "websocket.close", "code": code})
        return
    # What else the other side sends is not waited for.
    answer = PlainTextResponse(words, status, {"connection": "close"})
    await answer(scope, receive, send)
