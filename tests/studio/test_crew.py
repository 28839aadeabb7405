"""Worker processes: answers, mistakes, progress; ended in mid-work, and there again for the next task."""

import asyncio
import os
import time
from collections.abc import Coroutine, Iterator
from typing import Any, cast

import pytest

from polestitch.errors import DesignError
from polestitch.studio.crew import Crew, GoneError

pytestmark = pytest.mark.slow


def doubled(number: int) -> int:
    return 2 * number


def wrong() -> None:
    raise DesignError("layers[0]", "is wrong")


def broken() -> None:
    raise KeyError("inside")


def greedy() -> int:
    return len(bytearray(10**15))


def dies() -> None:
    os._exit(3)


def dawdling(seconds: float) -> None:
    time.sleep(seconds)


def telling(words: str, told: Any) -> str:
    told(0.5, words)
    return "done"


@pytest.fixture(scope="module")
def crew() -> Iterator[Crew]:
    made = Crew(1)
    yield made
    made.close()


def run(call: Coroutine[Any, Any, Any]) -> Any:
    return asyncio.run(call)


def test_a_task_is_answered_in_another_process(crew: Crew) -> None:
    assert run(crew.answer(doubled, 21)) == 42
    assert run(crew.answer(os.getpid)) != os.getpid()


def test_what_is_wrong_with_a_design_comes_back_as_it_was(crew: Crew) -> None:
    with pytest.raises(DesignError, match=r"layers\[0\]: is wrong"):
        run(crew.answer(wrong))


def test_a_mistake_inside_comes_back_with_its_trace(crew: Crew) -> None:
    with pytest.raises(RuntimeError, match="KeyError"):
        run(crew.answer(broken))


def test_a_design_that_wants_all_memory_is_told_so(crew: Crew) -> None:
    with pytest.raises(DesignError, match="memory"):
        run(crew.answer(greedy))


def test_a_worker_that_dies_is_replaced(crew: Crew) -> None:
    with pytest.raises(GoneError):
        run(crew.answer(dies))
    assert run(crew.answer(doubled, 2)) == 4


def test_a_task_says_how_far_it_is(crew: Crew) -> None:
    heard: list[tuple[float, str]] = []
    assert run(crew.answer(telling, "half", told=lambda share, words: heard.append((share, words)))) == "done"
    assert heard == [(0.5, "half")]


def test_a_cancelled_task_ends_at_once_and_makes_room(crew: Crew) -> None:
    async def story() -> int:
        task = asyncio.create_task(crew.answer(dawdling, 60))
        await asyncio.sleep(0.2)
        task.cancel()
        with pytest.raises(asyncio.CancelledError):
            await task
        return int(await crew.answer(doubled, 4))

    began = time.monotonic()
    assert run(story()) == 8
    assert time.monotonic() - began < 20


class Page:
    """A page that stops asking after a moment."""

    def __init__(self, patience: float) -> None:
        self._until = time.monotonic() + patience

    async def is_disconnected(self) -> bool:
        return time.monotonic() > self._until


def test_a_page_that_asks_no_more_loses_its_place_in_the_queue(crew: Crew) -> None:
    async def story() -> float:
        first = asyncio.create_task(crew.answer(dawdling, 2))
        await asyncio.sleep(0.05)
        began = time.monotonic()
        with pytest.raises(GoneError):
            await crew.answer_while_wanted(cast(Any, Page(0.1)), doubled, 1)
        waited = time.monotonic() - began
        await first
        return waited

    assert run(story()) < 1.5
    assert run(crew.answer_while_wanted(cast(Any, Page(60)), doubled, 3)) == 6
