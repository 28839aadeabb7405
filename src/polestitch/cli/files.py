"""Files read whole and written whole: a file is either the old one or the new one, never half of each.

In: paths.  Out: designs and bytes on disk; ``DesignError`` or ``OSError``, which become one sentence.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.document.design import Design

_REASONS: dict[type[OSError], str] = {
    FileNotFoundError: "there is no such file or folder",
    IsADirectoryError: "is a folder; name a file in it",
    NotADirectoryError: "lies in something that is no folder",
    PermissionError: "may not be opened; look at its permissions",
}


def design_of(path: Path, around: str | None = None) -> "Design":
    """The design in the file ``path``, on a ball measured ``around`` if that is given."""
    from polestitch.document.codec import read
    from polestitch.document.jsontext import MOST_BYTES

    with path.open("rb") as file:
        # One byte more than is allowed is enough to refuse a file of any size.
        design = read(file.read(MOST_BYTES + 1), str(path))
    return design if around is None else _measured(design, around)


def document_of(path: Path) -> dict[str, Any]:
    """The file as plain data, every default left as she left it; what is wrong in it is told as always."""
    from polestitch.document.codec import read
    from polestitch.document.jsontext import MOST_BYTES, json_object
    from polestitch.document.upgrades import upgraded

    with path.open("rb") as file:
        text = file.read(MOST_BYTES + 1)
    read(text, str(path))
    return upgraded(json_object(text, str(path)))


def _measured(design: "Design", around: str) -> "Design":
    """``design`` on a ball she measured: that one measure stands in place of the planned and measured ones."""
    from polestitch.document.design import BallSpec
    from polestitch.document.lengths import Length

    around_mm(around)
    ball = BallSpec(around=Length(around.strip()), colour=design.ball.colour)
    return design.model_copy(update={"ball": ball})


def around_mm(around: str) -> float:
    """Millimetres of what was given as ``--around``."""
    from polestitch.document.limits import around_mm as mm_of

    return mm_of(around, "--around")


@contextmanager
def said_of(where: str) -> Iterator[None]:
    """Mistakes inside are told at ``where``, the word on the command line, not at a place in a document."""
    try:
        yield
    except DesignError as error:
        raise DesignError(where, error.what) from None


def refuse_unwritable(path: Path) -> None:
    """``OSError`` or ``DesignError`` now if ``path`` cannot be written, rather than after all the work."""
    if path.is_dir():
        raise IsADirectoryError(None, None, str(path))
    if not path.parent.is_dir():
        raise DesignError("-o", f"{path.parent}: there is no such folder; make it first, or name another file")
    if not os.access(path if path.exists() else path.parent, os.W_OK):
        raise PermissionError(None, None, str(path))


def refuse_existing(path: Path) -> None:
    """``DesignError`` if something is there: what is written is hers to fill in or go on with, so no file is lost."""
    if path.is_file():
        raise DesignError("-o", f"{path} is there already, and stays as it is; name another file")
    refuse_unwritable(path)


def pdf_named(path: Path) -> Path:
    """``path``, whose name has to end in .pdf: a slip of the hand puts no sheet over a design or a table."""
    if path.suffix.lower() != ".pdf":
        raise DesignError("-o", f'"{path.name}" is no sheet; end its name in .pdf')
    return path


def folder_made(output: Path) -> None:
    """The folder ``output``, made if only it is missing; ``DesignError`` if it cannot be."""
    if output.exists() and not output.is_dir():
        raise DesignError("-o", f"{output} is a file; name a folder for the papers")
    if not output.parent.is_dir():
        raise DesignError("-o", f"{output.parent}: there is no such folder; make it first")
    try:
        output.mkdir(exist_ok=True)
    except OSError as error:
        raise DesignError("-o", os_sentence(error)) from None


def write_whole(path: Path, content: bytes | str) -> None:
    """Write ``content`` beside ``path`` and put it in its place in one go."""
    data = content.encode() if isinstance(content, str) else content
    target = path.resolve()
    if target.exists() and not target.is_file():
        target.write_bytes(data)  # a pipe or a device cannot be replaced, only written to
        return
    beside = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(data)
        beside.replace(target)
    except OSError as error:  # told of the file she named, not of the one beside it
        raise OSError(error.errno, error.strerror, str(path)) from None
    finally:
        beside.unlink(missing_ok=True)


def os_sentence(error: OSError) -> str:
    """What the system says, in one sentence with the file's name."""
    name = error.filename if error.filename is not None else "the output"
    reason = _REASONS.get(type(error), (error.strerror or str(error)).lower())
    return f"{name}: {reason}"
