"""Addresses of colour plans: what can be planned, the best dozen, one of them put in, shades."""

from polestitch.store import drawer
from polestitch.store.designs import document_text
from polestitch.studio import messages_plans as say
from polestitch.studio.addresses.reading import documented
from polestitch.studio.messages import JobName
from polestitch.studio.plan_work import applied_answer, layers_answer, plans_made, plans_sheet, shades_answer
from polestitch.studio.studio import Here


async def plan_parts(here: Here, asked: say.PlannedDocument) -> say.AllParts:
    """What each layer of a document has to colour."""
    return say.AllParts.model_validate(await here.makers.answer(layers_answer, document_text(asked.document)))


async def begin_plans(here: Here, asked: say.NewPlans) -> JobName:
    """Begin to look for the best dozen."""
    text = document_text(asked.document)
    if asked.file == "pdf":
        return JobName(job=here.jobs.start(plans_sheet, text, asked.wishes, asked.paper))
    return JobName(job=here.jobs.start(plans_made, text, asked.wishes))


async def plan_applied(here: Here, asked: say.ChosenPlan) -> say.Recoloured:
    """The document in the colours of one plan; nothing is kept until the page keeps it."""
    text = document_text(asked.document)
    return say.Recoloured.model_validate(await here.makers.answer(applied_answer, text, asked.wishes, asked.plan))


async def shades(here: Here, asked: say.WantedShades) -> say.Shades:
    """Even shades, each with the nearest thread in the drawer."""
    mine = await documented(drawer.threads, here.store)
    owned = [(thread.id, thread.words.name, thread.words.colour) for thread in mine]
    ends = [str(colour) for colour in asked.ends]
    return say.Shades.model_validate(await here.painters.answer(shades_answer, ends, asked.count, owned))
