"""Worker processes: heavy work runs beside the event loop, and what is no longer wanted can be ended at once.

In: a function at the top of a module and its arguments.  Out: its answer, or the ``DesignError`` it raised.

A thread could not be stopped in mid-picture, and a picture broken by a hostile file would take the server with it.
"""

import asyncio
import multiprocessing
import signal
import sys
import traceback
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from multiprocessing.connection import Connection
from typing import Any

from starlette.requests import Request

from polestitch.errors import DesignError

Told = Callable[[float, str], None]
MOST_MEMORY = 6_000_000_000  # bytes of addresses a worker may claim
LOOK_ROUND = 0.25  # seconds between two looks whether anybody still waits
TOO_LARGE = "needs more memory than there is; make it smaller, or take fewer rows or finer steps"


class GoneError(RuntimeError):
    """The worker process ended in the middle of its work."""


class Worker:
    """One process that does one task at a time; made when it is first asked."""

    def __init__(self) -> None:
        self._process: Any = None
        self._wire: Connection | None = None

    def start(self) -> None:
        """Make the process, so that the first task need not wait for it."""
        if self._process is None:
            context = multiprocessing.get_context("spawn")
            self._wire, far = context.Pipe()
            self._process = context.Process(target=_work, args=(far,), daemon=True)
            self._process.start()
            far.close()

    def answer(self, task: Callable[..., Any], arguments: tuple[Any, ...], told: Told | None) -> Any:
        """What ``task`` gives; blocks.  With ``told`` the task gets a function to say how far it is."""
        self.start()
        wire = self._wire
        if wire is None:
            raise GoneError
        try:
            wire.send((task, arguments, told is not None))
            while True:
                kind, value = wire.recv()
                if kind != "told":
                    return _opened(kind, value)
                if told is not None:
                    told(*value)
        except (EOFError, OSError) as error:
            self.end()
            raise GoneError from error

    def end(self) -> None:
        """End the process whatever it does; the next task gets a new one."""
        process, wire = self._process, self._wire
        self._process = self._wire = None
        if process is not None:
            process.kill()
            process.join(5)
        if wire is not None:
            wire.close()


def _opened(kind: str, value: Any) -> Any:
    if kind == "wrong":
        raise DesignError(*value)
    if kind == "failed":
        raise RuntimeError(value)
    return value


def _work(wire: Connection) -> None:
    """A worker's life: a task, its answer, the next task; it ends when the server does."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server decides when to stop
    _limit_memory()
    while True:
        try:
            task, arguments, telling = wire.recv()
        except (EOFError, OSError):
            return
        told = (lambda share, words: wire.send(("told", (share, words)))) if telling else None
        wire.send(_outcome(task, arguments if told is None else (*arguments, told)))


def _outcome(task: Callable[..., Any], arguments: tuple[Any, ...]) -> tuple[str, Any]:
    try:
        return "done", task(*arguments)
    except DesignError as error:
        return "wrong", (error.where, error.what)
    except MemoryError:
        return "wrong", ("", TOO_LARGE)
    except Exception:
        return "failed", traceback.format_exc()


if sys.platform == "win32":

    def _limit_memory() -> None:
        """Windows sets no such limit for a process on its own."""

else:
    import resource

    def _limit_memory() -> None:
        """A design that wants more is told so, instead of bringing the machine to a halt."""
        hard = resource.getrlimit(resource.RLIMIT_AS)[1]
        most = MOST_MEMORY if hard == resource.RLIM_INFINITY else min(MOST_MEMORY, hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, hard))


class Crew:
    """Some workers, and the queue for them."""

    def __init__(self, size: int) -> None:
        self._workers = [Worker() for _ in range(size)]
        self._free = list(self._workers)
        self._turn = asyncio.Semaphore(size)
        self._threads = ThreadPoolExecutor(size, thread_name_prefix="crew")

    async def warm(self) -> None:
        """Start every worker now."""
        loop = asyncio.get_running_loop()
        await asyncio.gather(*(loop.run_in_executor(self._threads, worker.start) for worker in self._workers))

    async def answer(
        self,
        task: Callable[..., Any],
        *arguments: Any,
        told: Told | None = None,
        begun: Callable[[], None] | None = None,
    ) -> Any:
        """What ``task`` gives; cancelled, it ends the worker.  ``begun`` is called when it is this task's turn."""
        async with self._turn:
            worker = self._free.pop()
            try:
                if begun is not None:
                    begun()
                loop = asyncio.get_running_loop()
                said = None if told is None else _on_loop(loop, told)
                return await loop.run_in_executor(self._threads, worker.answer, task, arguments, said)
            except asyncio.CancelledError:
                worker.end()
                raise
            finally:
                self._free.append(worker)

    async def answer_while_wanted(self, request: Request, task: Callable[..., Any], *arguments: Any) -> Any:
        """The same for one page's request: it loses its place in the queue when the page asks no more."""
        begun = asyncio.Event()
        asked = asyncio.create_task(self.answer(task, *arguments, begun=begun.set))
        while not asked.done():
            await asyncio.wait({asked}, timeout=LOOK_ROUND)
            if not asked.done() and not begun.is_set() and await request.is_disconnected():
                asked.cancel()
                raise GoneError
        return asked.result()

    def close(self) -> None:
        """End all workers."""
        for worker in self._workers:
            worker.end()
        self._threads.shutdown(wait=False, cancel_futures=True)


def _on_loop(loop: asyncio.AbstractEventLoop, told: Told) -> Told:
    def said(share: float, words: str) -> None:
        loop.call_soon_threadsafe(told, share, words)

    return said
