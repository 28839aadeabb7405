"""The terminal: JSON for other programs, tables for a maker, progress while she waits.

In: plain data or rich renderables.  Out: lines on the terminal.
"""

import sys
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from rich.console import RenderableType

WIDTH = 100  # where there is no terminal to ask, as in a file
SILENT = 1.5  # seconds a maker waits before she wonders


def print_json(payload: Any, indent: int | None = 2) -> None:
    """Print ``payload`` as JSON, letters as they are; without ``indent`` on one line, where it is long."""
    import json

    sys.stdout.write(json.dumps(payload, indent=indent, ensure_ascii=False, allow_nan=False) + "\n")


def show(parts: Iterable["RenderableType"]) -> None:
    """Print one part below the other."""
    from rich.console import Console

    console = Console(width=None if sys.stdout.isatty() else WIDTH, highlight=False)
    for part in parts:
        console.print(part)


@contextmanager
def progress(title: str, total: int) -> Iterator[Callable[[str], None]]:
    """A bar on the error stream; call what is given with a word each time a step is done."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    columns = (TextColumn(title), BarColumn(), TextColumn("{task.completed}/{task.total}  {task.description}"))
    with Progress(*columns, console=Console(stderr=True)) as bar:
        task = bar.add_task("", total=total)
        yield lambda word: bar.update(task, advance=1, description=word)


class _Patience:
    """Says on the error stream how far long work has come; short work passes in silence."""

    def __init__(self, title: str, total: int) -> None:
        self._title, self._total, self._done, self._begun = title, total, 0, time.monotonic()

    def step(self, word: str) -> None:
        """One more of the steps is done."""
        self._done += 1
        if time.monotonic() - self._begun > SILENT:
            line = f"{self._title} {self._done}/{self._total}  {word}"
            sys.stderr.write(f"\r\x1b[K{line[:WIDTH]}")
            sys.stderr.flush()

    def end(self) -> None:
        """Leave a clean line."""
        if time.monotonic() - self._begun > SILENT:
            sys.stderr.write("\r\x1b[K")


@contextmanager
def patience(title: str, total: int) -> Iterator[Callable[[str], None]]:
    """Call what is given with a word each time a step is done; a terminal tells how far it is after a second or so."""
    if not sys.stderr.isatty():
        yield lambda _: None
        return
    told = _Patience(title, total)
    try:
        yield told.step
    finally:
        told.end()
