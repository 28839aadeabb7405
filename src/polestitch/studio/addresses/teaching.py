"""Addresses of classes: the list, one class, what it comes to, its papers."""

import json
from typing import Annotated, Any

from fastapi import Path

from polestitch.errors import DesignError
from polestitch.store import classes, designs
from polestitch.studio import demo
from polestitch.studio import messages_teaching as say
from polestitch.studio.addresses.reading import documented
from polestitch.studio.class_work import class_answer, class_paper
from polestitch.studio.messages import JobName, Wrong, picture_address
from polestitch.studio.messages_chair import Away
from polestitch.studio.studio import Here, Studio
from polestitch.teaching.document import ClassSpec, plain, read_class

Id = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$")]


def class_list(here: Here, away: bool = False) -> say.Classes:
    """Classes at hand, or those put away."""
    return say.Classes(classes=tuple(_card(here, kept) for kept in classes.classes(here.store, away)))


def add_class(here: Here, wanted: say.NewClass) -> say.ClassDocument:
    """A class begun from a design of the shelf."""
    card, _ = designs.document(here.store, wanted.design)
    spec = ClassSpec(title=wanted.title.strip() or f"{card.name[:70]}, a class", design=wanted.design)
    return _opened(here, classes.add_class(here.store, plain(spec)))


def open_demo_class(here: Here) -> say.ClassDocument:
    """The class of Harbour Lights with its design; the one that is there, if it was opened before."""
    return _opened(here, demo.demo_class(here.store))


def one_class(here: Here, id: Id) -> say.ClassDocument:
    """A class to go on with."""
    return _opened(here, classes.class_of(here.store, id))


def save_class(here: Here, id: Id, save: say.ClassSave) -> say.ClassDocument:
    """Write it down as it stands in the form, what is not right yet too."""
    return _opened(here, classes.save_class(here.store, id, save.document, save.number))


def put_class_away(here: Here, id: Id, change: Away) -> say.ClassCard:
    """Put away, or brought back."""
    return _card(here, classes.put_class_away(here.store, id, change.away))


async def class_worked(here: Here, id: Id) -> say.ClassWorked:
    """What the class comes to."""
    found = await here.painters.answer(class_answer, *await documented(_texts, here, id))
    return say.ClassWorked(**found)


async def begin_class_paper(here: Here, id: Id, wanted: say.NewClassPaper) -> JobName:
    """Begin to make one of its papers."""
    texts = await documented(_texts, here, id)
    return JobName(job=here.jobs.begin_with(class_paper, *texts, wanted.kind, wanted.paper))


def _texts(here: Studio, id_: str) -> tuple[str, str]:
    """The class and its design; ``DesignError`` where either is not there or cannot be read."""
    kept = classes.class_of(here.store, id_)
    if not kept.design:
        raise DesignError("design", "is missing; choose the design this class stitches")
    _, raw = designs.document(here.store, kept.design)
    return json.dumps(kept.raw, ensure_ascii=False), designs.document_text(raw)


def _opened(here: Studio, kept: classes.Class) -> say.ClassDocument:
    return say.ClassDocument(card=_card(here, kept), document=kept.raw, wrong=_wrong(kept.raw))


def _wrong(raw: dict[str, Any]) -> Wrong | None:
    try:
        read_class(json.dumps(raw))
    except DesignError as error:
        return Wrong(where=error.where, what=error.what)
    return None


def _card(here: Studio, kept: classes.Class) -> say.ClassCard:
    """What the list shows, whatever is wrong in the class or gone from the shelf."""
    students, when = kept.raw.get("students"), kept.raw.get("when")
    try:
        design = designs.document(here.store, kept.design)[0] if kept.design else None
    except designs.MissingError:
        design = None
    return say.ClassCard(
        id=kept.id,
        title=kept.title,
        design=kept.design,
        design_name=design and design.name,
        picture=design and picture_address(design.id, design.revision, design.document),
        students=students if isinstance(students, int) else None,
        when=when if isinstance(when, str) else "",
        number=kept.number,
        changed=kept.changed,
        away=kept.away,
    )
