"""Questions: the newest wins, nothing queues, what is old is dropped or ended."""

import asyncio
from collections.abc import Callable
from typing import Any

import pytest

from polestitch.studio import questions
from polestitch.studio.questions import Questions, SupersededError, TooLongError


def work(log: list[str], name: str, turn: asyncio.Lock, seconds: float) -> Any:
    """Work that waits for the one worker, as a crew's does."""

    async def run(begun: Callable[[], None]) -> str:
        async with turn:
            begun()
            log.append(f"{name} begins")
            try:
                await asyncio.sleep(seconds)
            except asyncio.CancelledError:
                log.append(f"{name} is ended")
                raise
            log.append(f"{name} is done")
            return name

    return run


def test_of_many_questions_only_the_first_and_the_last_are_worked_on() -> None:
    async def story() -> tuple[list[Any], list[str]]:
        asked, turn, log, all_asked = Questions(), asyncio.Lock(), list[str](), asyncio.Event()

        async def first(begun: Callable[[], None]) -> None:
            async with turn:
                begun()
                await all_asked.wait()
                log.append("0 is done")

        tasks = [asyncio.create_task(asked.answer("tab", 0, first))]
        for n in range(1, 30):
            await asyncio.sleep(0.001)
            tasks.append(asyncio.create_task(asked.answer("tab", n, work(log, str(n), turn, 0))))
        await asyncio.sleep(0.001)
        all_asked.set()
        return await asyncio.gather(*tasks, return_exceptions=True), log

    answers, log = asyncio.run(story())
    assert all(isinstance(answer, SupersededError) for answer in answers[:-1])
    assert answers[-1] == "29"
    assert log == ["0 is done", "29 begins", "29 is done"]


def test_an_older_question_hears_at_once_that_it_came_too_late() -> None:
    async def story() -> float:
        asked, turn, log = Questions(), asyncio.Lock(), list[str]()
        loop = asyncio.get_running_loop()
        first = asyncio.create_task(asked.answer("tab", 1, work(log, "1", turn, 5)))
        await asyncio.sleep(0.01)
        began = loop.time()
        second = asyncio.create_task(asked.answer("tab", 2, work(log, "2", turn, 0)))
        with pytest.raises(SupersededError):
            await first
        waited = loop.time() - began
        second.cancel()
        return waited

    assert asyncio.run(story()) < 1


def test_old_work_that_runs_on_too_long_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(questions, "PATIENCE", 0.02)

    async def story() -> tuple[Any, list[str]]:
        asked, turn, log = Questions(), asyncio.Lock(), list[str]()
        first = asyncio.create_task(asked.answer("tab", 1, work(log, "1", turn, 60)))
        await asyncio.sleep(0.01)
        answer = await asked.answer("tab", 2, work(log, "2", turn, 0))
        with pytest.raises(SupersededError):
            await first
        return answer, log

    answer, log = asyncio.run(story())
    assert answer == "2"
    assert log == ["1 begins", "1 is ended", "2 begins", "2 is done"]


def test_windows_do_not_replace_each_other() -> None:
    async def story() -> list[Any]:
        asked, turn, log = Questions(), asyncio.Lock(), list[str]()
        tabs = [asked.answer(f"tab {n}", 1, work(log, str(n), turn, 0.001)) for n in range(5)]
        return await asyncio.gather(*tabs)

    assert asyncio.run(story()) == ["0", "1", "2", "3", "4"]


def test_nobody_waits_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(questions, "LONGEST", 0.02)

    async def story() -> list[str]:
        asked, turn, log = Questions(), asyncio.Lock(), list[str]()
        with pytest.raises(TooLongError):
            await asked.answer("tab", 1, work(log, "1", turn, 60))
        await asyncio.sleep(0.01)
        return log

    assert asyncio.run(story()) == ["1 begins", "1 is ended"]


def test_a_mistake_in_the_work_is_the_answer() -> None:
    async def fails(begun: Callable[[], None]) -> str:
        begun()
        raise ValueError("no")

    async def story() -> None:
        await Questions().answer("tab", 1, fails)

    with pytest.raises(ValueError, match="no"):
        asyncio.run(story())


def test_a_newer_scene_outdates_the_figures_of_an_older_one() -> None:
    async def story() -> list[str]:
        asked, turn, log = Questions(), asyncio.Lock(), list[str]()
        await turn.acquire()  # the worker has other work
        figures = asyncio.create_task(asked.answer("figures", 1, work(log, "figures", turn, 0.05)))
        await asyncio.sleep(0.01)
        asked.outdate("figures", 1)  # the scene they belong to
        asked.outdate("figures", 2)
        with pytest.raises(SupersededError):
            await figures
        turn.release()
        await asyncio.sleep(0.01)
        return log

    assert asyncio.run(story()) == []
