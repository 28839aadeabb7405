"""Opening the studio: the store, the first designs on the shelf, a port, the server, the browser.

In: a folder and what she asked for.  Out: a server that runs until she stops it.
"""

import asyncio
import json
import socket
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import uvicorn
from starlette.types import ASGIApp

from polestitch.errors import DesignError
from polestitch.store.backups import make_daily_backup
from polestitch.store.designs import add_design
from polestitch.store.pictures import clear_pictures
from polestitch.store.shelf import clear_away, is_empty
from polestitch.store.store import Store, opened
from polestitch.studio.app import application, porch_of
from polestitch.studio.certificates import papers
from polestitch.studio.examples import TAG, example_texts
from polestitch.studio.network import QuietServer, home_addresses, listening_at
from polestitch.studio.pairing import Pairing
from polestitch.studio.studio import Studio, studio_of

LOOPBACK = "127.0.0.1"
PORT = 8647  # one she can remember; another one is taken where it is in use
PORTS_TRIED = 20


def serve(folder: Path, port: int | None, ready: Callable[[str], None], lan: tuple[str, ...] | None = None) -> None:
    """Serve the studio in ``folder`` until it is stopped; ``ready`` is told its address when it answers.

    With ``lan`` a second listener answers paired devices on the home network, over TLS: at those addresses, or at
    all that this machine has there.
    """
    store = opened(folder)
    try:
        furnish(store)
        with _listening(port) as listening:
            address = f"http://{LOOPBACK}:{listening.getsockname()[1]}/"
            store.lock.note(address)
            pairing = None if lan is None else Pairing(store.clock, hosts=lan or home_addresses())
            studio = studio_of(store, pairing=pairing)
            app = application(studio, warm=True)
            server = _Server(_config(app), lambda: ready(address))
            if pairing is not None:
                server.beside = _at_home(studio, app, pairing, listening.getsockname()[1])
            server.run(sockets=[listening])
    finally:
        store.close()


def _config(app: ASGIApp, **more: Any) -> uvicorn.Config:
    plain: dict[str, Any] = {
        "log_level": "warning",
        "access_log": False,
        "server_header": False,
        "proxy_headers": False,
    }
    return uvicorn.Config(app, timeout_graceful_shutdown=5, **plain, **more)


def _at_home(studio: Studio, app: ASGIApp, pairing: Pairing, port: int) -> tuple[uvicorn.Server, list[socket.socket]]:
    """The second listener, and where it listens; the pairing is told both."""
    hosts = pairing.hosts
    sockets = listening_at(hosts, port)
    made = papers(studio.store.folder / "lan", hosts, studio.store.clock())
    pairing.addresses = tuple(f"https://{host}:{port}/" for host in hosts)
    pairing.authority, pairing.fingerprint = made.authority, made.fingerprint
    files: dict[str, Any] = {"ssl_certfile": str(made.certificate), "ssl_keyfile": str(made.key)}
    return QuietServer(_config(porch_of(studio, app, hosts), lifespan="off", **files)), sockets


def furnish(store: Store) -> None:
    """The examples at first start; a backup before anything goes for good."""
    if is_empty(store):
        for text in example_texts().values():
            add_design(store, json.loads(text), (TAG,))
    try:
        make_daily_backup(store)
    except (OSError, sqlite3.Error):
        return  # a full disk: nothing goes for good without a backup; the studio opens all the same
    clear_away(store)
    clear_pictures(store)


class _Server(uvicorn.Server):
    """A server that tells when it answers."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self._ready = ready
        self.beside: tuple[uvicorn.Server, list[socket.socket]] | None = None
        self._running: asyncio.Task[None] | None = None

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then tell."""
        await super().startup(sockets)
        if self.started and self.beside is not None:
            server, at = self.beside
            self._running = asyncio.create_task(server.serve(sockets=at))
        if self.started:
            self._ready()

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End both."""
        if self.beside is not None and self._running is not None:
            self.beside[0].should_exit = True
            await asyncio.gather(self._running, return_exceptions=True)
        await super().shutdown(sockets)


def _listening(port: int | None) -> socket.socket:
    """A socket on this machine alone; ``DesignError`` where the port she named is taken."""
    for wanted in (port,) if port is not None else (*range(PORT, PORT + PORTS_TRIED), 0):
        try:
            return _bound(wanted)
        except OSError:
            continue
    raise DesignError("--port", f"port {port} is in use; name another, or leave it out")


def _bound(port: int) -> socket.socket:
    # With its protocol named, asyncio sends small answers at once; else they wait 40 ms for the browser's word.
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        made.bind((LOOPBACK, port))
        made.listen(128)
    except OSError:
        made.close()
        raise
    return made
