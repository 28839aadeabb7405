"""Jobs: things that take long, with how far they are, and a way to stop them.

In: a kind, a document and options.  Out: a job's name; its report; its file.
"""

import asyncio
import logging
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from uuid import uuid4

from polestitch.errors import DesignError
from polestitch.studio.crew import Crew, GoneError
from polestitch.studio.messages import JobReport, JobState, Wrong
from polestitch.studio.takeaway import Kind, Options, Takeaway, takeaway

KEPT = 12  # finished jobs whose files stay to be fetched
MOST_WAITING = 20
FAILED = Wrong(where="", what="Something went wrong inside Polestitch; your design is safe. Please try again.")


@dataclass(eq=False)
class Job:
    """One of them, while it runs and after."""

    state: JobState = "waiting"
    share: float = 0.0
    saying: str = "Waiting for its turn"
    made: Takeaway | None = None
    wrong: Wrong | None = None
    task: "asyncio.Task[None] | None" = field(default=None, repr=False)

    def told(self, share: float, words: str) -> None:
        """Note how far it is."""
        if self.state in ("waiting", "running"):
            self.state, self.share, self.saying = "running", max(self.share, share), words

    def end(self, state: JobState, saying: str) -> None:
        """It is over."""
        self.state, self.saying = state, saying
        self.share = 1.0 if state == "done" else self.share


class Jobs:
    """All jobs by name."""

    def __init__(self, crew: Crew) -> None:
        self._crew = crew
        self._jobs: dict[str, Job] = {}

    def begin(self, kind: Kind, text: str, options: Options) -> str:
        """The name of a job that makes something to take away."""
        return self.start(takeaway, kind, text, options)

    def start(self, task: Callable[..., Takeaway], *arguments: Any) -> str:
        """The name of a job that has begun; ``DesignError`` where too many wait already.

        ``task`` is called in a worker with the arguments and a function to say how far it is.
        """
        live = [job for job in self._jobs.values() if job.state in ("waiting", "running")]
        if len(live) >= MOST_WAITING:
            raise DesignError("jobs", "too many things are being made at once; wait for one, or stop one")
        name, job = uuid4().hex, Job()
        self._jobs[name] = job
        job.task = asyncio.create_task(self._run(job, task, arguments))
        self._forget_old()
        return name

    def job(self, name: str) -> Job | None:
        """The job called so."""
        return self._jobs.get(name)

    def report(self, name: str) -> JobReport | None:
        """How far it is."""
        job = self._jobs.get(name)
        if job is None:
            return None
        file = f"/api/jobs/{name}/file" if job.made is not None else None
        made_name = job.made.name if job.made is not None else None
        share = round(min(job.share, 1.0), 3)
        return JobReport(state=job.state, share=share, saying=job.saying, file=file, name=made_name, wrong=job.wrong)

    def stop(self, name: str) -> bool:
        """Whether there was such a job; it is stopped at once."""
        job = self._jobs.get(name)
        if job is None:
            return False
        if job.state in ("waiting", "running") and job.task is not None:
            job.end("stopped", "Stopped")
            job.task.cancel()
        return True

    async def close(self) -> None:
        """Stop all."""
        tasks = [job.task for job in self._jobs.values() if job.task is not None]
        for name in list(self._jobs):
            self.stop(name)
        await asyncio.gather(*tasks, return_exceptions=True)

    async def _run(self, job: Job, task: Callable[..., Takeaway], arguments: tuple[Any, ...]) -> None:
        try:
            job.made = await self._crew.answer(task, *arguments, told=job.told)
            job.end("done", "Ready")
        except DesignError as error:
            job.wrong = Wrong(where=error.where, what=error.what)
            job.end("failed", "This cannot be made yet")
        except asyncio.CancelledError:
            job.end("stopped", "Stopped")
            raise
        except (GoneError, RuntimeError):
            logging.getLogger(__name__).exception("the job %s failed", task.__name__)
            job.wrong = FAILED
            job.end("failed", FAILED.what)

    def _forget_old(self) -> None:
        over = [name for name, job in self._jobs.items() if job.state not in ("waiting", "running")]
        for name in over[: max(0, len(over) - KEPT)]:
            del self._jobs[name]
