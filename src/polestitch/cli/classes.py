"""Commands of a class: what it takes, and its papers."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from polestitch.cli.files import document_of, folder_made, write_whole
from polestitch.cli.options import AsJson, Paper
from polestitch.cli.printing import patience, print_json, show
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.teaching.document import ClassSpec
    from polestitch.teaching.lesson import Lesson

ClassFile = Annotated[Path, typer.Argument(metavar="CLASS", help="A class (JSON), or a design to begin one from.")]
Students = Annotated[int | None, typer.Option("--students", metavar="COUNT", help="How many come.")]
Sessions = Annotated[
    str | None, typer.Option("--sessions", metavar="MINUTES", help="How long each session lasts: 180,180.")
]
Folder = Annotated[Path, typer.Option("-o", "--output", metavar="FOLDER", help="Folder to write into.")]
KINDS_SAID = "handout, kit-list, cut-list, strips, lesson-plan"
Kinds = Annotated[str | None, typer.Option("--only", metavar="KINDS", help=f"Some of {KINDS_SAID}.")]


def lesson(file: ClassFile, students: Students = None, sessions: Sessions = None, as_json: AsJson = False) -> None:
    """Plan a class: what is reached in the time, what to bring, what to cut, what to show.

    Of a class file, or of a design with --students and --sessions.
    """
    from polestitch.teaching.told import class_json

    told = class_json(_lesson(file, students, sessions))
    if as_json:
        print_json(told)
        return
    _show(told)


def papers(file: ClassFile, output: Folder, paper: Paper = "a4", only: Kinds = None) -> None:
    """Write a class's papers (PDF): handout, kit list, cut list, strips, lesson plan."""
    from polestitch.sheets.lesson.papers import KINDS
    from polestitch.sheets.lesson.papers import paper as made
    from polestitch.sheets.sheet import paper_named

    paper_named(paper)
    wanted = tuple(word.strip() for word in only.split(",")) if only else KINDS
    for word in wanted:
        if word not in KINDS:
            raise DesignError("--only", f'"{word[:20]}" is no paper of a class; choose from {", ".join(KINDS)}')
    found = _lesson(file, None, None)
    folder_made(output)
    with patience("Writing", len(wanted)) as done:
        for kind in wanted:
            ending, _, data = made(kind, found, paper)
            write_whole(output / f"{file.stem}-{kind}{ending}", data)
            done(kind)


def _lesson(file: Path, students: int | None, sessions: str | None) -> "Lesson":
    from polestitch.lessons import lesson_of

    spec, design = _read(file)
    changes: dict[str, Any] = {} if students is None else {"students": students}
    if sessions is not None:
        changes["sessions"] = [{"minutes": _minutes(word)} for word in sessions.split(",")]
    return lesson_of(_changed(spec, changes), document_of(design))


def _read(file: Path) -> tuple["ClassSpec", Path]:
    """The class in a file and where its design is; of a design's own file a class of the usual kind."""
    from polestitch.document.jsontext import MOST_BYTES, json_object
    from polestitch.teaching.document import ClassSpec, read_class

    with file.open("rb") as opened:
        text = opened.read(MOST_BYTES + 1)
    raw = json_object(text, str(file), "class")
    if "layers" in raw or "ball" in raw:
        return ClassSpec(title=str(raw.get("name", file.stem))[:80] or file.stem), file
    spec = read_class(text, str(file))
    if not spec.design:
        raise DesignError("design", f"is missing in {file}; name the design's file beside it")
    return spec, file.parent / spec.design


def _changed(spec: "ClassSpec", changes: dict[str, Any]) -> "ClassSpec":
    import json

    from polestitch.teaching.document import plain, read_class

    return read_class(json.dumps({**plain(spec), **changes})) if changes else spec


def _minutes(word: str) -> float:
    try:
        return float(word)
    except ValueError:
        raise DesignError("--sessions", f'"{word[:20]}" is no number of minutes; write it like 180,180') from None


def _show(told: dict[str, Any]) -> None:
    from polestitch.cli.class_tables import class_tables

    show(class_tables(told))
