"""The store: one folder with everything, and the two ways into its database.

In: a folder and a clock.  Out: ``Store``, whose ``reading`` and ``writing`` give sessions.
"""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from platformdirs import user_data_path
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from polestitch.store.database import (
    bring_up_to_date,
    copy_database,
    database_of,
    is_of_today,
    make_database,
    refuse_unsound,
)
from polestitch.store.files import sweep_parts
from polestitch.store.lock import FolderLock
from polestitch.store.moments import stamp_of

Clock = Callable[[], datetime]


def now() -> datetime:
    """The time of day, in UTC."""
    return datetime.now(UTC)


def default_folder() -> Path:
    """Where the platform wants a program's data."""
    return user_data_path("polestitch", appauthor=False)


@dataclass(frozen=True, eq=False)
class Store:
    """An open folder; ``close`` it when done."""

    folder: Path
    engine: Engine
    clock: Clock
    lock: FolderLock
    _turn: threading.Lock = field(default_factory=threading.Lock)

    @property
    def database(self) -> Path:
        """The database file."""
        return self.folder / "studio.db"

    @property
    def backups(self) -> Path:
        """The folder of backups."""
        return self.folder / "backups"

    @property
    def blobs(self) -> Path:
        """The folder of blobs."""
        return self.folder / "blobs"

    def stamp(self) -> str:
        """Now as text that sorts."""
        return stamp_of(self.clock())

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one state of the database."""
        with Session(self.engine) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session whose changes are all on the disk at its end, or, after an exception, none."""
        with self._turn, Session(self.engine.execution_options(writes=True)) as session, session.begin():
            yield session

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Nobody else writes meanwhile."""
        with self._turn:
            yield

    def close(self) -> None:
        """Let go of database and folder."""
        self.engine.dispose()
        self.lock.release()


def opened(folder: Path, clock: Clock = now) -> Store:
    """The store in ``folder``, made if there is none; ``DesignError`` where there is something that is not ours."""
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)  # her work is for her account alone
    lock = FolderLock(folder)
    try:
        return _opened(folder, clock, lock)
    except BaseException:
        lock.release()
        raise


def _opened(folder: Path, clock: Clock, lock: FolderLock) -> Store:
    path = folder / "studio.db"
    traces = [path, path.with_name("studio.db-wal"), path.with_name("studio.db-journal")]
    if any(trace.exists() for trace in traces):
        refuse_unsound(path)
    else:
        make_database(path)
    sweep_parts(folder)
    store = Store(folder, database_of(path), clock, lock)
    _bring_up_to_date(store)
    return store


def _bring_up_to_date(store: Store) -> None:
    with store.engine.begin() as connection:
        if is_of_today(connection):
            return
    stem = f"{store.clock().astimezone():%Y-%m-%dT%H%M%S}"
    copy_database(store.database, store.backups / f"{stem}-before-update.db")
    with store.engine.execution_options(writes=True).begin() as connection:
        bring_up_to_date(connection)
