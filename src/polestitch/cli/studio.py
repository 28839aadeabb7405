"""The command that opens the studio in the browser."""

from pathlib import Path
from typing import Annotated

import typer

from polestitch.errors import DesignError

Data = Annotated[
    Path | None,
    typer.Option("--data", metavar="FOLDER", help="Folder for your designs; else where your system keeps such things."),
]
Port = Annotated[int | None, typer.Option("--port", metavar="N", help="Port of this machine to open at.")]
Lan = Annotated[bool, typer.Option("--lan", help="Let paired phones and tablets in over the home network.")]
LanAddress = Annotated[str | None, typer.Option("--lan-address", metavar="IP", help="Which address to answer at.")]
NoBrowser = Annotated[bool, typer.Option("--no-browser", help="Do not open the browser.")]


def studio(
    data: Data = None,
    port: Port = None,
    no_browser: NoBrowser = False,
    lan: Lan = False,
    lan_address: LanAddress = None,
) -> None:
    """Open the studio: see a ball as thread, change it by hand.

    It runs on this machine alone, and keeps every change at once. Stop it with Ctrl-C. With --lan a phone or
    tablet that you pair can use the chair over your home network.
    """
    if port is not None and not 1 <= port <= 65535:
        raise DesignError("--port", f"{port} is no port; give 1024 to 65535, or leave it out")
    from polestitch.store.store import default_folder
    from polestitch.studio.serve import serve

    folder = default_folder() if data is None else data.expanduser()

    def ready(address: str) -> None:
        typer.echo(f"The studio is open at {address}\nYour designs lie in {folder}\nStop it with Ctrl-C.")
        if not no_browser:
            import webbrowser

            webbrowser.open(address)

    serve(folder, port, ready, (lan_address,) if lan_address else () if lan else None)
