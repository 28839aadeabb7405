"""The real studio as a process of its own, and what a test may ask it directly."""

import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

COMMAND = "from polestitch.cli import main; main()"
STARTS_WITHIN = 60.0


def free_port() -> int:
    """A port of this machine that nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Studio:
    """A studio on its own port with its own data folder."""

    folder: Path
    port: int = field(default_factory=free_port)
    more: tuple[str, ...] = ()
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> "Studio":
        """Start it and wait until it answers."""
        words = [sys.executable, "-c", COMMAND, "studio", "--data", str(self.folder), "--port", str(self.port)]
        self.process = subprocess.Popen([*words, "--no-browser", *self.more], env=dict(os.environ))
        until = time.monotonic() + STARTS_WITHIN
        while time.monotonic() < until:
            try:
                self.ask("/health")
            except OSError:
                time.sleep(0.1)
            else:
                return self
        raise AssertionError("the studio does not answer")

    def stop(self) -> None:
        """End it as a power cut would."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
        self.process = None

    def ask(self, path: str, body: object = None) -> Any:
        """The JSON answer of an address; a body makes it a POST."""
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(f"{self.address}api{path}", data, {"content-type": "application/json"})
        with urllib.request.urlopen(request, timeout=30) as answer:
            return json.load(answer)

    def cards(self) -> list[dict[str, Any]]:
        """All cards on the Shelf."""
        return list(self.ask("/designs")["cards"])

    def document(self, name: str) -> dict[str, Any]:
        """The document that is kept of the design called ``name``."""
        (card,) = [card for card in self.cards() if card["name"] == name]
        return dict(self.ask(f"/designs/{card['id']}")["document"])

    def new(self, name: str, **changes: Any) -> str:
        """The id of a new design: the quay lamps under another name, with ``changes``."""
        card = self.ask("/designs", {"from": "example", "example": "quay-lamps"})
        opened = self.ask(f"/designs/{card['id']}")
        document = {**opened["document"], "name": name, **changes}
        self.write(str(card["id"]), document)
        return str(card["id"])

    def write(self, design: str, document: dict[str, Any]) -> None:
        """Keep ``document`` as the newest version of ``design``."""
        save = {"base": self.ask(f"/designs/{design}")["base"], "document": document, "tab": "test"}
        kind = {"content-type": "application/json"}
        address = f"{self.address}api/designs/{design}"
        request = urllib.request.Request(address, json.dumps(save).encode(), kind, method="PUT")
        urllib.request.urlopen(request, timeout=30).close()
