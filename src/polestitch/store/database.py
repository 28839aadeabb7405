"""The database file: told apart from others before it is touched, opened safely, brought up to date.

In: a path.  Out: an engine on a sound database of today's shape, or a ``DesignError`` and an untouched file.
"""

import shutil
import sqlite3
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import URL

from polestitch.errors import DesignError
from polestitch.store.files import put_whole

# "Pole" in ASCII: SQLite keeps this number at byte 68 of a file, to tell whose it is.
APPLICATION_ID = 0x506F6C65
_HEADER = b"SQLite format 3\0"
# Wait for each other; and keep the journal under a megabyte, which is what it may take of a nearly full disk.
CALM = ("busy_timeout=10000", "wal_autocheckpoint=250")
REMEDY = "it stays as it is; move it away, or put a file from the backups folder in its place"


def database_of(path: Path) -> Engine:
    """An engine whose every connection keeps its word: a change that is acknowledged is on the disk."""
    engine = create_engine(URL.create("sqlite", database=str(path)))

    @event.listens_for(engine, "connect")
    def _connected(raw: sqlite3.Connection, _record: object) -> None:
        raw.isolation_level = None  # begin only where _begun says so
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", *CALM):
            raw.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begun(connection: Connection) -> None:
        # Two writers who both read first would wait for each other for ever; a writer says so at once.
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def make_database(path: Path) -> None:
    """An empty database of today's shape; made beside and renamed, so there is never half of one."""
    put_whole(path, _fill)


def _fill(path: Path) -> None:
    with sqlite3.connect(path) as raw:
        raw.execute(f"PRAGMA application_id={APPLICATION_ID}")
    raw.close()
    engine = create_engine(URL.create("sqlite", database=str(path)))
    with engine.begin() as connection:
        bring_up_to_date(connection)
    engine.dispose()


def refuse_unsound(path: Path) -> None:
    """``DesignError`` unless ``path`` is a sound database of ours that this version can read; nothing is written."""
    if not path.exists():
        raise DesignError(str(path), f"is missing, and its journal is still there: {REMEDY}")
    with path.open("rb") as file:
        head = file.read(100)
    if len(head) < 100 or not head.startswith(_HEADER):
        raise DesignError(str(path), f"is damaged or no database: {REMEDY}")
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise DesignError(str(path), f"is the database of another program: {REMEDY}")
    _refuse_torn(path)


def _refuse_torn(path: Path) -> None:
    try:
        verdict, found = _looked_at(path)
    except sqlite3.DatabaseError:
        raise DesignError(str(path), f"is damaged: {REMEDY}") from None
    if verdict != "ok" or found is None:
        raise DesignError(str(path), f"is damaged: {REMEDY}")
    if found[0] not in _known_shapes():
        raise DesignError(str(path), "was written by a newer Polestitch; update Polestitch to open it")


def _looked_at(path: Path) -> tuple[str, Any]:
    """SQLite's verdict and the shape's number.

    Even a reader leaves files beside a database with a journal, so then a copy of both is looked at.
    """
    journal = path.with_name(f"{path.name}-wal")
    if not journal.exists():
        return _asked(f"{path.absolute().as_uri()}?mode=ro&immutable=1")
    with TemporaryDirectory() as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(journal, copy.with_name(journal.name))
        return _asked(copy.as_uri())


def _asked(address: str) -> tuple[str, Any]:
    raw = sqlite3.connect(address, uri=True)
    try:
        verdict = raw.execute("PRAGMA integrity_check(1)").fetchone()[0]
        return str(verdict), raw.execute("SELECT version_num FROM alembic_version").fetchone()
    finally:
        raw.close()


def copy_database(path: Path, to: Path) -> None:
    """A whole copy of the database as it is at one moment; the studio may go on writing meanwhile."""

    def write(beside: Path) -> None:
        raw = sqlite3.connect(path)
        try:
            raw.execute("VACUUM INTO ?", (str(beside),))
        finally:
            raw.close()

    put_whole(to, write)


def is_of_today(connection: Connection) -> bool:
    """Whether no step is missing."""
    return MigrationContext.configure(connection).get_current_revision() == _scripts().get_current_head()


def bring_up_to_date(connection: Connection) -> None:
    """Run the steps that are missing, on a connection whose transaction the caller ends."""
    config = _config()
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _config() -> Config:
    config = Config()
    # Alembic reads a percent sign as the start of a name.
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations").replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config


def _scripts() -> ScriptDirectory:
    return ScriptDirectory.from_config(_config())


def _known_shapes() -> set[Any]:
    return {script.revision for script in _scripts().walk_revisions()}
