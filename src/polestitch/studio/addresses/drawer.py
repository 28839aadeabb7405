"""Addresses of the drawer: threads, lists of them, nearest colours, what designs need."""

from dataclasses import asdict
from typing import Annotated, Any, Literal

from fastapi import File, Path, Query, Response, UploadFile

from polestitch.document.colours import Colour
from polestitch.errors import DesignError
from polestitch.store import designs, drawer, shelf
from polestitch.studio import messages_chair as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.needs import nearest, needs, taken_by
from polestitch.studio.studio import Here, Studio
from polestitch.studio.thread_lists import Line, read_list, thread_list

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
MOST_DESIGNS = 200


def _thread(kept: drawer.Thread) -> say.Thread:
    left = round(kept.left_mm, 1) + 0.0
    return say.Thread(id=kept.id, **asdict(kept.words), left_mm=left, away=kept.away, changed=kept.changed)


def threads(here: Here, away: bool = False) -> say.Threads:
    """The drawer, or what was put away from it."""
    return say.Threads(threads=tuple(map(_thread, drawer.threads(here.store, away))))


def add_thread(here: Here, words: say.NewThread) -> say.Thread:
    """A new thread."""
    return _thread(drawer.add_thread(here.store, words.model_dump(exclude_none=True)))


def change_thread(here: Here, id: Id, words: say.ThreadWords) -> say.Thread:
    """Other words for a thread; what is left out stays."""
    said = words.model_dump(exclude_unset=True)
    needed = ("name", "fibre", "size", "colour")
    said = {name: value for name, value in said.items() if value is not None or name not in needed}
    return _thread(drawer.change_thread(here.store, id, said))


def put_thread_away(here: Here, id: Id, change: say.Away) -> say.Thread:
    """Put away, or brought back."""
    return _thread(drawer.put_thread_away(here.store, id, change.away))


def move_thread(here: Here, id: Id, move: say.Move) -> say.Thread:
    """More of a thread, or less."""
    return _thread(drawer.move_thread(here.store, id, move.mm, move.why, move.piece))


def threads_file(here: Here) -> Response:
    """The drawer as a list for a spreadsheet."""
    headers = {"content-disposition": 'attachment; filename="threads.csv"'}
    return Response(thread_list(drawer.threads(here.store)), media_type="text/csv", headers=headers)


async def take_threads(here: Here, file: Annotated[UploadFile, File()], apply: bool = False) -> say.CsvLook:
    """Read a list; with ``apply`` its threads are taken into the drawer."""
    lines, faults = read_list(await whole(file, 5_000_000))
    known: dict[str, drawer.Thread] = {}
    for thread in await documented(drawer.threads, here.store):
        known.setdefault(thread.words.name.casefold(), thread)
    read = tuple(say.CsvRow(**line.said, action=_action(line, known)) for line in lines)
    if apply:
        await documented(_take, here, lines, known)
    wrong = (say.CsvWrong(line=fault.line, column=fault.column, what=fault.what) for fault in faults)
    return say.CsvLook(read=read, wrong=tuple(wrong))


def _action(line: Line, known: dict[str, drawer.Thread]) -> Literal["add", "change", "same"]:
    mine = known.get(line.said["name"].casefold())
    if mine is None:
        return "add"
    now: dict[str, Any] = {**asdict(mine.words), "left_mm": round(mine.left_mm, 1)}
    return "same" if all(now[name] == value for name, value in line.said.items()) else "change"


def _take(here: Studio, lines: list[Line], known: dict[str, drawer.Thread]) -> None:
    mine = dict(known)
    for line in lines:
        name = line.said["name"].casefold()
        if name not in mine:
            mine[name] = drawer.add_thread(here.store, line.said)
        elif _action(line, mine) == "change":
            mine[name] = drawer.change_thread(here.store, mine[name].id, line.said)


def near_threads(
    here: Here, colour: Annotated[Colour, Query()], count: Annotated[int, Query(ge=1, le=50)] = 8
) -> say.NearThreads:
    """Threads she owns by how near their colours are."""
    found = nearest(str(colour), drawer.threads(here.store))[:count]
    return say.NearThreads(threads=tuple(say.Near(id=thread.id, difference=round(off, 4)) for thread, off in found))


async def needed(here: Here, designs: Annotated[str, Query(max_length=10_000)] = "") -> say.Needs:
    """What designs take beside what the drawer has; all that are not put away where none are named."""
    wanted = [each for each in designs.split(",") if each]
    texts = await documented(_texts, here, wanted)
    taken: dict[str, list[dict[str, Any]]] = {}
    left_out = []
    for name, text in texts:
        found = await here.painters.answer(taken_by, text)
        if found is None:
            left_out.append(name)
        else:
            taken.setdefault(name, []).extend(found)
    mine = await documented(drawer.threads, here.store)
    return say.Needs(threads=tuple(needs(taken, mine)), left_out=tuple(left_out))


def _texts(here: Studio, wanted: list[str]) -> list[tuple[str, str]]:
    if not wanted:
        wanted = [card.id for card in shelf.shelf(here.store, shelf.Wanted(count=MOST_DESIGNS)).cards]
    if len(wanted) > MOST_DESIGNS:
        raise DesignError("designs", f"ask for {MOST_DESIGNS} designs at most at once")
    found = [designs.document(here.store, each) for each in wanted]
    return [(card.name, designs.document_text(raw)) for card, raw in found]
