"""Colour plans and shades over the wire."""

from typing import Annotated, Literal

from pydantic import Field

from polestitch.document.colours import Colour
from polestitch.recolouring.wishes import Wishes
from polestitch.studio.messages import Document, Message


class PlannedDocument(Message):
    """A document whose layers are looked at."""

    document: Document


class LayerParts(Message):
    """What a layer has to colour."""

    name: str
    motifs: int
    stripes: int
    rows: int
    threads: Annotated[tuple[str, ...], Field(description="Threads of its rows, the one with most rows first")]


class AllParts(Message):
    """The same of every layer."""

    layers: tuple[LayerParts, ...]


class NewPlans(Message):
    """Plans to look for; the job's file is what ``colour-plans --json`` prints, with pictures."""

    document: Document
    wishes: Wishes
    file: Annotated[Literal["page", "pdf"], Field(description="For the screen, or on paper")] = "page"
    paper: Literal["a4", "letter"] = "a4"


class ChosenPlan(Message):
    """One of the plans, to be put into the document."""

    document: Document
    wishes: Wishes
    plan: Annotated[int, Field(ge=1, le=12)]


class Recoloured(Message):
    """The document in its new colours."""

    document: Document
    changed: Annotated[int, Field(description="Crossings that are taken the other way round")]
    said: tuple[str, ...]


class WantedShades(Message):
    """Shades between two colours, or of one from dark to light."""

    ends: Annotated[tuple[Colour, ...], Field(min_length=1, max_length=2)]
    count: Annotated[int, Field(ge=2, le=24)] = 5


class NearestThread(Message):
    """A thread she owns."""

    id: str
    name: str
    colour: str


class Shade(Message):
    """One step of a grade."""

    colour: str
    nearest: NearestThread | None
    difference: Annotated[float | None, Field(description="CIEDE2000 to the nearest thread")]


class Shades(Message):
    """All steps, both ends among them."""

    shades: tuple[Shade, ...]
