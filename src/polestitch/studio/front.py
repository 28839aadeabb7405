"""The built front end: its files, and its one page for every address that is no file.

In: the folder it was built to.  Out: an ASGI app.
"""

from pathlib import Path

from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, Response
from starlette.staticfiles import StaticFiles
from starlette.types import Receive, Scope, Send

NOT_BUILT = "The front end is not built yet: run make studio."


class FrontEnd:
    """What is asked for, or the page."""

    def __init__(self, folder: Path) -> None:
        self._files = StaticFiles(directory=folder, html=True, check_dir=False)
        self._page = folder / "index.html"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer; what carries its content in its name (``assets/``) may be kept for ever."""
        path = self._files.get_path(scope)
        if path.partition("/")[0] == "api":
            raise HTTPException(404)
        found = await self._found(path, scope)
        for_ever = path.startswith("assets/") and found.status_code in (200, 304)
        found.headers["cache-control"] = "public, max-age=31536000, immutable" if for_ever else "no-cache"
        await found(scope, receive, send)

    async def _found(self, path: str, scope: Scope) -> Response:
        try:
            return await self._files.get_response(path, scope)
        except HTTPException as error:
            if error.status_code != 404 or "." in path.rpartition("/")[2]:
                raise
        if not self._page.is_file():
            return PlainTextResponse(NOT_BUILT, status_code=404)
        return await self._files.get_response("index.html", scope)
