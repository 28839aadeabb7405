"""Addresses of the winding page: materials, plan, sheet, roundness, and the log of what she wound."""

import csv
import io
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import File, Path, Response, UploadFile

from polestitch.store import winding_log
from polestitch.store.designs import document_text
from polestitch.store.store import Store
from polestitch.studio import messages_winding as say
from polestitch.studio.addresses.reading import documented, whole
from polestitch.studio.studio import Here
from polestitch.studio.winding_answers import round_answer, sheet_answer, winding_answer
from polestitch.winding import CORES, NOISES, WRAPS, Entry, Learned, entries_of, learned
from polestitch.winding.log import HEADS, entry_of
from polestitch.winding.told import learned_json

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]


def winding_materials() -> say.Materials:
    """Everything a ball can be made of."""
    return say.Materials(
        cores=tuple(say.Stuff(name=each.name, title=each.title, hint=each.hint) for each in CORES.values()),
        wraps=tuple(
            say.Stuff(name=each.name, title=each.title, hint=each.hint, length=each.tex is not None)
            for each in WRAPS.values()
        ),
        noises=tuple(say.Stuff(name=each.name, title=each.title, hint=each.hint) for each in NOISES.values()),
    )


async def winding_plan(here: Here, asked: say.WantedWinding) -> say.WindingTold:
    """Where to stop at each wrap and what it takes, or what comes of what she has."""
    mine = await documented(_learned, here.store)
    told = winding_answer(document_text(asked.document), asked.model_dump(exclude={"document"}), mine)
    return say.WindingTold.model_validate(told)


async def winding_sheet(here: Here, asked: say.WantedSheet) -> Response:
    """The winding sheet to print."""
    mine = await documented(_learned, here.store)
    said = asked.model_dump(exclude={"document", "paper"})
    data = await here.painters.answer(sheet_answer, document_text(asked.document), said, mine, asked.paper)
    headers = {"content-disposition": 'attachment; filename="winding.pdf"'}
    return Response(data, media_type="application/pdf", headers=headers)


async def ball_roundness(here: Here, asked: say.WantedRoundness) -> say.RoundnessTold:
    """How round her ball is, where to add, and whether the design bears it."""
    mine = await documented(_learned, here.store)
    readings = {"pole_to_pole": asked.pole_to_pole, "obi": asked.obi}
    text = document_text(asked.document)
    return say.RoundnessTold.model_validate(await here.bench.answer(round_answer, text, readings, asked.off_by, mine))


def wound_log(here: Here, away: bool = False) -> say.WoundLog:
    """What she wound, and what it teaches."""
    entries = tuple(say.WoundEntry(**asdict(each)) for each in winding_log.wound(here.store, away))
    taught = (say.LearnedTold.model_validate(learned_json(name, each)) for name, each in _learned(here.store).items())
    return say.WoundLog(entries=entries, learned=tuple(taught))


def add_wound(here: Here, words: say.NewWound) -> say.WoundEntry:
    """One more wrap or core."""
    entry = entry_of(words.model_dump(exclude={"note"}), "entry")
    (kept,) = winding_log.add_wound(here.store, [_said(entry, words.note or None)])
    return say.WoundEntry(**asdict(kept))


def put_wound_away(here: Here, id: Id, change: say.PutWoundAway) -> say.WoundEntry:
    """Put away, or brought back."""
    return say.WoundEntry(**asdict(winding_log.put_wound_away(here.store, id, change.away)))


async def take_wound(here: Here, file: Annotated[UploadFile, File()]) -> say.TakenWound:
    """The entries of a table, all of them or none."""
    entries = entries_of(await whole(file, 1_000_000), file.filename or "table")
    added = await documented(winding_log.add_wound, here.store, [_said(entry, None) for entry in entries])
    return say.TakenWound(added=len(added))


def wound_file(here: Here) -> Response:
    """The log as a table for a spreadsheet, or for the command line."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(HEADS[:4])
    for each in winding_log.wound(here.store):
        if each.material in CORES or each.material in WRAPS:
            writer.writerow([each.material, f"{each.before_mm:g}", f"{each.after_mm:g}", f"{each.grams:g}"])
    headers = {"content-disposition": 'attachment; filename="wound.csv"'}
    return Response(text.getvalue().encode("utf-8-sig"), media_type="text/csv", headers=headers)


def _said(entry: Entry, note: str | None) -> dict[str, Any]:
    return {**asdict(entry), "note": note}


def _learned(store: Store) -> dict[str, Learned]:
    """What the log teaches; what this studio does not know is left alone."""
    kept = winding_log.wound(store)
    known = (each for each in kept if each.material in CORES or each.material in WRAPS)
    return learned([Entry(each.material, each.before_mm, each.after_mm, each.grams) for each in known])
