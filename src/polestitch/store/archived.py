"""What an archive carries beside the designs: each kind of work with the names of its files.

In: a session.  Out: files' bytes by name, and the way back.  A new kind of work is one line of ``KINDS``.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy.orm import Session

from polestitch.store.archived_classes import checked_classes, class_files, take_classes
from polestitch.store.archived_showing import checked_showing, showing_files, take_showing
from polestitch.store.archived_surveys import checked_surveys, survey_files, take_surveys
from polestitch.store.archived_winding import checked_wound, take_wound, wound_files
from polestitch.store.archived_work import (
    checked_pieces,
    checked_threads,
    piece_files,
    take_pieces,
    take_threads,
    thread_files,
)
from polestitch.store.costs import checked_costs, costs_file, take_costs

Files = dict[str, bytes]
ONE_EACH = r"[0-9a-f]{32}"


@dataclass(frozen=True)
class Kept:
    """A kind of work: its files' names, how they are written, looked through (``ValueError``), and taken in."""

    names: str
    files: Callable[[Session], Files]
    checked: Callable[[Files], Any]
    take: Callable[[Session, Any], None]


KINDS = (
    Kept(r"drawer\.json", thread_files, checked_threads, take_threads),
    Kept(rf"pieces/{ONE_EACH}\.json", piece_files, checked_pieces, take_pieces),
    Kept(r"winding\.json", wound_files, checked_wound, take_wound),
    Kept(r"costs\.json", costs_file, checked_costs, take_costs),
    Kept(r"surveys\.json", survey_files, checked_surveys, take_surveys),
    Kept(rf"entries/{ONE_EACH}\.json", showing_files, checked_showing, take_showing),
    Kept(r"classes\.json", class_files, checked_classes, take_classes),
)
WORK = "^(" + "|".join(kind.names for kind in KINDS) + ")$"
Work = tuple[Any, ...]


def work_files(session: Session) -> Files:
    """Every file of every kind, by name."""
    return {name: data for kind in KINDS for name, data in kind.files(session).items()}


def checked_work(files: Mapping[str, bytes]) -> Work:
    """What the files hold, kind by kind; ``ValueError`` or ``DesignError`` where any of it is not right."""
    return tuple(
        kind.checked({name: data for name, data in files.items() if re.fullmatch(kind.names, name)}) for kind in KINDS
    )


def take_work(session: Session, found: Work) -> None:
    """Add what is not here yet."""
    for kind, part in zip(KINDS, found, strict=True):
        kind.take(session, part)
