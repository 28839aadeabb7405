"""Pictures of a show's pieces: her photographs beside the show file, else drawn from the design, else none.

In: a show and its folder.  Out: PNG or JPEG bytes by inventory number.
"""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from polestitch.cli.files import design_of, said_of
from polestitch.errors import DesignError

if TYPE_CHECKING:
    from polestitch.showing.exhibition import Exhibition, Shown
    from polestitch.showing.record import PieceRecord

LARGE, SMALL = 1280, 400  # pixels of a drawn ball
MOST_BYTES = 60_000_000


def pictures_of(
    exhibition: "Exhibition", folder: Path, size: int = LARGE, done: Callable[[str], None] = lambda _: None
) -> dict[str, bytes]:
    """One picture a piece that has one; ``done`` hears each piece's title."""
    index = {record.number: k for k, record in enumerate(exhibition.records)}
    pictures: dict[str, bytes] = {}
    for k, shown in enumerate(exhibition.shown):
        place = index[shown.number]
        record = exhibition.records[place]
        picture = _photograph(record, folder, f"records[{place}]") or _drawn(shown, record, folder, (k, place), size)
        if picture is not None:
            pictures[shown.number] = picture
        done(record.title)
    return pictures


def _photograph(record: "PieceRecord", folder: Path, where: str) -> bytes | None:
    """The first photograph, made anew from its pixels."""
    if not record.photos:
        return None
    from polestitch.picture.photograph import made_anew

    place = f"{where}.photos[0].file"
    path = beside(folder, record.photos[0].file, place)
    with path.open("rb") as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise DesignError(place, f"is larger than {MOST_BYTES // 10**6} MB; save the photo smaller")
    with said_of(place):
        return made_anew(data)


def _drawn(shown: "Shown", record: "PieceRecord", folder: Path, places: tuple[int, int], size: int) -> bytes | None:
    """The ball drawn from its design's file, turned as it is shown; a design the studio keeps is no file."""
    if record.design is None or not record.design.lower().endswith(".json"):
        return None
    from polestitch.picture.render import png
    from polestitch.pipeline import build

    path = beside(folder, record.design, f"records[{places[1]}].design")
    with said_of(f"records[{places[1]}].design"):
        made = build(design_of(path))
    with said_of(f"shown[{places[0]}].facing"):
        return png(made, shown.facing or "N", size)


def beside(folder: Path, name: str, where: str) -> Path:
    """The file ``name`` in the show's own folder or below it; ``DesignError`` at ``where`` if it is not there."""
    path = (folder / name).resolve()
    if not path.is_relative_to(folder.resolve()):
        raise DesignError(where, f'"{name[:60]}" lies outside the folder of the show; put a copy beside it')
    if not path.is_file():
        raise DesignError(where, f'"{name[:60]}" is not there; put the file beside the show, or correct its name')
    return path
