"""Addresses of shows: what is shown, in which case, what to know of it, its papers."""

import json
from collections.abc import Callable
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import Path

from polestitch.document.jsontext import json_object
from polestitch.showing.caseplan import case_plans
from polestitch.showing.codec import read_show, written_show
from polestitch.showing.exhibition import Exhibition
from polestitch.showing.light import dose
from polestitch.showing.remarks import remarks
from polestitch.store import designs, entries
from polestitch.studio import demo
from polestitch.studio import messages_showing as say
from polestitch.studio.addresses.reading import documented
from polestitch.studio.addresses.records import earlier
from polestitch.studio.faces import face, face_address
from polestitch.studio.messages import JobName
from polestitch.studio.messages_chair import Away
from polestitch.studio.showpapers import show_papers
from polestitch.studio.studio import Here, Studio
from polestitch.studio.takeaway import Takeaway

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
Raw = dict[str, Any]
Told = Callable[[float, str], None]
Numbered = dict[str, entries.Entry]
PRINTED = 900  # pixels of a picture in a catalogue: 300 to the inch over three inches
PICTURED = {"catalogue", "checklist"}  # papers with pictures; the others need not wait for them
DRAWING = 0.6  # share of a job that goes into drawing the balls


def shows(here: Here, away: bool = False) -> say.ShowCards:
    """Every show, the newest first."""
    numbered = _numbered(here)
    found = reversed(entries.entries(here.store, "show", away))
    return say.ShowCards(shows=tuple(_card(each, numbered) for each in found))


def _numbered(here: Studio) -> Numbered:
    """Records by number; one in use before one put away."""
    away, used = (entries.entries(here.store, "piece", each) for each in (True, False))
    return {each.name: each for each in (*away, *used)}


def _card(found: entries.Entry, numbered: Numbered) -> say.ShowCard:
    show = Exhibition.model_validate(found.body)
    faces = (face_address(numbered[each.number]) for each in show.shown if each.number in numbered)
    return say.ShowCard(
        id=found.id,
        title=show.title,
        line=show.line,
        opens=None if show.opens is None else show.opens.isoformat(),
        closes=None if show.closes is None else show.closes.isoformat(),
        pieces=len(show.shown),
        changed=found.changed,
        away=found.away,
        pictures=tuple(each for each in faces if each is not None)[:4],
    )


def begin_show(here: Here, wanted: say.NewShow) -> say.OpenedShow:
    """A show with nothing in it yet."""
    return _opened(entries.add_entry(here.store, "show", entries.Keep(_plain(here, {"title": wanted.title}))))


def open_demo_show(here: Here) -> say.OpenedShow:
    """The Harbour Lights show with its designs and pieces; the one that is there, if it was opened before."""
    return _opened(demo.demo_show(here.store))


def show(here: Here, id: Id) -> say.OpenedShow:
    """A show to work on."""
    return _opened(entries.entry(here.store, "show", id))


def _opened(found: entries.Entry) -> say.OpenedShow:
    written = Exhibition.model_validate(found.body)
    return say.OpenedShow(id=found.id, version=found.version, show=written, changed=found.changed, away=found.away)


def keep_show(here: Here, id: Id, change: say.KeepShow) -> say.OpenedShow:
    """Keep a change; refused where another window has changed the show meanwhile."""
    keep = entries.Keep(_plain(here, change.show), change.base, change.tab)
    return _opened(entries.keep_entry(here.store, "show", id, keep))


def _plain(here: Studio, raw: Raw) -> Raw:
    """The show as it is kept: checked together with its records, without them."""
    plain = json_object(written_show(_whole(_numbered(here), raw)), "show")
    plain.pop("records", None)
    return plain


def _whole(numbered: Numbered, raw: Raw) -> Exhibition:
    """The show with the records of what it shows; ``DesignError`` where its parts do not agree."""
    shown = raw.get("shown")
    numbers = [each.get("number") for each in shown if isinstance(each, dict)] if isinstance(shown, list) else []
    wanted = dict.fromkeys(number for number in numbers if isinstance(number, str))
    records = [numbered[number].body for number in wanted if number in numbered]
    return read_show(designs.document_text({**raw, "records": records}))


def put_show_away(here: Here, id: Id, change: Away) -> say.ShowCard:
    """Put away, or brought back."""
    return _card(entries.put_entry_away(here.store, "show", id, change.away), _numbered(here))


def show_versions(here: Here, id: Id) -> say.EarlierVersions:
    """What the show was."""
    return earlier(entries.entry_versions(here.store, "show", id))


def check_show(here: Here, id: Id) -> say.ShowCheck:
    """What to know of it before it is printed, and where everything stands."""
    found = _whole(_numbered(here), entries.entry(here.store, "show", id).body)
    light = dose(found)
    return say.ShowCheck(
        remarks=tuple(remarks(found)),
        cases=tuple(say.PlacedCase.model_validate(_json(asdict(plan))) for plan in case_plans(found)),
        lux_hours=None if light is None else light.lux_hours,
    )


def _json(value: Any) -> Any:
    return json.loads(json.dumps(value))


async def begin_papers(here: Here, id: Id, wanted: say.WantedPapers) -> JobName:
    """Begin to write papers; one comes as itself, several as a ZIP file."""
    numbered = await documented(_numbered, here)
    found = await documented(entries.entry, here.store, "show", id)
    whole = await documented(_whole, numbered, found.body)
    shown = whole.shown if PICTURED & set(wanted.kinds) else ()
    mine = [(numbered[each.number], each.facing or "N") for each in shown]

    async def work(told: Told) -> Takeaway:
        pictures = await _pictures(here, mine, told)
        say_late = _late(told)
        arguments = (written_show(whole), pictures, (wanted.kinds, wanted.size))
        made: Takeaway = await here.makers.answer(show_papers, *arguments, told=say_late)
        return made

    return JobName(job=here.jobs.begin_work(work))


def _late(told: Told) -> Told:
    return lambda share, words: told(DRAWING + (1 - DRAWING) * share, words)


async def _pictures(here: Studio, mine: list[tuple[entries.Entry, str]], told: Told) -> dict[str, bytes]:
    """Pictures by number, as far as there are any."""
    pictures = {}
    for k, (found, facing) in enumerate(mine):
        told(DRAWING * k / len(mine), f"Taking the picture of {found.name}")
        data = await face(here, found, PRINTED, here.makers, facing)
        if data is not None:
            pictures[found.name] = data
    return pictures
