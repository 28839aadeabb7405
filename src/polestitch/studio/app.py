"""The app: addresses, what becomes of mistakes, the front end, and what happens at start and end.

In: a ``Studio``.  Out: an ASGI app.
"""

import asyncio
import errno
import json
import logging
import sqlite3
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime, timedelta
from functools import partial

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from sqlalchemy.exc import DBAPIError
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp

from polestitch import __version__
from polestitch.errors import DesignError
from polestitch.store.backups import make_daily_backup
from polestitch.store.classes import OlderError
from polestitch.store.designs import MissingError
from polestitch.studio.crew import GoneError
from polestitch.studio.front import FrontEnd
from polestitch.studio.guard import Frontage, Guard
from polestitch.studio.pairing import TooManyError
from polestitch.studio.porch import refused
from polestitch.studio.questions import SupersededError, TooLongError
from polestitch.studio.routes import router
from polestitch.studio.studio import Studio

log = logging.getLogger(__name__)
FULL = "The disk is full, so this was not kept. Make some room and try again; all you did before is safe."
INSIDE = "Something went wrong inside Polestitch; what was saved is safe. Please try again."


def application(studio: Studio, warm: bool = False) -> ASGIApp:
    """The whole app behind its guard; ``warm`` starts workers before they are asked."""

    @asynccontextmanager
    async def lifespan(_app: FastAPI) -> AsyncIterator[None]:
        chores = [asyncio.create_task(_backups(studio))]
        chores += [asyncio.create_task(crew.warm()) for crew in (studio.bench, studio.painters) if warm]
        yield
        for chore in chores:
            chore.cancel()
        await asyncio.gather(*chores, return_exceptions=True)
        await studio.jobs.close()
        for crew in (studio.bench, studio.painters, studio.makers):
            crew.close()

    app = FastAPI(
        title="Polestitch studio",
        version=__version__,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=lifespan,
    )
    app.state.studio = studio
    app.include_router(router())
    _mistakes(app)
    app.mount("/", FrontEnd(studio.static))
    return Guard(app)


def porch_of(studio: Studio, app: ASGIApp, hosts: tuple[str, ...]) -> ASGIApp:
    """The same app as devices on the home network see it, under these names."""
    inside = app.inside if isinstance(app, Guard) else app
    return Guard(inside, Frontage(hosts, "https", partial(refused, studio.store)))


async def _backups(studio: Studio) -> None:
    """One backup a day, for as long as the studio is open."""
    while True:
        try:
            await run_in_threadpool(make_daily_backup, studio.store)
        except (OSError, sqlite3.Error):
            log.exception("today's backup could not be made")
        now = datetime.now().astimezone()
        tomorrow = (now + timedelta(days=1)).replace(hour=0, minute=1, second=0)
        await asyncio.sleep(max(60.0, (tomorrow - now).total_seconds()))


def _said(status: int, where: str, what: str) -> JSONResponse:
    return JSONResponse({"where": where, "what": what}, status_code=status)


def _mistakes(app: FastAPI) -> None:
    """Every mistake becomes one sentence."""
    app.add_exception_handler(DesignError, _design_error)
    app.add_exception_handler(RequestValidationError, _not_valid)
    app.add_exception_handler(SupersededError, lambda *_: _said(409, "question", "superseded"))
    app.add_exception_handler(TooLongError, lambda *_: _said(422, "", _TOO_LONG))
    app.add_exception_handler(GoneError, lambda *_: _said(422, "", _TOO_MUCH))
    app.add_exception_handler(HTTPException, _http_error)
    app.add_exception_handler(DBAPIError, _database_error)
    app.add_exception_handler(sqlite3.Error, _database_error)
    app.add_exception_handler(OSError, _os_error)
    app.add_exception_handler(Exception, _inside)


_TOO_LONG = "this ball takes longer than two minutes to work out; take fewer rows or fewer places"
_TOO_MUCH = "this was too much for the machine and had to be ended; take fewer rows or fewer places"


async def _design_error(_request: Request, error: Exception) -> JSONResponse:
    wrong = error if isinstance(error, DesignError) else DesignError("", str(error))
    status = {MissingError: 404, OlderError: 409, TooManyError: 429}.get(type(wrong), 422)
    return _said(status, wrong.where, wrong.what)


async def _not_valid(_request: Request, error: Exception) -> JSONResponse:
    first = error.errors()[0] if isinstance(error, RequestValidationError) else {"loc": (), "msg": str(error)}
    where = ".".join(str(part) for part in first["loc"] if part not in ("body", "query", "path"))
    # Half a character may stand in what was sent, and in no answer.
    what = json.loads(json.dumps(str(first["msg"]).encode("utf-8", "replace").decode()))
    return _said(422, where.encode("utf-8", "replace").decode(), what)


async def _http_error(_request: Request, error: Exception) -> JSONResponse:
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = {404: "there is no such address", 405: "this address cannot be asked that way"}
    detail = error.detail if isinstance(error, HTTPException) else ""
    answer = _said(status, "", words.get(status, str(detail)))
    if isinstance(error, HTTPException) and error.headers:
        answer.headers.update(error.headers)
    return answer


async def _database_error(request: Request, error: Exception) -> JSONResponse:
    original = error.orig if isinstance(error, DBAPIError) else error
    if getattr(original, "sqlite_errorcode", None) in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR_WRITE):
        return _said(507, "disk", FULL)
    return await _inside(request, error)


async def _os_error(request: Request, error: Exception) -> JSONResponse:
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT):
        return _said(507, "disk", FULL)
    return await _inside(request, error)


async def _inside(request: Request, error: Exception) -> JSONResponse:
    log.error("%s %s failed", request.method, request.url.path, exc_info=error)
    return _said(500, "", INSIDE)
