"""Reading what was sent, and calling the store off the event loop."""

from collections.abc import Callable
from typing import Any, TypeVar

from fastapi import UploadFile
from starlette.concurrency import run_in_threadpool

from polestitch.errors import DesignError

T = TypeVar("T")


async def whole(file: UploadFile, most: int) -> bytes:
    """All bytes of an uploaded file; ``DesignError`` for more than ``most``."""
    data = await file.read(most + 1)
    if len(data) > most:
        raise DesignError("file", f"is larger than {most // 1_000_000} MB; choose a smaller file")
    return data


async def documented(call: Callable[..., T], *arguments: Any) -> T:
    """What a call that reads or writes files gives."""
    return await run_in_threadpool(call, *arguments)
