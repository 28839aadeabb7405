"""Opening the studio: the store, the first designs on the shelf, a port, the server, the browser.

In: a folder and what she asked for.  Out: a server that runs until she stops it.
"""

import json
import socket
import sqlite3
from collections.abc import Callable
from pathlib import Path

import uvicorn

from polestitch.errors import DesignError
from polestitch.store.backups import make_daily_backup
from polestitch.store.designs import add_design
from polestitch.store.pictures import clear_pictures
from polestitch.store.shelf import clear_away, is_empty
from polestitch.store.store import Store, opened
from polestitch.studio.app import application
from polestitch.studio.examples import TAG, example_texts
from polestitch.studio.studio import studio_of

LOOPBACK = "127.0.0.1"
PORT = 8647  # one she can remember; another one is taken where it is in use
PORTS_TRIED = 20


def serve(folder: Path, port: int | None, ready: Callable[[str], None]) -> None:
    """Serve the studio in ``folder`` until it is stopped; ``ready`` is told its address when it answers."""
    store = opened(folder)
    try:
        furnish(store)
        with _listening(port) as listening:
            address = f"http://{LOOPBACK}:{listening.getsockname()[1]}/"
            store.lock.note(address)
            config = uvicorn.Config(
                application(studio_of(store), warm=True),
                log_level="warning",
                access_log=False,
                server_header=False,
                proxy_headers=False,
                timeout_graceful_shutdown=5,
            )
            _Server(config, lambda: ready(address)).run(sockets=[listening])
    finally:
        store.close()


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

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then tell."""
        await super().startup(sockets)
        if self.started:
            self._ready()


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
