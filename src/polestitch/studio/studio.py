"""The studio's parts: the store, the workers, and what is being asked and made.

In: an open store.  Out: ``Studio``, one for each running server.
"""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, cast

from fastapi import Depends, Request

from polestitch.store.store import Store
from polestitch.studio.crew import Crew
from polestitch.studio.jobs import Jobs
from polestitch.studio.pairing import Pairing
from polestitch.studio.questions import Questions

MOST_PAINTERS = 3


@dataclass(frozen=True, eq=False)
class Studio:
    """``bench`` answers what she is working on, ``painters`` paint the shelf, ``makers`` make things to take away."""

    store: Store
    static: Path
    bench: Crew
    painters: Crew
    makers: Crew
    questions: Questions
    jobs: Jobs
    pairing: Pairing | None = None


def studio_of(store: Store, static: Path | None = None, pairing: Pairing | None = None) -> Studio:
    """A studio with one worker for each of her hands, and painters as the machine allows."""
    makers, painters = Crew(1), Crew(max(1, min(MOST_PAINTERS, (os.cpu_count() or 1) - 1)))
    folder = Path(__file__).parent / "static" if static is None else static
    return Studio(store, folder, Crew(1), painters, makers, Questions(), Jobs(makers), pairing)


async def _this_studio(request: Request) -> Studio:
    return cast(Studio, request.app.state.studio)


Here = Annotated[Studio, Depends(_this_studio)]
