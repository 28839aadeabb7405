"""Questions of one window: the newest replaces the older ones, so nothing queues and nothing old is shown.

In: a tab, a question's number and the work it asks for.  Out: the answer, or ``SupersededError``.
"""

import asyncio
from collections.abc import Callable, Coroutine
from dataclasses import dataclass, field
from typing import Any

PATIENCE = 2.0  # seconds that old work may run on, before its worker is ended to make room
LONGEST = 120.0  # seconds any question may take
MOST_TABS = 200


class SupersededError(Exception):
    """A newer question of the same window has come."""


class TooLongError(Exception):
    """The question took longer than anybody waits."""


@dataclass(eq=False)
class _Asked:
    """A question that is out."""

    number: int
    replaced: asyncio.Event = field(default_factory=asyncio.Event)
    begun: bool = False


Work = Callable[[Callable[[], None]], Coroutine[Any, Any, Any]]


class Questions:
    """The newest question of every window."""

    def __init__(self) -> None:
        self._newest: dict[str, _Asked] = {}

    async def answer(self, tab: str, number: int, work: Work) -> Any:
        """What ``work`` gives, if no newer question comes; ``work`` is handed what to call when it begins."""
        asked = self._asked(tab, number)
        task = asyncio.create_task(work(lambda: _mark(asked)))
        replaced = asyncio.create_task(asked.replaced.wait())
        try:
            await asyncio.wait({task, replaced}, timeout=LONGEST, return_when=asyncio.FIRST_COMPLETED)
        finally:
            replaced.cancel()
            if not task.done():
                _let_go(task, asked)
        if asked.replaced.is_set():
            if task.done() and not task.cancelled():
                task.exception()  # seen, so that asyncio does not complain
            raise SupersededError
        if not task.done():
            raise TooLongError
        return task.result()

    def outdate(self, tab: str, number: int) -> None:
        """Whatever older question of ``tab`` is out is not wanted any more."""
        older = self._newest.get(tab)
        if older is not None and older.number < number:
            older.replaced.set()

    def _asked(self, tab: str, number: int) -> _Asked:
        older = self._newest.get(tab)
        if older is not None and older.number > number:
            raise SupersededError
        if older is not None:
            older.replaced.set()
        asked = _Asked(number)
        self._newest.pop(tab, None)
        self._newest[tab] = asked
        while len(self._newest) > MOST_TABS:
            self._newest.pop(next(iter(self._newest)))
        return asked


def _mark(asked: _Asked) -> None:
    asked.begun = True


def _let_go(task: asyncio.Task[Any], asked: _Asked) -> None:
    """What has not begun is dropped; what runs may finish for a moment, which is cheaper than a new worker."""
    if not asked.begun or not asked.replaced.is_set():
        task.cancel()
        return
    timer = asyncio.get_running_loop().call_later(PATIENCE, task.cancel)

    def ended(done: asyncio.Task[Any]) -> None:
        timer.cancel()
        if not done.cancelled():
            done.exception()

    task.add_done_callback(ended)
