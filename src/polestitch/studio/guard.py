"""The door: only this machine's own pages get in, nothing too large comes through, and every answer is sealed.

In: an ASGI app.  Out: an ASGI app.
"""

import json
from collections.abc import Awaitable, Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

HOSTS = ("127.0.0.1", "localhost", "[::1]")
SAFE = ("GET", "HEAD", "OPTIONS")
MOST_BYTES = 8_000_000  # a document may have 5 MB; JSON within JSON adds to it
MOST_BYTES_AT: Mapping[str, int] = {"/api/archive": 300_000_000, "/api/palette": 40_000_000}
MOST_BYTES_OF_A_PHOTO = 32_000_000
SEALS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}


class TooLargeError(Exception):
    """More bytes came than this address takes."""


class _Measure:
    """The same bytes, until there are too many; what the app says to that is not sent."""

    def __init__(self, receive: Receive, send: Send, most: int) -> None:
        self._receive, self._send, self._most = receive, send, most
        self._come = 0
        self.begun = False

    @property
    def over(self) -> bool:
        """Whether more came than may."""
        return self._come > self._most

    async def receive(self) -> Message:
        """What comes next."""
        message = await self._receive()
        self._come += len(message.get("body", b""))
        if self.over:
            raise TooLargeError
        return message

    async def send(self, message: Message) -> None:
        """Pass the answer on."""
        if not self.over or self.begun:
            self.begun = True
            await self._send(message)


Refusal = tuple[int, str, str] | None
Door = Callable[[Scope, Headers], Awaitable[Refusal]]


@dataclass(frozen=True)
class Frontage:
    """By which names and scheme a listener is known; ``door`` looks at who comes through it."""

    hosts: tuple[str, ...] = HOSTS
    scheme: str = "http"
    door: Door | None = None


HERE = Frontage()


class Guard:
    """Host and origin (DNS rebinding, cross-site requests), who may do what, size, and headers."""

    def __init__(self, app: ASGIApp, frontage: Frontage = HERE) -> None:
        self._app = app
        self._front = frontage

    @property
    def inside(self) -> ASGIApp:
        """What it guards."""
        return self._app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return  # there are no web sockets here
        headers = Headers(scope=scope)
        refusal = _refusal(scope, headers, self._front)
        if refusal is None and self._front.door is not None:
            refusal = await self._front.door(scope, headers)
        most = _most(scope["path"])
        if refusal is None and _announced(headers) > most:
            refusal = 413, "file", _too_large(most)
        sealed = _sealed(send)
        if refusal is not None:
            await _answer(sealed, *refusal)
            return
        await self._through(scope, receive, sealed, most)

    async def _through(self, scope: Scope, receive: Receive, send: Send, most: int) -> None:
        measure = _Measure(receive, send, most)
        with suppress(TooLargeError):
            await self._app(scope, measure.receive, measure.send)
        if measure.over and not measure.begun:
            await _answer(send, 413, "file", _too_large(most))


def _most(path: str) -> int:
    """How many bytes an address takes."""
    photo = path.startswith("/api/pieces/") and path.endswith("/photos")
    return MOST_BYTES_OF_A_PHOTO if photo else MOST_BYTES_AT.get(path, MOST_BYTES)


def _refusal(scope: Scope, headers: Headers, front: Frontage) -> Refusal:
    host = headers.get("host", "")
    if len(headers.getlist("host")) != 1 or _name(host) not in front.hosts:
        return 421, "host", "the studio answers only to this machine's own address, such as http://127.0.0.1"
    origin, site = headers.get("origin"), headers.get("sec-fetch-site", "none")
    foreign = origin is not None and origin != f"{front.scheme}://{host}"
    if scope["path"].startswith("/api") and (foreign or site not in ("none", "same-origin")):
        return 403, "origin", "another web page asked for this, and only the studio's own pages may"
    if foreign and scope["method"] not in SAFE:
        return 403, "origin", "another web page asked for this, and only the studio's own pages may"
    return None


def _name(host: str) -> str:
    """The host without its port."""
    name, colon, port = host.rpartition(":")
    return name if colon and port.isdigit() else host


def _announced(headers: Headers) -> int:
    length = headers.get("content-length", "0")
    return int(length) if length.isascii() and length.isdigit() and len(length) < 20 else 10**20


def _sealed(send: Send) -> Send:
    async def sealed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in SEALS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return sealed


async def _answer(send: Send, status: int, where: str, what: str) -> None:
    body = json.dumps({"where": where, "what": what}).encode()
    headers = [(b"content-type", b"application/json"), (b"content-length", str(len(body)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})


def _too_large(most: int) -> str:
    return f"is larger than {most // 1_000_000} MB; choose a smaller file"
