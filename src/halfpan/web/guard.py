"""Who may ask, and what an answer may do: the outermost layer of the page.

The page is served to this computer. A web site open in the same browser must not be able to use it, so the
Host header must name this computer (a hostile name pointed at 127.0.0.1 does not), a change must come from
our own page (Origin, Sec-Fetch-Site, and the token of `halfpan.web.same_site`), uploads are limited, and
every answer carries a content security policy that allows nothing inline and nothing from elsewhere.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from halfpan.files.words import say

LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})
UPLOAD_BYTES = 200 * 1024 * 1024  # an A4 page at 600 dpi as 16-bit TIFF is about 200 MB

UNCHANGING = frozenset({"GET", "HEAD", "OPTIONS"})
BESIDE = frozenset({"/choose", "/pair"})
"""What a page that only shows still takes: it is kept in the browser, not in the studio."""
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
}


class Guard:
    """Refuse requests that are not from the painter's own page, and dress every answer.

    Parameters
    ----------
    app
        The page.
    hosts
        Host names this page answers to, without ports.
    read_only
        Refuse every change of the studio.
    upload_bytes
        The largest request body.
    """

    def __init__(
        self, app: ASGIApp, *, hosts: frozenset[str], read_only: bool, upload_bytes: int = UPLOAD_BYTES
    ) -> None:
        self.app = app
        self.hosts = hosts
        self.read_only = read_only
        self.upload_bytes = upload_bytes

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        refusal = self.refusal(scope["method"], scope["path"], Headers(scope=scope))
        if refusal:
            status, words = refusal
            await PlainTextResponse(words, status)(scope, receive, _dressed(send))
            return
        await self._limited(scope, receive, _dressed(send))

    def refusal(self, method: str, path: str, headers: Headers) -> tuple[int, str] | None:
        """Return the status and sentence of a refusal, or none when the request may pass."""
        host = headers.get("host", "")
        if urlsplit(f"//{host}").hostname not in self.hosts:
            return 400, say("guard.host")
        if method in UNCHANGING:
            return None
        if not _from_our_page(headers, host):
            return 403, say("guard.origin")
        if self.read_only and path not in BESIDE:
            return 403, say("guard.read_only")
        if _announced_bytes(headers) > self.upload_bytes:
            return 413, self._too_large()
        return None

    def _too_large(self) -> str:
        return say("guard.too_large", megabytes=self.upload_bytes // 1024**2)

    async def _limited(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, and answer 413 once more has arrived than is allowed."""
        arrived = 0
        refused = False

        async def counted() -> Message:
            nonlocal arrived
            message = await receive()
            arrived += len(message.get("body", b""))
            if arrived > self.upload_bytes:
                return {"type": "http.disconnect"}
            return message

        async def answered(message: Message) -> None:
            nonlocal refused
            if arrived <= self.upload_bytes:
                await send(message)
            elif not refused:
                refused = True
                await PlainTextResponse(self._too_large(), 413)(scope, receive, send)

        try:
            await self.app(scope, counted, answered)
        finally:
            if arrived > self.upload_bytes and not refused:
                await answered({})


def _from_our_page(headers: Headers, host: str) -> bool:
    """Say whether a change comes from this very page, as far as a browser tells."""
    origin = headers.get("origin")
    if origin is not None and urlsplit(origin).netloc != host:
        return False
    return headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}


def _announced_bytes(headers: Headers) -> int:
    text = headers.get("content-length", "0")
    return int(text) if text.isascii() and text.isdigit() else 0


def _dressed(send: Send) -> Send:
    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-cache")
        await send(message)

    return dressed
