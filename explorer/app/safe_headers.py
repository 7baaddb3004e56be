"""What every answer of the server tells the browser: load nothing from elsewhere, tell no one.

The policy is Content Security Policy Level 3 (W3C). What it must leave open, each for its reason:

* ``script-src blob:``: the framework runs the code of our own components from blob addresses;
* ``style-src 'unsafe-inline'``: it writes its styles into the page as it goes;
* ``img-src data: blob:``: our components draw pictures that came with the page's data;
* ``connect-src data:``: it reads the camera's picture from such an address, which leads nowhere.

The framework's page holds one script in its text, which sets a flag for search engines' robots; the
policy stops it, and nothing of ours needs it.
"""

from collections.abc import Mapping
from types import MappingProxyType

from starlette.types import ASGIApp, Message, Receive, Scope, Send

_RULES = (
    "default-src 'none'",
    "script-src 'self' blob:",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "media-src 'self' blob:",
    "connect-src 'self' data:",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
)
POLICY = "; ".join(_RULES)
HEADERS: Mapping[str, str] = MappingProxyType(
    {
        "content-security-policy": POLICY,
        # The address of a page carries its table's mark: no other site gets to know it.
        "referrer-policy": "no-referrer",
        "x-content-type-options": "nosniff",
        "cross-origin-opener-policy": "same-origin",
        "cross-origin-resource-policy": "same-origin",
        # The camera only for the app itself, the rest for nobody.
        "permissions-policy": "camera=(self), microphone=(), geolocation=(), usb=(), payment=()",
    }
)
_RAW = tuple((name.encode(), value.encode()) for name, value in HEADERS.items())


class SafeHeaders:
    """Adds ``HEADERS`` to every answer over HTTP.

    Args:
        app: what answers.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one connection."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start":
                ours = {name for name, _ in _RAW}
                theirs = [pair for pair in message["headers"] if pair[0].lower() not in ours]
                message = {**message, "headers": [*theirs, *_RAW]}
            await send(message)

        await self.app(scope, receive, told)
