"""Addresses of lists of pieces: for a spreadsheet, and from one."""

from typing import Annotated, Literal

from fastapi import File, Response, UploadFile

from polestitch.store import entries
from polestitch.studio import messages_showing as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.messages_chair import CsvWrong
from polestitch.studio.record_lists import Line, read_list, record_list
from polestitch.studio.studio import Here, Studio

Known = dict[str, entries.Entry]


def records_file(here: Here) -> Response:
    """Every record in use as a list for a spreadsheet."""
    content = record_list(each.body for each in entries.entries(here.store, "piece"))
    headers = {"content-disposition": 'attachment; filename="pieces.csv"'}
    return Response(content, media_type="text/csv", headers=headers)


async def take_records(here: Here, file: Annotated[UploadFile, File()], apply: bool = False) -> say.RecordLook:
    """Read a list; with ``apply`` its records are taken: new ones added, known ones changed."""
    content = await whole(file, 5_000_000)
    return await documented(_looked, here, content, apply)


def _looked(here: Studio, content: bytes, apply: bool) -> say.RecordLook:
    known = {each.name: each for each in entries.entries(here.store, "piece")}
    lines, faults = read_list(content, {name: each.body for name, each in known.items()})
    if apply:
        for line in lines:
            _take(here, line, known)
    read = (
        say.RecordLine(number=line.record["number"], title=line.record["title"], action=_action(line, known))
        for line in lines
    )
    wrong = (CsvWrong(line=fault.line, column=fault.column, what=fault.what) for fault in faults)
    return say.RecordLook(read=tuple(read), wrong=tuple(wrong))


def _action(line: Line, known: Known) -> Literal["add", "change", "same"]:
    if line.is_new:
        return "add"
    return "same" if known[line.record["number"]].body == line.record else "change"


def _take(here: Studio, line: Line, known: Known) -> None:
    if line.is_new:
        entries.add_entry(here.store, "piece", entries.Keep(line.record))
    elif _action(line, known) == "change":
        mine = known[line.record["number"]]
        entries.keep_entry(here.store, "piece", mine.id, entries.Keep(line.record, mine.version))
