"""Backups: a whole copy of the database a day, and the way back.

In: an open store.  Out: files in its ``backups`` folder, newest kept, and a database that is as it was.
"""

import re
import sqlite3
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from polestitch.errors import DesignError
from polestitch.store.database import bring_up_to_date, copy_database, is_of_today, refuse_unsound
from polestitch.store.store import Store

KEPT = 14  # two weeks of days, and as many made before something was turned back
_NAME = re.compile(r"\d{4}-\d\d-\d\d(?:T\d{6}-[a-z-]{1,20}(?:-\d+)?)?\.db")


@dataclass(frozen=True)
class Backup:
    """One file; ``at`` is the time it was made, in ISO 8601."""

    name: str
    at: str
    bytes: int


def backups(store: Store) -> tuple[Backup, ...]:
    """All of them, the newest first."""
    if not store.backups.is_dir():
        return ()
    found = [path for path in store.backups.iterdir() if _NAME.fullmatch(path.name)]
    return tuple(sorted(map(_told, found), key=lambda backup: backup.at, reverse=True))


def _told(path: Path) -> Backup:
    facts = path.stat()
    return Backup(path.name, datetime.fromtimestamp(facts.st_mtime, UTC).isoformat(timespec="seconds"), facts.st_size)


def make_daily_backup(store: Store) -> None:
    """Today's, if it is not there yet; what is older than the newest fourteen goes."""
    path = store.backups / f"{store.clock().astimezone():%Y-%m-%d}.db"
    if not path.exists():
        copy_database(store.database, path)
    for of_a_kind in ([b for b in backups(store) if "T" not in b.name], [b for b in backups(store) if "T" in b.name]):
        for old in sorted(of_a_kind, key=lambda backup: backup.name, reverse=True)[KEPT:]:
            (store.backups / old.name).unlink(missing_ok=True)


def make_backup(store: Store, why: str) -> str:
    """The name of a backup made now, for instance ``before-restore``."""
    stem = f"{store.clock().astimezone():%Y-%m-%dT%H%M%S}-{why}"
    path, more = store.backups / f"{stem}.db", 1
    while path.exists():
        more += 1
        path = store.backups / f"{stem}-{more}.db"
    copy_database(store.database, path)
    return path.name


def restore(store: Store, name: str) -> str:
    """Turn everything back to the backup ``name``; the name of one made of the present state beforehand."""
    if not _NAME.fullmatch(name) or not (store.backups / name).is_file():
        raise DesignError("backup", f'there is no backup "{name[:40]}"; reload the page to see those there are')
    path = store.backups / name
    refuse_unsound(path)
    before = make_backup(store, "before-restore")
    with store.alone():
        _turn_back(store, path)
    return before


def _turn_back(store: Store, path: Path) -> None:
    """All pages in one transaction of SQLite's own: a crash meanwhile leaves the database as it was."""
    store.engine.dispose()
    source, target = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True), sqlite3.connect(store.database)
    try:
        target.execute("PRAGMA synchronous=FULL")
        source.backup(target)
    finally:
        source.close()
        target.close()
    with store.engine.execution_options(writes=True).begin() as connection:
        if not is_of_today(connection):
            bring_up_to_date(connection)
        # A device she has shown the door must not come in again by an old backup: all are paired anew.
        connection.exec_driver_sql("DELETE FROM devices")
