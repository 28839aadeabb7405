"""The door to the home network: a device without its cookie gets the page and no further; with it, chair and drawer.

In: the store and the pairing.  Out: what to answer instead of the app, if anything.
"""

import re
from http.cookies import CookieError, SimpleCookie

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.types import Scope

from polestitch.store.devices import known_device
from polestitch.store.store import Store

COOKIE = "__Host-polestitch"
Refusal = tuple[int, str, str] | None
NEEDS_PAIRING = "this device is not paired; open the studio on its own machine and pair it by the code shown there"
NOT_FROM_HERE = "a paired device can use the chair and look into the drawer; do this on the studio's own machine"
OPEN = (("POST", "/api/lan/pair"), ("GET", "/api/lan/authority.crt"))
_ID = "[0-9a-f]{32}"
_PAIRED = re.compile(
    rf"(?:GET|HEAD) /api/(?:health|threads|threads\.csv|threads/nearest|threads/needed|pieces"
    rf"|pieces/{_ID}(?:/(?:steps|scene|events|time|photos/{_ID}))?|designs/{_ID}/picture\.png)"
    rf"|POST /api/pieces/{_ID}/(?:events|photos|replan)"
)


async def refused(store: Store, scope: Scope, headers: Headers) -> Refusal:
    """What a device on the network may not do."""
    path, method = scope["path"], scope["method"]
    if not path.startswith("/api") or (method, path) in OPEN:
        return None
    token = _token(headers)
    if token is None or await run_in_threadpool(known_device, store, token) is None:
        return 401, "device", NEEDS_PAIRING
    return None if _PAIRED.fullmatch(f"{method} {path}") else (403, "device", NOT_FROM_HERE)


def _token(headers: Headers) -> str | None:
    try:
        found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return None
    return None if found is None or len(found.value) > 200 else found.value
