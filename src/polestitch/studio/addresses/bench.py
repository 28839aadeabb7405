"""Addresses of the bench: what a document looks like, what is to be known of it, what to take away."""

from typing import Annotated, Any

from fastapi import File, Path, Query, Request, Response, UploadFile

from polestitch import __version__
from polestitch.document.limits import around_mm
from polestitch.errors import DesignError
from polestitch.families.family import families_json, family, starter
from polestitch.marking.divisions import marked
from polestitch.marking.summary import marking_json
from polestitch.scene.words import plain_words
from polestitch.store.designs import MissingError, document_text
from polestitch.studio import bench_messages as bench_say
from polestitch.studio import messages as say
from polestitch.studio.addresses.reading import whole
from polestitch.studio.answers import figures_answer, look_answer, replan_answer, scene_answer, wished_answer
from polestitch.studio.catalogue import division_entries, technique_entries
from polestitch.studio.photo import photo_colours
from polestitch.studio.spots import crossing_answer, spots_answer, where_answer
from polestitch.studio.studio import Here
from polestitch.studio.takeaway import Options

JobId = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]
BYTES = "application/octet-stream"


async def build(here: Here, asked: say.Question) -> Response:
    """The scene of a document; what is wrong with it stands in the scene."""
    here.questions.outdate(f"figures {asked.tab}", asked.question)
    text = document_text(asked.document)
    data = await here.questions.answer(
        f"build {asked.tab}",
        asked.question,
        lambda begun: here.bench.answer(scene_answer, text, asked.question, begun=begun),
    )
    return Response(data, media_type=BYTES)


async def figures(here: Here, asked: say.Question) -> say.Figures:
    """Findings, thread, hours, cover and pins of a document."""
    text = document_text(asked.document)
    told = await here.questions.answer(
        f"figures {asked.tab}",
        asked.question,
        lambda begun: here.bench.answer(figures_answer, text, asked.question, begun=begun),
    )
    return say.Figures.model_validate(told)


async def spots(here: Here, asked: bench_say.WhichSpots) -> bench_say.Spots:
    """What a touched place is called, and where addresses lie."""
    text = document_text(asked.document)
    return bench_say.Spots.model_validate(await here.bench.answer(spots_answer, text, asked.near, asked.named))


async def where(here: Here, asked: bench_say.WhichWhere) -> bench_say.Where:
    """A layer's words for where it is worked, after a point was touched."""
    text = document_text(asked.document)
    words = await here.bench.answer(where_answer, text, asked.layer, asked.point)
    return bench_say.Where(where=words)


async def crossing(here: Here, asked: bench_say.WhichCrossing) -> bench_say.FoundCrossing:
    """Which thread lies on top at a touched place, and how to turn it over."""
    text = document_text(asked.document)
    return bench_say.FoundCrossing.model_validate(await here.bench.answer(crossing_answer, text, asked.near))


async def look(here: Here, request: Request, asked: say.Look, wanted: Annotated[say.WantedLook, Query()]) -> Response:
    """A picture of any document."""
    text = document_text(asked.document)
    view = (wanted.size, wanted.facing, wanted.transparent)
    data, _ = await here.painters.answer_while_wanted(request, look_answer, text, *view)
    return Response(data, media_type="image/png")


def techniques(division: Annotated[str, Query(max_length=40)] = "S8+obi") -> list[say.TechniqueEntry]:
    """Every technique, with its form and the places a division offers for it."""
    marked(division)
    return [say.TechniqueEntry.model_validate(entry) for entry in technique_entries(division)]


def families() -> list[bench_say.FamilyEntry]:
    """Every family of traditional patterns, shelf by shelf and the easier first."""
    return [bench_say.FamilyEntry.model_validate(entry) for entry in families_json()]


async def family_picture(
    here: Here,
    request: Request,
    name: Annotated[str, Path(max_length=60)],
    size: Annotated[int, Query(ge=64, le=600)] = 320,
) -> Response:
    """What a family looks like on its own division."""
    text = document_text(starter(name))
    view = (size, family(name).facing, True)
    data, _ = await here.painters.answer_while_wanted(request, look_answer, text, *view)
    return Response(data, media_type="image/png", headers={"cache-control": "private, max-age=3600"})


async def another_size(here: Here, asked: bench_say.AnotherSize) -> bench_say.OnAnotherSize:
    """The same look on the ball as it came out."""
    around = around_mm(asked.around, "around")
    document, changes = await here.bench.answer(replan_answer, document_text(asked.document), around)
    return bench_say.OnAnotherSize(document=document, changes=changes)


async def fit(here: Here, asked: bench_say.Wished) -> bench_say.Fitted:
    """What to change so that motifs meet, leave a gap, or fill their face."""
    wishes = [wish.model_dump(by_alias=True, exclude_none=True) for wish in asked.wishes]
    return bench_say.Fitted.model_validate(
        await here.bench.answer(wished_answer, document_text(asked.document), {"wishes": wishes})
    )


def divisions() -> list[say.DivisionEntry]:
    """The divisions makers use most."""
    return [say.DivisionEntry.model_validate(entry) for entry in division_entries()]


def division(
    name: Annotated[str, Path(max_length=20)], around: Annotated[str, Query(max_length=40)] = "24 cm"
) -> dict[str, Any]:
    """Points, pins and thread route of a division on a ball of this size."""
    mm = around_mm(around, "around")
    return {**marking_json(name, mm), "plain": plain_words(marked(name))}


async def begin_job(here: Here, wanted: say.NewJob) -> say.JobName:
    """Begin to make something to take away."""
    text = document_text(wanted.document)
    return say.JobName(job=here.jobs.begin(wanted.kind, text, Options(**wanted.options.model_dump())))


async def job(here: Here, name: JobId) -> say.JobReport:
    """How far a job is."""
    report = here.jobs.report(name)
    if report is None:
        raise MissingError("job", "there is no such job any more; begin it again")
    return report


async def stop_job(here: Here, name: JobId) -> say.JobReport:
    """Stop a job at once."""
    here.jobs.stop(name)
    return await job(here, name)


async def job_file(here: Here, name: JobId) -> Response:
    """What a finished job made."""
    found = here.jobs.job(name)
    if found is None or found.made is None:
        raise MissingError("job", "this file is not there; begin the job again")
    headers = {"content-disposition": f'attachment; filename="{found.made.name}"'}
    return Response(found.made.data, media_type=found.made.media, headers=headers)


async def palette(here: Here, file: Annotated[UploadFile, File()]) -> say.Palette:
    """Colours of a photo."""
    data = await whole(file, 30_000_000)
    if not data:
        raise DesignError("file", "is empty; choose a photo")
    return say.Palette(colours=tuple(await here.painters.answer(photo_colours, data)))


def health(here: Here) -> say.Health:
    """That the studio is there."""
    return say.Health(version=__version__, data=here.store.folder.name)
